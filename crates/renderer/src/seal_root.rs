//! The root of the seal as a booklet shows it: in groups for the eye, as a code for a camera.

use qrcode::{Color, EcLevel, QrCode};
use serde::Serialize;

/// What stands before the root in the code, so that whoever scans it knows what it is.
const PREFIX: &str = "VALINCH-SEAL-1:";

/// The root of the seal. It is a digest and says nothing of the key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SealRoot {
    /// The root in groups of four.
    groups: String,
    /// How many squares the code has on a side; 0 where there is none.
    side: u32,
    /// The dark squares, as runs within a row.
    runs: Vec<DarkRun>,
}

/// Dark squares side by side.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct DarkRun {
    x: u32,
    y: u32,
    length: u32,
}

impl SealRoot {
    /// The root with its code (ISO/IEC 18004, error correction M).
    #[must_use]
    pub fn new(groups: &str) -> Self {
        let bare: String = groups.chars().filter(char::is_ascii_alphanumeric).collect();
        let content = format!("{PREFIX}{bare}");
        let mut root = Self {
            groups: groups.to_owned(),
            side: 0,
            runs: Vec::new(),
        };
        // 67 letters and digits always fit; without a code, the groups still say everything.
        if let Ok(code) = QrCode::with_error_correction_level(content.as_bytes(), EcLevel::M) {
            root.side = u32::try_from(code.width()).unwrap_or(0);
            root.runs = runs(&code.to_colors(), code.width());
        }
        root
    }
    /// The squares as rows of `#` and space, for tests.
    #[must_use]
    pub fn rows(&self) -> Vec<String> {
        (0..self.side)
            .map(|y| {
                let dark = |x: u32| {
                    let mut row = self.runs.iter().filter(|run| run.y == y);
                    row.any(|run| run.x <= x && x < run.x + run.length)
                };
                (0..self.side)
                    .map(|x| if dark(x) { '#' } else { ' ' })
                    .collect()
            })
            .collect()
    }
}

fn runs(squares: &[Color], width: usize) -> Vec<DarkRun> {
    let mut runs: Vec<DarkRun> = Vec::new();
    for (y, row) in (0..).zip(squares.chunks(width.max(1))) {
        for (x, square) in (0..).zip(row) {
            match (square, runs.last_mut()) {
                (Color::Dark, Some(run)) if run.y == y && run.x + run.length == x => {
                    run.length += 1;
                }
                (Color::Dark, _) => runs.push(DarkRun { x, y, length: 1 }),
                (Color::Light, _) => {}
            }
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_code_has_its_three_corners() {
        let root = SealRoot::new(&["ABCD"; 13].join("-"));
        let rows = root.rows();
        assert!(rows.len() >= 21);
        let corner = [
            "#######", "#     #", "# ### #", "# ### #", "# ### #", "#     #", "#######",
        ];
        for (row, line) in rows.iter().zip(corner) {
            assert!(row.starts_with(line) && row.ends_with(line), "{row}");
        }
        for (row, line) in rows.iter().rev().zip(corner) {
            assert!(row.starts_with(line), "{row}");
        }
        assert_ne!(SealRoot::new("ABCE").rows(), SealRoot::new("ABCD").rows());
    }
}
