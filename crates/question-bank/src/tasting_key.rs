//! The key of a blind sample, computed from its panel and never typed by one person.
//!
//! What one assessor alone says never enters the key, neither as required nor as accepted: it is
//! listed apart and earns nothing, and costs nothing either.

use std::collections::BTreeMap;

use serde::Serialize;
use statistics::Confidence;
use statistics::panel::descriptor_weight::descriptor_weight;

use crate::reference_tasting::{ReferenceTasting, STRONGEST, Stage};
use crate::sample_record::SampleRecord;

/// What counts for one sample, neat or with water.
#[derive(Debug, Clone, PartialEq)]
pub struct TastingKey {
    /// Descriptors at or above the threshold, heaviest first; ties in order of the word.
    pub required: Vec<KeyWord>,
    /// Cited by two or more, but below the threshold: accepted, not required. Same order.
    pub accepted: Vec<KeyWord>,
    /// Cited by one assessor alone: not expected of anybody, neither paid nor punished. Same order.
    pub alone: Vec<KeyWord>,
    /// Words that contradict the sample.
    pub contradicting: Vec<String>,
    /// How many assessors the panel had.
    pub assessors: usize,
}

/// One descriptor with its weight.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KeyWord {
    /// The lexicon's main word.
    pub word: String,
    /// Geometric mean of citation frequency and relative intensity, 0 to 1 (ISO 11035:1994,
    /// formula from memory; Dravnieks 1985).
    pub weight: f64,
    /// How many assessors cited it at least once.
    pub cited_by: usize,
}

/// The least weight difference that counts: what rounding puts a hair below the threshold is at it.
const HAIR: f64 = 1e-12;

/// So many assessors must cite a word before it can enter the key.
pub const FEWEST_CITING: usize = 2;

/// Whether a word of this weight, cited by so many, is required at a threshold.
#[must_use]
pub fn is_required(weight: f64, cited_by: usize, threshold: f64) -> bool {
    cited_by >= FEWEST_CITING && weight + HAIR >= threshold
}

impl TastingKey {
    /// The key of what is found neat: nose, palate and finish together. `threshold` is the weight
    /// from which a descriptor is required, 0 to 1.
    #[must_use]
    pub fn neat(record: &SampleRecord, threshold: f64) -> Self {
        Self::of_stages(record, threshold, Stage::neat)
    }
    /// The key of what shows with water.
    #[must_use]
    pub fn with_water(record: &SampleRecord, threshold: f64) -> Self {
        Self::of_stages(record, threshold, |stage| !stage.neat())
    }
    /// The key of one stage alone.
    #[must_use]
    pub fn of_stage(record: &SampleRecord, threshold: f64, wanted: Stage) -> Self {
        Self::of_stages(record, threshold, |stage| stage == wanted)
    }

    /// The key of the stages that count.
    #[must_use]
    pub fn of_stages(
        record: &SampleRecord,
        threshold: f64,
        counts: impl Fn(Stage) -> bool,
    ) -> Self {
        let (alone, shared): (Vec<_>, Vec<_>) = weights(&record.tasting, counts)
            .into_iter()
            .partition(|word| word.cited_by < FEWEST_CITING);
        let (required, accepted): (Vec<_>, Vec<_>) = shared
            .into_iter()
            .partition(|word| is_required(word.weight, word.cited_by, threshold));
        // A lone citation does not make right what the record says is wrong.
        let accepted = accepted
            .into_iter()
            .filter(|word| !record.contradicts.contains(&word.word))
            .collect();
        Self {
            required,
            accepted,
            alone,
            contradicting: record.contradicts.clone(),
            assessors: record.tasting.assessors.len(),
        }
    }
}

/// The weight of every descriptor cited in the stages that count, heaviest first, ties in order of
/// the word: sqrt(F I), F = assessors who cited it in any of the stages / assessors, I = sum over
/// assessors of their largest intensity / (assessors × [`STRONGEST`]).
fn weights(tasting: &ReferenceTasting, counts: impl Fn(Stage) -> bool) -> Vec<KeyWord> {
    let mut largest: BTreeMap<&str, BTreeMap<usize, u32>> = BTreeMap::new();
    for note in tasting.notes.iter().filter(|note| counts(note.stage)) {
        let by_assessor = largest.entry(note.descriptor.as_str()).or_default();
        let strongest = by_assessor.entry(note.assessor).or_default();
        *strongest = note.intensity.max(*strongest);
    }
    let assessors = tasting.assessors.len();
    let mut words: Vec<KeyWord> = largest
        .into_iter()
        .map(|(word, by_assessor)| {
            let intensity = by_assessor.values().sum();
            KeyWord {
                word: word.to_owned(),
                weight: weight(by_assessor.len(), intensity, assessors),
                cited_by: by_assessor.len(),
            }
        })
        .collect();
    words.sort_by(|a, b| {
        b.weight
            .total_cmp(&a.weight)
            .then_with(|| a.word.cmp(&b.word))
    });
    words
}

/// The figure of [`statistics::panel::descriptor_weight`]; 0 where no citation was possible.
fn weight(citations: usize, intensity_sum: u32, assessors: usize) -> f64 {
    descriptor_weight(
        citations,
        assessors,
        f64::from(intensity_sum),
        f64::from(STRONGEST),
        Confidence::P95,
    )
    .map_or(0.0, |figure| figure.weight)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::sample_record::tests::record_of;

    #[test]
    fn weights_are_the_geometric_mean_of_frequency_and_intensity() {
        // Four assessors. Oak: three cite it, largest intensities 4, 2, 2: sqrt(3/4 × 8/20).
        // Clove: one cites it at 1: sqrt(1/4 × 1/20).
        let record = record_of(
            &[
                ("A", Stage::Nose, "oak", 2),
                ("A", Stage::Palate, "oak", 4),
                ("B", Stage::Finish, "oak", 2),
                ("C", Stage::Nose, "oak", 2),
                ("D", Stage::Nose, "clove", 1),
                ("D", Stage::Water, "peat", 5),
            ],
            &["peat"],
        );
        let key = TastingKey::neat(&record, 0.25);
        let words: Vec<_> = key
            .required
            .iter()
            .map(|w| (w.word.as_str(), w.cited_by))
            .collect();
        assert_eq!(words, [("oak", 3)]);
        assert!((key.required[0].weight - 0.3_f64.sqrt()).abs() < 1e-15);
        assert!(key.accepted.is_empty(), "one assessor alone");
        assert_eq!(key.alone.len(), 1);
        assert!((key.alone[0].weight - 0.0125_f64.sqrt()).abs() < 1e-15);
        assert_eq!(key.assessors, 4);
        let water = TastingKey::with_water(&record, 0.25);
        let words: Vec<_> = water.alone.iter().map(|w| w.word.as_str()).collect();
        assert_eq!(words, ["peat"]);
        assert!(
            (water.alone[0].weight - 0.25).abs() < 1e-15,
            "sqrt(1/4 × 5/20)"
        );
        let nose = TastingKey::of_stage(&record, 0.25, Stage::Nose);
        let words: Vec<_> = nose.required.iter().map(|w| w.word.as_str()).collect();
        assert_eq!(words, ["oak"], "sqrt(2/4 × 4/20) is 0.32");
    }

    #[test]
    fn a_weight_at_the_threshold_is_required() {
        let record = record_of(
            &[
                ("A", Stage::Nose, "oak", 5),
                ("B", Stage::Nose, "apple", 1),
                ("C", Stage::Nose, "clove", 5),
                ("D", Stage::Nose, "ash", 1),
                ("E", Stage::Nose, "oak", 5),
                ("F", Stage::Nose, "apple", 1),
                ("G", Stage::Nose, "clove", 5),
                ("H", Stage::Nose, "ash", 1),
                ("H", Stage::Nose, "tar", 5),
            ],
            &["ash"],
        );
        let key = TastingKey::neat(&record, 0.25);
        let words: Vec<_> = key.required.iter().map(|w| w.word.as_str()).collect();
        assert_eq!(words, ["clove", "oak"], "ties stand in order of the word");
        let accepted: Vec<_> = key.accepted.iter().map(|w| w.word.as_str()).collect();
        assert_eq!(accepted, ["apple"], "what contradicts is not accepted");
        assert_eq!(key.contradicting, ["ash"]);
        let alone: Vec<_> = key.alone.iter().map(|w| w.word.as_str()).collect();
        assert_eq!(alone, ["tar"], "one assessor alone enters no key");
    }

    #[test]
    fn a_panel_without_notes_gives_an_empty_key() {
        let key = TastingKey::neat(&record_of(&[], &[]), 0.25);
        assert!(key.required.is_empty() && key.accepted.is_empty());
    }
}
