//! Invented contents for examiners' papers.

use crate::content::TimedStep;
use crate::content::examiner::{
    CrossCheck, FormKey, GuideDescriptor, GuideFact, GuideQuestion, GuideRule, GuideSample, IfThen,
    JudgeSheet, JudgedQuestion, KeyLine, KeySheet, KitCheckSheet, KitFilling, KitToCheck,
    MarkerGuide, PourBottle, PourSample, PourSheet, PrintLine, PrintList, ReserveLine, RoomSheet,
    SeatLine,
};
use crate::samples::{cautions, exam, words};

fn steps(list: &[(&str, &str)]) -> Vec<TimedStep> {
    list.iter()
        .map(|(time, what)| TimedStep {
            time: (*time).to_owned(),
            what: (*what).to_owned(),
        })
        .collect()
}

/// A pour sheet for two samples.
#[must_use]
pub fn pour_sheet() -> PourSheet {
    let own = str::to_owned;
    let codes = |first: u32| {
        (0..24)
            .map(|index| (first + index * 29).to_string())
            .collect()
    };
    PourSheet {
        exam: exam(),
        closed: true,
        checklist: words(&[
            "bottles as below, closed",
            "48 glasses, clean, without scent",
            "24 spit cups",
            "water: 12 litres",
            "labels, in the order of this sheet",
            "measuring cylinder 25 ml",
            "still water for dilution, 1 litre",
            "covers for all glasses",
            "this envelope, a clock, a pen",
        ]),
        times: steps(&[
            ("−90 min", "Dilute sample 1, mix, let it stand"),
            ("−60 min", "Labels on glasses, sample by sample"),
            ("−45 min", "Pour sample 1, then sample 2"),
            ("−15 min", "Cross-check, cover, close the envelope"),
            ("0 min", "First answer"),
        ]),
        bottles: vec![
            PourBottle {
                sample: own("1"),
                what: own("Aldermoor pot still, lot 7"),
                bottles: own("1 × 70 cl"),
                strength: own("58.4 % vol"),
                serving_strength: own("46.0 % vol"),
            },
            PourBottle {
                sample: own("2"),
                what: own("Estancia Roja cane spirit"),
                bottles: own("1 × 70 cl"),
                strength: own("43.0 % vol"),
                serving_strength: own("43.0 % vol"),
            },
        ],
        samples: vec![
            PourSample {
                sample: own("1"),
                what: own("Aldermoor pot still, lot 7"),
                volume_in_a_glass: own("15 ml"),
                total: own("415 ml"),
                dilution: own(
                    "330 ml of spirit and 93 ml of water at 20 °C give 415 ml at 46.0 % vol; contraction is counted.",
                ),
                codes: codes(137),
                note: String::new(),
            },
            PourSample {
                sample: own("2"),
                what: own("Estancia Roja cane spirit"),
                volume_in_a_glass: own("15 ml"),
                total: own("415 ml"),
                dilution: String::new(),
                codes: codes(151),
                note: own("Pour last."),
            },
        ],
        cross_checks: vec![
            CrossCheck {
                seat: own("4"),
                code: own("224"),
                sample: own("1"),
            },
            CrossCheck {
                seat: own("13"),
                code: own("441"),
                sample: own("2"),
            },
            CrossCheck {
                seat: own("22"),
                code: own("601"),
                sample: own("1"),
            },
        ],
        ethanol: words(&["If everything is swallowed, a candidate takes 10.6 g of ethanol."]),
        cautions: cautions(),
    }
}

/// A ledger head as it is printed; invented.
pub(super) const LEDGER_HEAD: &str =
    "3:MFRG-GZDF-MZTW-Q2LK-NNWG-23TP-OBYX-E43U-OV3H-O6DZ-PJQW-EY3E-MVTA";

/// The check of one kit.
#[must_use]
pub fn kit_check() -> KitCheckSheet {
    let own = str::to_owned;
    KitCheckSheet {
        exam: exam(),
        rules: words(&["One bottle is open at a time."]),
        fillings: vec![KitFilling {
            sample: own("1"),
            what: own("Aldermoor pot still, lot 7"),
            into_each: own("25 ml at 46.0 % vol"),
            bottles: words(&["C-21: 538", "C-22: 274"]),
        }],
        kits: vec![KitToCheck {
            candidate_number: own("C-21"),
            seal: own("482 137 5"),
            bottles: words(&["538 holds 1"]),
        }],
        cautions: cautions(),
    }
}

/// A room sheet for a class of 12.
#[must_use]
pub fn room_sheet() -> RoomSheet {
    let own = str::to_owned;
    let incident = |happens: &str, then: &str| IfThen {
        happens: own(happens),
        then: own(then),
    };
    RoomSheet {
        exam: exam(),
        ledger_head: LEDGER_HEAD.to_owned(),
        room: own("Long Hall"),
        checklist: words(&[
            "glasses set by code",
            "spit cup and water at every place",
            "booklets by form",
            "answer sheets and covers by seat",
            "clock that all can see",
            "spare pens",
        ]),
        times: steps(&[
            ("18:00", "Doors open, identities, telephones away"),
            ("18:15", "Theory begins"),
            ("18:55", "Theory ends, collect by seat"),
            ("19:05", "Tasting begins"),
            ("20:05", "Tasting ends, collect, count, sign"),
        ]),
        glasses: 3,
        seats: (1..=12)
            .map(|seat| SeatLine {
                seat: seat.to_string(),
                candidate_number: format!("C-{seat:02}"),
                form: own(if seat % 3 == 0 {
                    "C"
                } else if seat % 2 == 0 {
                    "B"
                } else {
                    "A"
                }),
                codes: (0..3)
                    .map(|glass| (137 + seat * 29 + glass * 211).to_string())
                    .collect(),
            })
            .collect(),
        neighbours: Vec::new(),
        orders: words(&[
            "Glasses 1 to 3, 12 candidates: a sample stands in a place 4 times (imbalance 0.0 %). It comes right before another 4 times (imbalance 0.0 %).",
        ]),
        reserves: (1..=12)
            .map(|seat| ReserveLine {
                seat: seat.to_string(),
                after: vec![
                    (559 + seat * 29).to_string(),
                    (559 + seat * 29).to_string(),
                    String::new(),
                ],
            })
            .collect(),
        incidents: vec![
            incident(
                "A seat stays empty",
                "Leave the papers lying; after 15 minutes put them in the envelope marked absent.",
            ),
            incident(
                "A glass is dropped",
                "Ask the pourer for a new glass with the same code; give back the minutes.",
            ),
            incident(
                "Somebody feels unwell",
                "Water, fresh air, nobody goes home alone.",
            ),
        ],
        incident_lines: 6,
        cautions: cautions(),
    }
}

/// A guide with one sample and two questions.
#[must_use]
pub fn marker_guide() -> MarkerGuide {
    let own = str::to_owned;
    let fact = |label: &str, value: &str| GuideFact {
        label: own(label),
        value: own(value),
    };
    let word =
        |word: &str, synonyms: &str, stages: &str, cited: &str, weight: &str, weight_percent| {
            GuideDescriptor {
                word: own(word),
                synonyms: own(synonyms),
                stages: own(stages),
                cited: own(cited),
                weight: own(weight),
                weight_percent,
            }
        };
    let rule = |asked: &str, marks: &str, rule: &str, chance: &str| GuideRule {
        asked: own(asked),
        marks: own(marks),
        rule: own(rule),
        chance: own(chance),
    };
    MarkerGuide {
        exam: exam(),
        rules: words(&[
            "Mark what is written, not what was meant.",
            "An unknown word is never guessed: put it on the list.",
            "Nothing goes below 0; nothing goes above the most marks.",
        ]),
        samples: vec![GuideSample {
            sample: own("1"),
            what: own("Aldermoor pot still, lot 7"),
            facts: vec![
                fact("Category", "Grain spirit, single malt"),
                fact("Region", "Scotland"),
                fact("Age", "12 years stated"),
                fact("Served at", "46.0 % vol"),
            ],
            key: vec![
                word("pear", "ripe pear", "nose", "7 of 8", "0.91", 100),
                word("vanilla", "", "nose, palate", "6 of 8", "0.74", 81),
                word(
                    "ginger",
                    "fresh ginger",
                    "palate, finish",
                    "5 of 8",
                    "0.52",
                    57,
                ),
                word(
                    "malt",
                    "malted barley",
                    "nose, palate",
                    "4 of 8",
                    "0.40",
                    44,
                ),
            ],
            accepted: words(&["apple", "biscuit", "honey"]),
            contradicting: words(&["smoke", "tar"]),
            rubric: vec![
                rule(
                    "Aroma",
                    "12",
                    "Best one-to-one matching of the first six words to the key: in full for the word or a synonym, half for the group, a quarter for the family; each contradicting word takes away one mark.",
                    "1.1",
                ),
                rule(
                    "Category",
                    "4",
                    "By shared ancestry in the tree, corrected for chance.",
                    "0",
                ),
                rule(
                    "Age",
                    "2",
                    "One mark less for each band of distance.",
                    "0.6",
                ),
            ],
            panel: own("Eight assessors; the panel supports four key words."),
            codes: Vec::new(),
        }],
        questions: vec![
            GuideQuestion {
                id: own("density-004"),
                places: own("A 1, B 9, C 14"),
                stem: own(
                    "A cask sample of 60 % vol is reduced to 40 % vol with water. The volume of the mixture is",
                ),
                key: own("smaller than the sum of the two volumes"),
                rule: own("One best answer, 1 mark."),
                source: own("OIML R 22, general formula"),
            },
            GuideQuestion {
                id: own("still-011"),
                places: own("A 2, B 3, C 8"),
                stem: own("Which of these raise the share of copper contact in a pot still?"),
                key: own("a slower run; a taller neck; a smaller charge"),
                rule: own("Right crosses less wrong ones, not below 0, 2 marks."),
                source: own("invented for this sample"),
            },
        ],
    }
}

/// A key of one form.
#[must_use]
pub fn key() -> KeySheet {
    let line = |number: u16| KeyLine {
        number,
        key: ["B", "A C", "3.72 ± 0.02", "A C D B", "C"]
            .get(usize::from(number) % 5)
            .copied()
            .unwrap_or("A")
            .to_owned(),
        id: format!("density-{number:03}"),
        marks: "1".to_owned(),
        note: if number == 11 {
            "pretest, not counted".to_owned()
        } else {
            String::new()
        },
    };
    KeySheet {
        exam: exam(),
        forms: vec![FormKey {
            form: "A".to_owned(),
            lines: (1..=20).map(line).collect(),
        }],
    }
}

/// A judge's sheet.
#[must_use]
pub fn judge_sheet() -> JudgeSheet {
    let question = |number, stem: &str, key: &str| JudgedQuestion {
        number,
        stem: stem.to_owned(),
        key: key.to_owned(),
    };
    JudgeSheet {
        exam: exam(),
        form: "A".to_owned(),
        rounds: 2,
        advice: vec![
            "Think of ten candidates who just pass. How many of them answer this question rightly?"
                .to_owned(),
        ],
        questions: vec![
            question(1, "What is the least strength of a whisky?", "40 % vol"),
            question(2, "Which part of the run is the heart?", "the middle"),
        ],
    }
}

/// A print list.
#[must_use]
pub fn print_list() -> PrintList {
    let line =
        |file: &str, what: &str, copies: &str, pages: &str, paper: &str, sides: &str, closed| {
            let [file, what, copies, pages, paper, sides] =
                [file, what, copies, pages, paper, sides].map(str::to_owned);
            PrintLine {
                file,
                what,
                copies,
                pages,
                paper,
                sides,
                closed,
            }
        };
    PrintList {
        exam: exam(),
        ledger_head: LEDGER_HEAD.to_owned(),
        lines: vec![
            line(
                "01-theory-booklet_form-A_8-pages_double-sided.pdf",
                "Theory paper, form A.",
                "8",
                "8",
                "A4",
                "double-sided",
                false,
            ),
            line(
                "02-candidate-covers_class_24-pages_single-sided.pdf",
                "A cover for each candidate; put it on the booklet of its form.",
                "1",
                "24",
                "A4",
                "single-sided",
                false,
            ),
            line(
                "03-answer-sheets_class_24-pages_single-sided.pdf",
                "Answer sheets, sorted by seat.",
                "1",
                "96",
                "A4",
                "single-sided",
                false,
            ),
            line(
                "04-glass-labels_72-labels.pdf",
                "Print without scaling.",
                "1",
                "4",
                "label sheet a4-3x7-63.5x38.1",
                "single-sided",
                false,
            ),
            line(
                "05-pour-sheet_closed-envelope.pdf",
                "For the pourer, in the envelope.",
                "1",
                "3",
                "A4",
                "single-sided",
                true,
            ),
        ],
        notes: words(&[
            "Print at 100 %, not “fit to page”: the boxes are read by their place.",
            "Hold one label sheet printed on plain paper against the labels before using them.",
        ]),
    }
}
