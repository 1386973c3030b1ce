//! How severe is each marker and how hard each criterion, when not everybody marked everything?
//!
//! Source: Linacre 1989 (many-facet Rasch); Eckes 2011; marginal maximum likelihood as Robitzsch &
//! Steinfeld 2018: log P(h)/P(h-1) = θ - item - step(item, h) - severity, θ ~ N(0, σ²); severities sum
//! to 0, and so do the steps of each item.
//! Invalid: marks of one answer that markers agreed on (they count as independent); markers who never
//! share candidates, directly or through others, are compared only through the assumption that their
//! candidates are alike: `connected` says so. Smallest n: 30 candidates, 10 marks of each marker
//! (common practice). Ties: none matter. Missing: marks that were not given take no part.

use super::ability_prior::AbilityPrior;
use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::marginal_design::{ability_variance, starting_intercepts};
use super::marginal_likelihood::{CurveDesign, Linear, MarginalLikelihood, Pattern};
use super::maximise::Maximum;
use crate::refusal::{Refusal, at_least};
use std::collections::{BTreeMap, BTreeSet};

/// One mark; candidates, markers and items are numbered from 0 without gaps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rating {
    /// Whose work.
    pub person: usize,
    /// Who marked.
    pub marker: usize,
    /// What was marked: a criterion or question.
    pub item: usize,
    /// The mark, a category from 0.
    pub category: u8,
}

/// The many-facet Rasch model.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ManyFacet {
    /// Severity of each marker, in logits; they sum to 0.
    pub severities: Vec<Estimate>,
    /// Difficulty of each item.
    pub items: Vec<Estimate>,
    /// Steps of each item, which sum to 0; a single 0 where marks are right or wrong.
    pub steps: Vec<Vec<Estimate>>,
    /// σ², in squared logits.
    pub ability_variance: Estimate,
    /// Marginal log-likelihood.
    pub log_likelihood: f64,
    /// Whether markers are linked by candidates whom they share.
    pub connected: bool,
    /// Candidates.
    pub persons: usize,
    /// Marks.
    pub ratings: usize,
}

impl ManyFacet {
    /// The curve of an item in the hands of a marker; none for numbers that do not exist.
    #[must_use]
    pub fn curve(&self, item: usize, marker: usize) -> Option<ItemCurve> {
        let base = self.items.get(item)?.value + self.severities.get(marker)?.value;
        Some(ItemCurve::PartialCredit {
            slope: 1.0,
            intercepts: self
                .steps
                .get(item)?
                .iter()
                .map(|step| -base - step.value)
                .collect(),
        })
    }

    /// The population.
    ///
    /// # Errors
    /// As [`AbilityPrior::new`].
    pub fn population(&self) -> Result<AbilityPrior, Refusal> {
        AbilityPrior::new(0.0, self.ability_variance.value.sqrt())
    }
}

/// Where each facet's parameters stand: spread, severities but the last, items, steps but the last.
struct Places {
    markers: usize,
    /// First parameter of each item's difficulty and steps.
    items: Vec<usize>,
    /// Thresholds of each item.
    highest: Vec<usize>,
    parameters: usize,
}

impl Places {
    fn of(markers: usize, highest: Vec<usize>) -> Self {
        let mut next = markers;
        let items = highest
            .iter()
            .map(|high| {
                let here = next;
                next += high;
                here
            })
            .collect();
        Self {
            markers,
            items,
            highest,
            parameters: next,
        }
    }

    /// Severity as a sum of parameters; the last is minus the others.
    fn severity(&self, marker: usize) -> Vec<(usize, f64)> {
        if marker + 1 < self.markers {
            vec![(1 + marker, 1.0)]
        } else {
            (1..self.markers).map(|place| (place, -1.0)).collect()
        }
    }

    /// A step as a sum of parameters; the last is minus the others.
    fn step(&self, item: usize, h: usize) -> Vec<(usize, f64)> {
        let (first, free) = (self.items[item] + 1, self.highest[item] - 1);
        if h <= free {
            vec![(first + h - 1, 1.0)]
        } else {
            (first..first + free).map(|place| (place, -1.0)).collect()
        }
    }

    fn design(&self, item: usize, marker: usize) -> CurveDesign {
        let mut raw = vec![Linear::parameter(0)];
        for h in 1..=self.highest[item] {
            let mut terms = vec![(self.items[item], -1.0)];
            let minus = |(place, coefficient): (usize, f64)| (place, -coefficient);
            terms.extend(self.step(item, h).into_iter().map(minus));
            terms.extend(self.severity(marker).into_iter().map(minus));
            raw.push(Linear {
                constant: 0.0,
                terms,
            });
        }
        CurveDesign {
            family: CurveFamily::Adjacent,
            categories: self.highest[item] + 1,
            raw,
        }
    }

    fn start(&self, counts: &[Vec<f64>]) -> Vec<f64> {
        let mut start = vec![0.0; self.parameters];
        start[0] = 1.0;
        for (item, counts) in counts.iter().enumerate() {
            let thresholds: Vec<f64> = starting_intercepts(CurveFamily::Adjacent, counts)
                .iter()
                .map(|intercept| -intercept)
                .collect();
            let middle = thresholds.iter().sum::<f64>() / thresholds.len() as f64;
            start[self.items[item]] = middle;
            for (free, threshold) in thresholds.iter().skip(1).zip(&thresholds).enumerate() {
                start[self.items[item] + 1 + free] = threshold.1 - middle;
            }
        }
        start
    }

    fn estimate(&self, top: &Maximum, terms: &[(usize, f64)]) -> Estimate {
        let mut weights = vec![0.0; self.parameters];
        let mut value = 0.0;
        for (place, coefficient) in terms {
            weights[*place] += coefficient;
            value += coefficient * top.point[*place];
        }
        Estimate {
            value,
            standard_error: top.variance_of(&weights).sqrt(),
        }
    }
}

/// Estimates severities, items, steps and the spread of abilities.
///
/// # Errors
/// `Refusal::TooFew` below two markers, 30 candidates or 10 marks of a marker;
/// `Refusal::ConstantColumn` (of items) where all marks are equal; `Refusal::NotDefined` for an unused
/// category, a mark given twice or a likelihood without top; `Refusal::OutOfRange` for a category above
/// 50; `Refusal::NoVariance`; `Refusal::NotSettled`.
pub fn many_facet(ratings: &[Rating]) -> Result<ManyFacet, Refusal> {
    let mut persons: BTreeMap<usize, Vec<Rating>> = BTreeMap::new();
    let mut seen = BTreeSet::new();
    for rating in ratings {
        if !seen.insert((rating.person, rating.marker, rating.item)) {
            return Err(Refusal::NotDefined {
                of: "the severity of markers",
                because: "one marker gave the same work two marks for one item",
            });
        }
        persons.entry(rating.person).or_default().push(*rating);
    }
    let (least, reason) = least_persons::GROUP;
    at_least(least, persons.len(), "candidates", reason)?;
    let markers = counted(ratings.iter().map(|rating| rating.marker), "markers")?;
    at_least(2, markers.len(), "markers", "a comparison needs two")?;
    let (least, reason) = least_persons::RATINGS;
    for marks in &markers {
        at_least(least, *marks, "marks of a marker", reason)?;
    }
    let items = counted(ratings.iter().map(|rating| rating.item), "items")?;
    let counts = category_counts(ratings, items.len())?;
    let places = Places::of(
        markers.len(),
        counts.iter().map(|counts| counts.len() - 1).collect(),
    );
    let mut curves: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    let mut designs = Vec::new();
    let mut patterns = Vec::with_capacity(persons.len());
    for ratings in persons.values() {
        let mut answers = Vec::with_capacity(ratings.len());
        for rating in ratings {
            let curve = *curves
                .entry((rating.item, rating.marker))
                .or_insert_with(|| {
                    designs.push(places.design(rating.item, rating.marker));
                    designs.len() - 1
                });
            answers.push((curve, usize::from(rating.category)));
        }
        patterns.push(Pattern {
            count: 1.0,
            answers,
        });
    }
    let likelihood = MarginalLikelihood {
        designs,
        patterns,
        priors: Vec::new(),
        parameters: places.parameters,
    };
    let top = likelihood.fit(places.start(&counts), "the many-facet model")?;
    Ok(ManyFacet {
        severities: (0..markers.len())
            .map(|marker| places.estimate(&top, &places.severity(marker)))
            .collect(),
        items: places
            .items
            .iter()
            .map(|place| places.estimate(&top, &[(*place, 1.0)]))
            .collect(),
        steps: (0..items.len())
            .map(|item| {
                (1..=places.highest[item])
                    .map(|h| places.estimate(&top, &places.step(item, h)))
                    .collect()
            })
            .collect(),
        ability_variance: ability_variance(&top)?,
        log_likelihood: top.value,
        connected: connected(&persons, markers.len()),
        persons: persons.len(),
        ratings: ratings.len(),
    })
}

/// How often each number occurs; numbers run from 0 without gaps.
fn counted(numbers: impl Iterator<Item = usize>, of: &'static str) -> Result<Vec<usize>, Refusal> {
    let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
    for number in numbers {
        *counts.entry(number).or_insert(0) += 1;
    }
    if counts.keys().copied().eq(0..counts.len()) {
        Ok(counts.into_values().collect())
    } else {
        let value = counts.keys().next_back().map_or(0.0, |last| *last as f64);
        Err(Refusal::OutOfRange {
            of,
            value,
            allowed: "numbers from 0 without gaps",
        })
    }
}

fn category_counts(ratings: &[Rating], items: usize) -> Result<Vec<Vec<f64>>, Refusal> {
    // One column an item, so that the same faults are named as for a table of answers.
    let rows: Vec<Vec<Option<u8>>> = ratings
        .iter()
        .map(|rating| {
            (0..items)
                .map(|item| (item == rating.item).then_some(rating.category))
                .collect()
        })
        .collect();
    super::response_table::ResponseTable::new(&rows)?.category_counts()
}

/// Whether every marker is reached from the first through candidates marked by both.
fn connected(persons: &BTreeMap<usize, Vec<Rating>>, markers: usize) -> bool {
    let mut reached = BTreeSet::from([0]);
    loop {
        let before = reached.len();
        for ratings in persons.values() {
            let here = || ratings.iter().map(|rating| rating.marker);
            if here().any(|marker| reached.contains(&marker)) {
                reached.extend(here());
            }
        }
        if reached.len() == before {
            return reached.len() == markers;
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::simulated::Uniform;
    use super::*;

    /// Each candidate is marked by two of three markers on two items.
    fn marks(persons: usize, severities: [f64; 3]) -> Vec<Rating> {
        let mut uniform = Uniform::new(51);
        let mut ratings = Vec::new();
        for person in 0..persons {
            let ability = 1.2 * uniform.normal();
            for marker in [person % 3, (person + 1) % 3] {
                for item in 0..2 {
                    let base = severities[marker] + 0.5 * item as f64;
                    let curve = ItemCurve::PartialCredit {
                        slope: 1.0,
                        intercepts: vec![0.8 - base, -0.8 - base],
                    };
                    ratings.push(Rating {
                        person,
                        marker,
                        item,
                        category: uniform.category(&curve, ability),
                    });
                }
            }
        }
        ratings
    }

    #[test]
    fn finds_the_severities_within_their_errors() {
        let truth = [-0.6, 0.1, 0.5];
        let made = many_facet(&marks(900, truth)).unwrap();
        assert!(made.connected);
        for (found, severity) in made.severities.iter().zip(truth) {
            assert!((found.value - severity).abs() < 4.0 * found.standard_error);
        }
        for (found, item) in made.items.iter().zip([0.0, 0.5]) {
            assert!((found.value - item).abs() < 4.0 * found.standard_error);
        }
        let whole: f64 = made.severities.iter().map(|severity| severity.value).sum();
        assert!(whole.abs() < 1e-12);
        assert!((made.steps[0][0].value + made.steps[0][1].value).abs() < 1e-12);
        assert_eq!(made.curve(1, 2).map(|curve| curve.categories()), Some(3));
        assert_eq!(made.curve(2, 0), None);
    }

    #[test]
    fn markers_who_share_nobody_are_named() {
        let mut apart = marks(300, [0.0; 3]);
        apart.retain(|rating| rating.person % 3 == rating.marker);
        assert!(!many_facet(&apart).unwrap().connected);
    }

    #[test]
    fn double_marks_gaps_and_few_are_refused() {
        let mut twice = marks(60, [0.0; 3]);
        twice.push(twice[0]);
        assert!(matches!(
            many_facet(&twice),
            Err(Refusal::NotDefined { .. })
        ));
        let mut gap = marks(60, [0.0; 3]);
        gap.retain(|rating| rating.marker != 1);
        assert!(matches!(many_facet(&gap), Err(Refusal::OutOfRange { .. })));
        assert!(matches!(
            many_facet(&marks(20, [0.0; 3])),
            Err(Refusal::TooFew { need: 30, .. })
        ));
        assert!(many_facet(&[]).is_err());
    }
}
