//! An invented class: a sheet and a learner's page.

use crate::content::candidate::{ClassLearner, ClassRow, ClassSample, ClassSheets};
use crate::content::released::{
    LearnerGlass, LearnerPage, LearnerRating, LearnerStage, LearnerWord,
};
use crate::samples::{cautions, exam, words};

/// The sheets of two learners and two samples.
#[must_use]
pub fn class_sheets() -> ClassSheets {
    let row = |heading: &str, help: &str, lines, scale: &[u8], low: &str, high: &str| ClassRow {
        heading: heading.to_owned(),
        help: help.to_owned(),
        lines,
        scale: scale.to_vec(),
        low: low.to_owned(),
        high: high.to_owned(),
    };
    let to_ten: Vec<u8> = (0..=10).collect();
    let sample = |number, name: &str, what: &str, allergens: &str| ClassSample {
        number,
        name: name.to_owned(),
        what: what.to_owned(),
        allergens: allergens.to_owned(),
        rows: vec![
            row("Look", "depth of colour", 0, &to_ten, "clear", "darkest"),
            row("Nose", "words", 2, &[], "", ""),
            row(
                "Palate",
                "words; body",
                2,
                &[1, 2, 3, 4, 5],
                "light",
                "full",
            ),
            row(
                "Quality",
                "however you like it",
                0,
                &to_ten,
                "poor",
                "outstanding",
            ),
            row(
                "Liking",
                "yours alone",
                0,
                &to_ten,
                "not at all",
                "very much",
            ),
        ],
    };
    let learner = |number: &str, name: &str| ClassLearner {
        number: number.to_owned(),
        name: name.to_owned(),
    };
    ClassSheets {
        exam: exam(),
        how: words(&["Taste neat first, then with a little water."]),
        cautions: cautions(),
        ethanol: words(&["Both glasses hold 12.7 g of ethanol if nothing is spat."]),
        samples: vec![
            sample(
                1,
                "Lantern Quay Cane Spirit",
                "cane spirit, no age stated, served at 40 % vol",
                "",
            ),
            sample(
                2,
                "Upper Fell Malt",
                "single malt, 12 years, served at 46 % vol",
                "barley",
            ),
        ],
        learners: vec![learner("L-01", "Ottilie Brandvold"), learner("", "")],
    }
}

/// The page of one learner.
#[must_use]
pub fn learner_page() -> LearnerPage {
    let word = |written: &str, how: &str, shared| LearnerWord {
        written: written.to_owned(),
        how: how.to_owned(),
        shared,
    };
    LearnerPage {
        exam: exam(),
        number: "L-01".to_owned(),
        name: "Ottilie Brandvold".to_owned(),
        how: words(&["Bold words are the panel’s too. Nothing here is a mark."]),
        glasses: vec![LearnerGlass {
            number: 1,
            what: "Upper Fell Malt: single malt, 12 years, 46 % vol".to_owned(),
            describe: "Orchard fruit and light oak.".to_owned(),
            sentence: "You wrote 2 of the panel’s 6 main words; another is near one of yours."
                .to_owned(),
            stages: vec![LearnerStage {
                stage: "Nose".to_owned(),
                words: vec![
                    word("pear", "the panel too: 9 of 12", true),
                    word("toffee", "near: the panel says caramel", false),
                    word("lamp oil", "not in the word list: ask in class", false),
                ],
                besides: "vanilla (8 of 12)".to_owned(),
            }],
            ratings: vec![LearnerRating {
                what: "Quality".to_owned(),
                scale: "0 poor to 10 outstanding".to_owned(),
                yours: "6".to_owned(),
                beside: "the panel 7.1 on average, from 6 to 8 (n = 12)".to_owned(),
                yours_at: 60,
                panels_at: Some(71),
            }],
            liking: "Your liking: 4 of 10. It is yours alone and is compared with nothing."
                .to_owned(),
        }],
        caution: "Small measures, with water and a spit cup at hand; nobody drives after tasting."
            .to_owned(),
    }
}
