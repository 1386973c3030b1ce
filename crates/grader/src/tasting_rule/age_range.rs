//! Age as a range in years, by the interval score.
//!
//! S = (u - l) + (2/a) max(0, l - x) + (2/a) max(0, x - u) with a = 0.2 (Gneiting and Raftery
//! 2007, eq. 43), lower is better. Credit = (30 - S) / (30 - 4), held between 0 and 1: full marks
//! for a range no wider than 4 years that holds the age, and nothing for what scores no better
//! than the reference guess "0 to 30 years", whose score is 30 for every age it holds. Missing the
//! range by a year costs as much as making it ten years wider. The limits are this project's
//! choice. "No age stated" is right or wrong. Chance score: a guesser draws two whole years from 0
//! to 30 in order, each pair equally likely; a lister writes "0 to 30".

use base::Marks;
use question_bank::sample_record::Age;

use crate::reason::{Earned, Reason};
use crate::tasting_rule::written_age::{NoAge, WrittenAge, read_age};
use crate::verdict::Verdict;

/// The rule's stable name.
pub const RULE: &str = "age range";

/// The share of truths that a range may miss.
pub const ALPHA: f64 = 0.2;
/// The score up to which marks are full: a range of four years that holds the age.
pub const FULL_UP_TO: f64 = 4.0;
/// The score of the reference guess from 0 to 30 years.
pub const REFERENCE: f64 = 30.0;

/// The interval score; lower is better.
#[must_use]
pub fn interval_score(low: f64, high: f64, truth: f64, alpha: f64) -> f64 {
    (high - low) + 2.0 / alpha * ((low - truth).max(0.0) + (truth - high).max(0.0))
}

/// The credit of a score, 0 to 1.
#[must_use]
pub fn credit(score: f64) -> f64 {
    ((REFERENCE - score) / (REFERENCE - FULL_UP_TO)).clamp(0.0, 1.0)
}

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(age: Age, answer: &str, of: Marks) -> Verdict {
    let for_a_person = |why: &str| {
        Verdict::for_a_person(
            format!("\"{}\" {why}", base::walk::shortened(answer.trim())),
            Vec::new(),
        )
    };
    let given = match read_age(answer) {
        Ok(given) => given,
        Err(NoAge::Unreadable) => return for_a_person("cannot be read as a range of years"),
        Err(NoAge::UpsideDown) => return for_a_person("begins later than it ends"),
    };
    match (age, given) {
        (Age::Unknown, _) => {
            Verdict::for_a_person("the age of this sample is not known", Vec::new())
        }
        (Age::NotStated, WrittenAge::NotStated) => Reason::NoAgeRight.verdict(of, RULE),
        (Age::NotStated, WrittenAge::Between(..) | WrittenAge::From(_) | WrittenAge::Under(_)) => {
            Reason::NoAgeWrong {
                truth: "no age stated".to_owned(),
            }
            .verdict(Marks::ZERO, RULE)
        }
        (Age::Stated(years), WrittenAge::NotStated) => Reason::NoAgeWrong {
            truth: format!("{years} years"),
        }
        .verdict(Marks::ZERO, RULE),
        (Age::Stated(_), WrittenAge::From(_)) => for_a_person("has no end"),
        (Age::Stated(years), WrittenAge::Between(low, high)) => ranged(low, high, years, of),
        (Age::Stated(years), WrittenAge::Under(high)) => ranged(0.0, high, years, of),
    }
}

fn ranged(low: f64, high: f64, truth: u32, of: Marks) -> Verdict {
    let score = interval_score(low, high, f64::from(truth), ALPHA);
    match of.credit(credit(score)) {
        Some(marks) => Reason::AgeRange {
            low,
            high,
            truth,
            score,
            earned: Earned { marks, of },
        }
        .verdict(marks, RULE),
        None => Verdict::for_a_person("the range has no score", Vec::new()),
    }
}

/// What a guesser gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(age: Age) -> f64 {
    let Age::Stated(truth) = age else { return 0.0 };
    let (mut sum, mut ranges) = (0.0, 0.0);
    for low in 0..=30_u32 {
        for high in low..=30 {
            let (low, high) = (f64::from(low), f64::from(high));
            sum += credit(interval_score(low, high, f64::from(truth), ALPHA));
            ranges += 1.0;
        }
    }
    sum / ranges
}

/// What a lister gets who writes "0 to 30".
#[must_use]
pub fn lister_score(age: Age) -> f64 {
    match age {
        Age::Stated(truth) => credit(interval_score(0.0, 30.0, f64::from(truth), ALPHA)),
        Age::NotStated | Age::Unknown => 0.0,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::told;
    use proptest::prelude::*;

    fn marked(age: Age, answer: &str) -> (String, String) {
        told(&mark(age, answer, Marks::from_thousandths(26_000)))
    }

    #[test]
    fn width_and_distance_cost_marks() {
        // With 26 marks, one mark is one year of score.
        for (answer, marks) in [
            ("8-12", "26"),
            ("10", "26"),
            ("6-12", "24"),
            ("0-30", "0"),
            ("5-9", "16"),
            ("11", "20"),
            ("20-24", "0"),
            ("under 12", "18"),
            ("no age stated", "0"),
        ] {
            assert_eq!(marked(Age::Stated(10), answer).0, marks, "{answer}");
        }
        assert_eq!(marked(Age::NotStated, "NAS").0, "26");
        for answer in ["12-8", "10+", "-3", "old"] {
            assert!(
                marked(Age::Stated(10), answer).1.starts_with("person:"),
                "{answer}"
            );
        }
    }

    #[test]
    fn a_lister_gets_nothing() {
        for years in 0..=40 {
            assert_eq!(lister_score(Age::Stated(years)), 0.0);
        }
        let guesser = chance_score(Age::Stated(12));
        assert!(guesser > 0.0 && guesser < 0.5, "{guesser}");
    }

    proptest! {
        #[test]
        fn a_wider_range_that_holds_the_age_never_earns_more(
            low in 0.0_f64..30.0, width in 0.0_f64..30.0, more in 0.0_f64..10.0, at in 0.0_f64..1.0
        ) {
            let truth = low + width * at;
            let narrow = credit(interval_score(low, low + width, truth, ALPHA));
            let wide = credit(interval_score(low, low + width + more, truth, ALPHA));
            prop_assert!(wide <= narrow && (0.0..=1.0).contains(&wide));
        }
    }
}
