//! Severity by the many-facet model, where the number of scripts carries it.
//!
//! See [`statistics::scaling::many_facet`] for source and smallest n. Each criterion of each question
//! is an item; its marks are taken by rank among those that were given at all, since the model knows
//! no category that nobody used. Above 0 is hard.

use std::collections::{BTreeMap, BTreeSet};

use base::Marks;
use statistics::Confidence;
use statistics::scaling::many_facet::{Rating, many_facet};

/// What one marker gave for one criterion of one script.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RatedCriterion {
    /// The script's code.
    pub code: String,
    /// The marker, by place in the list of names.
    pub marker: usize,
    /// The question and the criterion.
    pub item: (String, usize),
    /// The marks.
    pub marks: Marks,
}

/// Severities in logits, or why they are not told.
pub(super) fn sentence(names: &[String], criteria: &[RatedCriterion]) -> String {
    match severities(names, criteria) {
        Ok(all) => all,
        Err(why) => format!("The many-facet model is not told: {why}."),
    }
}

fn severities(names: &[String], criteria: &[RatedCriterion]) -> Result<String, String> {
    let places =
        |all: BTreeSet<String>| -> BTreeMap<String, usize> { all.into_iter().zip(0..).collect() };
    let persons = places(criteria.iter().map(|one| one.code.clone()).collect());
    let marked: BTreeSet<usize> = criteria.iter().map(|one| one.marker).collect();
    let marked: Vec<usize> = marked.into_iter().collect();
    let mut given: BTreeMap<&(String, usize), BTreeSet<Marks>> = BTreeMap::new();
    for one in criteria {
        given.entry(&one.item).or_default().insert(one.marks);
    }
    // A criterion for which everybody was given the same tells nothing about markers.
    given.retain(|_, marks| marks.len() > 1);
    let items: BTreeMap<&(String, usize), usize> = given.keys().copied().zip(0..).collect();
    let ratings: Vec<Rating> = criteria
        .iter()
        .filter_map(|one| {
            let rank = given
                .get(&one.item)?
                .iter()
                .position(|marks| *marks == one.marks)?;
            Some(Rating {
                person: *persons.get(&one.code)?,
                marker: marked.iter().position(|marker| *marker == one.marker)?,
                item: *items.get(&one.item)?,
                category: u8::try_from(rank).unwrap_or(u8::MAX),
            })
        })
        .collect();
    let model = many_facet(&ratings).map_err(|refusal| refusal.to_string())?;
    let told: Vec<String> = marked
        .iter()
        .zip(&model.severities)
        .filter_map(|(marker, severity)| {
            let interval = severity.interval(Confidence::P95);
            Some(format!(
                "{} {:+.2} ({:+.2} to {:+.2})",
                names.get(*marker)?,
                severity.value,
                interval.lower,
                interval.upper
            ))
        })
        .collect();
    let linked = if model.connected {
        ""
    } else {
        "; some markers share no scripts, and are compared only as if their scripts were alike"
    };
    Ok(format!(
        "Severity by the many-facet model, in logits with 95 % intervals, above 0 is hard: {} ({} scripts{linked}).",
        told.join(", "),
        model.persons
    ))
}
