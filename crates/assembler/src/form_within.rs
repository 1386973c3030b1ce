//! Draws forms within rules: builds the program, searches, and has every form verified. Near the
//! best it looks for the forms that come nearest to their targets; by lot it is content with forms
//! that are level by the author's guess.
//!
//! Where the plan leaves the overlap open, the least that counting allows is tried first, then one
//! and two more, then any, so that forms share little here as in the draw by lot.

use base::{ExamSeed, Fault};
use exam_plan::plan::{NearBest, TheoryPart};
use question_bank::Bank;

use crate::form_build::{Built, Goal, build};
use crate::form_draw::{DrawnForm, DrawnForms};
use crate::form_explain::{Explanation, Reason, explain};
use crate::form_model::{SolvedForms, WHOLE};
use crate::form_pool::FormPool;
use crate::form_reach::targets_out_of_reach;
use crate::form_search::{Effort, search_forms};
use crate::form_verify::breaches;

/// Draws the forms of a theory part within rules.
///
/// # Errors
/// Clauses that contradict each other, and why no forms can be drawn.
pub(crate) fn draw_within(
    bank: &Bank,
    pool: &FormPool<'_>,
    theory: &TheoryPart,
    (near, goal): (&NearBest, Goal),
    forced: u64,
    seed: &ExamSeed,
) -> Result<DrawnForms, Vec<Fault>> {
    let mut last = None;
    for overlap in overlaps(theory, near, forced) {
        let built = build(bank, pool, theory, near, overlap, goal)?;
        if let Some(solved) = search_forms(&built.model, seed, &effort(&built, goal)) {
            return finish(bank, theory, near, &built, &solved);
        }
        last = Some(built);
    }
    let Some(built) = last else {
        return Err(vec![no_draw(
            pool,
            theory,
            "no form could be drawn".to_owned(),
        )]);
    };
    Err(vec![match explain(&built.model) {
        Reason::Impossible(why) => impossible(pool, theory, &why),
        Reason::Possible => no_draw(
            pool,
            theory,
            "forms exist that keep every clause, but the search found none; the clauses leave it \
             hardly any room"
                .to_owned(),
        ),
        Reason::Undecided => no_draw(
            pool,
            theory,
            "no forms were found that keep every clause, and whether any exist could not be decided"
                .to_owned(),
        ),
    }])
}

/// How much is tried: by lot, no more than levels the forms to within half a step of difficulty.
fn effort(built: &Built<'_>, goal: Goal) -> Effort {
    let usual = Effort::usual(&built.model);
    match goal {
        Goal::Targets => usual,
        Goal::Lot => Effort {
            enough: WHOLE / 2,
            ..usual
        },
    }
}

/// The overlaps to try, the smallest first.
fn overlaps(theory: &TheoryPart, near: &NearBest, forced: u64) -> Vec<Option<usize>> {
    let as_size = |number: u64| usize::try_from(number).unwrap_or(usize::MAX);
    if let Some(overlap) = theory.overlap {
        return vec![Some(as_size(u64::from(overlap)))];
    }
    if theory.forms < 2 {
        return vec![None];
    }
    let pairs = u64::from(theory.forms) * (u64::from(theory.forms) - 1) / 2;
    let least = as_size(forced.div_ceil(pairs)).max(near.anchors.len());
    vec![Some(least), Some(least + 1), Some(least + 2), None]
}

fn no_draw(pool: &FormPool<'_>, theory: &TheoryPart, what: String) -> Fault {
    let hint = if theory.overlap.is_some() {
        "write more questions, allow a larger overlap, or loosen the clauses of \"draw:\""
    } else {
        "write more questions, or loosen the clauses of \"draw:\""
    };
    Fault::new("no-draw", pool.place.clone(), what).hint(hint)
}

/// The fault of a plan that cannot be kept, with what would help.
pub(crate) fn impossible(pool: &FormPool<'_>, theory: &TheoryPart, why: &Explanation) -> Fault {
    let remedies: Vec<&str> = why
        .remedies
        .iter()
        .take(4)
        .map(|r| r.words.as_str())
        .collect();
    let fault = Fault::new(
        "no-draw",
        pool.place.clone(),
        format!(
            "no {} forms can be drawn that hold this together: {}",
            theory.forms, why.words
        ),
    );
    match remedies.as_slice() {
        [] => fault.hint("no single change was found that would be enough"),
        [only] => fault.hint(*only),
        [_, _, ..] => fault.hint(format!(
            "any one of these is enough: {}",
            remedies.join("; or ")
        )),
    }
}

fn finish(
    bank: &Bank,
    theory: &TheoryPart,
    near: &NearBest,
    built: &Built<'_>,
    solved: &SolvedForms,
) -> Result<DrawnForms, Vec<Fault>> {
    let id = |&item: &usize| {
        built
            .questions
            .get(item)
            .map(|question| question.id.clone())
    };
    let forms: Vec<DrawnForm> = solved
        .forms
        .iter()
        .map(|form| {
            let counts = |item: &&usize| **item < built.first_pretest;
            let links = near.links.iter().map(|(link, _)| link.clone());
            DrawnForm {
                counted: form.iter().filter(counts).filter_map(id).collect(),
                pretest: form
                    .iter()
                    .filter(|i| !counts(i))
                    .filter_map(id)
                    .chain(links)
                    .collect(),
            }
        })
        .collect();
    let broken = breaches(bank, theory, near, &forms);
    if !broken.is_empty() {
        return Err(vec![Fault::new(
            "unsound-draw",
            None,
            format!(
                "a mistake of this program: the drawn forms do not keep the plan: {}",
                broken.join("; ")
            ),
        )]);
    }
    let marks: Vec<i64> = forms
        .iter()
        .map(|form| {
            let known = form.counted.iter().filter_map(|id| bank.questions.get(id));
            known.map(|question| question.marks.thousandths()).sum()
        })
        .collect();
    let mut shortfalls: Vec<String> = targets_out_of_reach(bank, theory)
        .into_iter()
        .map(|fault| format!("{}.", fault.what))
        .collect();
    if let (Some(&least), Some(&most)) = (marks.iter().min(), marks.iter().max())
        && least != most
    {
        shortfalls.push(format!(
            "The forms have different maximum marks, from {} to {}: the cells hold questions with \
             different marks.",
            base::Marks::from_thousandths(least),
            base::Marks::from_thousandths(most)
        ));
    }
    Ok(DrawnForms { forms, shortfalls })
}
