//! Reads what a plan asks of each glass.

use base::Fault;
use base::Marks;
use base::tree::Tree;
use base::walk::{Fields, Walk};

use crate::confidence::{About, Confidence, ConfidenceScore};
use crate::plan::{AgeAnswer, Asked, DEFAULT_BANDS, TastingQuestion};

/// What is asked where the plan says nothing: aroma, category, region and age.
pub(super) fn default_questions() -> Vec<TastingQuestion> {
    let question = |asked, marks| TastingQuestion {
        asked,
        marks: Marks::from_thousandths(marks),
    };
    vec![
        question(Asked::Aroma { words: 6 }, 10_000),
        question(Asked::Category, 4_000),
        question(Asked::Region, 3_000),
        question(
            Asked::Age(AgeAnswer::Band {
                from: DEFAULT_BANDS.to_vec(),
            }),
            3_000,
        ),
    ]
}

/// Reads the questions in the order of the plan.
pub(super) fn read_questions<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
) -> Option<Vec<TastingQuestion>> {
    let mut questions = Vec::new();
    let fields = walk.named(tree, "what is asked of each glass");
    walk.named_among(tree, &Asked::NAMES);
    if fields.is_empty() {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new("nothing-asked", place, "nothing is asked of the glasses")
                .allowed(Asked::NAMES.join(", ")),
        );
        return None;
    }
    for field in fields {
        let Some(mut detail) = walk.fields(&field.tree, "a question about a glass") else {
            continue;
        };
        let marks = detail.required(walk, "marks").and_then(|t| walk.marks(t));
        let asked = asked(walk, &field.name, &field.bytes, &mut detail);
        // A name that is not known has had its fault; what stands below it cannot be judged.
        if Asked::NAMES.contains(&field.name.as_str()) {
            detail.finish(walk);
        }
        if let (Some(asked), Some(marks)) = (asked, marks) {
            questions.push(TastingQuestion { asked, marks });
        }
    }
    Some(questions)
}

fn asked<'t>(
    walk: &mut Walk<'t>,
    name: &str,
    bytes: &std::ops::Range<usize>,
    detail: &mut Fields<'t>,
) -> Option<Asked> {
    let mut words = |walk: &mut Walk<'t>, default: u32| {
        detail
            .optional("words")
            .map_or(Some(default), |t| walk.whole(t, 1..=20))
    };
    match name {
        "aroma" => Some(Asked::Aroma {
            words: words(walk, 6)?,
        }),
        "water" => Some(Asked::Water {
            words: words(walk, 3)?,
        }),
        "category" => Some(Asked::Category),
        "region" => Some(Asked::Region),
        "age" => age(walk, detail).map(Asked::Age),
        "strength" => {
            let tolerance = detail
                .optional("tolerance")
                .map_or(Some(2.0), |t| walk.number(t, 0.1..=20.0, "% vol"))?;
            Some(Asked::Strength { tolerance })
        }
        "colour" => Some(Asked::Colour),
        "body" => Some(Asked::Body),
        "finish" => Some(Asked::Finish),
        "quality" => Some(Asked::Quality),
        "fault" => names(walk, detail, 2..=40).map(|from| Asked::Fault { from }),
        "confidence" => confidence(walk, detail).map(Asked::Confidence),
        "producer" => names(walk, detail, 4..=40).map(|from| Asked::Producer { from }),
        _ => {
            let place = walk.place(bytes);
            walk.note(
                Fault::new(
                    "unknown-word",
                    place,
                    format!(
                        "\"{}\" cannot be asked of a glass",
                        base::walk::shortened(name)
                    ),
                )
                .allowed(Asked::NAMES.join(", "))
                .near(name, Asked::NAMES),
            );
            None
        }
    }
}

fn age<'t>(walk: &mut Walk<'t>, detail: &mut Fields<'t>) -> Option<AgeAnswer> {
    let as_range = detail.optional("as").map_or(Some(false), |t| {
        walk.choice(t, &[("band", false), ("range", true)])
    })?;
    let bands = detail.optional("bands");
    if as_range {
        if let Some(tree) = bands {
            let place = walk.place(&tree.bytes);
            walk.note(
                Fault::new(
                    "idle-bands",
                    place,
                    "bands have no effect where an age is answered as a range",
                )
                .hint("write \"as: band\", or leave the bands out"),
            );
        }
        return Some(AgeAnswer::Range);
    }
    let Some(tree) = bands else {
        return Some(AgeAnswer::Band {
            from: DEFAULT_BANDS.to_vec(),
        });
    };
    let from: Vec<u32> = walk
        .list(tree, "the first years of the bands")
        .iter()
        .filter_map(|t| walk.whole(t, 0..=100))
        .collect();
    let ascending = from.windows(2).all(|pair| pair.first() < pair.last());
    if from.len() < 2 || from.first() != Some(&0) || !ascending {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new("bad-bands", place, "these are no age bands")
                .allowed("at least two first years, ascending, the first 0: [0, 3, 6, 10, 16]"),
        );
        return None;
    }
    Some(AgeAnswer::Band { from })
}

/// The most names over which a hundred parts can be shared out within a minute.
const MOST_BELIEFS: usize = 8;

fn confidence<'t>(walk: &mut Walk<'t>, detail: &mut Fields<'t>) -> Option<Confidence> {
    let about = detail
        .required(walk, "about")
        .and_then(|t| walk.choice(t, &About::ALL));
    let score = detail
        .optional("score")
        .map_or(Some(ConfidenceScore::Quadratic), |t| {
            walk.choice(t, &ConfidenceScore::ALL)
        });
    let from = names(walk, detail, 2..=MOST_BELIEFS);
    Some(Confidence {
        about: about?,
        from: from?,
        score: score?,
    })
}

fn names<'t>(
    walk: &mut Walk<'t>,
    detail: &mut Fields<'t>,
    length: std::ops::RangeInclusive<usize>,
) -> Option<Vec<String>> {
    let tree = detail.required(walk, "from")?;
    let names = walk.texts(tree, "the printed list");
    let doubled = names.iter().enumerate().find(|(place, name)| {
        names
            .iter()
            .take(*place)
            .any(|other| other.eq_ignore_ascii_case(name))
    });
    let place = walk.place(&tree.bytes);
    if let Some((_, name)) = doubled {
        walk.note(Fault::new(
            "doubled-name",
            place,
            format!("\"{name}\" stands twice in the printed list"),
        ));
        return None;
    }
    if !length.contains(&names.len()) {
        walk.note(
            Fault::new(
                "list-length",
                place,
                format!("a printed list of {} names will not do", names.len()),
            )
            .allowed(format!("{} to {} names", length.start(), length.end())),
        );
        return None;
    }
    Some(names)
}
