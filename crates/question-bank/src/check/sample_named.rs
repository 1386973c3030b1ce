//! L19: a question names a sample of the bank or its producer. Who has read it knows what may stand
//! in the flight, and a blind glass is blind no longer (HDR 4: items independent of each other).
//!
//! Looked at is what is printed: the stem, the options, the steps and the pairs.

use std::collections::{BTreeMap, BTreeSet};

use base::{Fault, SampleId};

use super::choice::choice;
use super::similar_stem::asked;
use crate::question::Question;
use crate::sample_record::SampleRecord;
use crate::word_match::fold;

/// A name of so few letters may be any word.
const SHORTEST: usize = 4;

/// Finds questions that name a sample.
pub(super) fn find<'q>(
    questions: &[&'q Question],
    samples: &[&BTreeMap<SampleId, SampleRecord>],
) -> Vec<(&'q Question, Fault)> {
    let mut names: BTreeMap<String, (&str, &SampleId)> = BTreeMap::new();
    for record in samples.iter().flat_map(|records| records.values()) {
        for name in [&record.name, &record.producer] {
            let folded = fold(name);
            if folded.chars().count() >= SHORTEST {
                names
                    .entry(format!(" {folded} "))
                    .or_insert((name.as_str(), &record.id));
            }
        }
    }
    let first_words: BTreeSet<&str> = names
        .keys()
        .filter_map(|name| name.split(' ').nth(1))
        .collect();
    questions
        .iter()
        .filter_map(|question| {
            let mut text = asked(question);
            for option in choice(question).map_or(&[][..], |choice| choice.options) {
                text.push(' ');
                text.push_str(&option.text);
            }
            let text = format!(" {} ", fold(&text));
            // Most questions have no first word of a name, and are done with.
            if !text.split(' ').any(|word| first_words.contains(word)) {
                return None;
            }
            let (_, (name, sample)) = names.iter().find(|(folded, _)| text.contains(folded.as_str()))?;
            let weakness = Fault::weakness(
                "L19-sample-named",
                question.place.clone(),
                format!(
                    "\"{}\" says \"{name}\", the name or producer of the sample \"{sample}\" (L19, HDR 4)",
                    question.id
                ),
            )
            .hint("leave the name out, or the glass is blind no longer");
            Some((*question, weakness))
        })
        .collect()
}
