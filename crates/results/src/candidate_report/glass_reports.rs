//! The glasses of a report: what it was, what was written, the panel's words found and missed.

use std::collections::BTreeSet;

use base::Marks;
use exam_plan::plan::{AgeAnswer, AskedWords, TastingPart, band_names};
use exam_plan::{Asked, Exam, TastingWay};
use grader::tasting_rule::descriptor_assignment::DescriptorKey;
use grader::tasting_rule::words_beside::{WrittenStanding, WrittenWord, words_beside};
use grader::{Award, Item};
use question_bank::lexicon::Closeness;
use question_bank::sample_record::Age;
use question_bank::tasting_key::KeyWord;
use question_bank::word_match::{Resolved, SEPARATORS, resolve_piece};
use question_bank::{Bank, SampleRecord, TastingKey};
use serde::Serialize;

use super::theory_lines::reason;
use crate::script::Script;

/// One glass in a report.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GlassReport {
    /// Its place in the serving order, from 1.
    pub glass: u32,
    /// The code on it.
    pub code: String,
    /// What it was: name, category, region, age, strength.
    pub was: String,
    /// The record's words on it.
    pub describe: String,
    /// What was asked, line by line.
    pub lines: Vec<GlassLine>,
    /// The panel's words with their weight, heaviest first, and whether the candidate named them.
    pub panel_words: Vec<PanelWord>,
    /// Words of the candidate that contradict the sample.
    pub contradicting: Vec<String>,
    /// Words of the candidate that earned nothing and cost nothing.
    pub without_credit: Vec<String>,
    /// Assessors of the reference panel.
    pub assessors: usize,
}

/// One thing asked of a glass.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GlassLine {
    /// What was asked, as printed: "Aroma and flavour".
    pub asked: &'static str,
    /// What was answered; "no answer" for none.
    pub answered: String,
    /// What was right.
    pub right: String,
    /// The marks so far.
    pub marks: Marks,
    /// Full marks.
    pub of: Marks,
    /// Whether they are extra credit.
    pub extra: bool,
    /// Why.
    pub reason: String,
    /// Whether a person must still decide.
    pub waiting: bool,
}

/// A word of the reference panel beside the candidate's.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PanelWord {
    /// The word.
    pub word: String,
    /// Its weight, 0 to 1.
    pub weight: f64,
    /// How many assessors cited it.
    pub cited_by: usize,
    /// Whether the candidate named it or a synonym.
    pub found: bool,
    /// The candidate's word that was paired with it; none where it was missed.
    pub paired: Option<PairedWord>,
    /// Whether it shows with water only.
    pub with_water: bool,
}

/// A candidate's word that was paired with one of the panel's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PairedWord {
    /// As it was written.
    pub written: String,
    /// How near it is, and what that earns: "the same", "same group: half".
    pub how: &'static str,
    /// What it earned of the word's weight, in quarters.
    pub quarters: u8,
}

/// The glasses of a script in serving order.
pub(super) fn glass_reports(exam: &Exam, script: &Script<'_>) -> Vec<GlassReport> {
    let Some(part) = &exam.plan.tasting else {
        return Vec::new();
    };
    let way = exam.way_of(&script.place.candidate);
    let mut reports = Vec::new();
    for (place, poured) in script.place.glasses.iter().enumerate() {
        let Some(record) = exam.sample(&poured.sample) else {
            continue;
        };
        let glass = u32::try_from(place + 1).unwrap_or(u32::MAX);
        let awards: Vec<_> = script
            .awards
            .iter()
            .filter_map(|award| match &award.item {
                Item::Tasting {
                    glass: g, asked, ..
                } if *g == glass => {
                    let wanted = part.ask.iter().find(|q| q.asked.name() == asked)?;
                    Some((*award, &wanted.asked))
                }
                Item::Tasting { .. } | Item::Theory { .. } => None,
            })
            .collect();
        reports.push(GlassReport {
            glass,
            code: poured.code.clone(),
            was: was(&exam.bank, record),
            describe: record.describe.clone(),
            lines: awards
                .iter()
                .map(|(award, asked)| glass_line(exam, (part, way), record, award, asked))
                .collect(),
            panel_words: panel_words(exam, (part, way), record, &awards),
            contradicting: contradicting(exam, record, &awards),
            without_credit: without_credit(exam, (part, way), record, &awards),
            assessors: record.tasting.assessors.len(),
        });
    }
    reports
}

/// "Copper Bay Eight Years: rum from molasses, Jamaica, 8 years, 43 % vol".
pub(crate) fn was(bank: &Bank, record: &SampleRecord) -> String {
    let category = bank
        .categories
        .node(&record.category)
        .map_or(record.category.as_str(), |node| &node.name);
    let region = bank
        .regions
        .node(&record.region)
        .map_or(record.region.as_str(), |node| &node.name);
    format!(
        "{} ({}): {category}, {region}, {}, {} % vol",
        record.name,
        record.producer,
        age(record.age),
        record.strength
    )
}

fn age(age: Age) -> String {
    match age {
        Age::Stated(1) => "1 year".to_owned(),
        Age::Stated(years) => format!("{years} years"),
        Age::NotStated => "no age stated".to_owned(),
        Age::Unknown => "age not known".to_owned(),
    }
}

/// What was asked, as printed.
const fn printed(asked: &Asked) -> &'static str {
    match asked {
        Asked::Aroma { .. } => "Aroma and flavour",
        Asked::Water { .. } => "With water",
        Asked::Category => "Category",
        Asked::Region => "Region",
        Asked::Age(_) => "Age",
        Asked::Strength { .. } => "Strength",
        Asked::Colour => "Depth of colour",
        Asked::Body => "Body",
        Asked::Finish => "Finish",
        Asked::Quality => "Quality",
        Asked::Fault { .. } => "Fault",
        Asked::Confidence(_) => "How sure",
        Asked::Producer { .. } => "Producer",
    }
}

/// What the panel found with water, or neat by those senses that this candidate was asked about.
fn key_of_words(
    (part, way): (&TastingPart, TastingWay),
    record: &SampleRecord,
    with_water: bool,
) -> TastingKey {
    if with_water {
        TastingKey::with_water(record, part.threshold)
    } else {
        part.aroma_key(record, way)
    }
}

fn glass_line(
    exam: &Exam,
    (part, way): (&TastingPart, TastingWay),
    record: &SampleRecord,
    award: &Award,
    asked: &Asked,
) -> GlassLine {
    let answered = award.answer.trim();
    GlassLine {
        asked: printed(asked),
        answered: if answered.is_empty() {
            "no answer".to_owned()
        } else {
            answered.to_owned()
        },
        right: right(exam, (part, way), record, asked),
        marks: award.marks(),
        of: award.of,
        extra: award.extra,
        reason: reason(&award.outcome),
        waiting: award.outcome.waits(),
    }
}

fn right(
    exam: &Exam,
    (part, way): (&TastingPart, TastingWay),
    record: &SampleRecord,
    asked: &Asked,
) -> String {
    let scale = |value: Option<u32>| value.map_or_else(String::new, |value| value.to_string());
    let words = |key: &TastingKey| {
        let words: Vec<&str> = key.required.iter().map(|word| word.word.as_str()).collect();
        words.join("; ")
    };
    match asked {
        Asked::Aroma { .. } => words(&part.aroma_key(record, way)),
        Asked::Water { .. } => words(&TastingKey::with_water(record, part.threshold)),
        Asked::Category => exam
            .bank
            .categories
            .node(&record.category)
            .map_or_else(String::new, |node| node.name.clone()),
        Asked::Region => {
            let also = std::iter::once(&record.region).chain(&record.accepted_regions);
            let names: Vec<&str> = also
                .filter_map(|id| exam.bank.regions.node(id))
                .map(|node| node.name.as_str())
                .collect();
            names.join(", also ")
        }
        Asked::Age(answer) => match (answer, record.age) {
            (AgeAnswer::Band { from }, Age::Stated(years)) => {
                let band = from.iter().filter(|first| **first <= years).count();
                let name = band_names(from).get(band).cloned().unwrap_or_default();
                format!("{name} ({})", age(record.age))
            }
            (AgeAnswer::Band { .. }, Age::NotStated | Age::Unknown) | (AgeAnswer::Range, _) => {
                age(record.age)
            }
        },
        Asked::Strength { .. } => {
            format!("{} % vol in the glass", part.pour.served(record.strength))
        }
        Asked::Colour => scale(record.colour),
        Asked::Body => scale(record.body),
        Asked::Finish => scale(record.finish),
        Asked::Quality => {
            let ratings = &record.tasting.quality;
            if ratings.is_empty() {
                return String::new();
            }
            let mean = ratings.iter().map(|(_, q)| q).sum::<f64>() / ratings.len() as f64;
            format!("{mean:.1} on average of {} assessors", ratings.len())
        }
        Asked::Fault { .. } => record.fault.clone().unwrap_or_else(|| "none".to_owned()),
        Asked::Confidence(asked) => {
            let (categories, regions) = (&exam.bank.categories, &exam.bank.regions);
            let right = asked.right(record, categories, regions).ok();
            let name = right.and_then(|place| asked.from.get(place));
            name.cloned().unwrap_or_default()
        }
        Asked::Producer { .. } => record.producer.clone(),
    }
}

/// The lexicon's words for what a candidate wrote, up to the number that counts; parted where the
/// grader parts them.
pub(crate) fn named_words(exam: &Exam, answer: &str, at_most: u32) -> BTreeSet<String> {
    answer
        .split(SEPARATORS)
        .map(str::trim)
        .filter(|piece| !piece.is_empty())
        .flat_map(|piece| resolve_piece(&exam.bank.lexicon, piece))
        .filter_map(|(_, resolved)| match resolved {
            Resolved::Known { word, .. } => Some(Some(word)),
            // A word that is not known has its place among those that count; what is denied has
            // none.
            Resolved::Unknown { .. } => Some(None),
            Resolved::Negated { .. } => None,
        })
        .take(usize::try_from(at_most).unwrap_or(usize::MAX))
        .flatten()
        .collect()
}

fn panel_words(
    exam: &Exam,
    (part, way): (&TastingPart, TastingWay),
    record: &SampleRecord,
    awards: &[(&Award, &Asked)],
) -> Vec<PanelWord> {
    let mut words = Vec::new();
    for (award, asked) in awards {
        let Some(AskedWords { most, with_water }) = asked.words() else {
            continue;
        };
        let key = key_of_words((part, way), record, with_water);
        let named = named_words(exam, &award.answer, most);
        let written = beside_the_key(exam, &key, most, &award.answer);
        let beside = |word: &KeyWord| PanelWord {
            found: named.contains(&word.word),
            paired: paired_with(&written, &word.word),
            word: word.word.clone(),
            weight: word.weight,
            cited_by: word.cited_by,
            with_water,
        };
        words.extend(key.required.iter().map(beside));
        // Words below the threshold are shown where the candidate found them: they were accepted.
        words.extend(key.accepted.iter().map(beside).filter(|word| word.found));
    }
    words
}

/// The candidate's words as the mark paired them with the key.
fn beside_the_key(exam: &Exam, key: &TastingKey, words: u32, answer: &str) -> Vec<WrittenWord> {
    let lexicon = &exam.bank.lexicon;
    words_beside(&DescriptorKey::new(key, lexicon), lexicon, words, answer)
}

/// What was paired with this word of the key.
fn paired_with(written: &[WrittenWord], wanted: &str) -> Option<PairedWord> {
    written.iter().find_map(|word| match &word.stands {
        WrittenStanding::Paired {
            key_word,
            closeness,
        } if key_word == wanted => {
            let (how, quarters) = match closeness {
                Closeness::Same => ("the same", 4),
                Closeness::Group => ("same group: half", 2),
                Closeness::Family => ("same family: a quarter", 1),
                Closeness::Apart => ("apart", 0),
            };
            Some(PairedWord {
                written: word.written.clone(),
                how,
                quarters,
            })
        }
        WrittenStanding::Paired { .. }
        | WrittenStanding::Contradicts
        | WrittenStanding::Nothing => None,
    })
}

/// Words that earned nothing and cost nothing, each once.
fn without_credit(
    exam: &Exam,
    (part, way): (&TastingPart, TastingWay),
    record: &SampleRecord,
    awards: &[(&Award, &Asked)],
) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for (award, asked) in awards {
        let Some(AskedWords { most, with_water }) = asked.words() else {
            continue;
        };
        let key = key_of_words((part, way), record, with_water);
        for word in beside_the_key(exam, &key, most, &award.answer) {
            if word.stands == WrittenStanding::Nothing && !words.contains(&word.written) {
                words.push(word.written);
            }
        }
    }
    words
}

fn contradicting(exam: &Exam, record: &SampleRecord, awards: &[(&Award, &Asked)]) -> Vec<String> {
    let named: BTreeSet<String> = awards
        .iter()
        .filter_map(|(award, asked)| {
            let words = asked.words()?;
            Some(named_words(exam, &award.answer, words.most))
        })
        .flatten()
        .collect();
    named
        .into_iter()
        .filter(|word| record.contradicts.contains(word))
        .collect()
}
