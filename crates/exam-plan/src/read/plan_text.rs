//! Reads a plan. What has a sensible default may be left out.

use std::str::FromStr;

use base::tree::{Tree, Value, read_tree};
use base::walk::{Fields, Walk};
use base::{Checked, Fault, SourceText};

use super::asked_text::{default_questions, read_questions};
use super::flight_rules_text::read_rules;
use super::pass_text::{default_pass, read_pass};
use super::theory_text::read_theory;
use crate::personal_data::{IdentityKept, PersonalData};
use crate::plan::{
    CodeSharing, Draw, Join, Paper, PassRule, Plan, Pour, ServingStrength, TastingPart, TheoryPart,
};
use crate::result_rules::ResultRules;

/// The default share of the key's weight a descriptor needs to be required.
const DEFAULT_THRESHOLD: f64 = 0.25;
/// The default pour, ml: common practice is 15 to 30, 20 to 25 in a covered nosing glass.
const DEFAULT_POUR: f64 = 20.0;
/// Minutes for a glass, where the plan gives none.
const MINUTES_A_GLASS: u32 = 12;

/// Reads a plan and checks everything that can be checked without the bank.
#[must_use]
pub fn read_plan(source: &SourceText) -> Checked<Plan> {
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => return Checked::new(None, vec![*fault]),
    };
    let mut walk = Walk::new(source);
    let plan = plan(&mut walk, &tree);
    Checked::new(plan, walk.finish())
}

/// Reads what stands in the text.
pub(super) fn plan<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Plan> {
    let mut fields = walk.fields(tree, "a plan")?;
    let title = fields.required(walk, "title").and_then(|t| walk.text(t));
    let school = fields.optional("school").and_then(|t| walk.text(t));
    let date = fields.required(walk, "date").and_then(|t| date(walk, t));
    let start = fields.optional("start").and_then(|t| time(walk, t));
    let bank = fields.required(walk, "bank").and_then(|t| walk.text(t));
    let language = fields.optional("language").and_then(|t| walk.text(t));
    let paper = fields.optional("paper").map_or(Some(Paper::A4), |t| {
        walk.choice(t, &[("a4", Paper::A4), ("letter", Paper::Letter)])
    });
    let theory = fields.optional("theory").map(|t| read_theory(walk, t));
    let tasting = fields.optional("tasting").map(|t| tasting(walk, t));
    if theory.is_none() && tasting.is_none() {
        let place = walk.place(&fields.start());
        walk.note(
            Fault::new(
                "no-part",
                place,
                "this plan has neither a theory nor a tasting part",
            )
            .hint("add \"theory:\" or \"tasting:\""),
        );
    }
    let parts = (theory.is_some(), tasting.is_some());
    let pass = match fields.optional("pass") {
        Some(tree) => read_pass(walk, tree, parts),
        None => Some((default_pass(), ResultRules::default())),
    };
    let personal_data = personal_data(walk, &mut fields);
    fields.finish(walk);
    let (pass, results) = pass.unzip();
    let theory = theory.map(|part| part.map(|part| with_cut(part, pass.as_ref())));
    Some(Plan {
        title: title?,
        school,
        date: date?,
        start,
        bank: bank?,
        language,
        paper: paper?,
        theory: match theory {
            Some(part) => Some(part?),
            None => None,
        },
        tasting: match tasting {
            Some(part) => Some(part?),
            None => None,
        },
        pass: pass?,
        results: results?,
        personal_data: personal_data?,
    })
}

/// Where it is kept who is behind a number, and for how many months.
fn personal_data<'t>(walk: &mut Walk<'t>, fields: &mut Fields<'t>) -> Option<PersonalData> {
    let identity = match fields.optional("identity") {
        Some(tree) => walk.choice(tree, &IdentityKept::WORDS),
        None => Some(IdentityKept::default()),
    };
    let months = fields.optional("retention").map(|tree| {
        let mut fields = walk.fields(tree, "a time for which personal data is kept")?;
        let months = fields.required(walk, "months");
        fields.finish(walk);
        walk.whole(months?, 1..=1200)
    });
    Some(PersonalData {
        identity: identity?,
        months: match months {
            Some(months) => Some(months?),
            None => None,
        },
    })
}

/// A draw within rules aims at the cut, which stands elsewhere in the plan.
fn with_cut(mut part: TheoryPart, pass: Option<&PassRule>) -> TheoryPart {
    if let (Draw::NearBest(near) | Draw::ByLotWithin(near), Some(pass)) = (&mut part.draw, pass) {
        near.cut = match pass.join {
            Join::Conjunctive { theory, .. } => theory,
            Join::Compensatory { total, .. } => total,
        };
    }
    part
}

/// A real calendar day, `YYYY-MM-DD`.
pub(super) fn date<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<String> {
    walk.of_form(
        tree,
        "^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$",
        "a calendar day as YYYY-MM-DD",
    );
    let text = walk.text(tree)?;
    let sound = text.len() == 10 && jiff::civil::Date::from_str(&text).is_ok();
    if !sound {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new(
                "bad-date",
                place,
                format!("\"{}\" is no day", base::walk::shortened(&text)),
            )
            .allowed("a calendar day as YYYY-MM-DD"),
        );
    }
    sound.then_some(text)
}

/// A time of day, `HH:MM`.
pub(super) fn time<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<String> {
    walk.of_form(
        tree,
        "^([01][0-9]|2[0-3]):[0-5][0-9]$",
        "a time as \"HH:MM\", in double quotes",
    );
    let text = walk.text(tree)?;
    let sound = text.len() == 5 && jiff::civil::Time::from_str(&text).is_ok();
    if !sound {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new(
                "bad-time",
                place,
                format!("\"{}\" is no time of day", base::walk::shortened(&text)),
            )
            .allowed("a time as \"HH:MM\", from 00:00 to 23:59, in double quotes"),
        );
    }
    sound.then_some(text)
}

fn tasting<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<TastingPart> {
    let mut fields = walk.fields(tree, "a tasting part")?;
    let minutes = fields.optional("minutes").map(|t| walk.whole(t, 1..=600));
    let warm_up = fields.optional("warm_up").map(|t| {
        let place = walk.place(&t.bytes);
        walk.id::<base::SampleId>(t).map(|id| (id, place))
    });
    let samples = fields.required(walk, "samples").map(|t| flight(walk, t));
    let ask = fields
        .optional("ask")
        .map_or_else(|| Some(default_questions()), |t| read_questions(walk, t));
    let pour = fields
        .optional("pour")
        .map_or(Some(usual_pour()), |t| pour(walk, t));
    let codes = fields
        .optional("codes")
        .map_or(Some(CodeSharing::Room), |t| {
            walk.choice(
                t,
                &[
                    ("room", CodeSharing::Room),
                    ("table", CodeSharing::Table),
                    ("candidate", CodeSharing::Candidate),
                ],
            )
        });
    let check_digit = fields
        .optional("check_digit")
        .map_or(Some(false), |t| walk.truth(t));
    let threshold = fields
        .optional("threshold")
        .map_or(Some(DEFAULT_THRESHOLD), |t| walk.number(t, 0.05..=0.9, ""));
    let less_chance = fields
        .optional("less_chance")
        .map_or(Some(false), |t| walk.truth(t));
    let rules = read_rules(walk, &mut fields);
    fields.finish(walk);
    let samples = samples?;
    let glasses = u32::try_from(samples.len()).unwrap_or(u32::MAX);
    Some(TastingPart {
        minutes: match minutes {
            Some(minutes) => minutes?,
            None => glasses.saturating_mul(MINUTES_A_GLASS),
        },
        warm_up: match warm_up {
            Some(named) => Some(named?),
            None => None,
        },
        samples,
        ask: ask?,
        pour: pour?,
        codes: codes?,
        check_digit: check_digit?,
        threshold: threshold?,
        less_chance: less_chance?,
        rules: rules?,
    })
}

pub(super) fn flight<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
) -> Vec<(base::SampleId, base::Place)> {
    let mut samples: Vec<(base::SampleId, base::Place)> = Vec::new();
    let items = walk.list(tree, "the samples of the flight");
    if items.is_empty() || items.len() > 12 {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new(
                "flight-size",
                place,
                format!("a flight of {} samples cannot be served", items.len()),
            )
            .allowed("1 to 12 samples; about 6 to 8 are tasted in a session (common practice)"),
        );
    }
    for item in items {
        let Some(id) = walk.id::<base::SampleId>(item) else {
            continue;
        };
        let place = walk.place(&item.bytes);
        if samples.iter().any(|(other, _)| *other == id) {
            walk.note(
                Fault::new(
                    "doubled-sample",
                    place,
                    format!("the sample \"{id}\" stands twice in the flight"),
                )
                .hint("a replicate is served by naming a record of its own"),
            );
        } else {
            samples.push((id, place));
        }
    }
    samples
}

/// What is poured where a text does not say it.
pub(super) const fn usual_pour() -> Pour {
    Pour {
        volume: DEFAULT_POUR,
        strength: ServingStrength::AsBottled,
    }
}

pub(super) fn pour<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Pour> {
    let mut fields = walk.fields(tree, "a pour")?;
    let volume = fields
        .optional("volume")
        .map_or(Some(DEFAULT_POUR), |t| walk.number(t, 2.0..=60.0, "ml"));
    let strength =
        fields
            .optional("strength")
            .map_or(Some(ServingStrength::AsBottled), |t| match &t.value {
                Value::Text(_) => walk.choice(t, &[("bottle", ServingStrength::AsBottled)]),
                Value::Nothing
                | Value::Truth(_)
                | Value::Number
                | Value::List(_)
                | Value::Fields(_) => walk
                    .number(t, 5.0..=96.0, "% vol, or the word bottle")
                    .map(ServingStrength::Reduced),
            });
    fields.finish(walk);
    Some(Pour {
        volume: volume?,
        strength: strength?,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::plan::{AgeAnswer, Asked};

    fn read(text: &str) -> Checked<Plan> {
        read_plan(&SourceText::new("plan.yaml", text))
    }
    fn rules(text: &str) -> Vec<&'static str> {
        read(text).faults.iter().map(|fault| fault.rule).collect()
    }

    const SMALL: &str = "title: Evening\ndate: 2027-03-18\nbank: ../bank\n";

    #[test]
    fn what_has_a_default_need_not_be_written() {
        let text =
            format!("{SMALL}theory:\n  cells: {{ law: 20 }}\ntasting:\n  samples: [rum-1]\n");
        let plan = read(&text).value.unwrap();
        let theory = plan.theory.unwrap();
        assert_eq!(
            (theory.forms, theory.minutes, theory.counted()),
            (1, 30, 20)
        );
        let tasting = plan.tasting.unwrap();
        assert_eq!(tasting.minutes, 12);
        let asked: Vec<_> = tasting.ask.iter().map(|q| q.asked.name()).collect();
        assert_eq!(asked, ["aroma", "category", "region", "age"]);
        assert_eq!(
            plan.pass.join,
            Join::Conjunctive {
                theory: 600,
                tasting: 600
            }
        );
        assert!(!plan.pass.extra_may_turn_fail_into_pass);
    }

    #[test]
    fn what_is_written_is_read() {
        let text = format!(
            "{SMALL}start: \"19:00\"\npaper: letter\ntheory:\n  forms: 3\n  overlap: 4\n  cells:\n    law: {{ recall: 2, judgement: 1 }}\n\
             tasting:\n  samples: [a, b]\n  ask:\n    age: {{ marks: 2, as: range }}\n    producer: {{ marks: 0.5, from: [P, Q, R, S] }}\n  pour: {{ volume: 15, strength: 23 }}\n\
             pass: {{ rule: compensatory, total: 62.5, theory_weight: 40 }}\n"
        );
        let plan = read(&text).value.unwrap();
        assert_eq!(plan.theory.unwrap().counted(), 3);
        let tasting = plan.tasting.unwrap();
        assert_eq!(tasting.ask[0].asked, Asked::Age(AgeAnswer::Range));
        assert_eq!(tasting.ask[1].marks.to_string(), "0.5");
        assert_eq!(tasting.pour.strength, ServingStrength::Reduced(23.0));
        assert_eq!(
            (tasting.pour.served(46.0), tasting.pour.served(20.0)),
            (23.0, 20.0)
        );
        assert_eq!(
            plan.pass.join,
            Join::Compensatory {
                total: 625,
                theory_weight: 400
            }
        );
    }

    #[test]
    fn faults_are_named() {
        assert_eq!(rules(SMALL), ["no-part"]);
        let with = |rest: &str| rules(&format!("{SMALL}{rest}"));
        assert_eq!(with("theory: { cells: { law: 0 } }\n"), ["no-questions"]);
        assert_eq!(with("theory: { cells: { Law: 2, b: 1 } }\n"), ["bad-id"]);
        assert_eq!(with("tasting: { samples: [] }\n"), ["flight-size"]);
        assert_eq!(with("tasting: { samples: [a, a] }\n"), ["doubled-sample"]);
        assert_eq!(
            with("tasting: { samples: [a], ask: { smell: { marks: 1 } } }\n"),
            ["unknown-word"]
        );
        assert_eq!(
            with("tasting: { samples: [a], ask: { producer: { marks: 1, from: [P] } } }\n"),
            ["list-length"]
        );
        assert_eq!(
            with("tasting: { samples: [a], ask: { age: { marks: 1, bands: [3, 1] } } }\n"),
            ["bad-bands"]
        );
        assert_eq!(
            with("tasting: { samples: [a] }\npass: { theory: 60 }\n"),
            ["idle-cut"]
        );
        assert_eq!(
            with("tasting: { samples: [a], pour: { volume: 500 } }\n"),
            ["out-of-range"]
        );
        assert_eq!(
            with("start: \"25:00\"\ntasting: { samples: [a] }\n"),
            ["bad-time"]
        );
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_a_plan_or_faults(text in "[a-z:{}\\[\\]0-9 \n,\"-]{0,200}") {
            let checked = read(&text);
            proptest::prop_assert!(checked.value.is_some() || !checked.faults.is_empty());
        }
    }
}
