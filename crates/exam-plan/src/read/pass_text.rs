//! Reads the pass rule of a plan and what it says of results beyond passing.

use base::tree::Tree;
use base::walk::{Fields, Walk};
use base::{Fault, Marks};

use crate::plan::{Join, PassRule};
use crate::result_rules::{GradeBand, ResitRule, ResultRules};

/// The default cut of each part and of the total, in thousandths.
const DEFAULT_CUT: u32 = 600;
/// The default weight of theory in a compensatory total, in thousandths.
const DEFAULT_THEORY_WEIGHT: u32 = 500;

/// The pass rule of a plan that has none.
pub(super) fn default_pass() -> PassRule {
    PassRule {
        join: Join::Conjunctive {
            theory: DEFAULT_CUT,
            tasting: DEFAULT_CUT,
        },
        extra_at_most: Marks::from_thousandths(2000),
        extra_may_turn_fail_into_pass: false,
    }
}

/// Reads the pass rule and what else is said of results; `parts`: whether the plan has a theory and
/// a tasting part.
pub(super) fn read_pass<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    parts: (bool, bool),
) -> Option<(PassRule, ResultRules)> {
    #[derive(Clone, Copy, PartialEq)]
    enum Rule {
        Conjunctive,
        Compensatory,
    }
    let mut fields = walk.fields(tree, "a pass rule")?;
    let rule = fields
        .optional("rule")
        .map_or(Some(Rule::Conjunctive), |t| {
            walk.choice(
                t,
                &[
                    ("conjunctive", Rule::Conjunctive),
                    ("compensatory", Rule::Compensatory),
                ],
            )
        });
    let theory = cut(walk, &mut fields, "theory", DEFAULT_CUT);
    let tasting = cut(walk, &mut fields, "tasting", DEFAULT_CUT);
    let total = cut(walk, &mut fields, "total", DEFAULT_CUT);
    let weight = cut(walk, &mut fields, "theory_weight", DEFAULT_THEORY_WEIGHT);
    for (name, unfit) in [
        ("theory", rule == Some(Rule::Compensatory) || !parts.0),
        ("tasting", rule == Some(Rule::Compensatory) || !parts.1),
        ("total", rule == Some(Rule::Conjunctive)),
        ("theory_weight", rule == Some(Rule::Conjunctive)),
    ] {
        if unfit && fields.optional(name).is_some() {
            let place = walk.place(&fields.name_bytes(name));
            walk.note(
                Fault::new("idle-cut", place, format!("\"{name}\" has no effect under this pass rule"))
                    .allowed("theory and tasting with rule: conjunctive (for the parts the plan has); total and theory_weight with rule: compensatory"),
            );
        }
    }
    let extra = fields.optional("extra_credit");
    let (mut at_most, mut turns) = (Some(Marks::from_thousandths(2000)), Some(false));
    if let Some(tree) = extra {
        let mut extra = walk.fields(tree, "the rule for extra credit")?;
        at_most = extra.optional("at_most").map_or(at_most, |t| walk.marks(t));
        turns = extra
            .optional("may_turn_fail_into_pass")
            .map_or(turns, |t| walk.truth(t));
        extra.finish(walk);
    }
    let results = result_rules(walk, &mut fields, parts);
    fields.finish(walk);
    let join = match rule? {
        Rule::Conjunctive => Join::Conjunctive {
            theory: theory?,
            tasting: tasting?,
        },
        Rule::Compensatory => Join::Compensatory {
            total: total?,
            theory_weight: weight?,
        },
    };
    let pass = PassRule {
        join,
        extra_at_most: at_most?,
        extra_may_turn_fail_into_pass: turns?,
    };
    Some((pass, results?))
}

/// Grades, the band of review, brought parts, the cut for nosing.
fn result_rules<'t>(
    walk: &mut Walk<'t>,
    fields: &mut Fields<'t>,
    parts: (bool, bool),
) -> Option<ResultRules> {
    let grades = fields
        .optional("grades")
        .map_or(Some(Vec::new()), |t| grades(walk, t));
    let review = fields.optional("review").map(|t| {
        walk.number(t, 0.1..=3.0, "standard errors")
            // At most 3000 after the bounds above.
            .map(|errors| (errors * 1000.0).round() as u32)
    });
    let resit = fields
        .optional("resit")
        .map_or(Some(ResitRule::default()), |t| resit(walk, t, parts));
    let nosing = fields
        .optional("nosing")
        .map(|t| (per_cent(walk, t), walk.place(&t.bytes)));
    let nosing = match nosing {
        Some((_, place)) if !parts.1 => {
            walk.note(
                Fault::new(
                    "idle-nosing",
                    place,
                    "a cut for nosing, and the plan has no glasses",
                )
                .hint("take \"nosing\" out, or add \"tasting:\""),
            );
            None
        }
        Some((cut, _)) => Some(cut?),
        None => None,
    };
    Some(ResultRules {
        grades: grades?,
        review: match review {
            Some(errors) => Some(errors?),
            None => None,
        },
        resit: resit?,
        nosing,
    })
}

/// Grades with their lowest shares, the highest first.
fn grades<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Vec<GradeBand>> {
    let mut bands: Vec<GradeBand> = Vec::new();
    for field in walk.named(tree, "the grades with their lowest shares") {
        let from = per_cent(walk, &field.tree)?;
        let name = field.name.trim().to_owned();
        let place = walk.place(&field.bytes);
        if name.is_empty() || name.chars().count() > 40 {
            walk.note(
                Fault::new("bad-grade", place.clone(), "this is no name of a grade")
                    .allowed("1 to 40 letters"),
            );
        }
        if let Some(before) = bands.last()
            && before.from <= from
        {
            walk.note(
                Fault::new(
                    "grades-order",
                    place,
                    format!("\"{name}\" does not lie below \"{}\"", before.name),
                )
                .allowed("the highest grade first, each lower than the one before"),
            );
        }
        bands.push(GradeBand { name, from });
    }
    Some(bands)
}

/// How many months a passed part lasts.
fn resit<'t>(walk: &mut Walk<'t>, tree: &'t Tree, parts: (bool, bool)) -> Option<ResitRule> {
    let mut fields = walk.fields(tree, "the rule for parts brought along")?;
    let mut months = |walk: &mut Walk<'t>, name| {
        fields
            .optional(name)
            .map_or(Some(None), |t| walk.whole(t, 1..=240).map(Some))
    };
    let (theory, tasting) = (months(walk, "theory"), months(walk, "tasting"));
    fields.finish(walk);
    if parts != (true, true) {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new(
                "idle-resit",
                place,
                "a plan with one part has none that could be brought along",
            )
            .hint("take \"resit\" out"),
        );
    }
    Some(ResitRule {
        theory: theory?,
        tasting: tasting?,
    })
}

/// A percentage with at most one decimal place, in thousandths.
fn cut<'t>(
    walk: &mut Walk<'t>,
    fields: &mut Fields<'t>,
    name: &'static str,
    default: u32,
) -> Option<u32> {
    match fields.optional(name) {
        Some(tree) => per_cent(walk, tree),
        None => Some(default),
    }
}

fn per_cent<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<u32> {
    let percent = walk.number(tree, 0.0..=100.0, "per cent")?;
    // At most 1000 after the bounds above.
    Some((percent * 10.0).round() as u32)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use base::SourceText;

    use super::*;
    use crate::read::read_plan;
    use crate::roster::TastingWay;

    const BOTH: &str = "title: T\ndate: 2027-03-18\nbank: ../bank\ntheory: { cells: { law: 20 } }\ntasting: { samples: [a] }\n";

    fn rules(rest: &str) -> Vec<&'static str> {
        let text = format!("{BOTH}pass: {rest}\n");
        let read = read_plan(&SourceText::new("plan.yaml", &text));
        read.faults.iter().map(|fault| fault.rule).collect()
    }

    #[test]
    fn what_is_said_of_results_is_read() {
        let text = format!(
            "{BOTH}pass: {{ theory: 60, tasting: 50, grades: {{ with distinction: 85, with merit: 72.5 }}, review: 1.5, resit: {{ theory: 24 }}, nosing: 45 }}\n"
        );
        let read = read_plan(&SourceText::new("plan.yaml", &text));
        assert!(read.faults.is_empty(), "{:?}", read.faults);
        let plan = read.value.unwrap();
        let bands: Vec<_> = plan
            .results
            .grades
            .iter()
            .map(|grade| (grade.name.as_str(), grade.from))
            .collect();
        assert_eq!(bands, [("with distinction", 850), ("with merit", 725)]);
        assert_eq!(plan.results.review, Some(1500));
        assert_eq!(
            (plan.results.resit.theory, plan.results.resit.tasting),
            (Some(24), None)
        );
        assert_eq!(plan.pass_rule(TastingWay::Full), plan.pass);
        assert_eq!(
            plan.pass_rule(TastingWay::NosingOnly).join,
            Join::Conjunctive {
                theory: 600,
                tasting: 450
            }
        );
    }

    #[test]
    fn slips_in_what_is_said_of_results_are_named() {
        assert_eq!(rules("{ grades: { a: 70, b: 80 } }"), ["grades-order"]);
        assert_eq!(rules("{ grades: { a: 170 } }"), ["out-of-range"]);
        assert_eq!(rules("{ review: 9 }"), ["out-of-range"]);
        assert_eq!(rules("{ resit: { theory: 0 } }"), ["out-of-range"]);
        assert_eq!(rules("{ resit: { smell: 3 } }"), ["unknown-key"]);
        let one = "title: T\ndate: 2027-03-18\nbank: b\ntheory: { cells: { law: 2 } }\npass: { nosing: 45, resit: { theory: 3 } }\n";
        let found = read_plan(&SourceText::new("plan.yaml", one)).faults;
        let mut found: Vec<_> = found.iter().map(|fault| fault.rule).collect();
        found.sort_unstable();
        assert_eq!(found, ["idle-nosing", "idle-resit"]);
    }
}
