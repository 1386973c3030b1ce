//! Which samples of a flight get in each other's way: twins that nobody tells apart, and heavy ones
//! that nobody marked as heavy.

use base::SampleId;
use statistics::Confidence;
use statistics::panel::key_distance::{KeyDistance, key_distance};

use crate::lexicon::Lexicon;
use crate::reference_tasting::Stage;
use crate::sample_record::SampleRecord;
use crate::tasting_key::TastingKey;

/// A strength in the glass above which a sample is very strong, % vol. Common practice, no source.
pub const VERY_STRONG: f64 = 55.0;
/// The panel weight from which smoke is strong: half of the panel at half of the scale. This
/// project's choice.
pub const STRONG_SMOKE: f64 = 0.5;

/// Two samples of a flight and how far they lie apart.
#[derive(Debug, Clone, PartialEq)]
pub struct SamplePair {
    /// The earlier in the plan.
    pub first: SampleId,
    /// The later.
    pub second: SampleId,
    /// The distance of their keys.
    pub distance: KeyDistance,
}

/// The distances of all pairs of samples whose panels allow one, in the order of the plan.
#[must_use]
pub fn pairs(flight: &[&SampleRecord]) -> Vec<SamplePair> {
    let mut pairs = Vec::new();
    for (place, one) in flight.iter().enumerate() {
        for other in flight.iter().skip(place + 1) {
            if let Ok(distance) = distance(one, other) {
                pairs.push(SamplePair {
                    first: one.id.clone(),
                    second: other.id.clone(),
                    distance,
                });
            }
        }
    }
    pairs
}

/// The pairs that candidates could hardly tell apart.
#[must_use]
pub fn twin_pairs(flight: &[&SampleRecord]) -> Vec<SamplePair> {
    pairs(flight)
        .into_iter()
        .filter(|pair| pair.distance.is_twin())
        .collect()
}

/// The distance of two samples by all notes of their panels.
///
/// # Errors
/// A refusal where a panel is too small or does not vary.
pub fn distance(
    one: &SampleRecord,
    other: &SampleRecord,
) -> Result<KeyDistance, statistics::Refusal> {
    let (first, second) = (
        one.tasting.intensities(Stage::neat),
        other.tasting.intensities(Stage::neat),
    );
    let mut words: Vec<String> = first.words.iter().chain(&second.words).cloned().collect();
    words.sort();
    words.dedup();
    key_distance(
        &first.over(&words).rows,
        &second.over(&words).rows,
        Confidence::P95,
    )
}

/// Why a sample would better be marked heavy: strong smoke in the panel's notes, or a very strong
/// glass. None where nothing speaks for it. Smoke is what stands in a group of the lexicon whose
/// name or first word speaks of it.
#[must_use]
pub fn heavy_by_its_notes(record: &SampleRecord, lexicon: &Lexicon, served: f64) -> Option<String> {
    if served > VERY_STRONG {
        return Some(format!(
            "it is served at {served} % vol, which numbs the palate"
        ));
    }
    let key = TastingKey::neat(record, STRONG_SMOKE);
    let smoky: Vec<&str> = key
        .required
        .iter()
        .map(|word| word.word.as_str())
        .filter(|word| speaks_of_smoke(word) || in_smoky_group(lexicon, word))
        .collect();
    (!smoky.is_empty()).then(|| {
        format!(
            "it is smoky ({}), and smoke lingers into a delicate glass after it",
            smoky.join(", ")
        )
    })
}

fn in_smoky_group(lexicon: &Lexicon, word: &str) -> bool {
    lexicon
        .place_of(word)
        .and_then(|place| lexicon.group(place))
        .is_some_and(|group| speaks_of_smoke(&group.name))
}

fn speaks_of_smoke(text: &str) -> bool {
    let text = text.to_lowercase();
    text.contains("smok") || text.contains("peat")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::lexicon::tests::lexicon_of;
    use crate::sample_record::tests::record_of;

    type Note = (&'static str, Stage, &'static str, u32);

    fn panel(words: &[(&'static str, [u32; 4])]) -> SampleRecord {
        let mut notes: Vec<Note> = Vec::new();
        for (word, intensities) in words {
            for (assessor, intensity) in ["A", "B", "C", "D"].iter().zip(intensities) {
                if *intensity > 0 {
                    notes.push((assessor, Stage::Nose, word, *intensity));
                }
            }
        }
        record_of(&notes, &[])
    }

    #[test]
    fn the_same_notes_are_twins_and_others_are_not() {
        let one = panel(&[
            ("oak", [3, 4, 2, 3]),
            ("plum", [2, 0, 3, 1]),
            ("clove", [1, 2, 0, 2]),
        ]);
        let like = panel(&[
            ("oak", [4, 3, 3, 2]),
            ("plum", [1, 2, 0, 3]),
            ("clove", [2, 0, 2, 1]),
        ]);
        let unlike = panel(&[
            ("peat", [5, 4, 5, 4]),
            ("tar", [3, 4, 0, 3]),
            ("ash", [2, 3, 2, 0]),
        ]);
        let all = pairs(&[&one, &like, &unlike]);
        assert_eq!(all.len(), 3);
        assert!(all[0].distance.is_twin(), "{:?}", all[0]);
        assert!(!all[1].distance.is_twin() && !all[2].distance.is_twin());
        assert_eq!(twin_pairs(&[&one, &like, &unlike]).len(), 1);
    }

    #[test]
    fn smoke_and_strength_make_a_glass_heavy() {
        let lexicon = lexicon_of(&[&[&[("peat", &[]), ("oak", &[])]]]).unwrap();
        let smoky = panel(&[("peat", [5, 4, 5, 4]), ("oak", [1, 2, 1, 0])]);
        let mild = panel(&[("peat", [1, 0, 1, 0]), ("oak", [4, 4, 4, 4])]);
        let told = heavy_by_its_notes(&smoky, &lexicon, 40.0).unwrap();
        assert!(told.contains("peat") && !told.contains("oak"), "{told}");
        assert_eq!(heavy_by_its_notes(&mild, &lexicon, 40.0), None);
        assert!(heavy_by_its_notes(&mild, &lexicon, 60.0).is_some());
    }
}
