//! A small exam for the unit tests: lexicon, trees, one sample, questions of every kind.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use base::{CellId, Marks, NodeId, Place, QuestionId, SampleId, SourceName, SourceText, Text};
use exam_plan::Asked;
use exam_plan::confidence::{About, Confidence, ConfidenceScore};
use exam_plan::plan::{
    AgeAnswer, CodeSharing, Pour, ServingStrength, TastingPart, TastingQuestion,
};
use question_bank::lexicon::{Family, Group, Word};
use question_bank::question::{Difficulty, Evidence, Level, Source};
use question_bank::question_kind::{
    AnswerOption, BestAnswer, Essay, List, Matching, MultipleResponse, MultipleResponseRule,
    Numeric, Ordering, OrderingRule, Pair, ShortAnswer,
};
use question_bank::reference_tasting::{PanelNote, ReferenceTasting, Stage};
use question_bank::sample_record::{Age, CarryOver};
use question_bank::shape::Criterion;
use question_bank::taxonomy::Node;
use question_bank::{
    Bank, BankTexts, Lexicon, Question, QuestionKind, ReviewState, SampleRecord, Taxonomy,
    read_bank,
};

use crate::{KnownWords, SampleKey};

pub(crate) fn marks(text: &str) -> Marks {
    text.parse().unwrap()
}

fn options(options: &[(&str, bool)]) -> Vec<AnswerOption> {
    options
        .iter()
        .map(|(text, key)| AnswerOption {
            text: (*text).into(),
            key: *key,
            why: "because".into(),
        })
        .collect()
}

pub(crate) fn question(kind: QuestionKind, of: &str) -> Question {
    Question {
        id: QuestionId::parse("a-question").unwrap(),
        place: Place::whole(&SourceName::new("q.yaml")),
        cell: CellId::parse("law").unwrap(),
        level: Level::Recall,
        difficulty: Difficulty::Medium,
        state: ReviewState::Operational,
        reviewed_by: None,
        source: Source {
            work: "an invented handbook".into(),
            clause: None,
            evidence: Evidence::CommonPractice,
        },
        verified: "2026-11-25".into(),
        marks: marks(of),
        enemies: Vec::new(),
        anchor: false,
        practice_only: false,
        live: false,
        waived: Vec::new(),
        set: None,
        picture: None,
        translations: std::collections::BTreeMap::new(),
        kind,
    }
}

/// Three options, the second is right.
pub(crate) fn best_answer() -> QuestionKind {
    QuestionKind::BestAnswer(BestAnswer {
        stem: "Which?".into(),
        options: options(&[("x", false), ("y", true), ("z", false)]),
        keep_order: false,
    })
}
/// Five options, the first two are right.
pub(crate) fn multiple_response(rule: MultipleResponseRule) -> QuestionKind {
    QuestionKind::MultipleResponse(MultipleResponse {
        stem: "Which?".into(),
        options: options(&[
            ("a", true),
            ("b", true),
            ("c", false),
            ("d", false),
            ("e", false),
        ]),
        keep_order: false,
        rule,
    })
}
/// 46.9 % vol, full within 0.5, half within 1.
pub(crate) fn numeric() -> QuestionKind {
    QuestionKind::Numeric(Box::new(Numeric {
        stem: "How much?".into(),
        answer: 46.9,
        answer_as_written: "46.9".into(),
        unit: "% vol".into(),
        tolerance: 0.5,
        half_within: Some(1.0),
        mistakes: Vec::new(),
        why: "because".into(),
    }))
}
/// Four steps.
pub(crate) fn ordering(rule: OrderingRule) -> QuestionKind {
    QuestionKind::Ordering(Ordering {
        stem: "In which order?".into(),
        steps: ["mash", "ferment", "distil", "age"]
            .map(Text::from)
            .to_vec(),
        rule,
        why: "because".into(),
    })
}
/// Three pairs and a distractor.
pub(crate) fn matching() -> QuestionKind {
    let pair = |left: &str, right: &str| Pair {
        left: left.into(),
        right: right.into(),
    };
    QuestionKind::Matching(Matching {
        stem: "Match.".into(),
        pairs: vec![pair("1", "one"), pair("2", "two"), pair("3", "three")],
        distractors: vec!["four".into()],
        why: "because".into(),
    })
}
pub(crate) fn short_answer() -> QuestionKind {
    QuestionKind::ShortAnswer(ShortAnswer {
        stem: "Which grape?".into(),
        accept: vec!["Ugni blanc".into(), "Saint-Émilion".into()],
        why: "because".into(),
    })
}
/// Three of four raw materials.
pub(crate) fn list() -> QuestionKind {
    let entry = |forms: &[&str]| forms.iter().map(|form| (*form).into()).collect();
    QuestionKind::List(List {
        stem: "Name three.".into(),
        wanted: 3,
        accept: vec![
            entry(&["barley", "malted barley"]),
            entry(&["rye"]),
            entry(&["maize", "corn"]),
            entry(&["wheat"]),
        ],
        why: "because".into(),
    })
}
/// Two criteria.
pub(crate) fn essay() -> QuestionKind {
    let criterion = |name: &str, of: &str| Criterion {
        name: name.into(),
        marks: marks(of),
        levels: Vec::new(),
    };
    QuestionKind::Essay(Essay {
        stem: "Why copper?".into(),
        lines: 12,
        rubric: vec![criterion("structure", "1"), criterion("matter", "2")],
        model: "It takes up sulphur.".into(),
    })
}
/// A share of a volume, full within 1, half within 3; the rest is a known mistake.
pub(crate) fn variant() -> QuestionKind {
    let bank = bank_of(
        "questions:
  - id: share
    cell: distillation
    level: application
    state: operational
    source: { work: invented, evidence: common-practice }
    verified: 2026-11-25
    variant:
      stem: \"How much is {share} % of {volume} L?\"
      draw: { volume: { from: 200, to: 400, step: 10 }, share: { from: 20, to: 40, step: 5 } }
      formula: \"volume * share / 100\"
      unit: L
      decimals: 0
      tolerance: 1
      half_within: 3
      mistakes: [{ formula: \"volume - volume * share / 100\", why: That is the rest. }]
      why: because
",
    );
    bank.questions.values().next().unwrap().kind.clone()
}

/// The page that shows the text forms of banks.
const FORMATS: &str = include_str!("../../../question-banks/README.md");

/// A block of that page.
fn block(name: &str) -> &'static str {
    let language = if name.ends_with(".svg") {
        "svg"
    } else {
        "yaml"
    };
    let (_, behind) = FORMATS
        .split_once(&format!("```{language} {name}\n"))
        .unwrap_or_else(|| panic!("no block {name}"));
    behind.split_once("```").unwrap().0
}

/// A bank with these questions and the rest of that page.
fn bank_of(questions: &str) -> Bank {
    let text = |name: &str, text: &str| SourceText::new(name, text);
    let shown = |name: &str| text(name, block(name));
    // A picture that no question of these names is a weakness, no fault.
    let read = read_bank(&BankTexts {
        pictures: vec![shown("pictures/still.svg")],
        calibration: None,
        bank: shown("bank.yaml"),
        lexicon: shown("lexicon.yaml"),
        categories: shown("categories.yaml"),
        regions: shown("regions.yaml"),
        questions: vec![text("q.yaml", questions)],
        samples: Vec::new(),
    });
    assert!(read.value.is_some(), "{:#?}", read.faults);
    read.value.unwrap()
}

/// One question of every kind: the examples of the page that shows the text forms.
pub(crate) fn every_kind() -> Vec<QuestionKind> {
    let bank = bank_of(block("questions/all-kinds.yaml"));
    let example = |name: &str| {
        let mut kinds = bank.questions.values().map(|question| &question.kind);
        let found = kinds.find(|kind| kind.name() == name);
        found
            .unwrap_or_else(|| panic!("no example of {name}"))
            .clone()
    };
    QuestionKind::NAMES.map(example).to_vec()
}

fn group(id: &str, words: &[&str]) -> Group {
    Group {
        id: id.to_owned(),
        name: id.to_owned(),
        reason: "for the tests".into(),
        words: words
            .iter()
            .map(|word| {
                let (word, synonyms) = word.split_once('=').unwrap_or((word, ""));
                Word {
                    word: word.to_owned(),
                    synonyms: synonyms
                        .split('|')
                        .filter(|synonym| !synonym.is_empty())
                        .map(str::to_owned)
                        .collect(),
                    misspellings: Vec::new(),
                    related: Vec::new(),
                }
            })
            .collect(),
    }
}

pub(crate) fn lexicon() -> Lexicon {
    let family = |id: &str, groups: Vec<Group>| Family {
        id: id.to_owned(),
        name: id.to_owned(),
        groups,
    };
    Lexicon::new(vec![
        family(
            "fruit",
            vec![
                group(
                    "fresh",
                    &[
                        "banana=ripe banana",
                        "pineapple",
                        "apple",
                        "pear drop=acid drop",
                    ],
                ),
                group("dried", &["raisin", "prune", "fig"]),
            ],
        ),
        family(
            "sugar",
            vec![group("burnt", &["molasses", "toffee", "caramel"])],
        ),
        family(
            "wood",
            vec![
                group("oak", &["oak", "vanilla", "coconut"]),
                group("smoke", &["peat", "wood smoke"]),
            ],
        ),
        family("plant", vec![group("herb", &["juniper", "mint"])]),
    ])
    .unwrap()
}

fn node(id: &str, name: &str, parent: &str, inside: &[&str], aliases: &[&str]) -> Node {
    let id_of = |text: &str| NodeId::parse(text).unwrap();
    Node {
        id: id_of(id),
        name: name.to_owned(),
        parent: (!parent.is_empty()).then(|| id_of(parent)),
        aliases: aliases.iter().map(|alias| (*alias).into()).collect(),
        inside: inside.iter().map(|id| id_of(id)).collect(),
        source: None,
        evidence: None,
        law: question_bank::taxonomy::NodeLaw::default(),
    }
}

pub(crate) fn categories() -> Taxonomy {
    Taxonomy::new(
        "test".into(),
        vec![
            node("spirit", "Spirit drink", "", &[], &[]),
            node("cane", "Cane spirits", "spirit", &[], &[]),
            node("molasses-rum", "Molasses rum", "cane", &[], &["heavy rum"]),
            node("cane-juice-rum", "Cane juice rum", "cane", &[], &[]),
            node("grain", "Grain spirits", "spirit", &[], &[]),
            node("malt", "Malt whisky", "grain", &[], &[]),
            node("mixed", "Blended whisky", "grain", &[], &[]),
            node("grape", "Grape spirits", "spirit", &[], &[]),
            node("brandy", "Brandy", "grape", &[], &[]),
        ],
    )
    .unwrap()
}

pub(crate) fn regions() -> Taxonomy {
    Taxonomy::new(
        "test".into(),
        vec![
            node("world", "World", "", &[], &[]),
            node("caribbean", "Caribbean", "world", &[], &[]),
            node("jamaica", "Jamaica", "caribbean", &[], &[]),
            node("barbados", "Barbados", "caribbean", &[], &[]),
            node("martinique", "Martinique", "caribbean", &["france"], &[]),
            node("europe", "Europe", "world", &[], &[]),
            node("france", "France", "europe", &[], &[]),
            node("cognac-region", "Cognac", "france", &[], &["Charentes"]),
        ],
    )
    .unwrap()
}

/// Four assessors. Neat: banana strong, molasses and oak less, fig and mint cited by one.
pub(crate) fn record() -> SampleRecord {
    let mut notes = Vec::new();
    let mut note = |assessor, stage, descriptor: &str, intensity: u32| {
        notes.push(PanelNote {
            assessor,
            stage,
            descriptor: descriptor.to_owned(),
            intensity: intensity * 200,
            session: 0,
        });
    };
    for assessor in 0..4 {
        note(assessor, Stage::Nose, "banana", 4);
        note(assessor, Stage::Water, "vanilla", 3);
    }
    for assessor in 0..3 {
        note(assessor, Stage::Palate, "molasses", 3);
    }
    for assessor in 1..4 {
        note(assessor, Stage::Finish, "oak", 2);
    }
    note(0, Stage::Nose, "fig", 1);
    note(3, Stage::Finish, "mint", 1);
    note(2, Stage::Water, "toffee", 1);
    SampleRecord {
        id: SampleId::parse("copper-bay-8").unwrap(),
        place: Place::whole(&SourceName::new("s.yaml")),
        name: "Copper Bay Eight Years".into(),
        producer: "Copper Bay Estate".into(),
        category: NodeId::parse("molasses-rum").unwrap(),
        region: NodeId::parse("martinique").unwrap(),
        accepted_regions: vec![NodeId::parse("caribbean").unwrap()],
        age: Age::Stated(8),
        strength: 43.0,
        cask: None,
        lot: None,
        panel_lot: None,
        opened: None,
        bottle: 700,
        allergens: Vec::new(),
        carry_over: CarryOver::Ordinary,
        contradicts: vec!["peat".into(), "juniper".into()],
        fault: None,
        colour: Some(6),
        body: Some(3),
        finish: Some(4),
        source: "common practice".into(),
        describe: "A rum.".into(),
        tasting: ReferenceTasting {
            sessions: Vec::new(),
            assessors: ["A1", "A2", "A3", "A4"].map(str::to_owned).to_vec(),
            notes,
            quality: vec![(0, 7.0), (1, 6.0), (2, 8.0), (3, 7.0)],
        },
    }
}

/// Everything that can be asked, once; age and confidence twice.
pub(crate) fn every_asked() -> Vec<Asked> {
    let list = |names: &[&str]| names.iter().map(|name| (*name).into()).collect();
    vec![
        Asked::Aroma { words: 3 },
        Asked::Water { words: 2 },
        Asked::Category,
        Asked::Region,
        Asked::Age(AgeAnswer::Band {
            from: vec![0, 3, 6, 10, 16],
        }),
        Asked::Age(AgeAnswer::Range),
        Asked::Strength { tolerance: 1.0 },
        Asked::Colour,
        Asked::Body,
        Asked::Finish,
        Asked::Quality,
        Asked::Fault {
            from: list(&["corked", "feinty"]),
        },
        confidence(ConfidenceScore::Quadratic),
        confidence(ConfidenceScore::Logarithmic),
        Asked::Producer {
            from: list(&[
                "Copper Bay Estate",
                "Salt Lantern",
                "Corvey Gully",
                "Tarrow Stills",
            ]),
        },
    ]
}

/// Three categories, of which the first is right.
fn confidence(score: ConfidenceScore) -> Asked {
    Asked::Confidence(Confidence {
        about: About::Category,
        from: ["Molasses rum", "Cane juice rum", "Brandy"]
            .map(str::to_owned)
            .to_vec(),
        score,
    })
}

pub(crate) fn part() -> TastingPart {
    TastingPart {
        minutes: 20,
        warm_up: None,
        samples: Vec::new(),
        ask: Vec::new(),
        pour: Pour {
            volume: 20.0,
            strength: ServingStrength::AsBottled,
        },
        codes: CodeSharing::Room,
        check_digit: false,
        threshold: 0.25,
        less_chance: false,
        rules: exam_plan::flight_rules::FlightRules::default(),
    }
}

/// Lexicon, trees and the prepared key of the sample.
pub(crate) struct Glass {
    pub(crate) lexicon: Lexicon,
    pub(crate) categories: Taxonomy,
    pub(crate) regions: Taxonomy,
    pub(crate) record: SampleRecord,
}

impl Glass {
    pub(crate) fn new() -> Self {
        Self {
            lexicon: lexicon(),
            categories: categories(),
            regions: regions(),
            record: record(),
        }
    }
    pub(crate) fn words(&self) -> KnownWords<'_> {
        KnownWords {
            lexicon: &self.lexicon,
            categories: &self.categories,
            regions: &self.regions,
        }
    }
    pub(crate) fn key(&self) -> SampleKey {
        SampleKey::new(&self.record, self.words(), &part())
    }
    pub(crate) fn mark(&self, asked: Asked, of: &str, answer: &str) -> crate::Verdict {
        let question = TastingQuestion {
            asked,
            marks: marks(of),
        };
        // What is right of a printed list depends on the list, as in a plan.
        let part = TastingPart {
            ask: vec![question.clone()],
            ..part()
        };
        let key = SampleKey::new(&self.record, self.words(), &part);
        crate::mark_tasting(&key, self.words(), &question, answer)
    }
}

/// Marks and sentence of what was marked; "person: …" for what was not.
pub(crate) fn told(verdict: &crate::Verdict) -> (String, String) {
    in_words(&verdict.clone().told(crate::Sentences::english()))
}

/// The same of what is in words already.
pub(crate) fn in_words(outcome: &crate::Outcome) -> (String, String) {
    match outcome {
        crate::Outcome::Marked { marks, reason, .. } => (marks.to_string(), reason.clone()),
        crate::Outcome::ForAPerson {
            why, provisional, ..
        } => (provisional.to_string(), format!("person: {why}")),
    }
}
