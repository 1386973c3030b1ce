//! Whom to talk to and which scripts to mark again, in words.
//!
//! A talk is advised where an interval leaves 0 out (severity, drift, known scripts), where a known
//! script is off, or where a marker is less steady than the others are among themselves. Marked again
//! are, of a marker who drifts, the scripts of the half that lies farther from the others; of one who
//! is hard or mild, those that differ that way by more than an eighth of the marks, half of what two
//! markers may lie apart. All of it is this project's choice, no source: two markers have marked each
//! script, and their mean holds where nothing is named.

use serde::Serialize;

use super::mean_difference::MeanDifference;
use super::{Beside, FEWEST_FOR_AGREEMENT, Marked, MarkerFigures, beside};

/// Half of what two markers may lie apart, in shares of the full marks.
const WIDE: f64 = 0.125;

/// What to do now.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Advice {
    /// Whom to talk to and about what, a sentence for each marker.
    pub talk_to: Vec<String>,
    /// Codes of scripts to be marked again by somebody who has not seen their marks.
    pub mark_again: Vec<String>,
}

impl Advice {
    /// All of it in sentences.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let mut all = self.talk_to.clone();
        if self.talk_to.is_empty() {
            all.push("Nothing seen here calls for a talk with a marker.".to_owned());
        }
        all.push(if self.mark_again.is_empty() {
            "No script must be marked again.".to_owned()
        } else {
            format!(
                "Have these marked again by somebody who has not seen their marks: {}.",
                self.mark_again.join(", ")
            )
        });
        all
    }
}

/// What the figures call for.
pub(super) fn advice(markers: &[MarkerFigures], marked: &Marked) -> Advice {
    let mut made = Advice::default();
    for (place, marker) in markers.iter().enumerate() {
        let scripts = beside(place, &marked.twice);
        let mut about: Vec<String> = Vec::new();
        let mut again: Vec<&str> = Vec::new();
        let [low, high] = marker.limits.unwrap_or([0.0, 0.0]);
        if low > 0.0 || high < 0.0 {
            let mild = low > 0.0;
            about.push(if mild { "marks mildly" } else { "marks hard" }.to_owned());
            let sign = if mild { 1.0 } else { -1.0 };
            let wide = scripts.iter().filter(|one| sign * one.difference > WIDE);
            again.extend(wide.map(|one| one.code));
        }
        if let Some(drift) = marker.drift.as_ref().filter(|drift| drift.is_seen()) {
            let way = if drift.change > 0.0 {
                "milder"
            } else {
                "harder"
            };
            about.push(format!("became {way} from script to script"));
            again.extend(farther_half(&scripts).iter().map(|one| one.code));
        }
        if let Some(known) = &marker.known {
            if known.is_away() {
                about.push("lies to one side of the known marks".to_owned());
            }
            if !known.off.is_empty() {
                about.push(format!(
                    "is off the known marks of {}",
                    known.off.join(", ")
                ));
            }
        }
        if is_unsteady(place, markers.len(), marker, marked) {
            about.push("is less steady than the others".to_owned());
        }
        if !about.is_empty() {
            made.talk_to
                .push(format!("Talk to {}: {}.", marker.marker, about.join("; ")));
        }
        for code in again {
            if !made.mark_again.iter().any(|known| known == code) {
                made.mark_again.push(code.to_owned());
            }
        }
    }
    made.mark_again.sort();
    made
}

/// Of the two halves of a marker's scripts the one whose differences lie farther from 0.
fn farther_half<'a, 's>(scripts: &'a [Beside<'s>]) -> &'a [Beside<'s>] {
    let (first, last) = scripts.split_at(scripts.len() / 2);
    let away = |half: &[Beside<'_>]| {
        let sum: f64 = half.iter().map(|one| one.difference).sum();
        (sum / half.len().max(1) as f64).abs()
    };
    if away(first) > away(last) {
        first
    } else {
        last
    }
}

/// Whether a marker's spread lies surely above that of the others among themselves.
fn is_unsteady(place: usize, markers: usize, marker: &MarkerFigures, marked: &Marked) -> bool {
    // Two markers have the same spread beside each other.
    if markers < 3 {
        return false;
    }
    let others: Vec<f64> = marked
        .twice
        .iter()
        .filter(|script| !script.markers.contains(&place))
        .map(|script| {
            let [a, b] = script.marks.map(|marks| marks.fraction_of(script.of));
            a - b
        })
        .collect();
    let others = MeanDifference::of(&others, FEWEST_FOR_AGREEMENT);
    match (marker.spread_limits, others) {
        (Some([low, _]), Some(others)) => low > others.spread_limits[1],
        _ => false,
    }
}
