//! Values with their limits, one below the other.

use super::LimitsRow;
use super::canvas::{Anchor, Canvas, Scale, WIDTH, label, without_middle};

const LEFT: f64 = 170.0;
const RIGHT: f64 = WIDTH - 24.0;
const TOP: f64 = 12.0;
const ROW: f64 = 24.0;

pub(super) fn draw(rows: &[LimitsRow], axis: &str, middle: Option<f64>) -> Canvas {
    let bottom = TOP + rows.len().max(1) as f64 * ROW;
    let mut canvas = Canvas::new(bottom + 50.0);
    let values = || {
        rows.iter()
            .flat_map(|row| {
                [
                    Some(row.value),
                    row.limits.map(|l| l.0),
                    row.limits.map(|l| l.1),
                ]
            })
            .chain([middle])
            .flatten()
    };
    let low = values().fold(f64::INFINITY, f64::min);
    let high = values().fold(f64::NEG_INFINITY, f64::max);
    let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
    let across = Scale::new(low, high, LEFT, RIGHT);
    for mark in across.marks(8) {
        canvas.line((across.at(mark), TOP), (across.at(mark), bottom), "grid");
        canvas.text(
            (across.at(mark), bottom + 18.0),
            Anchor::Middle,
            &label(mark),
        );
    }
    if let Some(middle) = middle {
        canvas.line(
            (across.at(middle), TOP),
            (across.at(middle), bottom),
            "axis",
        );
    }
    for (place, row) in rows.iter().enumerate() {
        let y = TOP + (place as f64 + 0.5) * ROW;
        canvas.text(
            (LEFT - 12.0, y + 4.0),
            Anchor::End,
            &without_middle(&row.name, 22),
        );
        if let Some((low, high)) = row.limits {
            canvas.line((across.at(low), y), (across.at(high), y), "reach");
        }
        canvas.dot((across.at(row.value), y), 4.5, "dot strong");
    }
    canvas.text(
        (f64::midpoint(LEFT, RIGHT), bottom + 40.0),
        Anchor::Middle,
        axis,
    );
    canvas
}
