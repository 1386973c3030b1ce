//! What an invented glass is asked, for the sample answer sheet.

use sheet_layout::{GlassAsk, GlassBoxes, GlassQuestion, Stage, TheoryBoxKind, TheoryBoxes};

use crate::samples::words;

pub(crate) fn theory() -> Vec<TheoryBoxes> {
    (1u16..=20)
        .map(|number| TheoryBoxes {
            number,
            kind: match number {
                6 | 14 => TheoryBoxKind::Letters { options: 5 },
                8 | 17 => TheoryBoxKind::Number {
                    unit: "% vol".to_owned(),
                },
                10 => TheoryBoxKind::Order { items: 4 },
                15 => TheoryBoxKind::Match { left: 4, right: 5 },
                19 => TheoryBoxKind::Words { lines: 1 },
                20 => TheoryBoxKind::Words { lines: 5 },
                _ => TheoryBoxKind::Letter { options: 3 },
            },
        })
        .collect()
}

pub(crate) fn glass(code: &str) -> GlassBoxes {
    let ask = |name: &str, stage, heading: &str, question| GlassAsk {
        name: name.to_owned(),
        stage,
        heading: heading.to_owned(),
        question,
    };
    let bands = words(&[
        "no age stated",
        "under 4 years",
        "4 to 7 years",
        "8 to 11 years",
        "12 to 15 years",
        "16 to 20 years",
        "21 years and more",
    ]);
    let makers = words(&[
        "Aldermoor",
        "Birkenfels",
        "Corrie Vane",
        "Domaine Sauvelle",
        "Estancia Roja",
        "Fennimark",
        "Gullane Burn",
        "Hacienda Luz",
        "Inverlea",
        "Jura d’Or",
        "Kestrel Ridge",
        "Lochan Dubh",
    ]);
    GlassBoxes {
        code: code.to_owned(),
        asked: vec![
            ask(
                "colour",
                Stage::Look,
                "Depth of colour",
                GlassQuestion::Scale {
                    low: "water-white".to_owned(),
                    high: "dark mahogany".to_owned(),
                    first: 1,
                    points: 7,
                },
            ),
            ask(
                "nose",
                Stage::Nose,
                "Up to six words for what you smell; only the first six count",
                GlassQuestion::Words { most: 6 },
            ),
            ask(
                "palate",
                Stage::Palate,
                "Up to six words for what you taste",
                GlassQuestion::Words { most: 6 },
            ),
            ask(
                "finish",
                Stage::Finish,
                "Length",
                GlassQuestion::Scale {
                    low: "short".to_owned(),
                    high: "very long".to_owned(),
                    first: 1,
                    points: 5,
                },
            ),
            ask(
                "water",
                Stage::WithWater,
                "What grew, faded or appeared",
                GlassQuestion::Words { most: 3 },
            ),
            ask(
                "category",
                Stage::Conclusion,
                "Category, as narrow as you dare",
                GlassQuestion::Line,
            ),
            ask(
                "age",
                Stage::Conclusion,
                "Age",
                GlassQuestion::OneOf { options: bands },
            ),
            ask(
                "strength",
                Stage::Conclusion,
                "Strength, if you can tell",
                GlassQuestion::Range {
                    unit: "% vol".to_owned(),
                },
            ),
            ask(
                "producer",
                Stage::Conclusion,
                "Producer (extra marks)",
                GlassQuestion::OneOf { options: makers },
            ),
        ],
    }
}
