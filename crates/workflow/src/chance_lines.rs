//! What somebody who tastes nothing gets for each thing asked of each glass of a plan.

use base::Marks;
use exam_plan::Exam;
use grader::{KnownWords, SampleKey, tasting_chance_score};
use rayon::prelude::*;
use serde::Serialize;

/// One glass: what is asked of it, and what guessing pays.
#[derive(Debug, Clone, Serialize)]
pub struct ChanceLine {
    /// The sample.
    pub sample: String,
    /// In the order of the answer sheet.
    pub asked: Vec<ChanceOfAsked>,
    /// What a guesser gets on average for the whole glass without extra credit, as a share of its
    /// marks; none where everything asked is extra credit.
    pub guesser: Option<f64>,
    /// What a lister gets for it, likewise.
    pub lister: Option<f64>,
}

/// One thing asked of one glass, in shares of its marks from 0 to 1.
#[derive(Debug, Clone, Serialize)]
pub struct ChanceOfAsked {
    /// By its word in plans: `aroma`.
    pub asked: &'static str,
    /// Marks for a full answer.
    pub marks: Marks,
    /// Whether the marks are extra credit.
    pub extra: bool,
    /// What a guesser gets on average.
    pub guesser: f64,
    /// The standard error of that figure: 0 where it is exact, more where it is simulated.
    pub standard_error: f64,
    /// What a lister gets: one word of each of the largest families, the mildest general answer.
    pub lister: f64,
}

/// The lines of a plan's glasses, in the order of the flight; none without a tasting part.
#[must_use]
pub fn chance_lines(exam: &Exam) -> Vec<ChanceLine> {
    let Some(part) = &exam.plan.tasting else {
        return Vec::new();
    };
    let words = KnownWords::of(&exam.bank);
    // Guessers are simulated on whichever core is free; each has a fixed stream of its own.
    part.samples
        .par_iter()
        .filter_map(|(id, _)| exam.sample(id))
        .map(|record| {
            let key = SampleKey::new(record, words, part);
            let asked: Vec<ChanceOfAsked> = part
                .ask
                .iter()
                .map(|question| {
                    let score = tasting_chance_score(&key, words, &question.asked);
                    ChanceOfAsked {
                        asked: question.asked.name(),
                        marks: question.marks,
                        extra: question.asked.is_extra_credit(),
                        guesser: score.guesser,
                        standard_error: score.standard_error,
                        lister: score.lister,
                    }
                })
                .collect();
            ChanceLine {
                sample: record.id.to_string(),
                guesser: of_the_glass(&asked, |chance| chance.guesser),
                lister: of_the_glass(&asked, |chance| chance.lister),
                asked,
            }
        })
        .collect()
}

/// The mean of the shares, weighed by marks.
fn of_the_glass(asked: &[ChanceOfAsked], share: impl Fn(&ChanceOfAsked) -> f64) -> Option<f64> {
    let counted = || asked.iter().filter(|chance| !chance.extra);
    let of: f64 = counted().map(|chance| chance.marks.as_f64()).sum();
    let earned: f64 = counted()
        .map(|chance| chance.marks.as_f64() * share(chance))
        .sum();
    (of > 0.0).then(|| earned / of)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_glass_weighs_by_marks_and_leaves_extra_credit_out() {
        let one = |marks: i64, extra: bool, guesser: f64| ChanceOfAsked {
            asked: "aroma",
            marks: Marks::from_thousandths(marks * 1000),
            extra,
            guesser,
            standard_error: 0.0,
            lister: 0.0,
        };
        // (9 × 0.1 + 1 × 0.5) / 10
        let asked = [one(9, false, 0.1), one(1, false, 0.5), one(1, true, 0.9)];
        let glass = of_the_glass(&asked, |chance| chance.guesser);
        assert!(glass.is_some_and(|glass| (glass - 0.14).abs() < 1e-12));
        assert_eq!(of_the_glass(&asked[2..], |chance| chance.guesser), None);
    }
}
