//! A small exam for the unit tests: questions that can be guessed, two invented samples.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeMap;

use assembler::{CandidatePlace, Form, FormQuestion, Glass, Sitting};
use base::{
    CandidateNumber, CellId, FormName, Marks, NodeId, Place, QuestionId, SampleId, SeatName,
    SourceName,
};
use exam_plan::plan::{
    AgeAnswer, CellQuota, CodeSharing, DEFAULT_BANDS, Join, Paper, PassRule, Plan, Pour,
    ServingStrength, TastingPart, TastingQuestion, TheoryPart, Wanted,
};
use exam_plan::{Asked, Candidate, Exam, Room, Roster, Service};
use grader::{Award, Item};
use question_bank::lexicon::{Family, Group, Word};
use question_bank::question::{Difficulty, Evidence, Level, Source};
use question_bank::question_kind::{AnswerOption, BestAnswer};
use question_bank::reference_tasting::{PanelNote, ReferenceTasting, Stage};
use question_bank::sample_record::{Age, CarryOver};
use question_bank::taxonomy::Node;
use question_bank::{
    Bank, Lexicon, PrintedOrder, Question, QuestionKind, ReviewState, SampleRecord, Taxonomy,
};

use crate::rehearsal::{GraderMarking, Marking};

/// What an example has.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shape {
    pub(crate) questions: usize,
    pub(crate) samples: usize,
    pub(crate) candidates: usize,
}

fn place() -> Place {
    Place::whole(&SourceName::new("example.yaml"))
}

fn question(number: usize) -> Question {
    let option = |text: &str, key| AnswerOption {
        text: text.into(),
        key,
        why: "because".into(),
    };
    Question {
        id: QuestionId::parse(&format!("q{number:03}")).unwrap(),
        place: place(),
        cell: CellId::parse(if number.is_multiple_of(2) {
            "law"
        } else {
            "cask"
        })
        .unwrap(),
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
        marks: Marks::ONE,
        enemies: Vec::new(),
        anchor: false,
        practice_only: false,
        live: false,
        waived: Vec::new(),
        set: None,
        picture: None,
        translations: std::collections::BTreeMap::new(),
        kind: QuestionKind::BestAnswer(BestAnswer {
            stem: format!("Question {number}: which?").into(),
            options: vec![
                option("wrong", false),
                option("right", true),
                option("off", false),
            ],
            keep_order: false,
        }),
    }
}

fn lexicon() -> Lexicon {
    let group = |name: &str, words: &[&str]| Group {
        id: name.to_lowercase(),
        name: name.to_owned(),
        reason: "for the tests".to_owned(),
        words: words
            .iter()
            .map(|word| Word {
                word: (*word).to_owned(),
                synonyms: Vec::new(),
                misspellings: Vec::new(),
                related: Vec::new(),
            })
            .collect(),
    };
    let family = |id: &str, groups| Family {
        id: id.to_owned(),
        name: id.to_owned(),
        groups,
    };
    Lexicon::new(vec![
        family(
            "fruit",
            vec![
                group("Fresh fruit", &["banana", "apple", "pear", "peach", "plum"]),
                group("Dried fruit", &["raisin", "prune", "fig", "date"]),
            ],
        ),
        family(
            "sugar",
            vec![group(
                "Burnt sugar",
                &["molasses", "toffee", "caramel", "honey"],
            )],
        ),
        family(
            "wood",
            vec![
                group("Oak", &["oak", "vanilla", "coconut", "clove"]),
                group("Smoke", &["peat", "ash", "tar"]),
            ],
        ),
        family(
            "plant",
            vec![group("Herb", &["juniper", "mint", "thyme", "hay"])],
        ),
    ])
    .unwrap()
}

fn tree(nodes: &[(&str, &str, &str)]) -> Taxonomy {
    let nodes = nodes.iter().map(|(id, name, parent)| Node {
        id: NodeId::parse(id).unwrap(),
        name: (*name).to_owned(),
        parent: (!parent.is_empty()).then(|| NodeId::parse(parent).unwrap()),
        aliases: Vec::new(),
        inside: Vec::new(),
        source: None,
        evidence: None,
        law: question_bank::taxonomy::NodeLaw::default(),
    });
    Taxonomy::new("test".to_owned(), nodes.collect()).unwrap()
}

fn sample(number: usize) -> SampleRecord {
    let words: &[(&str, usize)] = match number % 3 {
        0 => &[
            ("banana", 6),
            ("molasses", 5),
            ("oak", 4),
            ("vanilla", 4),
            ("toffee", 3),
            ("clove", 3),
        ],
        1 => &[
            ("apple", 6),
            ("pear", 4),
            ("raisin", 4),
            ("honey", 3),
            ("oak", 3),
            ("hay", 3),
        ],
        _ => &[
            ("peat", 6),
            ("ash", 5),
            ("tar", 3),
            ("vanilla", 3),
            ("apple", 3),
            ("mint", 3),
        ],
    };
    let notes = words.iter().flat_map(|(word, cited)| {
        (0..*cited).map(|assessor| PanelNote {
            assessor,
            stage: Stage::Nose,
            descriptor: (*word).to_owned(),
            intensity: 600,
            session: 0,
        })
    });
    SampleRecord {
        id: SampleId::parse(&format!("sample-{number}")).unwrap(),
        place: place(),
        name: format!("Copper Bay {number}"),
        producer: "Copper Bay Estate".to_owned(),
        category: NodeId::parse("molasses-rum").unwrap(),
        region: NodeId::parse("jamaica").unwrap(),
        accepted_regions: Vec::new(),
        age: Age::Stated(8),
        strength: 43.0,
        cask: None,
        lot: None,
        panel_lot: None,
        opened: None,
        bottle: 700,
        allergens: Vec::new(),
        carry_over: CarryOver::Ordinary,
        contradicts: vec!["juniper".to_owned()],
        fault: None,
        colour: Some(6),
        body: Some(3),
        finish: Some(3),
        source: "common practice".to_owned(),
        describe: "An invented rum.".to_owned(),
        tasting: ReferenceTasting {
            sessions: Vec::new(),
            assessors: (1..=6).map(|n| format!("A{n}")).collect(),
            notes: notes.collect(),
            quality: (0..6).map(|a| (a, 7.0)).collect(),
        },
    }
}

/// An exam of this shape and a sitting of it: one form, a shuffled order of options, all glasses.
pub(crate) fn exam(shape: Shape, join: Join) -> (Exam, Sitting) {
    let questions: Vec<Question> = (0..shape.questions).map(question).collect();
    let samples: Vec<SampleRecord> = (0..shape.samples).map(sample).collect();
    let ask = |asked, marks| TastingQuestion {
        asked,
        marks: Marks::from_thousandths(marks),
    };
    let producers = [
        "Copper Bay Estate",
        "Salt Lantern",
        "Corvey Gully",
        "Tarrow",
    ];
    let bank = Bank {
        title: "Test bank".to_owned(),
        language: "en".to_owned(),
        licence: "CC0-1.0".to_owned(),
        cells: [("law", "Law and labels"), ("cask", "Cask and time")]
            .map(|(id, name)| (CellId::parse(id).unwrap(), name.to_owned()))
            .to_vec(),
        questions: questions.iter().cloned().collect(),
        pictures: BTreeMap::new(),
        calibration: BTreeMap::new(),
        samples: samples.iter().map(|s| (s.id.clone(), s.clone())).collect(),
        lexicon: lexicon(),
        categories: tree(&[
            ("spirit", "Spirit drink", ""),
            ("cane", "Cane spirits", "spirit"),
            ("molasses-rum", "Molasses rum", "cane"),
            ("juice-rum", "Cane juice rum", "cane"),
            ("grain", "Grain spirits", "spirit"),
            ("malt", "Malt whisky", "grain"),
        ]),
        regions: tree(&[
            ("world", "World", ""),
            ("caribbean", "Caribbean", "world"),
            ("jamaica", "Jamaica", "caribbean"),
            ("barbados", "Barbados", "caribbean"),
            ("scotland", "Scotland", "world"),
        ]),
    };
    let plan = Plan {
        language: None,
        title: "Test exam".to_owned(),
        school: Some("Lantern Street School".to_owned()),
        date: "2027-06-12".to_owned(),
        start: None,
        bank: "bank".to_owned(),
        paper: Paper::A4,
        theory: (shape.questions > 0).then(|| TheoryPart {
            forms: 1,
            minutes: 30,
            questions: u32::try_from(shape.questions).unwrap(),
            cells: vec![CellQuota {
                cell: CellId::parse("law").unwrap(),
                place: place(),
                wanted: Wanted::AnyLevel(exam_plan::plan::HowMany::exactly(
                    u32::try_from(shape.questions).unwrap(),
                )),
            }],
            pretest: 0,
            overlap: None,
            draw: exam_plan::plan::Draw::ByLot,
        }),
        tasting: (shape.samples > 0).then(|| TastingPart {
            minutes: 30,
            warm_up: None,
            samples: samples.iter().map(|s| (s.id.clone(), place())).collect(),
            ask: vec![
                ask(Asked::Aroma { words: 6 }, 10_000),
                ask(Asked::Category, 3_000),
                ask(Asked::Region, 2_000),
                ask(
                    Asked::Age(AgeAnswer::Band {
                        from: DEFAULT_BANDS.to_vec(),
                    }),
                    2_000,
                ),
                ask(
                    Asked::Producer {
                        from: producers.map(str::to_owned).to_vec(),
                    },
                    1_000,
                ),
            ],
            pour: Pour {
                volume: 20.0,
                strength: ServingStrength::AsBottled,
            },
            codes: CodeSharing::Room,
            check_digit: false,
            threshold: 0.25,
            less_chance: false,
            rules: exam_plan::flight_rules::FlightRules::default(),
        }),
        pass: PassRule {
            join,
            extra_at_most: Marks::ONE,
            extra_may_turn_fail_into_pass: false,
        },
        results: exam_plan::ResultRules::default(),
        personal_data: exam_plan::PersonalData::default(),
    };
    let number = |n: usize| CandidateNumber::parse(&format!("C-{n:03}")).unwrap();
    let form = Form {
        name: FormName::nth(0).unwrap(),
        questions: questions
            .iter()
            .enumerate()
            .map(|(n, q)| FormQuestion {
                question: q.id.clone(),
                order: PrintedOrder::from_places(match n % 3 {
                    0 => vec![0, 1, 2],
                    1 => vec![1, 2, 0],
                    _ => vec![2, 0, 1],
                })
                .unwrap(),
                drawn: question_bank::DrawnNumbers::default(),
                counts: true,
            })
            .collect(),
    };
    let has_theory = shape.questions > 0;
    let places = (0..shape.candidates).map(|n| CandidatePlace {
        candidate: number(n),
        service: Service::Room,
        seat: SeatName::parse(&format!("a{}", n + 1)).ok(),
        form: has_theory.then(|| form.name.clone()),
        glasses: samples
            .iter()
            .zip(101..)
            .map(|(s, code): (&SampleRecord, u32)| Glass {
                code: code.to_string(),
                sample: s.id.clone(),
            })
            .collect(),
    });
    let sitting = Sitting {
        places: places.collect(),
        forms: if has_theory {
            vec![form.clone()]
        } else {
            Vec::new()
        },
        shortfalls: Vec::new(),
    };
    let candidates = (0..shape.candidates).map(|n| Candidate {
        number: number(n),
        service: Service::Room,
        wishes: Vec::new(),
        teachers: Vec::new(),
        place: place(),
        way: exam_plan::TastingWay::Full,
        brings: None,
    });
    let exam = Exam {
        plan,
        bank,
        own_samples: BTreeMap::new(),
        roster: Roster {
            candidates: candidates.collect(),
        },
        room: Room::default(),
    };
    (exam, sitting)
}

/// Awards for these answers, one a candidate and item, in the order of the sitting.
pub(crate) fn awards(
    exam: &Exam,
    sitting: &Sitting,
    answer: impl Fn(usize, &Item) -> String,
) -> Vec<Award> {
    let marking = GraderMarking::new(exam);
    let english = grader::Sentences::english();
    let mut awards = Vec::new();
    for (n, place) in sitting.places.iter().enumerate() {
        let mut give = |item: Item, of, extra, mark: &dyn Fn(&str) -> grader::Outcome| {
            let answer = answer(n, &item);
            awards.push(Award {
                candidate: place.candidate.clone(),
                outcome: mark(&answer),
                item,
                answer,
                of,
                counts: true,
                extra,
            });
        };
        for form in &sitting.forms {
            for (q, number) in form.questions.iter().zip(1..) {
                let question = &exam.bank.questions[&q.question];
                let item = Item::Theory {
                    number,
                    question: q.question.clone(),
                };
                give(item, question.marks, false, &|a| {
                    marking.theory(question, &q.order, a).told(english)
                });
            }
        }
        for (glass, number) in place.glasses.iter().zip(1..) {
            for asked in &exam.plan.tasting.as_ref().unwrap().ask {
                let item = Item::Tasting {
                    glass: number,
                    code: glass.code.clone(),
                    sample: glass.sample.clone(),
                    asked: asked.asked.name().to_owned(),
                };
                let extra = asked.asked.is_extra_credit();
                give(item, asked.marks, extra, &|a| {
                    marking.tasting(&glass.sample, asked, a).told(english)
                });
            }
        }
    }
    awards
}

/// The letter of the right option on the example's form.
pub(crate) fn right_letter(sitting: &Sitting, number: u32) -> String {
    let order = &sitting.forms[0].questions[usize::try_from(number).unwrap() - 1].order;
    let printed = order.printed_at(1).unwrap();
    question_bank::printed_order::letter(printed).to_string()
}
