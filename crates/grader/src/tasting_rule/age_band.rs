//! Age as one of the printed bands: half of the marks is lost for each band of distance.
//!
//! Credit = max(0, 1 - d/2) for d bands between answer and truth: the next band earns half, those
//! beyond it nothing. Linear weights over the whole scale (Cohen 1968) would give a guesser more
//! than half of the marks, hence this steeper loss; the step is this project's choice, no source.
//! "No age stated" is no neighbour of any band: right or wrong. Chance score: a guesser picks any
//! band, "no age stated" among them, with equal chance; who names several gets nothing.

use base::Marks;
use exam_plan::plan::band_names;
use question_bank::printed_order::place_of;
use question_bank::sample_record::Age;
use question_bank::word_match::fold;

use crate::reason::{Earned, Reason};
use crate::share::Share;
use crate::tasting_rule::written_age::{NoAge, WrittenAge, read_age};
use crate::verdict::Verdict;

/// The rule's stable name.
pub const RULE: &str = "age band";

/// The credit for bands so far apart.
#[must_use]
pub fn credit(apart: usize) -> Share {
    match apart {
        0 => Share::FULL,
        1 => Share::HALF,
        _ => Share::NONE,
    }
}

/// The band that holds this age: 1 for the first; 0, "no age stated", for none.
#[must_use]
pub fn band_of(years: f64, from: &[u32]) -> usize {
    from.iter()
        .filter(|first| f64::from(**first) <= years)
        .count()
}

/// The true band; none where the age is not known.
#[must_use]
pub fn true_band(age: Age, from: &[u32]) -> Option<usize> {
    match age {
        Age::Stated(years) => Some(band_of(f64::from(years), from)),
        Age::NotStated => Some(0),
        Age::Unknown => None,
    }
}

/// Marks an answer that is not blank: a band as printed, its letter (A is the first printed), or
/// an age or range that lies within one band.
#[must_use]
pub fn mark(age: Age, from: &[u32], answer: &str, of: Marks) -> Verdict {
    let names = band_names(from);
    let Some(truth) = true_band(age, from) else {
        return Verdict::for_a_person("the age of this sample is not known", Vec::new());
    };
    let given = match written_band(answer, from, &names) {
        Ok(band) => band,
        Err(why) => {
            return Verdict::for_a_person(
                format!("\"{}\" {why}", base::walk::shortened(answer.trim())),
                names,
            );
        }
    };
    // Both places stand in the list of names, by construction.
    let name = |band: usize| names.get(band).cloned().unwrap_or_default();
    let apart = (given > 0 && truth > 0).then(|| given.abs_diff(truth));
    match apart {
        None if given == truth => Reason::NoAgeRight.verdict(of, RULE),
        None => Reason::NoAgeWrong { truth: name(truth) }.verdict(Marks::ZERO, RULE),
        Some(bands) => {
            let marks = credit(bands).of(of);
            Reason::AgeBand {
                answer: name(given),
                truth: name(truth),
                apart,
                earned: Earned { marks, of },
            }
            .verdict(marks, RULE)
        }
    }
}

fn written_band(answer: &str, from: &[u32], names: &[String]) -> Result<usize, &'static str> {
    let folded = fold(answer);
    if let Some(band) = names.iter().position(|name| fold(name) == folded) {
        return Ok(band);
    }
    let mut letters = answer.trim().chars();
    if let (Some(letter), None) = (letters.next(), letters.next())
        && let Some(place) = place_of(letter)
    {
        return if place < names.len() {
            Ok(place)
        } else {
            Err("is beyond the printed bands")
        };
    }
    let (low, high) = match read_age(answer) {
        Ok(WrittenAge::NotStated) => return Ok(0),
        Ok(WrittenAge::Between(low, high)) => (band_of(low, from), band_of(high, from)),
        Ok(WrittenAge::From(low)) => (band_of(low, from), from.len()),
        // The band below the one that begins at this age, if one begins there.
        Ok(WrittenAge::Under(high)) => (
            1,
            from.iter()
                .filter(|first| f64::from(**first) < high)
                .count(),
        ),
        Err(NoAge::Unreadable) => return Err("cannot be read as an age band"),
        Err(NoAge::UpsideDown) => return Err("begins later than it ends"),
    };
    if low == high && low > 0 {
        Ok(low)
    } else {
        Err("lies in more than one band")
    }
}

/// What a guesser gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(age: Age, from: &[u32]) -> f64 {
    let Some(truth) = true_band(age, from) else {
        return 0.0;
    };
    let bands = from.len() + 1;
    (0..bands)
        .map(|given| {
            if (given == 0) == (truth == 0) {
                credit(given.abs_diff(truth)).as_f64()
            } else {
                0.0
            }
        })
        .sum::<f64>()
        / bands as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example::told;
    use exam_plan::plan::DEFAULT_BANDS;

    fn marked(age: Age, answer: &str) -> (String, String) {
        told(&mark(
            age,
            &DEFAULT_BANDS,
            answer,
            Marks::from_thousandths(2000),
        ))
    }

    #[test]
    fn the_next_band_earns_half() {
        for (answer, marks) in [
            ("6 to 9 years", "2"),
            ("6-9", "2"),
            ("8", "2"),
            ("d", "2"),
            ("7 to 8 years", "2"),
            ("3 to 5 years", "1"),
            ("12", "1"),
            ("under 3 years", "0"),
            ("<3", "0"),
            ("16+", "0"),
            ("no age stated", "0"),
            ("A", "0"),
        ] {
            assert_eq!(marked(Age::Stated(8), answer).0, marks, "{answer}");
        }
        assert_eq!(marked(Age::NotStated, "none").0, "2");
        assert_eq!(
            marked(Age::NotStated, "8").1,
            "the label says: no age stated; no marks"
        );
    }

    #[test]
    fn what_fits_no_single_band_waits() {
        for answer in ["8-12", "12-8", "-5", "old", "G", "under 10", "10+", "6 3"] {
            let (marks, why) = marked(Age::Stated(8), answer);
            assert!(
                marks == "0" && why.starts_with("person:"),
                "{answer}: {why}"
            );
        }
        assert!(marked(Age::Unknown, "8").1.starts_with("person:"));
    }

    #[test]
    fn a_guesser_by_hand() {
        // Six names: own band 1, two neighbours 1/2 each; at the end of the scale one neighbour.
        assert!((chance_score(Age::Stated(8), &DEFAULT_BANDS) - 2.0 / 6.0).abs() < 1e-15);
        assert!((chance_score(Age::Stated(20), &DEFAULT_BANDS) - 1.5 / 6.0).abs() < 1e-15);
        assert!((chance_score(Age::NotStated, &DEFAULT_BANDS) - 1.0 / 6.0).abs() < 1e-15);
    }
}
