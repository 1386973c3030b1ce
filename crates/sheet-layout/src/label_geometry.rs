//! Reads a label sheet of a person's own from its measures in millimetres.
//!
//! `a4-3x8-66x34@5,12+67,34.25`: the paper, columns by rows, width by height of a label, then the left
//! and top margin, then the distance from one label to the next, across and down. Without the last
//! part the labels touch.

use base::Fault;

use crate::label_grid::LabelGrid;
use crate::millimetres::Millimetres;
use crate::paper::Paper;

/// How a geometry is written, for messages.
pub const GEOMETRY: &str = "PAPER-COLUMNSxROWS-WIDTHxHEIGHT@LEFT,TOP+ACROSS,DOWN in mm, such as a4-3x8-66x34@5,12+67,34.25";

/// Reads a geometry and checks that its labels lie on the page.
///
/// # Errors
/// Every fault: words that are no measures, labels that overlap or leave the page.
pub fn read_geometry(text: &str) -> Result<LabelGrid, Vec<Fault>> {
    let Some(grid) = parse(text) else {
        return Err(vec![
            Fault::new(
                "label-geometry",
                None,
                format!("\"{text}\" is no geometry of a label sheet"),
            )
            .allowed(GEOMETRY)
            .hint("measure a sheet with a ruler, from the edges of the paper"),
        ]);
    };
    let faults = grid.check();
    if faults.is_empty() {
        Ok(grid)
    } else {
        Err(faults)
    }
}

fn parse(text: &str) -> Option<LabelGrid> {
    let (head, places) = text.trim().split_once('@')?;
    let mut head_parts = head.split('-');
    let paper_word = head_parts.next()?;
    let paper = Paper::named(paper_word)?;
    let (columns, rows) = head_parts.next()?.split_once('x')?;
    let (width, height) = head_parts.next()?.split_once('x')?;
    if head_parts.next().is_some() {
        return None;
    }
    let (label_width, label_height) = (measure(width)?, measure(height)?);
    let (margins, pitches) = match places.split_once('+') {
        Some((margins, pitches)) => (margins, Some(pitches)),
        None => (places, None),
    };
    let (left, top) = margins.split_once(',')?;
    let (column_pitch, row_pitch) = match pitches {
        Some(pitches) => {
            let (across, down) = pitches.split_once(',')?;
            (measure(across)?, measure(down)?)
        }
        None => (label_width, label_height),
    };
    Some(LabelGrid {
        name: format!("{head}-own"),
        paper,
        columns: columns.parse().ok()?,
        rows: rows.parse().ok()?,
        label_width,
        label_height,
        left_margin: measure(left)?,
        top_margin: measure(top)?,
        column_pitch,
        row_pitch,
    })
}

/// A length of up to two metres, in thousandths of a millimetre.
fn measure(text: &str) -> Option<Millimetres> {
    let millimetres: f64 = text.trim().parse().ok()?;
    if !(-2000.0..=2000.0).contains(&millimetres) {
        return None;
    }
    // Within two millions after the bounds above.
    Some(Millimetres::thousandths(
        (millimetres * 1000.0).round() as i32
    ))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_of_ones_own_is_read() {
        let grid = read_geometry("a4-3x8-66x34@5,12+67,34.25").unwrap();
        assert_eq!((grid.columns, grid.rows), (3, 8));
        assert_eq!(grid.left_margin, Millimetres::thousandths(5_000));
        assert_eq!(grid.row_pitch, Millimetres::thousandths(34_250));
        assert_eq!(grid.name, "a4-3x8-66x34-own");
        let touching = read_geometry("letter-2x5-100x50@7.9,14").unwrap();
        assert_eq!(touching.column_pitch, touching.label_width);
    }

    #[test]
    fn what_is_no_sheet_is_told() {
        let rules = |text: &str| -> Vec<&'static str> {
            read_geometry(text)
                .unwrap_err()
                .iter()
                .map(|fault| fault.rule)
                .collect()
        };
        for text in [
            "",
            "a4",
            "a4-3x8-66x34",
            "a5-3x8-66x34@1,1",
            "a4-3x8-66xtall@1,1",
            "a4-1x1-nanx5@1,1",
            // A measure of less than nothing looks like one part too many.
            "a4-3x8-66x-4@6.5,12",
        ] {
            assert_eq!(rules(text), ["label-geometry"], "{text}");
        }
        assert_eq!(rules("a4-3x8-66x34@6.5,12+60,34"), ["label-grid-overlap"]);
        assert_eq!(rules("a4-4x8-66x34@6.5,12"), ["label-grid-off-page"]);
        assert_eq!(rules("a4-0x8-66x34@6.5,12"), ["label-grid-count"]);
    }
}
