//! Candidates on the left and questions on the right of one scale, the able and the hard at the top.

use super::PlotLine;
use super::canvas::{Anchor, Canvas, Scale, WIDTH, cut, label};

const MIDDLE: f64 = 280.0;
const TOP: f64 = 40.0;
/// Height of one row of the map.
const ROW: f64 = 15.0;
/// Rows in a logit.
const PER_LOGIT: f64 = 3.0;

pub(super) fn draw(persons: &[f64], items: &[(String, f64)], line: Option<&PlotLine>) -> Canvas {
    let values = || persons.iter().copied().chain(items.iter().map(|i| i.1));
    let low = values().fold(f64::INFINITY, f64::min).max(-8.0);
    let high = values().fold(f64::NEG_INFINITY, f64::max).min(8.0);
    let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
    let (low, high) = ((low - 0.3).floor(), (high + 0.3).ceil());
    let rows = ((high - low) * PER_LOGIT).ceil().max(1.0);
    let bottom = TOP + rows * ROW;
    let mut canvas = Canvas::new(bottom + 20.0);
    let up = Scale::new(low, high, bottom, TOP);
    canvas.text((MIDDLE - 40.0, 16.0), Anchor::End, "candidates");
    canvas.text((MIDDLE + 40.0, 16.0), Anchor::Start, "questions");
    canvas.text((MIDDLE, 16.0), Anchor::Middle, "logits");
    let marks = up.marks((high - low) as usize);
    for mark in &marks {
        canvas.line((60.0, up.at(*mark)), (WIDTH - 10.0, up.at(*mark)), "grid");
    }
    // Before all words, so that their own ground keeps them readable where it crosses them.
    if let Some(line) = line {
        let at = up.at(line.at.clamp(low, high));
        canvas.line((10.0, at), (WIDTH - 10.0, at), "mark");
        canvas.text((10.0, at - 4.0), Anchor::Start, &line.label);
    }
    for mark in &marks {
        canvas.text((MIDDLE, up.at(*mark) + 4.0), Anchor::Middle, &label(*mark));
    }
    let row_of = |value: f64| {
        ((value.clamp(low, high) - low) * PER_LOGIT)
            .floor()
            .min(rows - 1.0)
            .max(0.0)
    };
    let (mut here, mut names) = (
        vec![0_usize; rows as usize],
        vec![Vec::new(); rows as usize],
    );
    for person in persons {
        if let Some(count) = here.get_mut(row_of(*person) as usize) {
            *count += 1;
        }
    }
    for (name, value) in items {
        if let Some(list) = names.get_mut(row_of(*value) as usize) {
            list.push(name.as_str());
        }
    }
    let most = here.iter().copied().max().unwrap_or(0).max(1) as f64;
    let width = |count: usize| (count as f64 / most * 160.0).max(if count > 0 { 3.0 } else { 0.0 });
    for (row, (count, list)) in here.iter().zip(&names).enumerate() {
        let y = bottom - (row as f64 + 1.0) * ROW;
        if *count > 0 {
            let wide = width(*count);
            canvas.rectangle(MIDDLE - 34.0 - wide, y + 2.0, wide, ROW - 4.0, "bar");
            canvas.text(
                (MIDDLE - 40.0 - wide, y + ROW - 4.0),
                Anchor::End,
                &count.to_string(),
            );
        }
        if !list.is_empty() {
            canvas.text(
                (MIDDLE + 40.0, y + ROW - 4.0),
                Anchor::Start,
                &cut(&list.join("  "), 46),
            );
        }
    }
    canvas.line((MIDDLE - 30.0, TOP), (MIDDLE - 30.0, bottom), "axis");
    canvas.line((MIDDLE + 30.0, TOP), (MIDDLE + 30.0, bottom), "axis");
    canvas
}
