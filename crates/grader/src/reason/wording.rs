//! A reason in the words of a file of sentences: which line says it, and with which values.

use question_bank::question_kind::{MultipleResponseRule, OrderingRule};

use super::{Beliefs, Earned, Limit, OrderCount, Reason};
use crate::sentences::{Line, Sentences, Value};
use crate::tasting_rule::age_range::{FULL_UP_TO, REFERENCE};
use crate::tasting_rule::confidence::BeliefScore;

impl Beliefs {
    fn told(&self, words: &Sentences) -> String {
        let given = self.given.iter();
        let given = words.joined(given.map(|(name, parts)| format!("{name} {parts}")));
        let (given, truth) = (Value::words(&given), Value::words(&self.truth));
        let earned = Value::Words(self.earned.told(words).into());
        match self.score {
            BeliefScore::Squares(squares) => {
                let distance = Value::decimal(f64::from(squares) / 10_000.0);
                words.fill(Line::BeliefsQuadratic, &[given, truth, distance, earned])
            }
            BeliefScore::Logarithm { held, sum, all } => {
                let [held, sum, all] = [held, sum, all].map(Value::decimal);
                let values = [given, truth, held, sum, all, earned];
                words.fill(Line::BeliefsLogarithmic, &values)
            }
        }
    }
}

impl Earned {
    /// Marks and full marks in words.
    pub(crate) fn told(&self, words: &Sentences) -> String {
        let values = [Value::decimal(self.marks), Value::decimal(self.of)];
        words.fill(Line::Earned, &values)
    }
}

/// Rounded to five places, without zeros beyond the first so many: enough for the thousandths of a
/// mark.
fn rounded(number: f64, least: usize) -> Value<'static> {
    let mut text = format!("{number:.5}");
    for _ in least..5 {
        if text.ends_with('0') {
            text.pop();
        }
    }
    Value::Decimal(text)
}

impl Reason {
    /// The sentence.
    #[must_use]
    pub fn told(&self, words: &Sentences) -> String {
        let text = Value::words;
        let got = |earned: &Earned| Value::Words(earned.told(words).into());
        let fill = |line: Line, values: &[Value<'_>]| words.fill(line, values);
        match self {
            Self::NoAnswer => fill(Line::NoAnswer, &[]),
            Self::OptionRight { marked } => fill(Line::OptionRight, &[letter(*marked)]),
            Self::OptionWrong { marked, right } => {
                fill(Line::OptionWrong, &[letter(*marked), letter(*right)])
            }
            Self::SeveralOptionsMarked { marked } => {
                let letters = words.joined(marked.iter().map(char::to_string));
                fill(Line::SeveralOptions, &[text(&letters)])
            }
            Self::OptionsChosen {
                choice,
                rule,
                earned,
            } => fill(
                Line::OptionsChosen,
                &[
                    Value::Count(choice.right_marked),
                    Value::Count(choice.right),
                    Value::Count(choice.wrong_marked),
                    Value::Count(choice.options.saturating_sub(choice.right)),
                    Value::Words(fill(what_counts(*rule), &[]).into()),
                    got(earned),
                ],
            ),
            Self::Number {
                given,
                right,
                unit,
                limit,
                earned,
            } => {
                let (line, distance) = match limit {
                    Limit::Within(distance) => (Line::NumberWithin, distance),
                    Limit::HalfWithin(distance) => (Line::NumberHalfWithin, distance),
                    Limit::Beyond(distance) => (Line::NumberBeyond, distance),
                };
                let numbers = [Value::decimal(given), Value::decimal(distance)];
                let [given, distance] = numbers;
                fill(
                    line,
                    &[
                        given,
                        distance,
                        Value::decimal(right),
                        text(unit),
                        got(earned),
                    ],
                )
            }
            Self::NumberByMistake {
                given,
                right,
                unit,
                why,
                of,
            } => {
                let earned = Earned {
                    marks: base::Marks::ZERO,
                    of: *of,
                };
                let values = [
                    Value::decimal(given),
                    Value::decimal(right),
                    text(unit),
                    got(&earned),
                    text(why),
                ];
                fill(Line::NumberByMistake, &values)
            }
            Self::EntriesFound {
                right,
                wanted,
                repeated,
                beyond,
                earned,
            } => {
                let [right, wanted, repeated, beyond] =
                    [right, wanted, repeated, beyond].map(|count| Value::Count(*count));
                fill(
                    Line::EntriesFound,
                    &[right, wanted, repeated, beyond, got(earned)],
                )
            }
            Self::StepsOrdered {
                count,
                rule,
                earned,
            } => order(words, *count, *rule, got(earned)),
            Self::PairsMatched {
                right,
                pairs,
                earned,
            } => fill(
                Line::PairsMatched,
                &[Value::Count(*right), Value::Count(*pairs), got(earned)],
            ),
            Self::WordAccepted { accepted } => fill(Line::WordAccepted, &[text(accepted)]),
            Self::WordSlip { written, accepted } => {
                fill(Line::WordSlip, &[text(written), text(accepted)])
            }
            Self::NodeRight { name } => fill(Line::NodeRight, &[text(name)]),
            Self::NodeAccepted { answer, truth } => {
                fill(Line::NodeAccepted, &[text(answer), text(truth)])
            }
            Self::NodeNear {
                answer,
                truth,
                common,
                nearness,
                guess,
                earned,
            } => fill(
                Line::NodeNear,
                &[
                    text(answer),
                    text(truth),
                    text(common),
                    rounded(*nearness, 2),
                    rounded(*guess, 2),
                    got(earned),
                ],
            ),
            Self::NodeFar { answer, truth } => fill(Line::NodeFar, &[text(answer), text(truth)]),
            Self::AgeBand {
                answer,
                truth,
                apart,
                earned,
            } => {
                let (given, truth) = (text(answer), text(truth));
                match apart {
                    Some(0) => fill(Line::BandRight, &[given]),
                    Some(1) => fill(Line::BandNext, &[given, truth, got(earned)]),
                    Some(apart) => {
                        let apart = Value::Count(*apart);
                        fill(Line::BandsApart, &[given, truth, apart, got(earned)])
                    }
                    None => fill(Line::BandOther, &[given, truth, got(earned)]),
                }
            }
            Self::NoAgeRight => fill(Line::NoAgeRight, &[]),
            Self::NoAgeWrong { truth } => fill(Line::NoAgeWrong, &[text(truth)]),
            Self::AgeRange {
                low,
                high,
                truth,
                score,
                earned,
            } => fill(
                Line::AgeRange,
                &[
                    Value::decimal(low),
                    Value::decimal(high),
                    Value::decimal(truth),
                    rounded(*score, 1),
                    Value::decimal(FULL_UP_TO),
                    Value::decimal(REFERENCE),
                    got(earned),
                ],
            ),
            Self::ScaleStep {
                given,
                truth,
                length,
                earned,
            } => match given.abs_diff(*truth) {
                0 => fill(Line::StepRight, &[Value::decimal(given)]),
                apart => {
                    let [given, truth, apart, length] =
                        [*given, *truth, apart, *length].map(Value::decimal);
                    fill(
                        Line::StepsApart,
                        &[given, truth, apart, length, got(earned)],
                    )
                }
            },
            Self::PanelDistance {
                given,
                mean,
                deviation,
                earned,
            } => fill(
                Line::PanelDistance,
                &[
                    Value::decimal(given),
                    rounded(*mean, 2),
                    Value::Decimal(format!("{:.2}", (given - mean).abs() / deviation)),
                    rounded(*deviation, 2),
                    got(earned),
                ],
            ),
            Self::Beliefs(stated) => stated.told(words),
            Self::NameRight { name } => fill(Line::NameRight, &[text(name)]),
            Self::NameWrong { name, truth } => fill(Line::NameWrong, &[text(name), text(truth)]),
            Self::NotOnTheList { written } => fill(Line::NotOnTheList, &[text(written)]),
            Self::Descriptors(all) => all.told(words),
        }
    }
}

fn letter(letter: char) -> Value<'static> {
    Value::Words(letter.to_string().into())
}

/// The line that says what a multiple-response rule looks at, where the counts alone do not.
pub(super) const fn what_counts(rule: MultipleResponseRule) -> Line {
    match rule {
        MultipleResponseRule::Dichotomous => Line::CountsDichotomous,
        MultipleResponseRule::TrueFalse => Line::CountsTrueFalse,
        MultipleResponseRule::HalfPoint => Line::CountsHalfPoint,
        MultipleResponseRule::Ps50 => Line::CountsPs50,
        MultipleResponseRule::PlusMinusFloor0 => Line::CountsPlusMinusFloor0,
        MultipleResponseRule::Ripkey => Line::CountsRipkey,
        MultipleResponseRule::BalancedPenaltyFloor0 => Line::CountsBalancedPenaltyFloor0,
        MultipleResponseRule::Jaccard => Line::CountsJaccard,
        MultipleResponseRule::F1 => Line::CountsF1,
    }
}

fn order(words: &Sentences, count: OrderCount, rule: OrderingRule, earned: Value<'_>) -> String {
    let two = |line, first: usize, second: usize, earned| {
        words.fill(line, &[Value::Count(first), Value::Count(second), earned])
    };
    match count {
        OrderCount::PairsInOrder { in_order, pairs } if rule == OrderingRule::TauLinear => {
            two(Line::PairsInOrderOnly, in_order, pairs, earned)
        }
        OrderCount::PairsInOrder { in_order, pairs } => {
            let out_of_order = pairs.saturating_sub(in_order);
            let [pairs, in_order, out_of_order] = [pairs, in_order, out_of_order].map(Value::Count);
            words.fill(Line::PairsInOrder, &[pairs, in_order, out_of_order, earned])
        }
        OrderCount::PlacesMoved { moved, most } => two(Line::PlacesMoved, moved, most, earned),
        OrderCount::SquaresMoved {
            squares,
            nothing_from,
        } => two(Line::SquaresMoved, squares, nothing_from, earned),
        OrderCount::LongestInOrder { longest, steps } => {
            two(Line::LongestInOrder, longest, steps, earned)
        }
        OrderCount::StepsInPlace { in_place, steps } => {
            let line = match rule {
                OrderingRule::AllOrNothing => Line::WholeOrderOnly,
                OrderingRule::Tau
                | OrderingRule::TauLinear
                | OrderingRule::Rho
                | OrderingRule::Lis
                | OrderingRule::Footrule
                | OrderingRule::Positions
                | OrderingRule::AdjacentPairs => Line::StepsInPlace,
            };
            two(line, in_place, steps, earned)
        }
        OrderCount::NeighboursKept { kept, pairs } => {
            two(Line::NeighboursKept, kept, pairs, earned)
        }
    }
}
