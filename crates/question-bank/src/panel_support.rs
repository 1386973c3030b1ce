//! Does the panel carry the key that is drawn from it?

use base::Fault;

use crate::sample_record::SampleRecord;
use crate::tasting_key::{KeyWord, TastingKey};

/// How well a panel carries a key.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelSupport {
    /// How many assessors the panel had.
    pub assessors: usize,
    /// How many descriptors the neat key requires.
    pub required: usize,
    /// Mean, over the required descriptors, of the share of assessors who cited each; 0 to 1. None
    /// where nothing is required.
    pub agreement: Option<f64>,
    /// Required descriptors that a single assessor cited.
    pub hanging: Vec<String>,
    /// What stands against the key (faults) and what a person should look at (weaknesses).
    pub faults: Vec<Fault>,
}

/// A key of fewer required descriptors than this is refused: one slip of the panel would decide.
/// Common practice, no source.
pub const FEWEST_REQUIRED: usize = 3;

/// Fewer assessors than this are too few for a key to rest on without a second look. ISO 11035 and
/// ISO 13299 work with panels of about this size and more; the figure is from memory.
pub const FEWEST_ASSESSORS: usize = 8;

/// Judges the neat key that the record's panel gives at this threshold (weight from which a
/// descriptor is required, 0 to 1), and looks for contradictions in the notes with water too.
///
/// Refused (a fault): fewer than three required descriptors; a required descriptor that the record
/// itself lists as contradicting. Weak: a required descriptor cited by one assessor only; a
/// contradicting descriptor that somebody cited; fewer than eight assessors.
#[must_use]
pub fn panel_support(record: &SampleRecord, threshold: f64) -> PanelSupport {
    let key = TastingKey::neat(record, threshold);
    let water = TastingKey::with_water(record, threshold);
    let place = || Some(record.place.clone());
    let mut faults = Vec::new();

    if key.required.len() < FEWEST_REQUIRED {
        faults.push(
            Fault::new(
                "key-without-panel-support",
                place(),
                format!(
                    "the panel of {} gives {} at the threshold of {threshold}: {}",
                    record.id,
                    counted(key.required.len(), "required descriptor"),
                    listed(&key.required),
                ),
            )
            .allowed(format!("{FEWEST_REQUIRED} or more"))
            .hint("lower the plan's threshold, or taste the sample again with more assessors"),
        );
    }
    for word in key.required.iter().chain(&water.required) {
        let doubled = faults.iter().any(|f: &Fault| {
            f.rule == "contradicting-descriptor-in-key" && f.what.contains(&quoted(&word.word))
        });
        if record.contradicts.contains(&word.word) && !doubled {
            faults.push(
                Fault::new(
                    "contradicting-descriptor-in-key",
                    place(),
                    format!(
                        "{} contradicts {} and stands in the key that its panel gives (cited by {})",
                        quoted(&word.word),
                        record.id,
                        counted(word.cited_by, "assessor"),
                    ),
                )
                .hint("remove it from \"contradicts\", or look at the panel's notes again"),
            );
        }
    }
    for word in &record.contradicts {
        let required = |key: &TastingKey| key.required.iter().any(|w| w.word == *word);
        let cited = record
            .tasting
            .notes
            .iter()
            .filter(|n| n.descriptor == *word);
        let mut citing: Vec<&str> = cited
            .filter_map(|note| record.tasting.assessors.get(note.assessor))
            .map(String::as_str)
            .collect();
        citing.dedup();
        if !citing.is_empty() && !required(&key) && !required(&water) {
            faults.push(
                Fault::weakness(
                    "contradicting-descriptor-cited",
                    place(),
                    format!(
                        "{} contradicts {}, yet {} cited it; it is not accepted in the key",
                        quoted(word),
                        record.id,
                        citing.join(", "),
                    ),
                )
                .hint("look at that note again, or remove the word from \"contradicts\""),
            );
        }
    }
    let hanging: Vec<String> = key
        .required
        .iter()
        .filter(|word| word.cited_by == 1)
        .map(|word| word.word.clone())
        .collect();
    for word in &hanging {
        faults.push(
            Fault::weakness(
                "descriptor-hangs-on-one-assessor",
                place(),
                format!(
                    "{} is required of candidates and was cited by one assessor only",
                    quoted(word)
                ),
            )
            .hint("raise the plan's threshold, or ask the panel again"),
        );
    }
    if key.assessors < FEWEST_ASSESSORS {
        faults.push(
            Fault::weakness(
                "small-panel",
                place(),
                format!(
                    "the panel of {} had {}",
                    record.id,
                    counted(key.assessors, "assessor")
                ),
            )
            .allowed(format!("{FEWEST_ASSESSORS} or more without a second look")),
        );
    }
    faults.sort();
    PanelSupport {
        assessors: key.assessors,
        required: key.required.len(),
        agreement: agreement(&key),
        hanging,
        faults,
    }
}

/// Mean citation share of the required descriptors.
#[allow(clippy::cast_precision_loss)]
fn agreement(key: &TastingKey) -> Option<f64> {
    if key.required.is_empty() || key.assessors == 0 {
        return None;
    }
    let cited: usize = key.required.iter().map(|word| word.cited_by).sum();
    Some(cited as f64 / (key.required.len() as f64 * key.assessors as f64))
}

fn quoted(word: &str) -> String {
    format!("\"{word}\"")
}

fn counted(n: usize, what: &str) -> String {
    match n {
        0 => format!("no {what}"),
        1 => format!("one {what}"),
        _ => format!("{n} {what}s"),
    }
}

fn listed(words: &[KeyWord]) -> String {
    if words.is_empty() {
        return "none".to_owned();
    }
    let words: Vec<_> = words.iter().map(|word| word.word.as_str()).collect();
    words.join(", ")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::reference_tasting::Stage;
    use crate::sample_record::tests::record_of;

    const ASSESSORS: [&str; 8] = ["A", "B", "C", "D", "E", "F", "G", "H"];

    fn agreed(words: &[&'static str]) -> Vec<(&'static str, Stage, &'static str, u32)> {
        ASSESSORS
            .iter()
            .flat_map(|a| words.iter().map(move |w| (*a, Stage::Nose, *w, 3)))
            .collect()
    }
    fn rules(support: &PanelSupport) -> Vec<&'static str> {
        support.faults.iter().map(|fault| fault.rule).collect()
    }

    #[test]
    fn a_panel_at_one_carries_its_key() {
        let support = panel_support(
            &record_of(&agreed(&["oak", "plum", "clove"]), &["peat"]),
            0.25,
        );
        assert_eq!((support.assessors, support.required), (8, 3));
        assert_eq!(support.agreement, Some(1.0));
        assert!(support.faults.is_empty(), "{:?}", support.faults);
    }

    #[test]
    fn a_thin_key_is_refused() {
        let support = panel_support(&record_of(&agreed(&["oak", "plum"]), &[]), 0.25);
        assert_eq!(rules(&support), ["key-without-panel-support"]);
        let empty = panel_support(&record_of(&[], &[]), 0.25);
        assert_eq!(rules(&empty), ["key-without-panel-support", "small-panel"]);
        assert_eq!(empty.agreement, None);
    }

    #[test]
    fn a_contradiction_in_the_key_is_refused_and_elsewhere_shown() {
        let mut notes = agreed(&["oak", "plum", "clove", "peat"]);
        notes.push(("A", Stage::Water, "ash", 1));
        notes.push(("B", Stage::Palate, "tar", 5));
        let support = panel_support(&record_of(&notes, &["peat", "ash", "tar"]), 0.3);
        assert_eq!(
            rules(&support),
            [
                "contradicting-descriptor-in-key",
                "contradicting-descriptor-cited",
                "contradicting-descriptor-cited",
            ]
        );
        assert!(support.faults[1].what.contains("yet A cited it"));
    }

    #[test]
    fn a_word_that_hangs_on_one_assessor_is_named() {
        let mut notes = agreed(&["oak", "plum", "clove"]);
        notes.push(("B", Stage::Palate, "tar", 5));
        let support = panel_support(&record_of(&notes, &[]), 0.125);
        assert_eq!(support.hanging, ["tar"]);
        assert_eq!(rules(&support), ["descriptor-hangs-on-one-assessor"]);
        assert!((support.agreement.unwrap() - 25.0 / 32.0).abs() < 1e-15);
    }
}
