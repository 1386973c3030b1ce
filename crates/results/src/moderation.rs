//! How far markers agree, who is hard or mild, and which scripts to look at together.
//!
//! Severity of a marker: the mean of the marker's mark minus the other marker's over all scripts
//! that both marked, with an interval by Student's t. It is no finding about a person: markers of
//! few scripts have wide intervals, and what is told is told only where the interval leaves 0 out.
//! Agreement: ICC(1,1), since every script may have other markers (Shrout and Fleiss 1979, case 1),
//! and Krippendorff's alpha for an interval scale. Smallest n: five shared scripts for a severity,
//! ten for agreement (common practice, no source); below it the figure is refused.

use base::Marks;
use serde::Serialize;
use statistics::Confidence;
use statistics::agreement::intraclass_correlation::intraclass_correlation;
use statistics::agreement::krippendorff_alpha::{Scale, krippendorff_alpha};
use statistics::agreement::rating_table::RatingTable;
use statistics::distribution::student_t;

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
    /// The most marks.
    pub of: Marks,
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
    /// What to make of it, in one sentence.
    pub sentence: String,
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
}

/// Sets markers beside each other.
#[must_use]
pub fn moderate(names: &[String], scripts: &[MarkedTwice]) -> Moderation {
    Moderation {
        markers: names
            .iter()
            .enumerate()
            .map(|(place, name)| one_marker(place, name, scripts))
            .collect(),
        agreement: agreement(scripts),
    }
}

/// A mark as a share of the full marks.
fn share(marks: Marks, of: Marks) -> f64 {
    marks.fraction_of(of)
}

fn one_marker(place: usize, name: &str, scripts: &[MarkedTwice]) -> MarkerFigures {
    let mut differences: Vec<(f64, &str)> = scripts
        .iter()
        .filter_map(|script| {
            let [first, second] = script.markers;
            let [a, b] = script.marks.map(|marks| share(marks, script.of));
            if first == place {
                Some((a - b, script.code.as_str()))
            } else if second == place {
                Some((b - a, script.code.as_str()))
            } else {
                None
            }
        })
        .collect();
    let n = differences.len();
    let mut figures = MarkerFigures {
        marker: name.to_owned(),
        scripts: n,
        severity: None,
        limits: None,
        spread: None,
        sentence: String::new(),
        look_at: Vec::new(),
    };
    if n < FEWEST_FOR_SEVERITY {
        figures.sentence = format!(
            "{name} shares {n} scripts with another marker: too few to say anything; {FEWEST_FOR_SEVERITY} would do."
        );
        return figures;
    }
    let count = n as f64;
    let mean = differences.iter().map(|(d, _)| d).sum::<f64>() / count;
    let squares: f64 = differences
        .iter()
        .map(|(d, _)| (d - mean) * (d - mean))
        .sum();
    let spread = (squares / (count - 1.0)).sqrt();
    let half = student_t::quantile_of_upper_tail(0.025, count - 1.0) * spread / count.sqrt();
    let (low, high) = (mean - half, mean + half);
    figures.severity = Some(mean);
    figures.limits = Some([low, high]);
    figures.spread = Some(spread);
    let percent = |x: f64| format!("{:.0} %", (x * 100.0).abs());
    let range = format!(
        "95 % interval {:+.0} to {:+.0} %, {n} scripts",
        low * 100.0,
        high * 100.0
    );
    figures.sentence = if low > 0.0 {
        format!(
            "{name} gives {} of the marks more than the others ({range}): mild; look at the scripts named together.",
            percent(mean)
        )
    } else if high < 0.0 {
        format!(
            "{name} gives {} of the marks less than the others ({range}): hard; look at the scripts named together.",
            percent(mean)
        )
    } else {
        format!("{name} is neither hard nor mild as far as this can be seen ({range}).")
    };
    if low > 0.0 || high < 0.0 {
        // Two differences that are equal on paper may differ in their last bit.
        let width = |difference: f64| (difference.abs() * 1e9).round() as i64;
        differences.sort_by_key(|(difference, code)| (-width(*difference), *code));
        figures.look_at = differences
            .iter()
            .take(3)
            .map(|(_, code)| (*code).to_owned())
            .collect();
    }
    figures
}

fn agreement(scripts: &[MarkedTwice]) -> Vec<String> {
    let n = scripts.len();
    if n < FEWEST_FOR_AGREEMENT {
        return vec![format!(
            "Agreement is not told: {n} scripts were marked twice, {FEWEST_FOR_AGREEMENT} would do."
        )];
    }
    let rows: Vec<Vec<Option<f64>>> = scripts
        .iter()
        .map(|script| {
            script
                .marks
                .iter()
                .map(|marks| Some(share(*marks, script.of)))
                .collect()
        })
        .collect();
    let table = match RatingTable::new(rows) {
        Ok(table) => table,
        Err(refusal) => return vec![format!("Agreement is not told: {refusal}.")],
    };
    let icc = match intraclass_correlation(&table, Confidence::P95) {
        Ok(icc) => format!(
            "Of the spread between scripts, one marker's mark carries {:.2} (ICC(1,1), 95 % interval {:.2} to {:.2}, {n} scripts).",
            icc.one_way_single.value,
            icc.one_way_single.interval.lower,
            icc.one_way_single.interval.upper,
        ),
        Err(refusal) => format!("The intraclass correlation is not told: {refusal}."),
    };
    let alpha = match krippendorff_alpha(&table, Scale::Interval) {
        Ok(alpha) => format!("Krippendorff's alpha is {:.2} ({n} scripts).", alpha.alpha),
        Err(refusal) => format!("Krippendorff's alpha is not told: {refusal}."),
    };
    vec![icc, alpha]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn script(code: usize, markers: [usize; 2], marks: [i64; 2]) -> MarkedTwice {
        MarkedTwice {
            code: format!("S-{code}"),
            markers,
            marks: marks.map(|m| Marks::from_thousandths(m * 1000)),
            of: Marks::from_thousandths(10_000),
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
        let found = moderate(&names(), &scripts);
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
        assert_eq!(found.agreement.len(), 2);
    }

    #[test]
    fn few_scripts_are_refused_by_number() {
        let found = moderate(&names(), &[script(1, [0, 1], [3, 4])]);
        assert!(found.agreement[0].contains("1 scripts were marked twice, 10 would do"));
    }
}
