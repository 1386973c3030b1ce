//! The marker's guide: what each sample is, its key, and every rule in words.

use std::collections::BTreeMap;

use assembler::FormQuestion;
use exam_plan::TastingWay;
use exam_plan::confidence::ConfidenceScore;
use exam_plan::plan::{AgeAnswer, Asked, TastingPart, TastingQuestion};
use grader::{KnownWords, SampleKey, tasting_chance_score};
use question_bank::sample_record::Age;
use question_bank::tasting_key::KeyWord;
use question_bank::{SampleRecord, Shape};
use renderer::content::ExamHead;
use renderer::content::examiner::{
    GuideDescriptor, GuideFact, GuideQuestion, GuideRule, GuideSample, MarkerGuide,
};

use super::closed::short_name;
use super::head::{marks_in_words, strength};
use super::{Job, SheetFile, Sides};
use crate::open_sitting::DrawnSitting;

/// The guide.
pub(super) fn jobs<'o>(open: &'o DrawnSitting, head: &'o ExamHead) -> Vec<Job<'o>> {
    vec![Job {
        file: SheetFile::closed(21, "marker-guide", "markers", 1, Sides::Double),
        document: "marker-guide".to_owned(),
        make: Box::new(move |renderer, look, stamp| {
            renderer.marker_guide(&content(open, head), look, stamp)
        }),
    }]
}

fn content(open: &DrawnSitting, head: &ExamHead) -> MarkerGuide {
    let samples = open
        .exam
        .plan
        .tasting
        .as_ref()
        .map_or_else(Vec::new, |part| {
            part.samples
                .iter()
                .filter_map(|(id, _)| Some(sample(open, part, open.exam.sample(id)?)))
                .collect()
        });
    MarkerGuide {
        exam: head.clone(),
        rules: vec![
            "Mark by number; you do not know whose script it is.".to_owned(),
            "Every mark has one sentence that says why; a mark without a reason does not stand."
                .to_owned(),
            "A word that is not known is decided once, for everybody.".to_owned(),
            "Marks are in thousandths and rounded once, half to even, at the end of a question."
                .to_owned(),
        ],
        samples,
        questions: questions(open),
    }
}

fn sample(open: &DrawnSitting, part: &TastingPart, record: &SampleRecord) -> GuideSample {
    let bank = &open.exam.bank;
    let key = part.aroma_key(record, TastingWay::Full);
    let heaviest = key.required.first().map_or(1.0, |word| word.weight);
    let support = question_bank::panel_support(record, part.threshold);
    let node = |tree: &question_bank::Taxonomy, id: &base::NodeId| {
        tree.node(id)
            .map_or_else(|| id.to_string(), |node| node.name.clone())
    };
    let fact = |label: &str, value: String| GuideFact {
        label: label.to_owned(),
        value,
    };
    let mut facts = vec![
        fact("Category", node(&bank.categories, &record.category)),
        fact("Region", node(&bank.regions, &record.region)),
    ];
    if !record.accepted_regions.is_empty() {
        let also: Vec<_> = record
            .accepted_regions
            .iter()
            .map(|id| node(&bank.regions, id))
            .collect();
        facts.push(fact("Also accepted", also.join(", ")));
    }
    facts.push(fact(
        "Age",
        match record.age {
            Age::Stated(years) => format!("{years} years"),
            Age::NotStated => "not stated".to_owned(),
            Age::Unknown => "not known".to_owned(),
        },
    ));
    facts.push(fact("Strength as bottled", strength(record.strength)));
    if let Some(cask) = &record.cask {
        facts.push(fact("Cask", cask.clone()));
    }
    facts.push(fact("Producer", record.producer.clone()));
    let candidates = &open.exam.roster.candidates;
    let by_nose = TastingWay::NosingOnly;
    if candidates.iter().any(|candidate| candidate.way == by_nose) {
        let key = part.aroma_key(record, by_nose);
        let words: Vec<String> = key
            .required
            .iter()
            .map(|word| format!("{} ({:.2})", word.word, word.weight))
            .collect();
        facts.push(fact("Words of those who nose only", words.join(", ")));
    }
    GuideSample {
        sample: short_name(open, &record.id),
        what: record.name.clone(),
        facts,
        key: key
            .required
            .iter()
            .map(|word| descriptor(open, part, record, word, (heaviest, key.assessors)))
            .collect(),
        accepted: key.accepted.iter().map(|word| word.word.clone()).collect(),
        contradicting: key.contradicting.clone(),
        rubric: {
            let words = KnownWords::of(bank);
            let sample_key = SampleKey::new(record, words, part);
            let chance = |asked: &Asked| {
                let score = tasting_chance_score(&sample_key, words, asked);
                format!("{:.0} %", score.guesser * 100.0)
            };
            part.ask
                .iter()
                .map(|question| rule(question, part.less_chance, chance(&question.asked)))
                .collect()
        },
        panel: match support.agreement {
            Some(agreement) => format!(
                "{} assessors; on average {:.0} % of them cite a required word.",
                support.assessors,
                agreement * 100.0
            ),
            None => format!("{} assessors; no word is required.", support.assessors),
        },
        codes: Vec::new(),
    }
}

fn descriptor(
    open: &DrawnSitting,
    part: &TastingPart,
    record: &SampleRecord,
    word: &KeyWord,
    (heaviest, assessors): (f64, usize),
) -> GuideDescriptor {
    let mut stages: Vec<&str> = Vec::new();
    for note in record
        .tasting
        .notes
        .iter()
        .filter(|n| n.descriptor == word.word && part.rules.aroma_of.counts(n.stage))
    {
        if !stages.contains(&note.stage.word()) {
            stages.push(note.stage.word());
        }
    }
    let synonyms = open
        .exam
        .bank
        .lexicon
        .words()
        .find(|(_, entry)| entry.word == word.word)
        .map_or_else(String::new, |(_, entry)| {
            entry
                .synonyms
                .iter()
                .take(4)
                .cloned()
                .collect::<Vec<_>>()
                .join(", ")
        });
    let share = (word.weight / heaviest * 100.0).round().clamp(0.0, 100.0);
    GuideDescriptor {
        word: word.word.clone(),
        synonyms,
        stages: stages.join(", "),
        cited: format!("{} of {assessors}", word.cited_by),
        weight: format!("{:.2}", word.weight),
        // Between 0 and 100 after the clamp.
        weight_percent: share as u8,
    }
}

/// How one thing asked is marked, in words.
fn rule(question: &TastingQuestion, less_chance: bool, chance: String) -> GuideRule {
    let less = if less_chance {
        " Then the chance score is taken off: (share - chance) / (1 - chance)."
    } else {
        ""
    };
    let rule = match &question.asked {
        Asked::Aroma { words } | Asked::Water { words } => format!(
            "The first {words} words, matched one to one with the panel's so that the sum is greatest: full for the word or a synonym, \
             half within its group, a quarter within its family, times the panel's weight. Of several words of one group that the panel did not say, one counts. \
             A contradicting word costs 0.15 of the marks.{less}"
        ),
        Asked::Category => "By shared ancestry in the tree of categories, less what guessing earns.".to_owned(),
        Asked::Region => "By shared ancestry in the tree of regions, less what guessing earns; accepted alternatives in full.".to_owned(),
        Asked::Age(AgeAnswer::Band { .. }) => "Full for the band, falling with the distance in bands.".to_owned(),
        Asked::Age(AgeAnswer::Range) => "A narrow range that holds the age earns most; width and distance cost.".to_owned(),
        Asked::Strength { tolerance } => format!("Full within {tolerance} % vol of the serving strength, half within twice that."),
        Asked::Colour | Asked::Body | Asked::Finish => "Full for the point of the scale, falling with the distance.".to_owned(),
        Asked::Quality => "Full within one standard deviation of the panel's mean, falling to nothing at three.".to_owned(),
        Asked::Fault { .. } => "Full for the right word of the printed list.".to_owned(),
        Asked::Confidence(asked) => match asked.score {
            ConfidenceScore::Quadratic => "A hundred parts shared out: all marks less half of the squared distances from the truth. Who states what they believe may expect most; the chance beside it is for the same on each name.".to_owned(),
            ConfidenceScore::Logarithmic => "A hundred parts shared out: by the logarithm of what was given to the right name, nothing counted as less than 1. Who states what they believe may expect most; the chance beside it is for the same on each name.".to_owned(),
        },
        Asked::Producer { .. } => "Extra credit for the right name of the printed list, capped.".to_owned(),
    };
    GuideRule {
        asked: results::summary::capitalised(question.asked.name()),
        marks: marks_in_words(question.marks),
        rule,
        chance,
    }
}

/// Every question of all forms, once, in the order of their ids; one with drawn numbers once for
/// each drawing.
fn questions(open: &DrawnSitting) -> Vec<GuideQuestion> {
    let mut places: BTreeMap<(&base::QuestionId, String), (Vec<String>, &FormQuestion)> =
        BTreeMap::new();
    for form in &open.sitting.forms {
        for (on_form, number) in form.questions.iter().zip(1..) {
            places
                .entry((&on_form.question, on_form.drawn.to_string()))
                .or_insert_with(|| (Vec::new(), on_form))
                .0
                .push(format!("{} {number}", form.name));
        }
    }
    places
        .into_values()
        .filter_map(|(places, on_form)| {
            let question = on_form.in_bank(&open.exam.bank)?;
            Some(GuideQuestion {
                id: question.id.to_string(),
                places: places.join(", "),
                stem: question.in_words(),
                key: key_for_markers(&question.kind.shape()),
                rule: grader::theory::rule_name(&question.kind).replace('_', " "),
                source: question.source.to_string(),
            })
        })
        .collect()
}

/// The key in words, with the numbers that tell a mistake.
fn key_for_markers(shape: &Shape<'_>) -> String {
    let mut key = shape.key_in_words();
    if let Shape::Number { mistakes, .. } = shape {
        for mistake in *mistakes {
            let why = mistake.why.trim_end_matches('.');
            key.push_str(&format!("; {:.2}: {why}", mistake.value));
        }
    }
    key
}
