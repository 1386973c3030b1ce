//! How likely a question is answered rightly at an ability, by what the bank knows of it.
//!
//! Where answers gave parameters, these (three-parameter logistic model, Birnbaum 1968). Where there
//! is only a share of right answers, it is drawn towards what the author's guess says as if 20 more
//! answers had been given to a question of that difficulty, by a class of ability 0.5 (both this
//! project's choice), and turned into a difficulty. Where there is neither, the author's guess:
//! easy −1, medium 0, hard 1, as in the rehearsal, and a guesser's chance where one of several
//! options is chosen. Standard errors: 0.1 where parameters are given, by the binomial distribution
//! for a share, and 0.7 for an author's guess (this project's choice, no source). Where numbers are
//! drawn for each form, one drawing is harder than another, and 0.3 comes to it (variances added; the
//! size is this project's choice, no source).

use question_bank::calibration::LARGEST_DIFFICULTY;
use question_bank::question::Difficulty;
use question_bank::shape::Shape;
use question_bank::{Calibration, Question};

/// The author's guess weighs as much as so many answers.
const AUTHOR_ANSWERS: f64 = 20.0;
/// The ability of the class that gave the answers behind a share.
const CLASS_ABILITY: f64 = 0.5;

/// Standard deviation of difficulty from drawing to drawing of one question.
const FROM_DRAWING_TO_DRAWING: f64 = 0.3;

/// Whence a curve is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum KnownFrom {
    /// Parameters from answers.
    Parameters,
    /// A share of right answers.
    Share,
    /// The author's guess.
    Author,
}

/// The curve of a question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuestionCurve {
    /// Discrimination.
    pub a: f64,
    /// Difficulty.
    pub b: f64,
    /// The chance of a right answer of somebody who knows nothing.
    pub c: f64,
    /// Standard error of the difficulty.
    pub error: f64,
    /// Whence.
    pub known: KnownFrom,
}

impl QuestionCurve {
    /// The curve of a question by what is known of it.
    #[must_use]
    pub fn of(question: &Question, calibration: Option<&Calibration>) -> Self {
        let known = Self::of_one_drawing(question, calibration);
        if question.kind.drawings(1).is_none() {
            return known;
        }
        let drawn = FROM_DRAWING_TO_DRAWING;
        Self {
            error: (known.error * known.error + drawn * drawn).sqrt(),
            ..known
        }
    }

    /// The curve as if every drawing of its numbers were as hard as any other.
    fn of_one_drawing(question: &Question, calibration: Option<&Calibration>) -> Self {
        let c = match question.kind.shape() {
            Shape::Choice { options, one: true } => 1.0 / options.len().max(1) as f64,
            Shape::Choice { .. }
            | Shape::Number { .. }
            | Shape::Order { .. }
            | Shape::Columns { .. }
            | Shape::Words { .. }
            | Shape::Space { .. } => 0.0,
        };
        let author = Self {
            a: 1.0,
            b: match question.difficulty {
                Difficulty::Easy => -1.0,
                Difficulty::Medium => 0.0,
                Difficulty::Hard => 1.0,
            },
            c,
            error: 0.7,
            known: KnownFrom::Author,
        };
        if let Some(curve) = calibration.and_then(|known| known.curve) {
            return Self {
                a: curve.discrimination,
                b: curve.difficulty,
                c: curve.guessing,
                error: 0.1,
                known: KnownFrom::Parameters,
            };
        }
        let Some((share, answers)) = calibration.and_then(|known| known.share) else {
            return author;
        };
        let n = f64::from(answers);
        let drawn =
            (share * n + author.right_at(CLASS_ABILITY) * AUTHOR_ANSWERS) / (n + AUTHOR_ANSWERS);
        let knows = ((drawn - c) / (1.0 - c)).clamp(0.001, 0.999);
        let b = CLASS_ABILITY - libm::log(knows / (1.0 - knows));
        // The error of a share of n answers, through the slope of the curve.
        let slope = knows * (1.0 - knows) * (1.0 - c);
        let error = (drawn * (1.0 - drawn) / (n + AUTHOR_ANSWERS)).sqrt() / slope;
        Self {
            b: b.clamp(-LARGEST_DIFFICULTY, LARGEST_DIFFICULTY),
            error: error.min(author.error),
            known: KnownFrom::Share,
            ..author
        }
    }

    /// The chance of a right answer at an ability.
    #[must_use]
    pub fn right_at(&self, ability: f64) -> f64 {
        self.c + (1.0 - self.c) / (1.0 + libm::exp(-self.a * (ability - self.b)))
    }

    /// Fisher information at an ability: a² (Q / P) ((P − c) / (1 − c))² (Lord 1980, eq. 4-43,
    /// from memory, without the factor 1.7).
    #[must_use]
    pub fn information_at(&self, ability: f64) -> f64 {
        let p = self.right_at(ability);
        if p <= 0.0 {
            return 0.0;
        }
        let knows = (p - self.c) / (1.0 - self.c);
        self.a * self.a * (1.0 - p) / p * knows * knows
    }
}

/// The ability at which the mean of these curves, by weight, is this share; within −6 to 6.
#[must_use]
pub fn ability_at_share(curves: &[(QuestionCurve, f64)], share: f64) -> f64 {
    let total: f64 = curves.iter().map(|(_, weight)| weight).sum();
    let mean = |ability: f64| {
        let sum: f64 = curves
            .iter()
            .map(|(curve, weight)| curve.right_at(ability) * weight)
            .sum();
        sum / total
    };
    let (mut low, mut high) = (-LARGEST_DIFFICULTY, LARGEST_DIFFICULTY);
    if total <= 0.0 {
        return 0.0;
    }
    // Sixty halvings of twelve leave less than the last place.
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if mean(middle) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn curve(a: f64, b: f64, c: f64) -> QuestionCurve {
        QuestionCurve {
            a,
            b,
            c,
            error: 0.1,
            known: KnownFrom::Parameters,
        }
    }

    #[test]
    fn information_is_largest_where_it_must_be() {
        // 2PL: a²/4 at b. 3PL: at b + ln((1 + sqrt(1 + 8c)) / 2) / a (Birnbaum 1968, eq. 20.4.23,
        // from memory), checked against the neighbours.
        assert!((curve(1.6, 0.3, 0.0).information_at(0.3) - 0.64).abs() < 1e-12);
        let with = curve(1.2, -0.4, 0.25);
        let top = -0.4 + libm::log(f64::midpoint(1.0, 3.0_f64.sqrt())) / 1.2;
        for off in [-0.05, 0.05] {
            assert!(with.information_at(top) > with.information_at(top + off));
        }
        // By its definition: slope² / (P Q).
        let step = 1e-5;
        let slope = (with.right_at(1.0 + step) - with.right_at(1.0 - step)) / (2.0 * step);
        let p = with.right_at(1.0);
        assert!((slope * slope / (p * (1.0 - p)) - with.information_at(1.0)).abs() < 1e-8);
    }

    #[test]
    fn the_cut_is_found_on_the_scale_of_ability() {
        let curves = [(curve(1.0, -1.0, 0.2), 3.0), (curve(1.5, 0.8, 0.0), 1.0)];
        let ability = ability_at_share(&curves, 0.6);
        let mean = (3.0 * curves[0].0.right_at(ability) + curves[1].0.right_at(ability)) / 4.0;
        assert!((mean - 0.6).abs() < 1e-12, "{mean}");
    }
}
