//! Bars over a scale, with a line and its band across.

use super::canvas::{Anchor, Canvas, Scale, WIDTH, label};
use super::{PlotBar, PlotLine};

const LEFT: f64 = 48.0;
const RIGHT: f64 = WIDTH - 16.0;
const TOP: f64 = 34.0;
const BOTTOM: f64 = 250.0;

pub(super) fn draw(bars: &[PlotBar], axis: &str, line: Option<&PlotLine>) -> Canvas {
    let mut canvas = Canvas::new(BOTTOM + 50.0);
    let low = bars.first().map_or(0.0, |bar| bar.from);
    let high = bars.last().map_or(1.0, |bar| bar.to);
    let most = bars.iter().map(|bar| bar.count).fold(1.0, f64::max);
    let across = Scale::new(low, high, LEFT, RIGHT);
    let up = Scale::new(0.0, most, BOTTOM, TOP);
    if let Some(PlotLine {
        at,
        reach: Some(reach),
        ..
    }) = line
    {
        let from = across.at((at - reach).max(low));
        let to = across.at((at + reach).min(high));
        canvas.rectangle(from, TOP, to - from, BOTTOM - TOP, "band");
    }
    for mark in up.marks(4) {
        // Half a candidate is nobody.
        if mark.fract() == 0.0 {
            canvas.line((LEFT, up.at(mark)), (RIGHT, up.at(mark)), "grid");
            canvas.text((LEFT - 6.0, up.at(mark) + 4.0), Anchor::End, &label(mark));
        }
    }
    for bar in bars {
        let (from, to) = (across.at(bar.from), across.at(bar.to));
        let height = up.at(bar.count);
        canvas.rectangle(from + 0.5, height, to - from - 1.0, BOTTOM - height, "bar");
    }
    canvas.line((LEFT, BOTTOM), (RIGHT, BOTTOM), "axis");
    for mark in across.marks(10) {
        // Bars of width 1 stand for whole scores: the number stands below the middle of its bar.
        let whole = bars.first().is_some_and(|bar| bar.to - bar.from == 1.0);
        let at = if whole { mark + 0.5 } else { mark };
        if at <= high {
            canvas.text((across.at(at), BOTTOM + 18.0), Anchor::Middle, &label(mark));
        }
    }
    canvas.text(
        (f64::midpoint(LEFT, RIGHT), BOTTOM + 40.0),
        Anchor::Middle,
        axis,
    );
    canvas.text((8.0, TOP - 16.0), Anchor::Start, "candidates");
    if let Some(line) = line {
        let at = across.at(line.at.clamp(low, high));
        canvas.line((at, TOP - 8.0), (at, BOTTOM), "mark");
        let anchor = if at > f64::midpoint(LEFT, RIGHT) {
            Anchor::End
        } else {
            Anchor::Start
        };
        canvas.text((at, TOP - 14.0), anchor, &line.label);
    }
    canvas
}
