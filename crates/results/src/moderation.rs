//! How far markers agree, who is hard or mild or wanders, and which scripts to look at together.
//!
//! Severity of a marker: the mean of the marker's mark minus the other marker's over all scripts
//! that both marked, with an interval by Student's t. It is no finding about a person: markers of
//! few scripts have wide intervals, and what is told is told only where the interval leaves 0 out.
//! Beside it stand how steady a marker is, whether the marker drifts from the first script to the
//! last, how the marker marks scripts whose marks are known, and, where the number of scripts
//! carries it, the severity of the many-facet model. Smallest n: five shared scripts for a severity
//! (common practice, no source); below it the figure is refused. Each figure has a file of its own.

mod advice;
mod agreement;
mod drift;
mod facets;
mod known_scripts;
mod mean_difference;

use base::Marks;
use serde::Serialize;

pub use advice::{Advice, MarkAgain};
pub use drift::Drift;
pub use facets::RatedCriterion;
pub use known_scripts::{KnownFigures, MarkedKnown};

use mean_difference::MeanDifference;

/// Shared scripts below which no severity is told.
pub const FEWEST_FOR_SEVERITY: usize = 5;
/// Shared scripts below which no agreement is told.
pub const FEWEST_FOR_AGREEMENT: usize = 10;

/// One script that two markers have marked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkedTwice {
    /// Its code.
    pub code: String,
    /// The two markers, by place in the list of names.
    pub markers: [usize; 2],
    /// Their marks.
    pub marks: [Marks; 2],
    /// Where it stood in each marker's table, from 0.
    pub places: [usize; 2],
    /// The most marks.
    pub of: Marks,
}

/// Everything that came in of the markers.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Marked {
    /// Scripts that two have marked.
    pub twice: Vec<MarkedTwice>,
    /// Scripts whose marks are known, as each marker marked them.
    pub known: Vec<MarkedKnown>,
    /// The single criteria of all scripts of candidates.
    pub criteria: Vec<RatedCriterion>,
}

/// One marker beside the others.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MarkerFigures {
    /// The marker.
    pub marker: String,
    /// Scripts shared with another marker.
    pub scripts: usize,
    /// The mean difference to the other marker, in shares of the full marks: above 0 is mild.
    pub severity: Option<f64>,
    /// Limits of the mean difference, 95 per cent.
    pub limits: Option<[f64; 2]>,
    /// The spread of the differences: how steady the marker is beside the others.
    pub spread: Option<f64>,
    /// Limits of the spread, 95 per cent, for differences that are normal.
    pub spread_limits: Option<[f64; 2]>,
    /// Whether the marker changes from the first script to the last.
    pub drift: Option<Drift>,
    /// How the marker marks scripts whose marks are known.
    pub known: Option<KnownFigures>,
    /// What to make of it, in one sentence.
    pub sentence: String,
    /// The same of steadiness, drift and known scripts, a sentence each.
    pub further: Vec<String>,
    /// The codes of the scripts to look at together: the widest differences first, at most three.
    pub look_at: Vec<String>,
}

/// What a moderation says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Moderation {
    /// Each marker.
    pub markers: Vec<MarkerFigures>,
    /// Agreement, one sentence each, with n and interval; or why it is not told.
    pub agreement: Vec<String>,
    /// Whom to talk to and what to mark again.
    pub advice: Advice,
}

/// Sets markers beside each other.
#[must_use]
pub fn moderate(names: &[String], marked: &Marked) -> Moderation {
    let markers: Vec<MarkerFigures> = names
        .iter()
        .enumerate()
        .map(|(place, name)| one_marker(place, name, marked))
        .collect();
    let mut agreement = agreement::sentences(names, &marked.twice);
    agreement.push(facets::sentence(names, &marked.criteria));
    Moderation {
        advice: advice::advice(&markers, marked),
        markers,
        agreement,
    }
}

/// One script as one marker sees it beside another.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Beside<'s> {
    code: &'s str,
    /// The marker's mark less the other's, in shares of the full marks.
    difference: f64,
    /// Where the script stood in the marker's table.
    place: usize,
}

/// The shared scripts of a marker, in the order of the marker's table.
fn beside(marker: usize, scripts: &[MarkedTwice]) -> Vec<Beside<'_>> {
    let mut all: Vec<Beside<'_>> = scripts
        .iter()
        .filter_map(|script| {
            let [first, second] = script.markers;
            let [a, b] = script.marks.map(|marks| marks.fraction_of(script.of));
            let [at_first, at_second] = script.places;
            let (difference, place) = if first == marker {
                (a - b, at_first)
            } else if second == marker {
                (b - a, at_second)
            } else {
                return None;
            };
            Some(Beside {
                code: &script.code,
                difference,
                place,
            })
        })
        .collect();
    all.sort_by_key(|one| one.place);
    all
}

fn one_marker(place: usize, name: &str, marked: &Marked) -> MarkerFigures {
    let mut scripts = beside(place, &marked.twice);
    let n = scripts.len();
    let known = known_scripts::figures(place, &marked.known);
    let mut figures = MarkerFigures {
        marker: name.to_owned(),
        scripts: n,
        severity: None,
        limits: None,
        spread: None,
        spread_limits: None,
        drift: drift::drift(place, &scripts, &marked.known),
        sentence: String::new(),
        further: known.iter().map(|known| known.sentence(name)).collect(),
        known,
        look_at: Vec::new(),
    };
    let differences: Vec<f64> = scripts.iter().map(|one| one.difference).collect();
    let Some(mean) = MeanDifference::of(&differences, FEWEST_FOR_SEVERITY) else {
        figures.sentence = format!(
            "{name} shares {n} scripts with another marker: too few to say anything; {FEWEST_FOR_SEVERITY} would do."
        );
        return figures;
    };
    let [low, high] = mean.limits;
    figures.severity = Some(mean.mean);
    figures.limits = Some(mean.limits);
    figures.spread = Some(mean.spread);
    figures.spread_limits = Some(mean.spread_limits);
    let percent = |x: f64| format!("{:.0} %", (x * 100.0).abs());
    let range = format!(
        "95 % interval {:+.0} to {:+.0} %, {n} scripts",
        low * 100.0,
        high * 100.0
    );
    figures.sentence = if low > 0.0 {
        format!(
            "{name} gives {} of the marks more than the others ({range}): mild; look at the scripts named together.",
            percent(mean.mean)
        )
    } else if high < 0.0 {
        format!(
            "{name} gives {} of the marks less than the others ({range}): hard; look at the scripts named together.",
            percent(mean.mean)
        )
    } else {
        format!("{name} is neither hard nor mild as far as this can be seen ({range}).")
    };
    figures.further.insert(
        0,
        format!(
            "From script to script {name} lies {:.0} % of the marks about that (95 % interval {:.0} to {:.0} %).",
            mean.spread * 100.0,
            mean.spread_limits[0] * 100.0,
            mean.spread_limits[1] * 100.0
        ),
    );
    if let Some(drift) = &figures.drift {
        figures.further.insert(1, drift.sentence(name));
    }
    if low > 0.0 || high < 0.0 {
        // Two differences that are equal on paper may differ in their last bit.
        let width = |difference: f64| (difference.abs() * 1e9).round() as i64;
        scripts.sort_by_key(|one| (-width(one.difference), one.code));
        figures.look_at = scripts
            .iter()
            .take(3)
            .map(|one| one.code.to_owned())
            .collect();
    }
    figures
}

#[cfg(test)]
mod tests {
    use super::*;

    fn script(code: usize, markers: [usize; 2], marks: [i64; 2]) -> MarkedTwice {
        MarkedTwice {
            code: format!("S-{code}"),
            markers,
            marks: marks.map(|m| Marks::from_thousandths(m * 1000)),
            places: [code, code],
            of: Marks::from_thousandths(10_000),
        }
    }
    fn of(twice: Vec<MarkedTwice>) -> Marked {
        Marked {
            twice,
            ..Marked::default()
        }
    }
    fn names() -> Vec<String> {
        ["A", "B", "C"].map(str::to_owned).to_vec()
    }

    #[test]
    fn a_marker_who_gives_less_is_hard_and_the_widest_scripts_are_named() {
        // B gives one or two marks of ten less than A on the same scripts; C shares two.
        let mut scripts: Vec<MarkedTwice> = (0..12)
            .map(|n| {
                let a = 4 + (n as i64 * 5) % 6;
                script(n, [0, 1], [a, a - 1 - i64::from(n % 4 == 0)])
            })
            .collect();
        scripts.push(script(90, [1, 2], [5, 5]));
        scripts.push(script(91, [0, 2], [5, 5]));
        let found = moderate(&names(), &of(scripts));
        let [a, b, c] = found.markers.as_slice() else {
            unreachable!("three markers");
        };
        assert!(
            a.sentence.contains("mild") && b.sentence.contains("hard"),
            "{found:?}"
        );
        assert_eq!(b.look_at, ["S-0", "S-4", "S-8"]);
        assert!(c.severity.is_none() && c.sentence.contains("too few"));
        // Differences of A: twelve of 0.1 or 0.2 and one 0: mean by hand (9 × .1 + 3 × .2 + 0) / 13.
        assert!(a.severity.is_some_and(|s| (s - 1.5 / 13.0).abs() < 1e-12));
        // Two coefficients, a kappa of the one pair with enough scripts, and the model's refusal.
        assert_eq!(found.agreement.len(), 4);
        assert!(found.agreement[2].starts_with("A and B"), "{found:?}");
        assert!(found.agreement[3].contains("not told"), "{found:?}");
    }

    #[test]
    fn who_wanders_is_told_from_who_does_not() {
        // A and B agree but for A's slow growth of a tenth of the marks each six scripts.
        let scripts: Vec<MarkedTwice> = (0..24)
            .map(|n| {
                let b = 3 + (n as i64 * 5) % 4;
                script(n, [0, 1], [b + (n as i64) / 6, b + i64::from(n % 2 == 0)])
            })
            .collect();
        let found = moderate(&names(), &of(scripts));
        let drift = found.markers[0]
            .drift
            .as_ref()
            .unwrap_or_else(|| unreachable!());
        assert!(drift.limits[0] > 0.0 && drift.change > 0.2, "{drift:?}");
        assert!(found.markers[0].further[1].contains("milder"), "{found:?}");
        // The other marker drifts just as far the other way: only the two together are seen.
        let other = found.markers[1]
            .drift
            .as_ref()
            .unwrap_or_else(|| unreachable!());
        assert!((drift.change + other.change).abs() < 1e-12);
        assert!(found.markers[2].drift.is_none());
        assert!(
            found.advice.talk_to[0].contains("became milder"),
            "{found:?}"
        );
        assert!(!found.advice.mark_again.is_empty(), "{found:?}");
    }

    #[test]
    fn known_marks_show_who_is_away_from_them() {
        let known = |n: usize, marker, given: i64| MarkedKnown {
            code: format!("S-{n}"),
            marker,
            given: Marks::from_thousandths(given),
            known: Marks::from_thousandths(6000),
            place: n,
            of: Marks::from_thousandths(10_000),
        };
        let mut all: Vec<MarkedKnown> =
            (0..6).map(|n| known(n, 0, 3000 + 100 * n as i64)).collect();
        all.extend((0..6).map(|n| known(n, 1, 5900 + 50 * n as i64)));
        let marked = Marked {
            known: all,
            ..Marked::default()
        };
        let found = moderate(&names(), &marked);
        let [a, b, c] = [0, 1, 2].map(|place| found.markers[place].known.clone());
        let (a, b) = (
            a.unwrap_or_else(|| unreachable!()),
            b.unwrap_or_else(|| unreachable!()),
        );
        // 3.0 to 3.5 for 6: on average 2.75 of 10 below.
        assert!(
            a.mean.is_some_and(|mean| (mean + 0.275).abs() < 1e-12),
            "{a:?}"
        );
        // Farther than a quarter of the marks: all but the last, which is exactly that far.
        assert_eq!(a.off.len(), 5);
        assert!(b.off.is_empty() && c.is_none());
        let talk = &found.advice.talk_to;
        assert!(
            talk.len() == 1 && talk[0].starts_with("Talk to A:"),
            "{talk:?}"
        );
    }

    #[test]
    fn few_scripts_are_refused_by_number() {
        let found = moderate(&names(), &of(vec![script(1, [0, 1], [3, 4])]));
        assert!(found.agreement[0].contains("1 scripts were marked twice, 10 would do"));
    }
}
