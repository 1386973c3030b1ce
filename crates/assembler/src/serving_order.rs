//! Which serving orders there are, and which candidate gets which.
//!
//! The orders are the rows of a Williams design ([`crate::williams`]), their samples named by lot.
//! Samples that carry over heavily (peated, very strong, sweet) come in a later block with a design
//! of its own: balance is then kept within each block and not across. With both blocks the n-th
//! order joins the n-th row of either, going round, so that any run of orders uses the rows of both
//! as evenly as can be. Rows of an odd design stand forward rows first, then backward ones (or the
//! other way round, by lot), each shuffled: fewer candidates than rows then still have every sample
//! in every place as evenly as can be.
//!
//! The orders are dealt so that neighbours differ and each order is used as often as every other,
//! or once more. Purpose "serving order", index 0: the orders; index 1: the deal.

use base::{ExamSeed, Purpose, Stream};
use question_bank::sample_record::CarryOver;

use crate::colouring::{Colouring, colour, evenly};
use crate::order_balance::order_balance;
use crate::williams::williams;

/// The serving orders of a flight; samples by their place in the plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ServingOrders {
    /// All orders, all different, in the order in which they are dealt.
    pub orders: Vec<Vec<usize>>,
    /// Samples of the first block, ascending.
    pub ordinary: Vec<usize>,
    /// Samples of the later block, ascending.
    pub heavy: Vec<usize>,
}

/// Draws the serving orders of a flight.
#[must_use]
pub fn serving_orders(flight: &[CarryOver], seed: &ExamSeed) -> ServingOrders {
    let of = |wanted: CarryOver| -> Vec<usize> {
        let places = flight.iter().enumerate();
        places
            .filter(|(_, c)| **c == wanted)
            .map(|(place, _)| place)
            .collect()
    };
    let (ordinary, heavy) = (of(CarryOver::Ordinary), of(CarryOver::Heavy));
    let mut stream = Stream::new(seed, Purpose::ServingOrder, 0);
    let first = rows(&ordinary, &mut stream);
    let later = rows(&heavy, &mut stream);
    let number = least_common_multiple(first.len().max(1), later.len().max(1));
    let round = |rows: &[Vec<usize>], number: usize| -> Vec<usize> {
        let row = number
            .checked_rem(rows.len())
            .and_then(|place| rows.get(place));
        row.cloned().unwrap_or_default()
    };
    let orders = if flight.is_empty() {
        Vec::new()
    } else {
        (0..number)
            .map(|n| [round(&first, n), round(&later, n)].concat())
            .collect()
    };
    ServingOrders {
        orders,
        ordinary,
        heavy,
    }
}

/// The rows of one block, in drawn order.
fn rows(samples: &[usize], stream: &mut Stream) -> Vec<Vec<usize>> {
    let mut named = samples.to_vec();
    stream.shuffle(&mut named);
    let mut rows: Vec<Vec<usize>> = williams(named.len())
        .into_iter()
        .map(|row| row.into_iter().map(|place| named[place]).collect())
        .collect();
    let mut backward = rows.split_off(named.len().min(rows.len()));
    stream.shuffle(&mut rows);
    stream.shuffle(&mut backward);
    if stream.below(2) == 0 {
        rows.append(&mut backward);
        rows
    } else {
        backward.append(&mut rows);
        backward
    }
}

const fn least_common_multiple(one: usize, other: usize) -> usize {
    let (mut a, mut b) = (one, other);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    one / a * other
}

/// Deals the orders to so many candidates, of whom some sit next to each other.
#[must_use]
pub fn deal_orders(
    orders: &ServingOrders,
    candidates: usize,
    neighbours: &[(usize, usize)],
    seed: &ExamSeed,
) -> Colouring {
    let mut stream = Stream::new(seed, Purpose::ServingOrder, 1);
    let wanted = evenly(candidates, orders.orders.len());
    colour(candidates, neighbours, &wanted, &mut stream)
}

/// What balance the numbers did not allow, in plain sentences; nothing where all is balanced.
#[must_use]
pub fn balance_shortfalls(orders: &ServingOrders, dealt: &[usize]) -> Vec<String> {
    let samples = orders.ordinary.len() + orders.heavy.len();
    let mut sentences = Vec::new();
    if samples < 2 || dealt.is_empty() {
        return sentences;
    }
    if !orders.heavy.is_empty() && !orders.ordinary.is_empty() {
        sentences.push(format!(
            "{} that carry over heavily come last: serving orders are balanced within the first {} \
             glasses and within the last {}, not across.",
            counted(orders.heavy.len(), "sample", "samples"),
            orders.ordinary.len(),
            orders.heavy.len()
        ));
    }
    let mut uses = vec![0_usize; orders.orders.len()];
    for &order in dealt {
        if let Some(times) = uses.get_mut(order) {
            *times += 1;
        }
    }
    let (least, most) = (
        uses.iter().copied().min().unwrap_or(0),
        uses.iter().copied().max().unwrap_or(0),
    );
    if least != most {
        let groups: Vec<String> = (least..=most)
            .rev()
            .filter_map(|times| {
                let orders = uses.iter().filter(|&&n| n == times).count();
                (orders > 0).then(|| match (orders, times) {
                    (1, 0) => "one order is not used".to_owned(),
                    (_, 0) => format!("{orders} orders are not used"),
                    (1, _) => format!("one order is used {}", often(times)),
                    _ => format!("{orders} orders are used {}", often(times)),
                })
            })
            .collect();
        let served: Vec<&[usize]> = dealt
            .iter()
            .filter_map(|&order| orders.orders.get(order).map(Vec::as_slice))
            .collect();
        sentences.push(format!(
            "{} over {}: {}; within a block, how often a sample stands in a place differs by at most \
             {}, and how often it comes right before another by at most {}.",
            counted(uses.len(), "serving order", "serving orders"),
            counted(dealt.len(), "candidate", "candidates"),
            groups.join(", "),
            worst_place(orders, &served),
            worst_pair(orders, &served),
        ));
    }
    sentences
}

/// The largest difference between counts of samples in places, within a block.
fn worst_place(orders: &ServingOrders, served: &[&[usize]]) -> usize {
    let samples = orders.ordinary.len() + orders.heavy.len();
    let balance = order_balance(samples, served);
    let first = 0..orders.ordinary.len();
    let later = orders.ordinary.len()..samples;
    [(&orders.ordinary, first), (&orders.heavy, later)]
        .into_iter()
        .map(|(block, places)| {
            let counts = block
                .iter()
                .flat_map(|&sample| places.clone().map(move |place| (sample, place)));
            spread(counts.map(|(sample, place)| balance.in_place[sample][place]))
        })
        .max()
        .unwrap_or(0)
}

/// The largest difference between counts of a sample right before another, within a block.
fn worst_pair(orders: &ServingOrders, served: &[&[usize]]) -> usize {
    let samples = orders.ordinary.len() + orders.heavy.len();
    let balance = order_balance(samples, served);
    [&orders.ordinary, &orders.heavy]
        .into_iter()
        .map(|block| {
            let pairs = block.iter().flat_map(|&one| {
                block
                    .iter()
                    .filter(move |&&other| other != one)
                    .map(move |&other| (one, other))
            });
            spread(pairs.map(|(one, other)| balance.right_before[one][other]))
        })
        .max()
        .unwrap_or(0)
}

fn spread(counts: impl Iterator<Item = usize>) -> usize {
    let ends = counts.fold(None, |ends: Option<(usize, usize)>, n| {
        Some(ends.map_or((n, n), |(least, most)| (least.min(n), most.max(n))))
    });
    ends.map_or(0, |(least, most)| most - least)
}

fn often(times: usize) -> String {
    match times {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        _ => format!("{times} times"),
    }
}

fn counted(number: usize, one: &str, many: &str) -> String {
    if number == 1 {
        format!("1 {one}")
    } else {
        format!("{number} {many}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn flight() -> impl Strategy<Value = Vec<CarryOver>> {
        let one = prop_oneof![Just(CarryOver::Ordinary), Just(CarryOver::Heavy)];
        proptest::collection::vec(one, 1..=8)
    }

    proptest! {
        #[test]
        fn heavy_samples_come_last_and_blocks_are_balanced(
            flight in flight(),
            seed in any::<[u8; 32]>(),
        ) {
            let orders = serving_orders(&flight, &ExamSeed::from_bytes(seed));
            let served: Vec<&[usize]> = orders.orders.iter().map(Vec::as_slice).collect();
            for order in &served {
                let mut sorted = order.to_vec();
                sorted.sort_unstable();
                prop_assert_eq!(sorted, (0..flight.len()).collect::<Vec<_>>());
                let heavy: Vec<bool> = order
                    .iter()
                    .map(|&sample| flight[sample] == CarryOver::Heavy)
                    .collect();
                prop_assert!(heavy.is_sorted(), "ordinary before heavy");
            }
            prop_assert_eq!(worst_place(&orders, &served), 0);
            prop_assert_eq!(worst_pair(&orders, &served), 0);
        }

        #[test]
        fn any_number_of_candidates_has_nearly_balanced_places(
            samples in 2_usize..=8,
            candidates in 1_usize..40,
            seed in any::<[u8; 32]>(),
        ) {
            let seed = ExamSeed::from_bytes(seed);
            let orders = serving_orders(&vec![CarryOver::Ordinary; samples], &seed);
            let dealt = deal_orders(&orders, candidates, &[], &seed).colours;
            let served: Vec<&[usize]> =
                dealt.iter().map(|&order| orders.orders[order].as_slice()).collect();
            prop_assert!(worst_place(&orders, &served) <= 1);
            let all_alike = candidates % orders.orders.len() == 0;
            prop_assert_eq!(balance_shortfalls(&orders, &dealt).is_empty(), all_alike);
        }
    }

    #[test]
    fn a_shortfall_is_said_in_words() {
        let seed = ExamSeed::from_bytes([9; 32]);
        let orders = serving_orders(&[CarryOver::Ordinary; 3], &seed);
        let dealt = deal_orders(&orders, 20, &[], &seed).colours;
        let said = balance_shortfalls(&orders, &dealt);
        assert!(
            said[0].starts_with(
                "6 serving orders over 20 candidates: 2 orders are used 4 times, 4 orders are used \
                 3 times; within a block, how often a sample stands in a place differs by at most 1"
            ),
            "{said:?}"
        );
    }
}
