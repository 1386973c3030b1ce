//! Lines over a scale, each with its name at its end and dashes of its own.

use super::canvas::{Anchor, Canvas, Scale, WIDTH, cut, label};
use super::{PlotCurve, PlotLine};

const LEFT: f64 = 52.0;
const RIGHT: f64 = WIDTH - 150.0;
const TOP: f64 = 34.0;
const BOTTOM: f64 = 240.0;
/// Least distance of two names at the ends of lines.
const APART: f64 = 14.0;

pub(super) fn draw(
    lines: &[PlotCurve],
    axis: &str,
    up_words: &str,
    top: f64,
    places: &[String],
    line: Option<&PlotLine>,
) -> Canvas {
    let mut canvas = Canvas::new(BOTTOM + 50.0);
    let all = || lines.iter().flat_map(|line| line.points.iter());
    let low = all().map(|(x, _)| *x).fold(f64::INFINITY, f64::min);
    let high = all().map(|(x, _)| *x).fold(f64::NEG_INFINITY, f64::max);
    let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
    let across = Scale::new(low, high, LEFT, RIGHT);
    let up = Scale::new(0.0, top, BOTTOM, TOP);
    for mark in up.marks(5) {
        canvas.line((LEFT, up.at(mark)), (RIGHT, up.at(mark)), "grid");
        canvas.text((LEFT - 6.0, up.at(mark) + 4.0), Anchor::End, &label(mark));
    }
    canvas.line((LEFT, BOTTOM), (RIGHT, BOTTOM), "axis");
    if places.is_empty() {
        for mark in across.marks(8) {
            canvas.text(
                (across.at(mark), BOTTOM + 18.0),
                Anchor::Middle,
                &label(mark),
            );
        }
    } else {
        for (place, name) in places.iter().enumerate() {
            let anchor = if place == 0 {
                Anchor::Start
            } else if place + 1 == places.len() {
                Anchor::End
            } else {
                Anchor::Middle
            };
            canvas.text((across.at(place as f64), BOTTOM + 18.0), anchor, name);
        }
    }
    canvas.text(
        (f64::midpoint(LEFT, RIGHT), BOTTOM + 40.0),
        Anchor::Middle,
        axis,
    );
    canvas.text((8.0, TOP - 16.0), Anchor::Start, up_words);
    if let Some(line) = line {
        let at = across.at(line.at.clamp(low, high));
        canvas.line((at, TOP), (at, BOTTOM), "mark");
        canvas.text((at + 4.0, TOP + 10.0), Anchor::Start, &line.label);
    }
    let mut ends: Vec<(f64, &str)> = Vec::new();
    for (place, line) in lines.iter().enumerate() {
        let points: Vec<(f64, f64)> = line
            .points
            .iter()
            .map(|(x, y)| (across.at(*x), up.at(y.clamp(0.0, top))))
            .collect();
        let class = if line.strong {
            "curve strong".to_owned()
        } else {
            format!("curve dash{}", place % 5)
        };
        canvas.path(&points, &class);
        if line.dots {
            for point in &points {
                canvas.dot(*point, 3.0, if line.strong { "dot strong" } else { "dot" });
            }
        }
        if let Some((_, y)) = points.last() {
            ends.push((*y, &line.name));
        }
    }
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut last = f64::NEG_INFINITY;
    for (y, name) in ends {
        let at = y.max(last + APART);
        last = at;
        canvas.text((RIGHT + 8.0, at + 4.0), Anchor::Start, &cut(name, 18));
    }
    canvas
}
