//! How many questions each line of the blueprint needs for so many forms, counted before drawing.
//!
//! A line with `v` usable questions that wants `k` on each of `N` forms uses them `N k` times. A
//! question on `r` forms is common to `r (r - 1) / 2` pairs of forms; the sum over all pairs is
//! least when all are used as evenly as enemies allow. Forms may share `N (N - 1) / 2` times the
//! plan's overlap in all. Where the least sum over all lines is above that, the fewest questions to
//! be written are found by adding each where it lowers the sum most, which is exact because the sum
//! is convex in `v`. For two and three forms without enemies the count is also sufficient for one
//! line (checked by trying everything); beyond that it is necessary, and the draw decides.
//!
//! Enemies: a group of questions linked by enmity can stand on one form only as often as its
//! largest part without enemies, found exactly by branching for groups of up to
//! [`LARGEST_EXACT_GROUP`] questions and by a greedy count from above otherwise.

use std::cmp::Reverse;

use base::Fault;
use exam_plan::plan::TheoryPart;
use question_bank::Bank;

use crate::form_pool::{BlueprintLine, FormPool};

/// Groups of enemies up to this size are counted exactly.
pub(crate) const LARGEST_EXACT_GROUP: usize = 24;

/// A group of questions linked by enmity: how many there are, how many fit on one form.
struct EnemyGroup {
    size: usize,
    fit: usize,
}

/// What is known of one line.
struct LineNeed {
    wanted: usize,
    groups: Vec<EnemyGroup>,
    /// Questions to be written, without enemies.
    written: usize,
}

impl LineNeed {
    /// How many fit on one form.
    fn fit(&self) -> usize {
        self.groups.iter().map(|group| group.fit).sum::<usize>() + self.written
    }

    /// The least number of (pair of forms, question) with the question on both, when the line is
    /// filled on all forms. Questions are used once each, then a second time, and so on, within what
    /// enemies allow.
    fn forced(&self, forms: usize) -> u64 {
        let mut left = self.wanted.saturating_mul(forms);
        let mut room: Vec<usize> = self.groups.iter().map(|g| g.fit * forms).collect();
        let mut forced = 0_u64;
        for used_before in 0..forms {
            let mut uses = self.written.min(left);
            for (group, room) in self.groups.iter().zip(&mut room) {
                let more = group.size.min(*room).min(left - uses);
                *room -= more;
                uses += more;
            }
            left -= uses;
            forced += (used_before as u64) * (uses as u64);
        }
        forced
    }
}

/// What a bank lacks for the theory part of a plan, without drawing: all short lines of the
/// blueprint and too few pretest questions. Nothing found does not yet mean that a draw exists.
#[must_use]
pub fn forms_lack(bank: &Bank, theory: &TheoryPart) -> Vec<Fault> {
    form_need(&FormPool::new(bank, theory), theory).faults
}

/// What the count says.
pub(crate) struct FormNeed {
    /// One fault for each line that is short, and one for pretest questions.
    pub(crate) faults: Vec<Fault>,
    /// The least sum of questions common to two forms, over all pairs.
    pub(crate) forced: u64,
}

/// Counts what each line needs.
pub(crate) fn form_need(pool: &FormPool<'_>, theory: &TheoryPart) -> FormNeed {
    let forms = usize::try_from(theory.forms).unwrap_or(usize::MAX).max(1);
    let pairs = (forms as u64) * (forms as u64 - 1) / 2;
    let mut needs: Vec<LineNeed> = pool
        .lines
        .iter()
        .map(|line| LineNeed {
            wanted: line.wanted,
            groups: enemy_groups(pool, &line.usable),
            written: 0,
        })
        .collect();
    let mut fills = true;
    for need in &mut needs {
        let short = need.wanted.saturating_sub(need.fit());
        need.written = short;
        fills &= short == 0;
    }
    let forced_now: u64 = needs.iter().map(|need| need.forced(forms)).sum();
    let least_overlap = forced_now.div_ceil(pairs.max(1));
    if let Some(overlap) = theory.overlap {
        let allowed = pairs.saturating_mul(u64::from(overlap));
        let mut forced = forced_now;
        while forced > allowed {
            let best = needs
                .iter_mut()
                .map(|need| {
                    let before = need.forced(forms);
                    need.written += 1;
                    let gain = before - need.forced(forms);
                    need.written -= 1;
                    (gain, need)
                })
                // Of those that lower it most, the line with least to choose from.
                .max_by_key(|(gain, need)| (*gain, Reverse(need.fit())));
            match best {
                Some((gain, need)) if gain > 0 => {
                    need.written += 1;
                    forced -= gain;
                }
                Some(_) | None => break,
            }
        }
    }
    let mut faults: Vec<Fault> = pool
        .lines
        .iter()
        .zip(&needs)
        .filter(|(_, need)| need.written > 0)
        .map(|(line, need)| short_line(line, need, theory, fills.then_some(least_overlap)))
        .collect();
    faults.extend(short_of_pretest(pool, theory));
    FormNeed {
        faults,
        forced: forced_now,
    }
}

/// The fault of one short line.
fn short_line(
    line: &BlueprintLine<'_>,
    need: &LineNeed,
    theory: &TheoryPart,
    least_overlap: Option<u64>,
) -> Fault {
    let usable = line.usable.len();
    let on_each = match (theory.forms, theory.overlap) {
        (0 | 1, _) => String::new(),
        (forms, None) => format!(" on each of {forms} forms"),
        (forms, Some(overlap)) => format!(
            " on each of {forms} forms with at most {overlap} questions common to two of them"
        ),
    };
    let mut what = format!(
        "{}: {} wanted{on_each}: {} needed, the bank has {usable} usable",
        line.words(),
        line.asks,
        usable + need.written,
    );
    let fit: usize = need.groups.iter().map(|group| group.fit).sum();
    if fit < usable {
        what.push_str(&format!(", of which enemies let {fit} stand on one form"));
    }
    if !line.unusable.is_empty() {
        let others: Vec<String> = line
            .unusable
            .iter()
            .map(|(reason, number)| format!("{number} {reason}"))
            .collect();
        what.push_str(&format!(" (and {})", others.join(", ")));
    }
    let hint = match least_overlap {
        Some(overlap) => format!(
            "write {} more, or allow an overlap of {overlap}",
            need.written
        ),
        None => format!("write {} more", need.written),
    };
    Fault::new("cell-too-small", line.quota.place.clone(), what).hint(hint)
}

/// The fault of too few pretest questions.
fn short_of_pretest(pool: &FormPool<'_>, theory: &TheoryPart) -> Option<Fault> {
    let (wanted, have) = (theory.pretest, pool.pretest.len());
    let lacking = usize::try_from(wanted)
        .unwrap_or(usize::MAX)
        .checked_sub(have)?;
    (lacking > 0).then(|| {
        let what = format!(
            "{wanted} pretest questions wanted on each form: the bank has {have} in the cells of \
             the plan"
        );
        let hint =
            format!("bring {lacking} more to the state pretest, or lower the number in the plan");
        Fault::new("too-few-pretest-questions", pool.place.clone(), what).hint(hint)
    })
}

/// The groups of questions of one line that are linked by enmity; a question without enemies is a
/// group of its own.
fn enemy_groups(pool: &FormPool<'_>, usable: &[usize]) -> Vec<EnemyGroup> {
    let mut seen = vec![false; pool.questions.len()];
    let mut inside = vec![false; pool.questions.len()];
    for &question in usable {
        inside[question] = true;
    }
    let mut groups = Vec::new();
    for &first in usable {
        if seen[first] {
            continue;
        }
        seen[first] = true;
        let mut members = vec![first];
        let mut next = 0;
        while let Some(&member) = members.get(next) {
            next += 1;
            for &enemy in &pool.enemies[member] {
                if inside[enemy] && !seen[enemy] {
                    seen[enemy] = true;
                    members.push(enemy);
                }
            }
        }
        let fit = if members.len() == 1 {
            1
        } else if members.len() <= LARGEST_EXACT_GROUP {
            most_without_enemies(pool, &members)
        } else {
            // From above: a pair of enemies taken out together loses at least one.
            members.len() - disjoint_enemy_pairs(pool, &members)
        };
        groups.push(EnemyGroup {
            size: members.len(),
            fit,
        });
    }
    groups
}

/// The most questions of these that can stand together.
fn most_without_enemies(pool: &FormPool<'_>, left: &[usize]) -> usize {
    // The question with most enemies among those left either stands or it does not.
    let enemies_left = |question: usize| {
        let enemies = &pool.enemies[question];
        left.iter().filter(|other| enemies.contains(other)).count()
    };
    let Some((enemies, &question)) = left.iter().map(|q| (enemies_left(*q), q)).max() else {
        return 0;
    };
    if enemies == 0 {
        return left.len();
    }
    let without: Vec<usize> = left.iter().copied().filter(|&q| q != question).collect();
    let with: Vec<usize> = without
        .iter()
        .copied()
        .filter(|q| !pool.enemies[question].contains(q))
        .collect();
    (1 + most_without_enemies(pool, &with)).max(most_without_enemies(pool, &without))
}

/// How many pairs of enemies can be taken out of these, no question in two pairs.
fn disjoint_enemy_pairs(pool: &FormPool<'_>, members: &[usize]) -> usize {
    let mut left: Vec<usize> = members.to_vec();
    let mut pairs = 0;
    while let Some(question) = left.pop() {
        let enemy = left
            .iter()
            .position(|other| pool.enemies[question].contains(other));
        if let Some(place) = enemy {
            left.swap_remove(place);
            pairs += 1;
        }
    }
    pairs
}
