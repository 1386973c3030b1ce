//! Invented contents for candidates' papers.

use sheet_layout::{LabelGrid, Paper, lay_out, shipped_label_grids};

use crate::content::candidate::{
    AnswerSheets, CandidateCover, CandidateCovers, CandidateSheet, Kit, KitBottle, KitItem, Label,
    LabelSheet, Lettered, PackingLists, PartOfDay, PrintedAnswer, PrintedQuestion, ReferenceList,
    SealStrip, SealStrips, TheoryBooklet, TreeLine, WordFamily, WordGroup,
};
use crate::samples::tasting_page::{glass, theory};
use crate::samples::{cautions, exam, words};
use crate::seal_root::SealRoot;

fn lettered(texts: &[&str]) -> Vec<Lettered> {
    ["A", "B", "C", "D", "E", "F", "G"]
        .iter()
        .zip(texts)
        .map(|(letter, text)| Lettered {
            letter: (*letter).to_owned(),
            text: (*text).to_owned(),
        })
        .collect()
}

/// A booklet with a question of every kind.
#[must_use]
pub fn theory_booklet() -> TheoryBooklet {
    let own = str::to_owned;
    let question = |number, stem: &str, marks: &str, answer| PrintedQuestion {
        number,
        stem: own(stem),
        shared: None,
        picture: None,
        marks: own(marks),
        answer,
    };
    let kinds = vec![
        question(
            1,
            "A cask sample of 60 % vol is reduced to 40 % vol with water. The volume of the mixture is",
            "1 mark",
            PrintedAnswer::SingleBest {
                options: lettered(&[
                    "smaller than the sum of the two volumes",
                    "equal to the sum of the two volumes",
                    "larger than the sum of the two volumes",
                ]),
            },
        ),
        question(
            2,
            "Which of these raise the share of copper contact in a pot still?",
            "2 marks",
            PrintedAnswer::MultipleResponse {
                options: lettered(&[
                    "a slower run",
                    "a taller neck",
                    "a smaller charge",
                    "a stainless steel condenser",
                    "a descending lyne arm kept short",
                ]),
                instruction: own(
                    "Cross all that hold. A wrong cross takes back a right one; no question goes below 0.",
                ),
            },
        ),
        question(
            3,
            "10.0 litres of spirit at 62.5 % vol are to be reduced to 46.0 % vol at 20 °C. How much water is needed?",
            "2 marks",
            PrintedAnswer::Numeric {
                unit: own("litres"),
                instruction: own("Two decimals. Contraction counts."),
            },
        ),
        question(
            4,
            "Put the steps of making a pot still spirit in order.",
            "2 marks",
            PrintedAnswer::Ordering {
                items: lettered(&[
                    "mashing",
                    "second distillation",
                    "fermentation",
                    "first distillation",
                ]),
                instruction: own("From the earliest to the latest."),
            },
        ),
        question(
            5,
            "Match each raw material to the spirit that is made from it.",
            "2 marks",
            PrintedAnswer::Matching {
                left: words(&["agave", "sugar cane juice", "grape wine", "apples"]),
                right: lettered(&["brandy", "rhum agricole", "calvados", "mezcal", "genever"]),
                instruction: own("One letter stays over."),
            },
        ),
        question(
            6,
            "What is the liquid called that is left in the still after distillation?",
            "1 mark",
            PrintedAnswer::ShortAnswer {
                instruction: own("One or two words."),
            },
        ),
        question(
            7,
            "A colleague says: “This spirit is dark, so it is old.”\n\nSay in your own words what is wrong with that, and what would tell you more about the time in wood.",
            "6 marks",
            PrintedAnswer::Essay {
                instruction: own("About 80 words. Marked for reasons, not for style."),
            },
        ),
    ];
    let more = (8u16..=12).map(|number| {
        question(number, "Which of the following is weighed when a spirit’s strength is found with a pycnometer?", "1 mark", PrintedAnswer::SingleBest {
            options: lettered(&["the same volume of spirit and of water, at a known temperature", "the dry residue after evaporation", "the vapour that leaves the flask"]),
        })
    });
    TheoryBooklet {
        exam: exam(),
        form: own("A"),
        time: own("40 minutes"),
        marks: own("21 marks"),
        rules: words(&[
            "Each question says what it is worth.",
            "One best answer: the right letter gets the mark; a wrong one gets 0 and costs nothing.",
            "Several answers: a wrong cross takes back a right one; no question goes below 0.",
            "Two bubbles filled where one is asked for count as no answer.",
        ]),
        cautions: words(&[
            "Spirits are tasted today: nobody drives afterwards.",
            "You may nose only; ask for the nosing form before the tasting begins.",
        ]),
        seal_root: Some(seal_root()),
        questions: kinds.into_iter().chain(more).collect(),
    }
}

/// The root of a seal.
fn seal_root() -> SealRoot {
    SealRoot::new("MFRG-GZDF-MZTW-Q2LK-NNWG-23TP-OBYX-E43U-OV3H-O6DZ-PJQW-EY3E-MVTA")
}

/// Covers for three candidates; the third sits no theory.
#[must_use]
pub fn candidate_covers() -> CandidateCovers {
    let cover = |number: &str, seat: &str, form: &str| CandidateCover {
        candidate_number: number.to_owned(),
        name: String::new(),
        seat: seat.to_owned(),
        form: form.to_owned(),
        glass_codes: words(&["417", "862", "350"]),
        parts: vec![
            PartOfDay {
                name: "Theory".to_owned(),
                what: format!("20 questions, form {form}"),
                time: "40 minutes".to_owned(),
            },
            PartOfDay {
                name: "Tasting".to_owned(),
                what: "3 glasses, one page each".to_owned(),
                time: "60 minutes".to_owned(),
            },
        ],
    };
    CandidateCovers {
        exam: exam(),
        cautions: cautions(),
        private_notice: "If you have an allergy, are pregnant or take medication and did not tell us yet, speak to the proctor now, alone. You need give no reason for nosing only.".to_owned(),
        instructions: words(&[
            "Leave the glasses covered until you are told to begin.",
            "Write on the answer sheets only, with a dark pen.",
            "No perfume, no food, no telephone in the room.",
        ]),
        seal_root: Some(seal_root()),
        covers: vec![
            cover("C-07", "7", "A"),
            cover("C-08", "8", "B"),
            CandidateCover {
                parts: Vec::new(),
                ..cover("C-09", "9", "")
            },
        ],
    }
}

/// Answer sheets for two candidates.
#[must_use]
pub fn answer_sheets(paper: Paper) -> AnswerSheets {
    let sheet = |number: &str, seat: &str, form: &str, codes: [&str; 2]| CandidateSheet {
        candidate_number: number.to_owned(),
        seat: seat.to_owned(),
        form: form.to_owned(),
        sheet_id: format!("2031-03-14/{number}"),
        layout: lay_out(
            paper,
            &if form.is_empty() {
                Vec::new()
            } else {
                theory()
            },
            &codes.map(glass),
        ),
    };
    AnswerSheets {
        exam: exam(),
        how_to_mark: "Fill a bubble fully. To correct, cross it out and fill another.".to_owned(),
        tasting_caution: "Spit and drink water; nosing only is allowed.".to_owned(),
        warm_up: "Taste glass W, the warm-up, first: nothing is asked of it.".to_owned(),
        seal_root: Some(seal_root()),
        sheets: vec![
            sheet("C-07", "7", "A", ["417", "862"]),
            sheet("C-08", "8", "B", ["293", "641"]),
            sheet("C-09", "9", "", ["293", "641"]),
        ],
    }
}

/// The label sheet of the samples: the second shipped one.
fn sample_grid() -> LabelGrid {
    let grids = shipped_label_grids();
    grids.into_iter().nth(1).unwrap_or_else(|| LabelGrid {
        name: String::new(),
        paper: Paper::A4,
        columns: 0,
        rows: 0,
        label_width: sheet_layout::Millimetres::ZERO,
        label_height: sheet_layout::Millimetres::ZERO,
        left_margin: sheet_layout::Millimetres::ZERO,
        top_margin: sheet_layout::Millimetres::ZERO,
        column_pitch: sheet_layout::Millimetres::ZERO,
        row_pitch: sheet_layout::Millimetres::ZERO,
    })
}

/// Glass labels for a sheet and a bit.
#[must_use]
pub fn labels() -> LabelSheet {
    LabelSheet {
        title: "Glass labels".to_owned(),
        grid: sample_grid(),
        first_place: 0,
        frames: false,
        labels: (0..24)
            .map(|index| Label {
                code: (137 + index * 31).to_string(),
                small_line: String::new(),
            })
            .collect(),
    }
}

/// Packing list of one kit.
#[must_use]
pub fn packing_lists() -> PackingLists {
    let item = |quantity: &str, what: &str| KitItem {
        quantity: quantity.to_owned(),
        what: what.to_owned(),
    };
    let bottle = |code: &str| KitBottle {
        code: code.to_owned(),
        volume: "25 ml".to_owned(),
    };
    PackingLists {
        exam: exam(),
        cautions: cautions(),
        instructions: words(&[
            "Open the parcel with the proctor watching, not before.",
            "Taste in the order of the list; pour the whole bottle into the glass of the same code.",
            "Send the answer sheets back the same day in the envelope.",
        ]),
        kits: vec![Kit {
            candidate_number: "C-21".to_owned(),
            form: "C".to_owned(),
            seal: "482 137 5".to_owned(),
            bottles: vec![bottle("538"), bottle("274"), bottle("916")],
            items: vec![
                item("3", "glass labels with the same codes"),
                item("1", "theory booklet, form C, closed"),
                item("1", "cover page and answer sheet"),
                item("1", "spit cup"),
                item("1", "return envelope"),
            ],
        }],
    }
}

/// Strips for two kits.
#[must_use]
pub fn seal_strips() -> SealStrips {
    let strip = |number: &str, code: &str| SealStrip {
        candidate_number: number.to_owned(),
        code: code.to_owned(),
    };
    SealStrips {
        exam: exam(),
        if_torn: "Torn when it arrives? Do not taste; tell the school.".to_owned(),
        strips: vec![strip("C-21", "482 137 5"), strip("C-22", "903 664 1")],
    }
}

/// Words to choose from.
#[must_use]
pub fn reference_list() -> ReferenceList {
    let family = |name: &str, groups: &[(&str, &[&str])]| WordFamily {
        family: name.to_owned(),
        groups: groups
            .iter()
            .map(|(group, list)| WordGroup {
                group: (*group).to_owned(),
                words: words(list),
            })
            .collect(),
    };
    let tree = |lines: &[(u8, &str)]| {
        lines
            .iter()
            .map(|(depth, name)| TreeLine {
                depth: *depth,
                name: (*name).to_owned(),
            })
            .collect()
    };
    ReferenceList {
        exam: exam(),
        rules: words(&[
            "Choose words from this list or write your own; both are marked alike.",
            "The order is the alphabet’s and says nothing about the glasses.",
        ]),
        families: vec![
            family(
                "Floral",
                &[
                    (
                        "blossom",
                        &["elder blossom", "heather", "orange blossom", "rose"],
                    ),
                    ("dry", &["camomile", "hay", "lavender"]),
                ],
            ),
            family(
                "Fruit",
                &[
                    ("berry", &["blackberry", "redcurrant", "strawberry"]),
                    ("citrus", &["grapefruit", "lemon", "orange peel"]),
                    ("dried", &["date", "fig", "raisin", "prune"]),
                    ("orchard", &["apple", "pear", "quince"]),
                ],
            ),
            family(
                "Grain",
                &[(
                    "cereal",
                    &["barley", "biscuit", "malt", "porridge", "rye bread"],
                )],
            ),
            family(
                "Smoke and earth",
                &[
                    ("earth", &["forest floor", "mushroom", "wet stone"]),
                    ("smoke", &["ash", "bonfire", "smoked ham", "tar"]),
                ],
            ),
            family(
                "Sweet",
                &[
                    (
                        "caramel",
                        &["brown sugar", "butterscotch", "molasses", "toffee"],
                    ),
                    ("honey", &["beeswax", "heather honey"]),
                ],
            ),
            family(
                "Wood and spice",
                &[
                    ("spice", &["clove", "ginger", "nutmeg", "pepper"]),
                    ("wood", &["cedar", "oak", "pencil shavings", "vanilla"]),
                ],
            ),
        ],
        categories: tree(&[
            (0, "Spirit"),
            (1, "Brandy"),
            (2, "Fruit spirit"),
            (2, "Wine brandy"),
            (1, "Cane spirit"),
            (2, "From juice"),
            (2, "From molasses"),
            (1, "Grain spirit"),
            (2, "Blended"),
            (2, "Single malt"),
        ]),
        regions: tree(&[
            (0, "Europe"),
            (1, "France"),
            (1, "Scotland"),
            (0, "Latin America"),
            (1, "Caribbean"),
            (1, "Mexico"),
        ]),
        age_bands: words(&[
            "no age stated",
            "under 4 years",
            "4 to 7 years",
            "8 to 11 years",
            "12 to 15 years",
            "16 years and more",
        ]),
        producers: words(&[
            "Aldermoor",
            "Birkenfels",
            "Corrie Vane",
            "Domaine Sauvelle",
            "Estancia Roja",
            "Fennimark",
        ]),
        faults: words(&["cork taint", "feints", "no fault", "soapy"]),
    }
}
