//! Two values a row, as those of a panel and of a class: a filled dot and a ring, joined by a line.

use super::PairRow;
use super::canvas::{Anchor, Canvas, Scale, WIDTH, cut, label};

const LEFT: f64 = 190.0;
const RIGHT: f64 = WIDTH - 24.0;
const TOP: f64 = 40.0;
const ROW: f64 = 24.0;

pub(super) fn draw(
    rows: &[PairRow],
    axis: &str,
    (low, high): (f64, f64),
    names: (&str, &str),
) -> Canvas {
    let bottom = TOP + rows.len().max(1) as f64 * ROW;
    let mut canvas = Canvas::new(bottom + 50.0);
    let across = Scale::new(low, high, LEFT, RIGHT);
    // The two signs are told apart by their shape; this line says which is which.
    canvas.dot((LEFT + 6.0, 16.0), 5.0, "dot strong");
    canvas.text((LEFT + 18.0, 20.0), Anchor::Start, names.0);
    let middle = f64::midpoint(LEFT, RIGHT);
    canvas.dot((middle + 6.0, 16.0), 6.0, "ring");
    canvas.text((middle + 18.0, 20.0), Anchor::Start, names.1);
    for mark in across.marks(5) {
        canvas.line(
            (across.at(mark), TOP - 6.0),
            (across.at(mark), bottom),
            "grid",
        );
        canvas.text(
            (across.at(mark), bottom + 18.0),
            Anchor::Middle,
            &label(mark),
        );
    }
    for (place, row) in rows.iter().enumerate() {
        let y = TOP + (place as f64 + 0.5) * ROW;
        canvas.text((LEFT - 14.0, y + 4.0), Anchor::End, &cut(&row.name, 26));
        if let (Some(first), Some(second)) = (row.first, row.second) {
            canvas.line((across.at(first), y), (across.at(second), y), "axis");
        }
        // The ring is larger and lies below, so that both are seen where they meet.
        if let Some(second) = row.second {
            canvas.dot((across.at(second), y), 7.0, "ring");
        }
        if let Some(first) = row.first {
            canvas.dot((across.at(first), y), 4.5, "dot strong");
        }
    }
    canvas.text((middle, bottom + 40.0), Anchor::Middle, axis);
    canvas
}
