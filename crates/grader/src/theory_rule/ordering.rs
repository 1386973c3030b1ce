//! Ordering: how a partly right order is credited.
//!
//! Sources: Kendall 1938 (tau), Spearman 1904 (rho), Diaconis and Graham 1977 (Spearman's footrule);
//! the plain counts are common practice. Chance score: every order counted out (at most 7! = 5,040).

use base::Marks;
use question_bank::PrintedOrder;
use question_bank::question_kind::{Ordering, OrderingRule};

use super::TheoryRule;
use crate::printed_letters::read_letters;
use crate::reason::{Earned, OrderCount, Reason};
use crate::rules::{ANY_ORDER, PRACTICE, Rule, rule};
use crate::share::Share;
use crate::verdict::Verdict;

/// The lines in the list of rules.
pub(crate) const RULES: &[Rule] = &[
    rule("ordering tau", "ordering", "Kendall 1938", ANY_ORDER),
    rule("ordering tau_linear", "ordering", "Kendall 1938", ANY_ORDER),
    rule("ordering rho", "ordering", "Spearman 1904", ANY_ORDER),
    rule("ordering lis", "ordering", PRACTICE, ANY_ORDER),
    rule(
        "ordering footrule",
        "ordering",
        "Diaconis and Graham 1977",
        ANY_ORDER,
    ),
    rule("ordering positions", "ordering", PRACTICE, ANY_ORDER),
    rule("ordering adjacent_pairs", "ordering", PRACTICE, ANY_ORDER),
    rule("ordering all_or_nothing", "ordering", PRACTICE, ANY_ORDER),
];

impl TheoryRule for Ordering {
    fn verdict(&self, order: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
        mark(self, order, answer, of)
    }
    fn rule(&self) -> &'static str {
        rule_name(self.rule)
    }
    fn guesser(&self) -> f64 {
        chance_score(self)
    }
}

/// The rule's stable name.
#[must_use]
pub const fn rule_name(rule: OrderingRule) -> &'static str {
    match rule {
        OrderingRule::Tau => "ordering tau",
        OrderingRule::TauLinear => "ordering tau_linear",
        OrderingRule::Rho => "ordering rho",
        OrderingRule::Lis => "ordering lis",
        OrderingRule::Footrule => "ordering footrule",
        OrderingRule::Positions => "ordering positions",
        OrderingRule::AdjacentPairs => "ordering adjacent_pairs",
        OrderingRule::AllOrNothing => "ordering all_or_nothing",
    }
}

/// The credit of an order and what was counted for it. `ranks[i]` is the rank, from 1, that the
/// candidate gave to the step whose true rank is i + 1; a permutation of 1 … n.
#[must_use]
pub fn credit(rule: OrderingRule, ranks: &[usize]) -> (Share, OrderCount) {
    let n = ranks.len();
    let signed = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    match rule {
        OrderingRule::Tau => {
            let (concordant_less_discordant, pairs) = kendall_tau(ranks);
            let in_order = pairs_in_order(ranks);
            (
                Share::of_counts(concordant_less_discordant, pairs),
                OrderCount::PairsInOrder { in_order, pairs },
            )
        }
        OrderingRule::TauLinear => {
            let (_, pairs) = kendall_tau(ranks);
            let in_order = pairs_in_order(ranks);
            (
                Share::of_counts(signed(in_order), pairs),
                OrderCount::PairsInOrder { in_order, pairs },
            )
        }
        OrderingRule::Rho => {
            let (part, whole) = spearman_rho(ranks);
            (
                Share::of_counts(part, whole),
                OrderCount::SquaresMoved {
                    squares: squares_moved(ranks),
                    nothing_from: whole / 6,
                },
            )
        }
        OrderingRule::Lis => {
            let longest = longest_in_order(ranks);
            (
                Share::of_counts(signed(longest), n),
                OrderCount::LongestInOrder { longest, steps: n },
            )
        }
        OrderingRule::Footrule => {
            let moved: usize = ranks
                .iter()
                .enumerate()
                .map(|(i, rank)| rank.abs_diff(i + 1))
                .sum();
            let most = n * n / 2;
            (
                Share::of_counts(signed(most) - signed(moved), most),
                OrderCount::PlacesMoved { moved, most },
            )
        }
        OrderingRule::Positions => {
            let in_place = in_place(ranks);
            (
                Share::of_counts(signed(in_place), n),
                OrderCount::StepsInPlace { in_place, steps: n },
            )
        }
        OrderingRule::AdjacentPairs => {
            let kept = ranks
                .iter()
                .zip(ranks.iter().skip(1))
                .filter(|(rank, next)| *rank + 1 == **next)
                .count();
            let pairs = n.saturating_sub(1);
            (
                Share::of_counts(signed(kept), pairs),
                OrderCount::NeighboursKept { kept, pairs },
            )
        }
        OrderingRule::AllOrNothing => {
            let in_place = in_place(ranks);
            (
                Share::of_counts(i64::from(in_place == n), 1),
                OrderCount::StepsInPlace { in_place, steps: n },
            )
        }
    }
}

/// Kendall's tau as a fraction: pairs in true order less pairs that are not, of so many pairs.
#[must_use]
pub fn kendall_tau(ranks: &[usize]) -> (i64, usize) {
    let pairs = ranks.len() * ranks.len().saturating_sub(1) / 2;
    let signed = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    (2 * signed(pairs_in_order(ranks)) - signed(pairs), pairs)
}

/// Spearman's rho as a fraction: n(n² − 1) − 6 Σ d², of n(n² − 1).
#[must_use]
pub fn spearman_rho(ranks: &[usize]) -> (i64, usize) {
    let n = ranks.len();
    let whole = n * (n * n).saturating_sub(1);
    let signed = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    (signed(whole) - 6 * signed(squares_moved(ranks)), whole)
}

fn pairs_in_order(ranks: &[usize]) -> usize {
    let later_and_higher = |(place, rank): (usize, &usize)| {
        let later = ranks.iter().skip(place + 1);
        later.filter(|later| *later > rank).count()
    };
    ranks.iter().enumerate().map(later_and_higher).sum()
}

fn squares_moved(ranks: &[usize]) -> usize {
    let moved = |(place, rank): (usize, &usize)| rank.abs_diff(place + 1);
    ranks.iter().enumerate().map(|at| moved(at).pow(2)).sum()
}

/// The length of the longest series of steps, not all neighbours, that stand in true order.
fn longest_in_order(ranks: &[usize]) -> usize {
    let mut ending: Vec<(usize, usize)> = Vec::new();
    for &rank in ranks {
        let before = ending.iter().filter(|(last, _)| *last < rank);
        let longest = before.map(|(_, length)| *length).max().unwrap_or(0);
        ending.push((rank, longest + 1));
    }
    ending
        .into_iter()
        .map(|(_, length)| length)
        .max()
        .unwrap_or(0)
}

fn in_place(ranks: &[usize]) -> usize {
    ranks
        .iter()
        .enumerate()
        .filter(|(i, rank)| **rank == i + 1)
        .count()
}

/// Marks an answer that is not blank: the letters of all steps, first step first.
#[must_use]
pub fn mark(kind: &Ordering, order: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
    let printed = kind.steps.len();
    let letters = match read_letters(answer, printed) {
        Ok(places) => places,
        Err(why) => return Verdict::for_a_person(why.sentence(printed), Vec::new()),
    };
    let mut ranks = vec![0; printed];
    for (place, &letter) in letters.iter().enumerate() {
        if let Some(rank) = order
            .written_at(letter)
            .and_then(|written| ranks.get_mut(written))
            && *rank == 0
        {
            *rank = place + 1;
        }
    }
    if letters.len() != printed || ranks.contains(&0) {
        return Verdict::for_a_person(
            format!("the order does not name each of the {printed} steps once"),
            Vec::new(),
        );
    }
    let (share, count) = credit(kind.rule, &ranks);
    let marks = share.of(of);
    Reason::StepsOrdered {
        count,
        rule: kind.rule,
        earned: Earned { marks, of },
    }
    .verdict(marks, rule_name(kind.rule))
}

/// What a guesser gets on average, as a share of the marks: the mean over every order.
#[must_use]
pub fn chance_score(kind: &Ordering) -> f64 {
    mean_over_every_order(kind.rule, kind.steps.len())
}

/// The mean credit over all n! orders; `steps` is held to 8, more than a checked question has.
#[must_use]
pub fn mean_over_every_order(rule: OrderingRule, steps: usize) -> f64 {
    mean_of_every_order(steps, |ranks| credit(rule, ranks).0.as_f64())
}

/// The mean of a figure over all n! orders; `steps` is held to 8.
#[must_use]
pub fn mean_of_every_order(steps: usize, figure: impl Fn(&[usize]) -> f64) -> f64 {
    let mut ranks: Vec<usize> = (1..=steps.min(8)).collect();
    let (mut sum, mut orders) = (0.0, 0.0);
    loop {
        sum += figure(&ranks);
        orders += 1.0;
        if !to_next_order(&mut ranks) {
            return sum / orders;
        }
    }
}

/// The next order in the order of a dictionary; false after the last.
fn to_next_order(ranks: &mut [usize]) -> bool {
    let descent = ranks
        .windows(2)
        .rposition(|pair| matches!(pair, [first, second] if first < second));
    let Some(pivot) = descent else { return false };
    let Some(&value) = ranks.get(pivot) else {
        return false;
    };
    if let Some(other) = ranks.iter().rposition(|&rank| rank > value) {
        ranks.swap(pivot, other);
    }
    if let Some(tail) = ranks.get_mut(pivot + 1..) {
        tail.reverse();
    }
    true
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{ordering, question, told};
    use crate::mark_theory;
    use proptest::prelude::*;

    #[test]
    fn letters_are_read_through_the_printed_order() {
        // Printed: A age, B mash, C distil, D ferment. True order: B D C A.
        let order = PrintedOrder::from_places(vec![3, 0, 2, 1]).unwrap();
        let question = question(ordering(OrderingRule::Tau), "3");
        for (answer, marks) in [
            ("B D C A", "3"),
            ("bdca", "3"),
            ("B,C,D,A", "2"),
            ("ACDB", "0"),
        ] {
            assert_eq!(
                mark_theory(&question, &order, answer).marks().to_string(),
                marks,
                "{answer}"
            );
        }
        for answer in ["B D C", "B B C A", "BDCAB", "B D C E"] {
            assert!(mark_theory(&question, &order, answer).waits(), "{answer}");
        }
        assert_eq!(
            told(&mark_theory(&question, &order, "B C D A")).1,
            "of 6 pairs of steps 5 stand in true order and 1 do not: 2 of 3 marks"
        );
    }

    #[test]
    fn every_order_is_counted_once() {
        let mut ranks = vec![1, 2, 3, 4];
        let mut seen = std::collections::BTreeSet::from([ranks.clone()]);
        while to_next_order(&mut ranks) {
            assert!(seen.insert(ranks.clone()));
        }
        assert_eq!(seen.len(), 24);
    }

    proptest! {
        #[test]
        fn full_marks_are_for_the_true_order_only(
            ranks in (3_usize..8).prop_flat_map(|n| Just((1..=n).collect::<Vec<_>>()).prop_shuffle())
        ) {
            let sorted = ranks.windows(2).all(|pair| pair[0] < pair[1]);
            for (_, rule) in OrderingRule::ALL {
                let share = credit(rule, &ranks).0.as_f64();
                prop_assert!((0.0..=1.0).contains(&share));
                prop_assert_eq!(share == 1.0, sorted, "{:?}", rule);
            }
        }
    }
}
