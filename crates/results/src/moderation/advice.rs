//! Whom to talk to and which scripts to mark again, in words.
//!
//! A talk is advised with whoever is hard or mild beside more than half of the other markers, each
//! taken alone (beside all together, one hard marker makes the others look mild); where drift or known
//! scripts leave 0 out of their interval; where a known script is off; and where a marker is less
//! steady than the others are among themselves. Marked again are, of a marker who drifts, the scripts
//! of the half that lies farther from the others; of one who is hard or mild, those that differ that
//! way by more than an eighth of the marks, half of what two markers may lie apart. All of it is this
//! project's choice, no source: two markers have marked each script, and their mean holds where nothing
//! is named.

use serde::Serialize;

use super::mean_difference::MeanDifference;
use super::{
    Beside, FEWEST_FOR_AGREEMENT, FEWEST_FOR_SEVERITY, Marked, MarkedTwice, MarkerFigures, beside,
};

/// Half of what two markers may lie apart, in shares of the full marks.
const WIDE: f64 = 0.125;

/// What to do now.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Advice {
    /// Whom to talk to and about what, a sentence for each marker.
    pub talk_to: Vec<String>,
    /// What to have marked again by somebody who has not seen the marks.
    pub mark_again: Vec<MarkAgain>,
}

/// Scripts of one marker that are to be marked again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct MarkAgain {
    /// The marker.
    pub marker: String,
    /// The codes.
    pub codes: Vec<String>,
    /// How many scripts the marker shares in all.
    pub of: usize,
}

impl Advice {
    /// All of it in sentences.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let mut all = self.talk_to.clone();
        if self.talk_to.is_empty() {
            all.push("Nothing seen here calls for a talk with a marker.".to_owned());
        }
        if self.mark_again.is_empty() {
            all.push("No script must be marked again.".to_owned());
        }
        all.extend(self.mark_again.iter().map(|again| {
            format!(
                "Of {}'s {} scripts have {} marked again by somebody who has not seen their marks: {}.",
                again.marker,
                again.of,
                if again.codes.len() == again.of { "all".to_owned() } else { again.codes.len().to_string() },
                again.codes.join(", ")
            )
        }));
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
        if let Some(mild) = leans(place, markers.len(), &marked.twice) {
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
        again.sort_unstable();
        again.dedup();
        if !again.is_empty() {
            made.mark_again.push(MarkAgain {
                marker: marker.marker.clone(),
                codes: again.into_iter().map(str::to_owned).collect(),
                of: scripts.len(),
            });
        }
    }
    made
}

/// Whether a marker is mild (true) or hard (false) beside more than half of the others with whom
/// enough scripts are shared, each taken alone.
fn leans(place: usize, markers: usize, scripts: &[MarkedTwice]) -> Option<bool> {
    let (mut others, mut mild, mut hard) = (0, 0, 0);
    for other in (0..markers).filter(|other| *other != place) {
        let both: Vec<MarkedTwice> = scripts
            .iter()
            .filter(|script| script.markers.contains(&other))
            .cloned()
            .collect();
        let differences: Vec<f64> = beside(place, &both)
            .iter()
            .map(|one| one.difference)
            .collect();
        let Some(mean) = MeanDifference::of(&differences, FEWEST_FOR_SEVERITY) else {
            continue;
        };
        others += 1;
        mild += usize::from(mean.limits[0] > 0.0);
        hard += usize::from(mean.limits[1] < 0.0);
    }
    if 2 * mild > others {
        Some(true)
    } else if 2 * hard > others {
        Some(false)
    } else {
        None
    }
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
