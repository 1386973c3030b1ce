//! Where the scores lie: bars for a picture, a summary, and a sentence that says what to see.

use serde::Serialize;
use statistics::Refusal;
use statistics::descriptive::summary::{Summary, summary};

use super::LEVEL;
use super::reliability_by_set::SetReliability;
use super::responses::{Responses, Total};

/// One bar.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ScoreBar {
    /// From this score on.
    pub from: f64,
    /// Up to this score, which belongs to the next bar (to this one in the last).
    pub to: f64,
    /// Candidates.
    pub count: usize,
}

/// The scores.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ScoreBars {
    /// `marks`, or `per cent` where candidates could earn different numbers of marks.
    pub unit: &'static str,
    /// The highest possible score, in the unit.
    pub highest: f64,
    /// The bars, without gaps from the lowest to the highest possible score.
    pub bars: Vec<ScoreBar>,
    /// The figures, in the unit.
    pub figures: Result<Summary, Refusal>,
    /// The cut, in the unit.
    pub pass_mark: Option<f64>,
    /// One standard error of measurement, in the unit, where it is known.
    pub error: Option<f64>,
    /// What to see.
    pub sentence: String,
}

/// Most bars of a picture.
const MOST_BARS: f64 = 40.0;

pub(super) fn score_bars(
    responses: &Responses,
    pass_mark: Option<f64>,
    reliability: &[SetReliability],
) -> ScoreBars {
    let totals: Vec<Total> = responses
        .candidates
        .iter()
        .map(|candidate| responses.total(candidate, None))
        .collect();
    let full = totals.first().map_or(0.0, |total| total.full);
    let alike = totals.iter().all(|total| total.full == full) && full > 0.0;
    let (unit, highest) = if alike {
        ("marks", full)
    } else {
        ("per cent", 100.0)
    };
    let scores: Vec<f64> = totals
        .iter()
        .map(|total| {
            if alike {
                total.marks
            } else {
                total.share() * 100.0
            }
        })
        .collect();
    let whole = scores.iter().all(|score| score.fract() == 0.0) && highest.fract() == 0.0;
    // One bar for each mark where that is readable, else twenty of equal width.
    let width = if whole && highest < MOST_BARS {
        1.0
    } else {
        highest / 20.0
    };
    let lowest = scores.iter().copied().fold(0.0, f64::min);
    let first = (lowest / width).floor();
    let last = if width == 1.0 { highest + 1.0 } else { highest };
    let number = ((last / width - first).round().max(1.0)) as usize;
    let mut bars: Vec<ScoreBar> = (0..number)
        .map(|place| ScoreBar {
            from: (first + place as f64) * width,
            to: (first + place as f64 + 1.0) * width,
            count: 0,
        })
        .collect();
    for score in &scores {
        let place = (score / width - first).floor().max(0.0) as usize;
        let place = place.min(number - 1);
        if let Some(bar) = bars.get_mut(place) {
            bar.count += 1;
        }
    }
    let figures = summary(&scores, LEVEL);
    let error = reliability.first().and_then(|set| {
        let error = set.error.as_ref()?.marks;
        Some(if alike {
            error
        } else {
            error / set.full * 100.0
        })
    });
    let pass_mark = pass_mark.map(|share| share * highest);
    ScoreBars {
        unit,
        highest,
        sentence: in_words(&figures, unit, highest, pass_mark, &scores),
        bars,
        figures,
        pass_mark,
        error,
    }
}

fn in_words(
    figures: &Result<Summary, Refusal>,
    unit: &str,
    highest: f64,
    pass_mark: Option<f64>,
    scores: &[f64],
) -> String {
    let made = match figures {
        Ok(made) => made,
        Err(refusal) => return format!("No scores: {refusal}."),
    };
    let mut words = format!(
        "{} scores from {} to {} of {} {unit}; mean {:.1}",
        made.n,
        short(made.smallest),
        short(made.largest),
        short(highest),
        made.mean
    );
    match &made.mean_interval {
        Ok(limits) => words.push_str(&format!(
            " (95 % interval {:.1} to {:.1})",
            limits.lower, limits.upper
        )),
        Err(_) => words.push_str(" (one score has no interval)"),
    }
    if let Ok(deviation) = &made.standard_deviation {
        words.push_str(&format!(", standard deviation {deviation:.1}"));
    }
    words.push('.');
    if let Some(pass_mark) = pass_mark {
        let below = scores.iter().filter(|score| **score < pass_mark).count();
        words.push_str(&format!(
            " {below} of {} lie below the cut of {}.",
            scores.len(),
            short(pass_mark)
        ));
    }
    words
}

/// A number with one decimal where it is needed.
pub(super) fn short(number: f64) -> String {
    // Adding nothing takes the sign off a nought.
    let rounded = (number * 10.0).round() / 10.0 + 0.0;
    if rounded.fract() == 0.0 {
        format!("{rounded:.0}")
    } else {
        format!("{rounded:.1}")
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::responses::tests::right_or_wrong;
    use super::*;

    #[test]
    fn every_candidate_stands_in_one_bar() {
        let made = score_bars(
            &right_or_wrong(&[&[1, 1, 1], &[0, 1, 0], &[0, 0, 0], &[1, 1, 0]]),
            Some(2.0 / 3.0),
            &[],
        );
        let counts: Vec<usize> = made.bars.iter().map(|bar| bar.count).collect();
        assert_eq!(counts, [1, 1, 1, 1]);
        assert!(made.sentence.contains("2 of 4 lie below the cut of 2"));
    }

    #[test]
    fn different_full_marks_are_compared_in_per_cent() {
        let made = score_bars(&right_or_wrong(&[&[1, 1, 9], &[0, 1, 0]]), None, &[]);
        assert_eq!((made.unit, made.bars.len()), ("per cent", 20));
        assert_eq!(made.bars.iter().map(|bar| bar.count).sum::<usize>(), 2);
        assert_eq!(made.bars.last().unwrap().count, 1);
    }
}
