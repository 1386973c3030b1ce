//! How hard each marker is, where several marked.

use std::collections::BTreeMap;

use serde::Serialize;
use statistics::descriptive::summary::mean_interval;
use statistics::scaling::many_facet::{Rating, many_facet};
use statistics::{Interval, Refusal};

use super::LEVEL;
use super::smallest::Need;

/// One candidate's work in the hands of one marker: marks by question, none where not marked.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedScript {
    /// Whose.
    pub candidate: String,
    /// By whom.
    pub marker: String,
    /// The marks, one for each question.
    pub marks: Vec<Option<f64>>,
}

/// One marker.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MarkerFigures {
    /// Who.
    pub marker: String,
    /// Marks given.
    pub marks: usize,
    /// Their mean, as they fell.
    pub mean: f64,
    /// Interval of the mean.
    pub mean_interval: Result<Interval, Refusal>,
    /// Severity in logits, others' mean 0; none where refused.
    pub severity: Option<f64>,
    /// Its interval.
    pub interval: Option<Interval>,
}

/// All markers, hardest first where the scale was built.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MarkerSeverity {
    /// The markers.
    pub markers: Vec<MarkerFigures>,
    /// Candidates.
    pub n: usize,
    /// What to see.
    pub sentence: String,
    /// Why there are no severities; none where there are.
    pub refused: Option<String>,
}

/// Compares markers; none where fewer than two marked.
#[must_use]
pub fn marker_severity(scripts: &[MarkedScript]) -> Option<MarkerSeverity> {
    let names: Vec<&str> = sorted(scripts.iter().map(|script| script.marker.as_str()));
    if names.len() < 2 {
        return None;
    }
    let persons: Vec<&str> = sorted(scripts.iter().map(|script| script.candidate.as_str()));
    let mut markers: Vec<MarkerFigures> = names
        .iter()
        .map(|name| {
            let given: Vec<f64> = scripts
                .iter()
                .filter(|script| script.marker == *name)
                .flat_map(|script| script.marks.iter().flatten().copied())
                .collect();
            MarkerFigures {
                marker: (*name).to_owned(),
                marks: given.len(),
                mean: given.iter().sum::<f64>() / (given.len().max(1) as f64),
                mean_interval: mean_interval(&given, LEVEL),
                severity: None,
                interval: None,
            }
        })
        .collect();
    let refused = match Need::Markers.refused(persons.len()) {
        Some(why) => Some(why),
        None => match fitted(scripts, &names, &persons, &mut markers) {
            Ok(true) => None,
            Ok(false) => {
                for marker in &mut markers {
                    marker.severity = None;
                    marker.interval = None;
                }
                Some(
                    "No severities: no candidates link the markers, so that a hard marker and weak candidates look alike. \
                     Instead: let markers share some scripts; the mean marks are below."
                        .to_owned(),
                )
            }
            Err(refusal) => Some(format!(
                "No severities: {refusal}. Instead: {}.",
                Need::Markers.row().instead
            )),
        },
    };
    markers.sort_by(|a, b| {
        let severity = |m: &MarkerFigures| m.severity.unwrap_or(-m.mean);
        severity(b)
            .total_cmp(&severity(a))
            .then(a.marker.cmp(&b.marker))
    });
    Some(MarkerSeverity {
        sentence: in_words(&markers),
        n: persons.len(),
        markers,
        refused,
    })
}

fn sorted<'a>(names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let mut names: Vec<&str> = names.collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// Fills in severities; whether the markers are linked.
fn fitted(
    scripts: &[MarkedScript],
    names: &[&str],
    persons: &[&str],
    markers: &mut [MarkerFigures],
) -> Result<bool, Refusal> {
    let place = |names: &[&str], name: &str| names.binary_search(&name).unwrap_or(0);
    let mut ratings: BTreeMap<(usize, usize, usize), u8> = BTreeMap::new();
    for script in scripts {
        for (item, mark) in script.marks.iter().enumerate() {
            let Some(mark) = mark else { continue };
            let category = (0..=50_u8)
                .find(|category| f64::from(*category) == *mark)
                .ok_or(Refusal::OutOfRange {
                    of: "a mark",
                    value: *mark,
                    allowed: "whole numbers from 0 to 50",
                })?;
            let who = place(persons, &script.candidate);
            ratings.insert((who, place(names, &script.marker), item), category);
        }
    }
    let ratings: Vec<Rating> = ratings
        .into_iter()
        .map(|((person, marker, item), category)| Rating {
            person,
            marker,
            item,
            category,
        })
        .collect();
    let made = many_facet(&ratings)?;
    for (marker, severity) in markers.iter_mut().zip(&made.severities) {
        marker.severity = Some(severity.value);
        marker.interval = Some(severity.interval(LEVEL));
    }
    Ok(made.connected)
}

fn in_words(markers: &[MarkerFigures]) -> String {
    let apart = |marker: &MarkerFigures, hard: bool| match (marker.severity, &marker.interval) {
        (Some(_), Some(limits)) if hard => limits.lower > 0.0,
        (Some(_), Some(limits)) => limits.upper < 0.0,
        _ => false,
    };
    let list = |hard: bool| {
        markers
            .iter()
            .filter(|marker| apart(marker, hard))
            .map(|marker| {
                let severity = marker.severity.unwrap_or(0.0);
                format!("{} ({severity:+.2} logits)", marker.marker)
            })
            .collect::<Vec<_>>()
    };
    let (hard, mild) = (list(true), list(false));
    match (hard.is_empty(), mild.is_empty()) {
        (true, true) if markers.iter().all(|m| m.severity.is_none()) => {
            "Mean marks of each marker, as they fell: differences between their candidates are in them."
                .to_owned()
        }
        (true, true) => "No marker differs from the others beyond chance.".to_owned(),
        (false, true) => format!("Harder than the others beyond chance: {}.", hard.join(", ")),
        (true, false) => format!("Milder than the others beyond chance: {}.", mild.join(", ")),
        (false, false) => format!(
            "Harder than the others beyond chance: {}; milder: {}.",
            hard.join(", "),
            mild.join(", ")
        ),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn one_marker_is_no_comparison_and_few_candidates_have_means_only() {
        let script = |candidate: usize, marker: &str, mark: f64| MarkedScript {
            candidate: candidate.to_string(),
            marker: marker.to_owned(),
            marks: vec![Some(mark)],
        };
        let one: Vec<_> = (0..5).map(|c| script(c, "A", 1.0)).collect();
        assert!(marker_severity(&one).is_none());
        let two: Vec<_> = (0..10)
            .flat_map(|c| [script(c, "A", 1.0), script(c, "B", 3.0)])
            .collect();
        let made = marker_severity(&two).unwrap();
        assert!(made.refused.unwrap().contains("at least 30"));
        assert_eq!(made.markers[0].marker, "A");
        assert_eq!(made.markers[0].mean, 1.0);
    }
}
