//! Reads the theory part of a plan: forms, cells with their numbers, and how forms are drawn.

use std::collections::BTreeMap;

use base::tree::{Tree, Value};
use base::walk::Walk;
use base::{CellId, Fault};
use question_bank::question::Level;

use super::draw_text::read_draw;
use crate::plan::{CellQuota, Draw, HowMany, TheoryPart, Wanted};

/// Reads `theory:`.
pub(super) fn read_theory<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<TheoryPart> {
    let mut fields = walk.fields(tree, "a theory part")?;
    let forms = fields
        .optional("forms")
        .map_or(Some(1), |t| walk.whole(t, 1..=26));
    let minutes = fields.optional("minutes").map(|t| walk.whole(t, 1..=600));
    let questions_tree = fields.optional("questions");
    let questions = questions_tree.map(|t| walk.whole(t, 1..=500));
    let cells = fields.required(walk, "cells").map(|t| quotas(walk, t));
    let all_sound = cells.as_ref().is_none_or(|(_, sound)| *sound);
    let pretest = fields
        .optional("pretest")
        .map_or(Some(0), |t| walk.whole(t, 0..=100));
    let overlap = fields.optional("overlap").map(|t| walk.whole(t, 0..=500));
    let draw = fields
        .optional("draw")
        .map_or(Some(Draw::ByLot), |t| read_draw(walk, t));
    fields.finish(walk);
    let (cells, _) = cells?;
    let questions = match questions {
        Some(given) => Some(given?),
        None => None,
    };
    // What could not be read has had its fault; without it no sum can be held against the length.
    if !all_sound {
        return None;
    }
    let questions = length(walk, questions_tree, questions, &cells);
    let mut part = TheoryPart {
        forms: forms?,
        minutes: 0,
        questions: questions?,
        cells,
        pretest: pretest?,
        overlap: match overlap {
            Some(bound) => Some(bound?),
            None => None,
        },
        draw: draw?,
    };
    if part.counted() == 0 {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new("no-questions", place, "this theory part asks no question")
                .hint("give at least one cell a number above 0"),
        );
        return None;
    }
    part.minutes = match minutes {
        Some(minutes) => minutes?,
        // A minute and a half a question: common practice, no source.
        None => ((part.counted() + part.uncounted()) * 3).div_ceil(2),
    };
    Some(part)
}

/// The counted questions of a form: as given, or as the cells add up to where each asks for one
/// number.
fn length<'t>(
    walk: &mut Walk<'t>,
    tree: Option<&'t Tree>,
    given: Option<u32>,
    cells: &[CellQuota],
) -> Option<u32> {
    let least = cells
        .iter()
        .fold(0_u32, |sum, cell| sum.saturating_add(cell.least()));
    let most = cells
        .iter()
        .fold(0_u32, |sum, cell| sum.saturating_add(cell.most()));
    let range = if least == most {
        least.to_string()
    } else {
        format!("{least} to {most}")
    };
    match given {
        None if least == most => Some(least),
        None => {
            // Ranges without a sum: shown at the first cell that has one.
            let place = cells
                .iter()
                .find(|cell| cell.least() != cell.most())
                .map(|cell| cell.place.clone());
            walk.note(
                Fault::new(
                    "no-length",
                    place,
                    "cells ask for a range, and how many questions a form has is not said",
                )
                .allowed(format!("\"questions:\" with a number, {range}"))
                .hint("add \"questions:\" beside \"cells:\""),
            );
            None
        }
        Some(given) if (least..=most).contains(&given) => Some(given),
        Some(given) => {
            let place = tree.map(|tree| walk.place(&tree.bytes));
            walk.note(
                Fault::new(
                    "length-and-cells",
                    place,
                    format!("a form has {given} questions, and the cells ask for {range}"),
                )
                .allowed(range)
                .hint("change the number, or what the cells ask for"),
            );
            None
        }
    }
}

/// The cells with their numbers, and whether all of them could be read.
fn quotas<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> (Vec<CellQuota>, bool) {
    let mut quotas = Vec::new();
    let mut sound = true;
    for field in walk.named(tree, "the cells with their numbers") {
        let place = walk.place(&field.bytes);
        let Some(cell) = walk.name_id::<CellId>(field) else {
            sound = false;
            continue;
        };
        let wanted = match &field.tree.value {
            Value::Fields(_) => by_level(walk, &field.tree),
            Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) | Value::List(_) => {
                how_many(walk, &field.tree).map(Wanted::AnyLevel)
            }
        };
        match wanted {
            Some(wanted) => quotas.push(CellQuota {
                cell,
                place,
                wanted,
            }),
            None => sound = false,
        }
    }
    (quotas, sound)
}

/// A number of questions, or a range as `4 to 6`.
fn how_many<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<HowMany> {
    let Value::Text(text) = &tree.value else {
        return walk.whole(tree, 0..=200).map(HowMany::exactly);
    };
    walk.of_form(
        tree,
        "^[0-9]{1,3} to [0-9]{1,3}$",
        "a range of questions as 4 to 6",
    );
    let bound = |text: &str| {
        let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        let number: Option<u32> = text.parse().ok().filter(|_| digits);
        number.filter(|number| *number <= 200)
    };
    let place = walk.place(&tree.bytes);
    let bounds = text
        .split_once(" to ")
        .and_then(|(least, most)| Some((bound(least)?, bound(most)?)));
    let Some((least, most)) = bounds else {
        let what = format!(
            "\"{}\" is no number of questions",
            base::walk::shortened(text)
        );
        walk.note(
            Fault::new("bad-range", place, what)
                .allowed("a whole number from 0 to 200, or a range as 4 to 6"),
        );
        return None;
    };
    let range = HowMany::between(least, most);
    if range.is_none() {
        walk.note(
            Fault::new(
                "contradictory-bounds",
                place,
                format!("at least {least} and at most {most} cannot both be kept"),
            )
            .allowed("the smaller number first")
            .hint(format!("did you mean \"{most} to {least}\"?")),
        );
    }
    range
}

fn by_level<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Wanted> {
    let mut fields = walk.fields(tree, "the numbers of a cell by level")?;
    let mut numbers = BTreeMap::new();
    let mut sound = true;
    for level in Level::ALL {
        if let Some(tree) = fields.optional(level.word()) {
            match how_many(walk, tree) {
                Some(number) => drop(numbers.insert(level, number)),
                None => sound = false,
            }
        }
    }
    fields.finish(walk);
    sound.then_some(Wanted::ByLevel(numbers))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use crate::plan::{Draw, HowMany, Plan, UsedLately, UsedOften, Wanted};
    use base::{Checked, SourceText};

    fn read(theory: &str) -> Checked<Plan> {
        let text = format!("title: Evening\ndate: 2027-03-18\nbank: ../bank\ntheory:\n{theory}");
        crate::read::read_plan(&SourceText::new("plan.yaml", &text))
    }
    fn told(theory: &str) -> Vec<String> {
        let faults = read(theory).faults;
        let one = |fault: &base::Fault| {
            let line = fault.place.as_ref().map_or(0, |place| place.line);
            format!("{}:{line}", fault.rule)
        };
        faults.iter().map(one).collect()
    }

    #[test]
    fn cells_may_ask_for_a_range() {
        let plan = read(
            "  questions: 12\n  cells:\n    law: 4 to 6\n    cask: { recall: 2, application: 1 to 3 }\n    care: 3\n",
        );
        let theory = plan.value.unwrap().theory.unwrap();
        assert_eq!(theory.counted(), 12);
        assert!(!theory.cells_are_exact());
        assert_eq!(
            theory.cells[0].wanted,
            Wanted::AnyLevel(HowMany::between(4, 6).unwrap())
        );
        assert_eq!((theory.cells[1].least(), theory.cells[1].most()), (3, 5));
        assert_eq!(theory.minutes, 18);
    }

    #[test]
    fn ranges_that_cannot_be_meant_are_told_with_their_lines() {
        assert_eq!(
            told("  cells:\n    law: 4 to 6\n    care: 3\n"),
            ["no-length:6"]
        );
        assert_eq!(
            told("  cells:\n    law: 6 to 4\n"),
            ["contradictory-bounds:6"]
        );
        for bad in ["4 - 6", "four to 6", "4 to", "4 to 201", "+4 to 6"] {
            assert_eq!(
                told(&format!("  questions: 4\n  cells:\n    law: {bad}\n")),
                ["bad-range:7"],
                "{bad}"
            );
        }
        assert_eq!(
            told("  questions: 9\n  cells:\n    law: 4 to 6\n"),
            ["length-and-cells:5"]
        );
        assert_eq!(
            told("  questions: 5\n  cells:\n    law: 4\n"),
            ["length-and-cells:5"]
        );
        assert_eq!(
            told("  cells:\n    law: 3\n    law: 4\n"),
            ["not-yaml:7"],
            "a cell named twice"
        );
    }

    #[test]
    fn rules_of_a_draw_are_read() {
        let plan = read(
            "  cells: { law: 4 }\n  draw:\n    way: by-lot\n    pictures: 2\n    drawn_numbers: 3\n    translated: [de, fr]\n    links: [old-one]\n    used_often: { sittings: 3, at_most: 2 }\n    used_lately: [{ since: 2026-01-01, at_most: 4 }, { since: 2027-01-01, at_most: 0 }]\n",
        );
        let theory = plan.value.unwrap().theory.unwrap();
        assert_eq!(theory.uncounted(), 1);
        assert!(matches!(&theory.draw, Draw::ByLotWithin(_)));
        let rules = theory.draw.rules().unwrap();
        assert_eq!((rules.pictures, rules.drawn_numbers), (Some(2), Some(3)));
        assert_eq!(rules.translated, ["de", "fr"]);
        assert_eq!(
            rules.used_often,
            Some(UsedOften {
                sittings: 3,
                at_most: 2
            })
        );
        assert_eq!(
            rules.used_lately[1],
            UsedLately {
                since: "2027-01-01".to_owned(),
                at_most: 0
            }
        );
        let near = read(
            "  cells: { law: 4 }\n  draw: { used_lately: { since: 2026-01-01, at_most: 4 } }\n",
        );
        let near = near.value.unwrap().theory.unwrap().draw;
        assert!(matches!(&near, Draw::NearBest(rules) if rules.used_lately.len() == 1));
    }

    #[test]
    fn rules_that_cannot_be_meant_are_told() {
        let draw = |rules: &str| told(&format!("  cells: {{ law: 4 }}\n  draw: {{ {rules} }}\n"));
        assert_eq!(
            draw("way: by-lot, target: [{ ability: 0, information: 5 }]"),
            ["idle-target:6"]
        );
        assert_eq!(draw("anchors: [a], links: [b, a]"), ["doubled-anchor:6"]);
        assert_eq!(
            draw("used_often: { sittings: 0, at_most: 1 }"),
            ["out-of-range:6"]
        );
        assert_eq!(draw("way: lottery"), ["unknown-word:6"]);
    }
}
