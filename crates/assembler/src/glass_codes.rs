//! Which three random digits stand on which glass.
//!
//! Codes are numbers from 100 to 999 without replacement, new for every sample and for every group
//! that shares codes (ISO 13299:2016: three-digit random numbers). Left out as memorable (common
//! practice, no clause): three equal digits (444), whole hundreds (300), runs up or down (345,
//! 543, 210), and the numbers of [`WELL_KNOWN`]. Within one flight the first digits differ as long
//! as there are digits (common practice; nine samples at most), and no two are similar: alike but for
//! one digit, or for a swap of neighbours (common practice, no clause). A number that is similar to
//! one of the flight is put back and another drawn, as long as there are others. With a check digit a
//! fourth digit follows ([`crate::check_digit`]). Purpose "glass codes", index: group.

use base::{ExamSeed, Purpose, Stream};

use crate::check_digit::check_digit;

/// Numbers that people remember: emergency calls, degrees, days, error pages, aircraft, bottles.
pub const WELL_KNOWN: [u32; 10] = [101, 112, 180, 360, 365, 404, 420, 747, 750, 911];

/// Whether a number from 100 to 999 is left out because people remember it.
#[must_use]
pub fn is_memorable(number: u32) -> bool {
    let (hundreds, tens, ones) = (number / 100, number / 10 % 10, number % 10);
    let equal = hundreds == tens && tens == ones;
    let whole_hundred = tens == 0 && ones == 0;
    let run_up = hundreds + 1 == tens && tens + 1 == ones;
    let run_down = hundreds == tens + 1 && tens == ones + 1;
    equal || whole_hundred || run_up || run_down || WELL_KNOWN.contains(&number)
}

/// Whether two different numbers of three digits are easily taken for each other: alike but for one
/// digit, or for a swap of neighbours.
#[must_use]
pub fn are_similar(one: u32, other: u32) -> bool {
    let digits = |number: u32| [number / 100, number / 10 % 10, number % 10];
    let (a, b) = (digits(one), digits(other));
    let differing = a.iter().zip(&b).filter(|(x, y)| x != y).count();
    let [a0, a1, a2] = a;
    differing == 1 || (differing == 2 && ([a1, a0, a2] == b || [a0, a2, a1] == b))
}

/// Every number that may be a code, ascending.
#[must_use]
pub fn fit_numbers() -> Vec<u32> {
    (100..=999)
        .filter(|number| !is_memorable(*number))
        .collect()
}

/// The codes of all groups, and what could not be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GlassCodes {
    /// For each group the code of each sample, in the order of the plan.
    pub of_group: Vec<Vec<String>>,
    /// Where numbers did not suffice, one plain sentence.
    pub shortfall: Option<String>,
}

/// Draws codes for so many groups with so many samples each.
#[must_use]
pub fn glass_codes(
    groups: usize,
    samples: usize,
    with_check_digit: bool,
    seed: &ExamSeed,
) -> GlassCodes {
    let fit = fit_numbers();
    // By number: whether it is on a glass already.
    let mut taken = [false; 1000];
    let mut of_group = Vec::with_capacity(groups);
    for group in 0..groups {
        let mut stream = Stream::new(seed, Purpose::GlassCodes, group as u64);
        let mut flight: Vec<u32> = Vec::with_capacity(samples);
        let mut first_digits = [false; 10];
        for _ in 0..samples {
            let first_is_new = |number: u32| !flagged(&first_digits, number / 100);
            // From the strictest rule to the last; never the same code twice in one flight.
            let mut left = of(&fit, |n| first_is_new(n) && !flagged(&taken, n));
            if left.is_empty() {
                left = of(&fit, |n| !flagged(&taken, n));
            }
            if left.is_empty() {
                // All are used up: they go round once more.
                taken = [false; 1000];
                for &number in &flight {
                    flag(&mut taken, number);
                }
                left = of(&fit, |n| first_is_new(n) && !flagged(&taken, n));
            }
            if left.is_empty() {
                left = of(&fit, |n| !flagged(&taken, n));
            }
            let mut drawn = left.get(stream.index(left.len())).copied();
            let similar = |number: u32| flight.iter().any(|&own| are_similar(own, number));
            if drawn.is_some_and(similar) {
                let others = of(&left, |n| !similar(n));
                if !others.is_empty() {
                    drawn = others.get(stream.index(others.len())).copied();
                }
            }
            if let Some(number) = drawn {
                flag(&mut taken, number);
                flag(&mut first_digits, number / 100);
                flight.push(number);
            }
        }
        let written = flight.iter().map(|number| {
            let digits = number.to_string();
            match check_digit(&digits).filter(|_| with_check_digit) {
                Some(check) => format!("{digits}{check}"),
                None => digits,
            }
        });
        of_group.push(written.collect());
    }
    let wanted = groups.saturating_mul(samples);
    let shortfall = (wanted > fit.len()).then(|| {
        format!(
            "{wanted} glass codes are wanted and {} numbers are fit: codes come again with other \
             candidates, never within one flight.",
            fit.len()
        )
    });
    GlassCodes {
        of_group,
        shortfall,
    }
}

fn of(fit: &[u32], rule: impl Fn(u32) -> bool) -> Vec<u32> {
    fit.iter().copied().filter(|&number| rule(number)).collect()
}

fn flagged(flags: &[bool], number: u32) -> bool {
    usize::try_from(number).is_ok_and(|n| flags.get(n).copied().unwrap_or(false))
}

fn flag(flags: &mut [bool], number: u32) {
    if let Some(flag) = usize::try_from(number).ok().and_then(|n| flags.get_mut(n)) {
        *flag = true;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::collections::BTreeSet;

    #[test]
    fn memorable_numbers_are_left_out() {
        for number in [111, 999, 300, 123, 789, 321, 210, 987, 112, 911, 365] {
            assert!(is_memorable(number), "{number}");
        }
        for number in [417, 110, 121, 505, 990, 102] {
            assert!(!is_memorable(number), "{number}");
        }
        // 900 less 9 of equal digits, 9 hundreds, 7 runs up, 8 runs down, 10 well-known ones.
        assert_eq!(fit_numbers().len(), 900 - 9 - 9 - 7 - 8 - 10);
    }

    #[test]
    fn similar_numbers_are_known() {
        for (one, other) in [(417, 517), (417, 427), (417, 471), (417, 147)] {
            assert!(are_similar(one, other), "{one} {other}");
        }
        for (one, other) in [(417, 714), (417, 528), (417, 741), (417, 417)] {
            assert!(!are_similar(one, other), "{one} {other}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn codes_differ(seed in any::<[u8; 32]>(), groups in 1_usize..60, samples in 1_usize..=12) {
            let codes = glass_codes(groups, samples, true, &ExamSeed::from_bytes(seed));
            let all: Vec<&String> = codes.of_group.iter().flatten().collect();
            let different: BTreeSet<&&String> = all.iter().collect();
            prop_assert_eq!(all.len(), groups * samples);
            prop_assert_eq!(different.len(), all.len());
            prop_assert!(codes.shortfall.is_none());
        }

        #[test]
        fn no_two_of_a_flight_are_similar(seed in any::<[u8; 32]>(), samples in 2_usize..=9) {
            let codes = glass_codes(3, samples, false, &ExamSeed::from_bytes(seed));
            for flight in &codes.of_group {
                let numbers: Vec<u32> = flight.iter().filter_map(|code| code.parse().ok()).collect();
                for (place, &one) in numbers.iter().enumerate() {
                    for &other in &numbers[place + 1..] {
                        prop_assert!(!are_similar(one, other), "{} and {}", one, other);
                    }
                }
            }
        }

        #[test]
        fn codes_that_run_out_stay_different_within_a_flight(seed in any::<[u8; 32]>()) {
            let codes = glass_codes(100, 12, false, &ExamSeed::from_bytes(seed));
            prop_assert!(codes.shortfall.is_some());
            for flight in &codes.of_group {
                prop_assert_eq!(flight.len(), 12);
                prop_assert_eq!(flight.iter().collect::<BTreeSet<_>>().len(), 12);
            }
        }

        #[test]
        fn first_digits_differ_in_small_flights(seed in any::<[u8; 32]>(), samples in 1_usize..=9) {
            let codes = glass_codes(1, samples, false, &ExamSeed::from_bytes(seed));
            let firsts: BTreeSet<_> = codes.of_group[0].iter().map(|c| &c[..1]).collect();
            prop_assert_eq!(firsts.len(), samples);
        }
    }
}
