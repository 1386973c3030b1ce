//! Reads a whole bank from the texts of its folder, and tells every fault of all texts at once.

use std::collections::{BTreeMap, BTreeSet};

use base::{Checked, Fault, QuestionId, SampleId, SourceText};
use rayon::prelude::*;

use super::bank_text::read_bank_text;
use super::calibration_table::read_calibration;
use super::lexicon_text::read_lexicon_text;
use super::question_text::{ReadQuestion, read_question_text};
use super::references::note_references;
use super::sample_text::{Surroundings, read_sample};
use super::tree_text::read_tree_text;
use crate::bank::Bank;
use crate::lexicon::Lexicon;
use crate::picture::{Drawing, read_drawing};
use crate::questions::Questions;
use crate::sample_record::SampleRecord;
use crate::taxonomy::Taxonomy;

/// The texts of a bank folder.
#[derive(Debug, Clone)]
pub struct BankTexts {
    /// `bank.yaml`.
    pub bank: SourceText,
    /// `lexicon.yaml`.
    pub lexicon: SourceText,
    /// `categories.yaml`.
    pub categories: SourceText,
    /// `regions.yaml`.
    pub regions: SourceText,
    /// `questions/*.yaml`, in name order.
    pub questions: Vec<SourceText>,
    /// `samples/*`, in name order.
    pub samples: Vec<SampleTexts>,
    /// `pictures/*.svg`, in name order.
    pub pictures: Vec<SourceText>,
    /// `calibration.csv`, where it exists.
    pub calibration: Option<SourceText>,
}

/// The two texts of a sample.
#[derive(Debug, Clone)]
pub struct SampleTexts {
    /// `samples/ID.yaml`.
    pub record: SourceText,
    /// `samples/ID.panel.csv`, where it exists.
    pub panel: Option<SourceText>,
}

/// Reads a bank. The value is there where nothing worse than weaknesses was found. Rules of item
/// writing are looked at by [`crate::check_questions`], support of keys by
/// [`crate::panel_support()`].
#[must_use]
pub fn read_bank(texts: &BankTexts) -> Checked<Bank> {
    let mut faults = Vec::new();
    let head = read_bank_text(&texts.bank, &mut faults);
    let lexicon = read_lexicon_text(&texts.lexicon, &mut faults);
    let categories = read_tree_text(&texts.categories, &mut faults);
    let regions = read_tree_text(&texts.regions, &mut faults);
    // Files are read on whichever core is free and taken in their own order.
    let files: Vec<_> = texts
        .questions
        .par_iter()
        .map(|text| {
            let mut found = Vec::new();
            (read_question_text(text, &mut found), found)
        })
        .collect();
    let mut read = Vec::with_capacity(files.iter().map(|(read, _)| read.len()).sum());
    for (questions, found) in files {
        read.extend(questions);
        faults.extend(found);
    }
    let cells = head.as_ref().and_then(|head| head.cells.as_deref());
    note_references(&read, cells, &mut faults);
    let pictures = pictures_of(texts, &read, &mut faults);
    let around = Surroundings {
        lexicon: lexicon.as_ref(),
        categories: categories.as_ref(),
        regions: regions.as_ref(),
    };
    let samples = samples_of(&texts.samples, around, &mut faults);
    let mut questions: Questions = read.into_iter().filter_map(|read| read.question).collect();
    questions.share_letters(cells);
    let known: Vec<QuestionId> = questions.keys().cloned().collect();
    let calibration = texts
        .calibration
        .as_ref()
        .map(|text| read_calibration(text, Some(&known), &mut faults))
        .unwrap_or_default();
    faults.sort();
    let bank = (|| {
        let head = head?;
        Some(Bank {
            title: head.title?,
            language: head.language?,
            licence: head.licence?,
            cells: head.cells?,
            questions,
            pictures,
            calibration,
            samples,
            lexicon: lexicon?,
            categories: categories?,
            regions: regions?,
        })
    })();
    Checked::new(bank, faults)
}

/// The drawings by their files. A question that names none of them is at fault; one that no question
/// names is a weakness.
fn pictures_of(
    texts: &BankTexts,
    questions: &[ReadQuestion<'_>],
    faults: &mut Vec<Fault>,
) -> BTreeMap<String, Drawing> {
    let file = |source: &SourceText| {
        let name = source.name.to_string();
        name.rsplit(['/', '\\'])
            .next()
            .unwrap_or_default()
            .to_owned()
    };
    let known: BTreeMap<String, &SourceText> = texts
        .pictures
        .iter()
        .map(|text| (file(text), text))
        .collect();
    let mut shown = BTreeSet::new();
    for question in questions {
        let Some((shown_file, bytes)) = question.picture.as_deref() else {
            continue;
        };
        if !known.contains_key(shown_file) {
            faults.push(
                Fault::new(
                    "unknown-picture",
                    question.source.place(bytes.clone()),
                    format!("the bank's folder pictures holds no {shown_file}"),
                )
                .near(shown_file, known.keys().map(String::as_str)),
            );
        }
        shown.insert(shown_file.as_str());
    }
    let mut drawings = BTreeMap::new();
    for (file, source) in &known {
        if !shown.contains(file.as_str()) {
            faults.push(Fault::weakness(
                "unused-picture",
                base::Place::whole(&source.name),
                "no question shows this picture",
            ));
        }
        if let Some(drawing) = read_drawing(source, faults) {
            drawings.insert(file.clone(), drawing);
        }
    }
    drawings
}

/// Reads sample records alone: those that an exam folder brings beside those of its bank.
#[must_use]
pub fn read_samples(
    texts: &[SampleTexts],
    lexicon: &Lexicon,
    categories: &Taxonomy,
    regions: &Taxonomy,
) -> Checked<BTreeMap<SampleId, SampleRecord>> {
    let mut faults = Vec::new();
    let around = Surroundings {
        lexicon: Some(lexicon),
        categories: Some(categories),
        regions: Some(regions),
    };
    let samples = samples_of(texts, around, &mut faults);
    faults.sort();
    Checked::new(Some(samples), faults)
}

fn samples_of(
    texts: &[SampleTexts],
    around: Surroundings<'_>,
    faults: &mut Vec<Fault>,
) -> BTreeMap<SampleId, SampleRecord> {
    let mut samples = BTreeMap::new();
    let mut places: BTreeMap<SampleId, String> = BTreeMap::new();
    let files: Vec<_> = texts
        .par_iter()
        .map(|text| {
            let mut found = Vec::new();
            (read_sample(text, around, &mut found), found)
        })
        .collect();
    for (read, found) in files {
        faults.extend(found);
        if let Some((id, place)) = read.id {
            if let Some(first) = places.get(&id) {
                faults.push(
                    Fault::new(
                        "doubled-id",
                        place,
                        format!("the sample \"{id}\" stands twice; it stands at {first} already"),
                    )
                    .hint("give one of them another id"),
                );
            } else {
                places.insert(id.clone(), place.to_string());
            }
            if let Some(record) = read.record {
                samples.entry(id).or_insert(record);
            }
        }
    }
    samples
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const LEXICON: &str = "families:\n  f:\n    name: F\n    groups:\n      g:\n        name: G\n        reason: r\n        words: { apple: [], oak: [oaky], smoke: [], plum: [] }\n";
    const CATEGORIES: &str = "scheme: own\nnodes:\n  - { id: spirit, name: Spirit }\n  - { id: rum, name: Rum, parent: spirit }\n";
    const REGIONS: &str = "scheme: own\nnodes:\n  - { id: world, name: World }\n  - { id: jamaica, name: Jamaica, parent: world, aliases: [island] }\n";
    const SAMPLE: &str = "sample:
  id: copper-8
  name: Copper Bay Eight Years
  producer: Copper Bay Estate
  category: rum
  region: jamaica
  age: { stated: 8 }
  strength: 43
  bottle: 700
  contradicts: [smoky]
  source: common practice
  describe: Invented.
";
    const PANEL: &str = "assessor,stage,descriptor,intensity\nA,nose,oak,3\nB,nose,oak,3\nC,nose,plum,3\nD,nose,oak,3\nE,nose,apple,3\n";

    fn question(id: &str, cell: &str, enemies: &str) -> String {
        format!(
            "  - id: {id}\n    cell: {cell}\n    level: recall\n    state: operational\n    source: {{ work: Some law, clause: \"1\", evidence: read }}\n    verified: 2026-11-25\n    enemies: [{enemies}]\n    short_answer: {{ stem: What?, accept: [rum], why: So. }}\n"
        )
    }
    fn texts(first: &[String], second: &[String]) -> BankTexts {
        BankTexts {
            bank: SourceText::new(
                "bank.yaml",
                "title: T\nlanguage: en\nlicence: CC0\ncells: { law: Law }\n",
            ),
            lexicon: SourceText::new("lexicon.yaml", LEXICON),
            categories: SourceText::new("categories.yaml", CATEGORIES),
            regions: SourceText::new("regions.yaml", REGIONS),
            questions: [("a", first), ("b", second)]
                .iter()
                .map(|(name, list)| {
                    let text = if list.is_empty() {
                        "questions: []\n".to_owned()
                    } else {
                        format!("questions:\n{}", list.concat())
                    };
                    SourceText::new(&format!("questions/{name}.yaml"), &text)
                })
                .collect(),
            samples: vec![sample(SAMPLE, Some(PANEL))],
            pictures: Vec::new(),
            calibration: None,
        }
    }
    fn sample(record: &str, panel: Option<&str>) -> SampleTexts {
        SampleTexts {
            record: SourceText::new("samples/copper-8.yaml", record),
            panel: panel.map(|panel| SourceText::new("samples/copper-8.panel.csv", panel)),
        }
    }
    fn told(faults: &[Fault]) -> Vec<String> {
        faults
            .iter()
            .map(|f| {
                let place = f.place.as_ref().unwrap();
                format!("{} {}:{}", f.rule, place.source, place.line)
            })
            .collect()
    }

    #[test]
    fn a_sound_bank_is_read_whole() {
        let checked = read_bank(&texts(
            &[question("one", "law", "two")],
            &[question("two", "law", "one")],
        ));
        assert_eq!(told(&checked.faults), [""; 0]);
        let bank = checked.value.unwrap();
        assert_eq!(bank.questions.len(), 2);
        let sample = bank.samples.values().next().unwrap();
        assert_eq!(sample.contradicts, ["smoke"]);
        assert_eq!(sample.tasting.assessors.len(), 5);
    }

    #[test]
    fn references_are_followed_across_texts() {
        let checked = read_bank(&texts(
            &[
                question("one", "law", "two"),
                question("two", "laws", "three, two"),
            ],
            &[
                question("one", "law", ""),
                question("four", "law", "one, one"),
            ],
        ));
        assert!(checked.value.is_none());
        assert_eq!(
            told(&checked.faults),
            [
                "enemy-not-mutual questions/a.yaml:8",
                "unknown-cell questions/a.yaml:11",
                "unknown-enemy questions/a.yaml:16",
                "own-enemy questions/a.yaml:16",
                "doubled-id questions/b.yaml:2",
                "enemy-not-mutual questions/b.yaml:16",
                "doubled-entry questions/b.yaml:16",
            ]
        );
        let doubled = checked
            .faults
            .iter()
            .find(|f| f.rule == "doubled-id")
            .unwrap();
        assert!(
            doubled
                .what
                .contains("stands at questions/a.yaml:2:9 already"),
            "{doubled}"
        );
        let mutual = checked
            .faults
            .iter()
            .find(|f| f.rule == "enemy-not-mutual")
            .unwrap();
        assert_eq!(
            mutual.hint.as_deref(),
            Some("add \"one\" to the enemies of \"two\"")
        );
    }

    #[test]
    fn all_texts_tell_their_faults_at_once() {
        let mut texts = texts(&[question("one", "law", "")], &[]);
        texts.bank = SourceText::new("bank.yaml", "title: T\n");
        texts.lexicon = SourceText::new("lexicon.yaml", "famlies: {}\n");
        texts.categories = SourceText::new("categories.yaml", "[");
        let record = SAMPLE
            .replace(
                "region: jamaica",
                "region: jamaca\n  accepted_regions: [island]",
            )
            .replace("{ stated: 8 }", "8")
            .replace("strength: 43", "strength: 430")
            .replace("copper-8", "copper-9");
        texts.samples = vec![
            sample(&record, None),
            sample(SAMPLE, Some("assessor,stage\n")),
        ];
        let checked = read_bank(&texts);
        assert_eq!(
            told(&checked.faults),
            [
                "missing-field bank.yaml:1",
                "missing-field bank.yaml:1",
                "missing-field bank.yaml:1",
                "not-yaml categories.yaml:1",
                "missing-field lexicon.yaml:1",
                "unknown-key lexicon.yaml:1",
                "missing-column samples/copper-8.panel.csv:1",
                "missing-column samples/copper-8.panel.csv:1",
                "id-not-file-name samples/copper-8.yaml:2",
                "no-panel samples/copper-8.yaml:2",
                "unknown-node samples/copper-8.yaml:6",
                "unknown-node samples/copper-8.yaml:7",
                "wrong-type samples/copper-8.yaml:8",
                "out-of-range samples/copper-8.yaml:9",
            ]
        );
        assert!(
            checked.faults[10]
                .hint
                .as_deref()
                .unwrap()
                .contains("jamaica")
        );
        assert!(
            checked.faults[11]
                .hint
                .as_deref()
                .unwrap()
                .contains("its id is \"jamaica\"")
        );
    }

    #[test]
    fn words_that_contradict_must_stand_in_the_lexicon_once() {
        let bank = read_bank(&texts(&[], &[])).value.unwrap();
        let record = SAMPLE.replace("[smoky]", "[smoke, smoky, peat, aple]");
        let checked = read_samples(
            &[sample(&record, Some(PANEL)), sample(SAMPLE, Some(PANEL))],
            &bank.lexicon,
            &bank.categories,
            &bank.regions,
        );
        assert_eq!(
            checked.faults.iter().map(|f| f.rule).collect::<Vec<_>>(),
            [
                "doubled-id",
                "doubled-entry",
                "unknown-descriptor",
                "unknown-descriptor"
            ]
        );
    }

    proptest! {
        #[test]
        fn any_sample_text_is_read_without_panic(text in ".{0,200}", cut in 0_usize..260) {
            let bank = read_bank(&texts(&[], &[])).value.unwrap();
            let part: String = SAMPLE.chars().take(cut).collect();
            for record in [text.as_str(), &part] {
                let _ = read_samples(&[sample(record, Some(&text))], &bank.lexicon, &bank.categories, &bank.regions);
            }
        }

        /// Cells, enemies and ids drawn at random: a bank that comes out refers to nothing missing.
        #[test]
        fn what_is_read_without_fault_holds_together(
            list in proptest::collection::vec((0_usize..5, prop::bool::weighted(0.9), proptest::collection::vec(0_usize..5, 0..3)), 0..6)
        ) {
            let list: Vec<String> = list
                .iter()
                .map(|(id, cell, enemies)| {
                    let enemies: Vec<_> = enemies.iter().map(|e| format!("q{e}")).collect();
                    question(&format!("q{id}"), if *cell { "law" } else { "none" }, &enemies.join(", "))
                })
                .collect();
            let half = list.len() / 2;
            let checked = read_bank(&texts(&list[..half], &list[half..]));
            match checked.value {
                Some(bank) => {
                    prop_assert_eq!(bank.questions.len(), list.len());
                    for question in bank.questions.values() {
                        prop_assert!(bank.cells.iter().any(|(id, _)| *id == question.cell));
                        for enemy in &question.enemies {
                            prop_assert!(bank.questions[enemy].enemies.contains(&question.id));
                        }
                    }
                }
                None => prop_assert!(!checked.faults.is_empty()),
            }
        }
    }
}
