//! Invented banks and exams, built from numbers.

use std::collections::BTreeMap;

use base::{CandidateNumber, CellId, ExamSeed, Marks, NodeId, Place, QuestionId, SampleId};
use base::{SeatName, SourceName};
use exam_plan::exam::Exam;
use exam_plan::plan::*;
use exam_plan::room::{Room, Table};
use exam_plan::roster::{Candidate, Roster, Service};
use question_bank::question::{Difficulty, Evidence, Level, Source};
use question_bank::question_kind::*;
use question_bank::sample_record::{Age, CarryOver};
use question_bank::taxonomy::{Node, Taxonomy};
use question_bank::{Bank, Lexicon, Question, Questions, ReviewState, SampleRecord};

pub fn place(line: u32) -> Place {
    Place {
        source: SourceName::new("plan.yaml"),
        line,
        column: 5,
        start: 0,
        end: 0,
    }
}

pub fn seed(number: u8) -> ExamSeed {
    ExamSeed::from_bytes([number; 32])
}

pub fn cell(number: usize) -> CellId {
    CellId::parse(&format!("cell-{number}")).unwrap()
}

pub fn question_id(cell: usize, number: usize) -> QuestionId {
    QuestionId::parse(&format!("q-{cell}-{number:03}")).unwrap()
}

fn option(text: String, key: bool) -> AnswerOption {
    let why = format!("why {text}").into();
    let text = text.into();
    AnswerOption { text, key, why }
}

/// A kind by turns; every option's text tells its place in the bank.
fn kind(number: usize) -> QuestionKind {
    let stem: base::Text = format!("Stem {number}?").into();
    match number % 8 {
        0..=3 => QuestionKind::BestAnswer(BestAnswer {
            stem,
            options: (0..3 + number % 2)
                .map(|o| option(format!("option {o}"), o == number / 8 % 3))
                .collect(),
            keep_order: number % 8 == 3,
        }),
        4 => QuestionKind::MultipleResponse(MultipleResponse {
            stem,
            options: (0..5)
                .map(|o| option(format!("option {o}"), o < 2))
                .collect(),
            keep_order: false,
            rule: MultipleResponseRule::BalancedPenaltyFloor0,
        }),
        5 => QuestionKind::Numeric(Box::new(Numeric {
            stem,
            answer: 46.9,
            answer_as_written: "46.9".into(),
            unit: "% vol".into(),
            tolerance: 0.5,
            half_within: None,
            mistakes: Vec::new(),
            why: "why".into(),
        })),
        6 => QuestionKind::Ordering(Ordering {
            stem,
            steps: (0..3).map(|s| format!("step {s}").into()).collect(),
            rule: OrderingRule::Tau,
            why: "why".into(),
        }),
        _ => QuestionKind::Matching(Matching {
            stem,
            pairs: (0..3)
                .map(|p| Pair {
                    left: format!("left {p}").into(),
                    right: format!("right {p}").into(),
                })
                .collect(),
            distractors: vec!["right 3".into()],
            why: "why".into(),
        }),
    }
}

pub fn question(in_cell: usize, number: usize, state: ReviewState) -> Question {
    Question {
        id: question_id(in_cell, number),
        set: None,
        picture: None,
        place: place(1),
        cell: cell(in_cell),
        level: Level::ALL[number % 3],
        difficulty: Difficulty::ALL[number / 2 % 3],
        state,
        reviewed_by: Some("chief examiner".into()),
        source: Source {
            work: "Invented handbook".into(),
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
        translations: std::collections::BTreeMap::new(),
        kind: kind(number),
    }
}

fn tree() -> Taxonomy {
    let root = Node {
        id: NodeId::parse("root").unwrap(),
        name: "Root".to_owned(),
        parent: None,
        aliases: Vec::new(),
        inside: Vec::new(),
        source: None,
        evidence: None,
        law: question_bank::taxonomy::NodeLaw::default(),
    };
    Taxonomy::new("invented".to_owned(), vec![root]).unwrap()
}

/// A bank with so many operational questions of each cell.
pub fn bank(sizes: &[usize]) -> Bank {
    let mut bank = Bank {
        title: "Invented".to_owned(),
        language: "en".to_owned(),
        licence: "CC0-1.0".to_owned(),
        cells: (0..sizes.len())
            .map(|c| (cell(c), format!("Cell {c}")))
            .collect(),
        questions: Questions::default(),
        pictures: BTreeMap::new(),
        calibration: BTreeMap::new(),
        samples: BTreeMap::new(),
        lexicon: Lexicon::default(),
        categories: tree(),
        regions: tree(),
    };
    for (in_cell, &size) in sizes.iter().enumerate() {
        for number in 0..size {
            add(
                &mut bank,
                question(in_cell, number, ReviewState::Operational),
            );
        }
    }
    bank
}

pub fn add(bank: &mut Bank, question: Question) {
    bank.questions.insert(question);
}

/// Makes two questions enemies, both ways.
pub fn make_enemies(bank: &mut Bank, one: &QuestionId, other: &QuestionId) {
    if one == other {
        return;
    }
    for (a, b) in [(one, other), (other, one)] {
        let question = bank.questions.get_mut(a).unwrap();
        if !question.enemies.contains(b) {
            question.enemies.push(b.clone());
        }
    }
}

pub fn theory(forms: u32, wanted: &[u32], overlap: Option<u32>) -> TheoryPart {
    TheoryPart {
        forms,
        minutes: 40,
        questions: wanted.iter().sum(),
        cells: wanted
            .iter()
            .enumerate()
            .map(|(number, &n)| CellQuota {
                cell: cell(number),
                place: place(10 + u32::try_from(number).unwrap()),
                wanted: Wanted::AnyLevel(exam_plan::plan::HowMany::exactly(n)),
            })
            .collect(),
        pretest: 0,
        overlap,
        draw: exam_plan::plan::Draw::ByLot,
    }
}

pub fn sample(name: &str, carry_over: CarryOver, strength: f64) -> SampleRecord {
    SampleRecord {
        id: SampleId::parse(name).unwrap(),
        place: place(1),
        name: format!("Bottle {name}"),
        producer: "Invented Estate".to_owned(),
        category: NodeId::parse("root").unwrap(),
        region: NodeId::parse("root").unwrap(),
        accepted_regions: Vec::new(),
        age: Age::NotStated,
        strength,
        cask: None,
        lot: None,
        panel_lot: None,
        opened: None,
        bottle: 700,
        allergens: Vec::new(),
        carry_over,
        contradicts: Vec::new(),
        fault: None,
        colour: None,
        body: None,
        finish: None,
        source: "common practice".to_owned(),
        describe: "Invented.".to_owned(),
        tasting: question_bank::reference_tasting::ReferenceTasting::default(),
    }
}

pub fn tasting(samples: &[SampleRecord], codes: CodeSharing) -> TastingPart {
    TastingPart {
        minutes: 30,
        warm_up: None,
        samples: samples.iter().map(|s| (s.id.clone(), place(40))).collect(),
        ask: vec![TastingQuestion {
            asked: Asked::Category,
            marks: Marks::ONE,
        }],
        pour: Pour {
            volume: 20.0,
            strength: ServingStrength::AsBottled,
        },
        codes,
        check_digit: false,
        threshold: 0.25,
        less_chance: false,
        rules: exam_plan::flight_rules::FlightRules::default(),
    }
}

/// Tables `a`, `b`, … with so many seats each; facing pairs as given.
pub fn room(tables: &[usize], facing: &[(usize, usize)]) -> Room {
    Room {
        drawn: false,
        beside: Vec::new(),
        near_door: Vec::new(),
        name: "Invented room".to_owned(),
        tables: tables
            .iter()
            .enumerate()
            .map(|(number, &seats)| {
                let id = char::from(b'a' + u8::try_from(number).unwrap());
                Table {
                    id: id.to_string(),
                    seats: (1..=seats)
                        .map(|seat| SeatName::parse(&format!("{id}{seat}")).unwrap())
                        .collect(),
                }
            })
            .collect(),
        facing: facing.to_vec(),
    }
}

pub fn roster(in_room: usize, kits: usize) -> Roster {
    Roster {
        candidates: (0..in_room + kits)
            .map(|number| Candidate {
                number: CandidateNumber::parse(&format!("C-{:03}", number + 1)).unwrap(),
                service: if number < in_room {
                    Service::Room
                } else {
                    Service::Kit
                },
                wishes: Vec::new(),
                teachers: Vec::new(),
                way: exam_plan::TastingWay::Full,
                brings: None,
                place: place(2 + u32::try_from(number).unwrap()),
            })
            .collect(),
    }
}

pub fn exam(
    bank: Bank,
    theory: Option<TheoryPart>,
    tasting: Option<TastingPart>,
    roster: Roster,
    room: Room,
) -> Exam {
    Exam {
        plan: Plan {
            language: None,
            title: "Invented exam".to_owned(),
            school: None,
            date: "2027-06-12".to_owned(),
            start: None,
            bank: "bank".to_owned(),
            paper: Paper::A4,
            theory,
            tasting,
            pass: PassRule {
                join: Join::Conjunctive {
                    theory: 600,
                    tasting: 500,
                },
                extra_at_most: Marks::ZERO,
                extra_may_turn_fail_into_pass: false,
            },
            results: exam_plan::ResultRules::default(),
            personal_data: exam_plan::PersonalData::default(),
        },
        bank,
        own_samples: BTreeMap::new(),
        roster,
        room,
    }
}
