//! Does the panel carry the key that is drawn from it?

use base::Fault;
use statistics::panel::assessor_standing::assessor_standing;
use statistics::panel::key_stability::key_stability;

use crate::reference_tasting::Stage;
use crate::sample_record::SampleRecord;
use crate::tasting_key::{KeyWord, TastingKey, is_required};

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
    /// Descriptors heavy enough to be required that a single assessor cited; they are kept out.
    pub hanging: Vec<String>,
    /// Reliability of the panel's mean profile, 0 to 1; none for a panel too small or flat for it.
    pub reliability: Option<f64>,
    /// What stands against the key (faults) and what a person should look at (weaknesses).
    pub faults: Vec<Fault>,
}

/// A key of fewer required descriptors than this is refused: one slip of the panel would decide.
/// Common practice, no source.
pub const FEWEST_REQUIRED: usize = 3;

/// Fewer assessors than this are too few for a key to rest on without a second look. ISO 11035 and
/// ISO 13299 work with panels of about this size and more; the figure is from memory.
pub const FEWEST_ASSESSORS: usize = 8;

/// What a plan asks of a panel before its key may be used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeyFloor {
    /// So many assessors at least.
    pub assessors: usize,
    /// So many required descriptors at least.
    pub required: usize,
    /// Reliability of the panel's mean profile at least, 0 to 1.
    pub reliability: f64,
}

impl Default for KeyFloor {
    /// Two assessors, three required descriptors, any agreement.
    fn default() -> Self {
        Self {
            assessors: crate::tasting_key::FEWEST_CITING,
            required: FEWEST_REQUIRED,
            reliability: 0.0,
        }
    }
}

/// The rules of faults that a named decision can set aside.
pub const RELEASABLE: [&str; 2] = ["key-without-panel-support", "key-below-floor"];

/// The share of the key that must stay when any one assessor is left out; below, the key hangs on
/// that assessor. Common practice, no source.
const LEAST_COMMON: f64 = 0.5;

/// [`panel_support_at`] with the usual floor.
#[must_use]
pub fn panel_support(record: &SampleRecord, threshold: f64) -> PanelSupport {
    panel_support_at(record, threshold, &KeyFloor::default())
}

/// Judges the neat key that the record's panel gives at this threshold (weight from which a
/// descriptor is required, 0 to 1), and looks for contradictions in the notes with water too.
///
/// Refused (a fault): a key below the floor; a required descriptor that the record itself lists as
/// contradicting. Weak: a heavy descriptor cited by one assessor only; a key that hangs on one
/// assessor; a contradicting descriptor that somebody cited; fewer than
/// eight assessors.
#[must_use]
pub fn panel_support_at(record: &SampleRecord, threshold: f64, floor: &KeyFloor) -> PanelSupport {
    let key = TastingKey::neat(record, threshold);
    let water = TastingKey::with_water(record, threshold);
    let place = || Some(record.place.clone());
    let mut faults = Vec::new();

    if key.required.len() < floor.required {
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
            .allowed(format!("{} or more", floor.required))
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
    let table = record.tasting.intensities(Stage::neat);
    let standing = assessor_standing(&table.rows).ok();
    let reliability = standing.as_ref().map(|standing| standing.reliability);
    below_floor(record, floor, &key, reliability, &mut faults);
    hangs_on(record, threshold, &table.rows, &mut faults);
    let hanging: Vec<String> = key
        .alone
        .iter()
        .filter(|word| word.weight >= threshold)
        .map(|word| word.word.clone())
        .collect();
    for word in &hanging {
        faults.push(
            Fault::weakness(
                "descriptor-hangs-on-one-assessor",
                place(),
                format!(
                    "{} is heavy enough for the key and was cited by one assessor only: it is kept out",
                    quoted(word)
                ),
            )
            .hint("ask the panel again whether it is there"),
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
        reliability,
        faults,
    }
}

fn place_of(record: &SampleRecord) -> Option<base::Place> {
    Some(record.place.clone())
}

/// What the plan's floor asks beyond a number of required descriptors.
fn below_floor(
    record: &SampleRecord,
    floor: &KeyFloor,
    key: &TastingKey,
    reliability: Option<f64>,
    faults: &mut Vec<Fault>,
) {
    if key.assessors < floor.assessors {
        faults.push(
            Fault::new(
                "key-below-floor",
                place_of(record),
                format!(
                    "the panel of {} had {}",
                    record.id,
                    counted(key.assessors, "assessor")
                ),
            )
            .allowed(format!("{} or more by the plan's floor", floor.assessors))
            .hint(
                "let more assessors taste it, or release the key by a named decision in the plan",
            ),
        );
    }
    if floor.reliability > 0.0 && reliability.is_none_or(|r| r < floor.reliability) {
        let found = reliability.map_or_else(
            || "cannot be told".to_owned(),
            |r| format!("is {:.0} %", r * 100.0),
        );
        faults.push(
            Fault::new(
                "key-below-floor",
                place_of(record),
                format!("the reliability of the panel of {} {found}", record.id),
            )
            .allowed(format!(
                "{:.0} % or more by the plan's floor",
                floor.reliability * 100.0
            ))
            .hint(
                "let more assessors taste it, or release the key by a named decision in the plan",
            ),
        );
    }
}

/// Tells when leaving out one assessor changes much of the key.
fn hangs_on(record: &SampleRecord, threshold: f64, rows: &[Vec<f64>], faults: &mut Vec<Fault>) {
    let rule = |column: &[f64]| column_is_required(column, threshold);
    let Ok(stability) = key_stability(rows, &rule) else {
        return;
    };
    for left_out in &stability.left_out {
        if left_out.common < LEAST_COMMON {
            let who = record
                .tasting
                .assessors
                .get(left_out.assessor)
                .map_or("", String::as_str);
            faults.push(
                Fault::weakness(
                    "key-hangs-on-one-assessor",
                    place_of(record),
                    format!(
                        "the key of {} hangs on {who}: without this assessor {:.0} % of it would stay",
                        record.id,
                        left_out.common * 100.0
                    ),
                )
                .hint("ask more assessors; \"valinch panel key\" says how many would settle it"),
            );
        }
    }
}

/// Whether a column of intensities (shares of the scale) makes a required descriptor.
#[must_use]
#[allow(clippy::cast_precision_loss)]
pub fn column_is_required(column: &[f64], threshold: f64) -> bool {
    let n = column.len() as f64;
    let cited = column.iter().filter(|share| **share > 0.0).count();
    let weight = (cited as f64 / n * (column.iter().sum::<f64>() / n)).sqrt();
    is_required(weight, cited, threshold)
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
        assert_eq!(
            support.reliability, None,
            "three equal words vary in nothing"
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
        assert_eq!(
            rules(&empty),
            [
                "key-below-floor",
                "key-without-panel-support",
                "small-panel"
            ]
        );
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
        assert_eq!(
            support.agreement,
            Some(1.0),
            "what one alone says is no part of it"
        );
    }

    #[test]
    fn a_floor_asks_for_assessors_and_agreement() {
        let record = record_of(&agreed(&["oak", "plum", "clove"]), &[]);
        let floor = KeyFloor {
            assessors: 9,
            reliability: 0.5,
            ..KeyFloor::default()
        };
        let support = panel_support_at(&record, 0.25, &floor);
        assert_eq!(rules(&support), ["key-below-floor", "key-below-floor"]);
        assert!(RELEASABLE.contains(&"key-below-floor"));
    }

    #[test]
    fn a_key_that_hangs_on_one_assessor_says_on_whom() {
        // Four words by A and B, two more by C: without A (or B) the four are cited by one alone.
        let mut notes = Vec::new();
        for word in ["oak", "plum", "clove", "ash"] {
            notes.push(("A", Stage::Nose, word, 5));
            notes.push(("B", Stage::Nose, word, 5));
        }
        for word in ["tar", "peat"] {
            notes.push(("C", Stage::Nose, word, 4));
            notes.push(("D", Stage::Nose, word, 4));
        }
        let support = panel_support(&record_of(&notes, &[]), 0.25);
        let told: Vec<&str> = support
            .faults
            .iter()
            .filter(|f| f.rule == "key-hangs-on-one-assessor")
            .map(|f| f.what.as_str())
            .collect();
        assert_eq!(told.len(), 2, "{told:?}");
        assert!(told[0].contains("hangs on A"), "{told:?}");
    }
}
