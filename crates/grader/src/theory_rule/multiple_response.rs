//! Multiple response: how a partly right choice is credited.
//!
//! Sources of the rules: see [`MultipleResponseRule`] (Betts et al. 2021; Kanzow et al. 2023;
//! Ripkey, Case and Swanson 1996). With n options, t of them right, h right ones marked, f wrong
//! ones marked, m = t - h, c = n - f - m. Chance score: every choice of options counted out.

use base::Marks;
use question_bank::PrintedOrder;
use question_bank::question_kind::{MultipleResponse, MultipleResponseRule};

use super::TheoryRule;
use crate::printed_letters::read_letters;
use crate::reason::{Earned, Reason};
use crate::rules::{CHOICE, COIN, Rule, rule};
use crate::share::Share;
use crate::verdict::Verdict;

/// The lines in the list of rules.
pub(crate) const RULES: &[Rule] = &[
    rule(
        "multiple_response dichotomous",
        "multiple_response",
        "Betts et al. 2021",
        COIN,
    ),
    rule(
        "multiple_response true_false",
        "multiple_response",
        "Betts et al. 2021; Kanzow et al. 2023",
        COIN,
    ),
    rule(
        "multiple_response half_point",
        "multiple_response",
        "Kanzow et al. 2023, definition from memory",
        COIN,
    ),
    rule(
        "multiple_response ps50",
        "multiple_response",
        "Kanzow et al. 2023, definition from memory",
        COIN,
    ),
    rule(
        "multiple_response plus_minus_floor0",
        "multiple_response",
        "Betts et al. 2021",
        COIN,
    ),
    rule(
        "multiple_response ripkey",
        "multiple_response",
        "Ripkey, Case and Swanson 1996, from memory",
        COIN,
    ),
    rule(
        "multiple_response balanced_penalty_floor0",
        "multiple_response",
        CHOICE,
        COIN,
    ),
    rule(
        "multiple_response jaccard",
        "multiple_response",
        "Jaccard 1901, from memory",
        COIN,
    ),
    rule(
        "multiple_response f1",
        "multiple_response",
        "van Rijsbergen 1979, from memory",
        COIN,
    ),
];

impl TheoryRule for MultipleResponse {
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
pub const fn rule_name(rule: MultipleResponseRule) -> &'static str {
    match rule {
        MultipleResponseRule::Dichotomous => "multiple_response dichotomous",
        MultipleResponseRule::TrueFalse => "multiple_response true_false",
        MultipleResponseRule::HalfPoint => "multiple_response half_point",
        MultipleResponseRule::Ps50 => "multiple_response ps50",
        MultipleResponseRule::PlusMinusFloor0 => "multiple_response plus_minus_floor0",
        MultipleResponseRule::Ripkey => "multiple_response ripkey",
        MultipleResponseRule::BalancedPenaltyFloor0 => "multiple_response balanced_penalty_floor0",
        MultipleResponseRule::Jaccard => "multiple_response jaccard",
        MultipleResponseRule::F1 => "multiple_response f1",
    }
}

/// What was marked, counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Choice {
    /// Options in all (n).
    pub options: usize,
    /// Right options (t).
    pub right: usize,
    /// Right options that were marked (h).
    pub right_marked: usize,
    /// Wrong options that were marked (f).
    pub wrong_marked: usize,
}

/// The credit of a choice.
#[must_use]
pub fn credit(rule: MultipleResponseRule, choice: Choice) -> Share {
    let counts = [
        choice.options,
        choice.right,
        choice.right_marked,
        choice.wrong_marked,
    ]
    .map(|count| i64::try_from(count).unwrap_or(i64::MAX));
    let [n, t, h, f] = counts;
    let missed = t - h;
    let judged_rightly = n - f - missed;
    let of = |part: i64, whole: i64| Share::of_counts(part, usize::try_from(whole).unwrap_or(0));
    match rule {
        MultipleResponseRule::Dichotomous => of(i64::from(judged_rightly == n), 1),
        MultipleResponseRule::TrueFalse => of(judged_rightly, n),
        MultipleResponseRule::HalfPoint => match n - judged_rightly {
            0 => Share::FULL,
            1 => Share::HALF,
            _ => Share::NONE,
        },
        MultipleResponseRule::Ps50 => {
            if judged_rightly == n {
                Share::FULL
            } else if 2 * judged_rightly >= n {
                Share::HALF
            } else {
                Share::NONE
            }
        }
        MultipleResponseRule::PlusMinusFloor0 => of(h - f, t),
        MultipleResponseRule::Ripkey if h + f > t => Share::NONE,
        MultipleResponseRule::Ripkey => of(h, t),
        // h/t - f/(n-t) over one denominator.
        MultipleResponseRule::BalancedPenaltyFloor0 => of(h * (n - t) - f * t, t * (n - t)),
        MultipleResponseRule::Jaccard => of(h, h + f + missed),
        MultipleResponseRule::F1 => of(2 * h, 2 * h + f + missed),
    }
}

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(kind: &MultipleResponse, order: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
    let printed = kind.options.len();
    let mut marked = match read_letters(answer, printed) {
        Ok(places) => places,
        Err(why) => return Verdict::for_a_person(why.sentence(printed), Vec::new()),
    };
    marked.sort_unstable();
    marked.dedup();
    let right_marked = marked
        .iter()
        .filter_map(|&place| order.written_at(place))
        .filter_map(|written| kind.options.get(written))
        .filter(|option| option.key)
        .count();
    let choice = Choice {
        options: printed,
        right: right_options(kind),
        right_marked,
        wrong_marked: marked.len() - right_marked,
    };
    let marks = credit(kind.rule, choice).of(of);
    Reason::OptionsChosen {
        choice,
        rule: kind.rule,
        earned: Earned { marks, of },
    }
    .verdict(marks, rule_name(kind.rule))
}

fn right_options(kind: &MultipleResponse) -> usize {
    kind.options.iter().filter(|option| option.key).count()
}

/// What a guesser who marks every option by the toss of a coin gets on average, as a share of the
/// marks. Nothing marked is a blank answer and earns nothing, whatever the rule.
#[must_use]
pub fn chance_score(kind: &MultipleResponse) -> f64 {
    let right = right_options(kind);
    let options = kind.options.len();
    let blank = credit(kind.rule, choice_of(options, right, 0, 0)).as_f64();
    mean_over_any_choice(kind.rule, options, right) - blank / subsets(options)
}

/// The mean credit over all 2^n choices, nothing marked being one of them.
#[must_use]
pub fn mean_over_any_choice(rule: MultipleResponseRule, options: usize, right: usize) -> f64 {
    let wrong = options.saturating_sub(right);
    let mut sum = 0.0;
    for h in 0..=right {
        for f in 0..=wrong {
            let ways = choose(right, h) * choose(wrong, f);
            sum += ways * credit(rule, choice_of(options, right, h, f)).as_f64();
        }
    }
    sum / subsets(options)
}

/// The mean credit of a guesser who knows how many options are right and marks so many.
#[must_use]
pub fn mean_over_right_number(rule: MultipleResponseRule, options: usize, right: usize) -> f64 {
    let wrong = options.saturating_sub(right);
    let mut sum = 0.0;
    for h in 0..=right {
        let ways = choose(right, h) * choose(wrong, right - h);
        if ways > 0.0 {
            sum += ways * credit(rule, choice_of(options, right, h, right - h)).as_f64();
        }
    }
    sum / choose(options, right)
}

const fn choice_of(options: usize, right: usize, h: usize, f: usize) -> Choice {
    Choice {
        options,
        right,
        right_marked: h,
        wrong_marked: f,
    }
}

fn subsets(options: usize) -> f64 {
    (0..options).fold(1.0, |ways, _| ways * 2.0)
}

/// Ways to choose `some` of `all`; exact for the few options that a question has.
fn choose(all: usize, some: usize) -> f64 {
    if some > all {
        return 0.0;
    }
    (0..some).fold(1.0, |ways, i| ways * (all - i) as f64 / (i + 1) as f64)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::example::{multiple_response, question, told};
    use crate::mark_theory;
    use proptest::prelude::*;

    fn any_choice() -> impl Strategy<Value = Choice> {
        (1_usize..6, 1_usize..6).prop_flat_map(|(right, wrong)| {
            (0..=right, 0..=wrong).prop_map(move |(h, f)| choice_of(right + wrong, right, h, f))
        })
    }

    #[test]
    fn the_default_rule_as_a_candidate_meets_it() {
        // Right options a, b are printed D and B.
        let order = PrintedOrder::from_places(vec![2, 1, 4, 0, 3]).unwrap();
        let question = question(
            multiple_response(MultipleResponseRule::BalancedPenaltyFloor0),
            "3",
        );
        for (answer, marks) in [
            ("B D", "3"),
            ("bd", "3"),
            ("B", "1.5"),
            ("B,D,A", "2"),
            ("ABCDE", "0"),
        ] {
            let outcome = mark_theory(&question, &order, answer);
            assert_eq!(outcome.marks().to_string(), marks, "{answer}");
        }
        let (_, reason) = told(&mark_theory(&question, &order, "B A"));
        assert!(reason.starts_with("1 of 2 right options and 1 of 3 wrong ones are marked"));
        assert!(mark_theory(&question, &order, "B F").waits());
    }

    #[test]
    fn the_chance_score_is_what_a_coin_tosser_earns() {
        // All 32 answers of the coin through the marking itself.
        for (_, rule) in MultipleResponseRule::ALL {
            let kind = multiple_response(rule);
            let asked = question(kind.clone(), "1000");
            let order = PrintedOrder::as_written(5);
            let sum: f64 = (0..32_u32)
                .map(|bits| {
                    let answer: String = ('A'..='E')
                        .zip(0..)
                        .filter(|(_, bit)| bits & (1 << bit) != 0)
                        .map(|(letter, _)| letter)
                        .collect();
                    mark_theory(&asked, &order, &answer).marks().as_f64() / 1000.0
                })
                .sum();
            let question_bank::QuestionKind::MultipleResponse(kind) = kind else {
                panic!()
            };
            assert!((sum / 32.0 - chance_score(&kind)).abs() < 1e-6, "{rule:?}");
        }
    }

    proptest! {
        #[test]
        fn credits_keep_their_bounds_and_full_is_for_the_key(choice in any_choice()) {
            for (_, rule) in MultipleResponseRule::ALL {
                let share = credit(rule, choice).as_f64();
                prop_assert!((0.0..=1.0).contains(&share));
                let perfect = choice.right_marked == choice.right && choice.wrong_marked == 0;
                prop_assert_eq!(share == 1.0, perfect, "{:?}", rule);
            }
        }

        #[test]
        fn a_right_option_more_never_lowers(choice in any_choice()) {
            prop_assume!(choice.right_marked < choice.right);
            let more = Choice { right_marked: choice.right_marked + 1, ..choice };
            for (_, rule) in MultipleResponseRule::ALL {
                // Ripkey refuses more marks than right options: there the next right one can be
                // the mark too many.
                if rule != MultipleResponseRule::Ripkey {
                    prop_assert!(credit(rule, more).as_f64() >= credit(rule, choice).as_f64());
                }
            }
        }

        #[test]
        fn a_wrong_option_more_never_raises(choice in any_choice()) {
            prop_assume!(choice.wrong_marked < choice.options - choice.right);
            let more = Choice { wrong_marked: choice.wrong_marked + 1, ..choice };
            for (_, rule) in MultipleResponseRule::ALL {
                prop_assert!(credit(rule, more).as_f64() <= credit(rule, choice).as_f64());
            }
        }
    }
}
