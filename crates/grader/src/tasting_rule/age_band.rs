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

use crate::award::Outcome;
use crate::reason::{Earned, Reason};
use crate::share::Share;
use crate::tasting_rule::written_age::{NoAge, WrittenAge, read_age};

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
pub fn mark(age: Age, from: &[u32], answer: &str, of: Marks) -> Outcome {
    let names = band_names(from);
    let Some(truth) = true_band(age, from) else {
        return Outcome::for_a_person("the age of this sample is not known", Vec::new());
    };
    let given = match written_band(answer, from, &names) {
        Ok(band) => band,
        Err(why) => {
            return Outcome::for_a_person(
                format!("\"{}\" {why}", base::walk::shortened(answer.trim())),
                names,
            );
        }
    };
    // Both places stand in the list of names, by construction.
    let name = |band: usize| names.get(band).cloned().unwrap_or_default();
    let apart = (given > 0 && truth > 0).then(|| given.abs_diff(truth));
    match apart {
        None if given == truth => Reason::NoAgeRight.outcome(of, RULE),
        None => Reason::NoAgeWrong { truth: name(truth) }.outcome(Marks::ZERO, RULE),
        Some(bands) => {
            let marks = credit(bands).of(of);
            Reason::AgeBand {
                answer: name(given),
                truth: name(truth),
                apart,
                earned: Earned { marks, of },
            }
            .outcome(marks, RULE)
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
