//! Whether any form can come up to the information that a plan wants.
//!
//! The best form by itself is found exactly: of each line of the blueprint the questions with most
//! information, as many as it must have, and then the best of what lines have room for, up to the
//! length of a form. Enemies, sums and sets are left out, so that what is out of reach here is out
//! of reach for every form.

use base::Fault;
use exam_plan::plan::{InformationTarget, TheoryPart};
use question_bank::Bank;

use crate::form_build::curve_of;
use crate::form_pool::FormPool;

/// A weakness for each target that no form of this bank reaches: forms come as near as they can.
#[must_use]
pub fn targets_out_of_reach(bank: &Bank, theory: &TheoryPart) -> Vec<Fault> {
    let Some(rules) = theory.draw.rules().filter(|rules| !rules.target.is_empty()) else {
        return Vec::new();
    };
    let pool = FormPool::new(bank, theory);
    let out_of_reach = |target: &InformationTarget| {
        let best = most_information(bank, &pool, theory, target.ability);
        // A last digit of arithmetic is no reason to complain.
        (best < target.information * (1.0 - 1e-9)).then(|| {
            let what = format!(
                "information {} at ability {} is out of reach: the best form that this bank can \
                 fill comes to {best:.2}",
                target.information, target.ability
            );
            Fault::weakness("target-out-of-reach", target.place.clone(), what)
                .allowed(format!("at most {:.2}", (best * 100.0).floor() / 100.0))
                .hint(
                    "aim lower, ask more questions, or write some that tell people near this \
                     ability apart",
                )
        })
    };
    rules.target.iter().filter_map(out_of_reach).collect()
}

/// The most information that a form can have at an ability.
fn most_information(bank: &Bank, pool: &FormPool<'_>, theory: &TheoryPart, ability: f64) -> f64 {
    let counted = usize::try_from(theory.counted()).unwrap_or(usize::MAX);
    let (mut sum, mut taken) = (0.0, 0);
    let mut further = Vec::new();
    for line in &pool.lines {
        let mut values: Vec<f64> = line
            .usable
            .iter()
            .filter_map(|&number| pool.questions.get(number))
            .map(|question| curve_of(bank, question).information_at(ability))
            .collect();
        values.sort_by(|one, other| other.total_cmp(one));
        let least = line.wanted.min(values.len());
        let most = line.most.min(values.len());
        sum += values.iter().take(least).sum::<f64>();
        taken += least;
        further.extend(values.get(least..most).into_iter().flatten().copied());
    }
    further.sort_by(|one, other| other.total_cmp(one));
    sum + further
        .iter()
        .take(counted.saturating_sub(taken))
        .sum::<f64>()
}
