//! Shares as shaded cells: rows and columns with names, the number in each cell.

use super::canvas::{Anchor, Canvas, WIDTH, cut};

const LEFT: f64 = 150.0;
const TOP: f64 = 12.0;
const ROW: f64 = 26.0;

pub(super) fn draw(columns: &[String], rows: &[(String, Vec<Option<f64>>)]) -> Canvas {
    let bottom = TOP + rows.len().max(1) as f64 * ROW;
    let mut canvas = Canvas::new(bottom + 24.0);
    let width = ((WIDTH - LEFT - 8.0) / columns.len().max(1) as f64).min(150.0);
    for (place, name) in columns.iter().enumerate() {
        let x = LEFT + (place as f64 + 0.5) * width;
        let longest = (width / 6.5) as usize;
        canvas.text(
            (x, bottom + 16.0),
            Anchor::Middle,
            &cut(name, longest.max(2)),
        );
    }
    for (place, (name, shares)) in rows.iter().enumerate() {
        let y = TOP + place as f64 * ROW;
        canvas.text(
            (LEFT - 10.0, y + ROW / 2.0 + 4.0),
            Anchor::End,
            &cut(name, 20),
        );
        for (column, share) in shares.iter().take(columns.len()).enumerate() {
            let x = LEFT + column as f64 * width;
            if let Some(share) = share {
                // Never darker than text can be read on.
                canvas.shade(x + 1.0, y + 1.0, width - 2.0, ROW - 2.0, share * 0.45);
                canvas.text(
                    (x + width / 2.0, y + ROW / 2.0 + 4.0),
                    Anchor::Middle,
                    &format!("{:.0} %", share * 100.0),
                );
            } else {
                canvas.rectangle(x + 1.0, y + 1.0, width - 2.0, ROW - 2.0, "nothing");
            }
        }
    }
    canvas
}
