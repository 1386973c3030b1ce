//! The likelihood of one candidate's answers along the scale of ability, and where it is highest.

use crate::refusal::{Refusal, at_least};
use crate::scaling::item_curve::ItemCurve;

/// Ends of the scale that is searched, in logits.
const END: f64 = 20.0;
/// Distance of the points between which a top is sought.
const WIDTH: f64 = 0.5;

/// A candidate's answers beside the curves of the questions.
pub(crate) struct Answers<'a> {
    given: Vec<(&'a ItemCurve, usize)>,
}

/// Log-likelihood at an ability, its derivative, Fisher's information, and Σ P'P''/P.
#[derive(Debug, Clone, Copy)]
pub(crate) struct At {
    pub(crate) log: f64,
    pub(crate) slope: f64,
    pub(crate) information: f64,
    pub(crate) skew: f64,
}

impl<'a> Answers<'a> {
    /// Pairs answers with curves.
    ///
    /// # Errors
    /// `Refusal::UnequalLengths`; `Refusal::TooFew` without an answer; `Refusal::OutOfRange` for a
    /// category that the question does not have; what `ItemCurve::check` refuses.
    pub(crate) fn of(curves: &'a [ItemCurve], answers: &[Option<u8>]) -> Result<Self, Refusal> {
        if curves.len() != answers.len() {
            return Err(Refusal::UnequalLengths {
                of: "answers beside curves",
                have: answers.len(),
                expected: curves.len(),
            });
        }
        let mut given = Vec::with_capacity(answers.len());
        for (curve, answer) in curves.iter().zip(answers) {
            curve.check()?;
            if let Some(category) = answer {
                let category = usize::from(*category);
                if category >= curve.categories() {
                    return Err(Refusal::OutOfRange {
                        of: "category",
                        value: category as f64,
                        allowed: "a category that the question has",
                    });
                }
                given.push((curve, category));
            }
        }
        at_least(1, given.len(), "answers", "a measure needs one")?;
        Ok(Self { given })
    }

    pub(crate) fn count(&self) -> usize {
        self.given.len()
    }

    /// Everything at one ability.
    pub(crate) fn at(&self, ability: f64) -> At {
        let mut here = At {
            log: 0.0,
            slope: 0.0,
            information: 0.0,
            skew: 0.0,
        };
        for (curve, category) in &self.given {
            for (place, at) in curve.at(ability).iter().enumerate() {
                let probability = at.probability.max(f64::MIN_POSITIVE);
                here.information += at.slope * at.slope / probability;
                here.skew += at.slope * at.bend / probability;
                if place == *category {
                    here.log += libm::log(probability);
                    here.slope += at.slope / probability;
                }
            }
        }
        here
    }

    /// The ability where `slope` falls through 0 and `height` is greatest; none where the ends of the
    /// scale are higher than every such place.
    pub(crate) fn top(
        &self,
        slope: impl Fn(&At, f64) -> f64,
        height: impl Fn(&At, f64) -> f64,
    ) -> Option<f64> {
        let steps = (2.0 * END / WIDTH) as usize;
        let mut best: Option<(f64, f64)> = None;
        let mut before = slope(&self.at(-END), -END);
        for step in 1..=steps {
            let ability = -END + WIDTH * step as f64;
            let here = slope(&self.at(ability), ability);
            if before > 0.0 && here <= 0.0 {
                let place = self.crossing(&slope, ability - WIDTH, ability);
                let high = height(&self.at(place), place);
                if best.is_none_or(|(_, highest)| high > highest) {
                    best = Some((place, high));
                }
            }
            before = here;
        }
        let end = |ability: f64| height(&self.at(ability), ability);
        let (place, high) = best?;
        (high >= end(-END) && high >= end(END)).then_some(place)
    }

    fn crossing(&self, slope: &impl Fn(&At, f64) -> f64, low: f64, high: f64) -> f64 {
        let (mut low, mut high) = (low, high);
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if slope(&self.at(middle), middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }
}

/// Standard error from information, refused where there is none.
pub(crate) fn error_from(information: f64) -> Result<f64, Refusal> {
    if information > 1e-12 && information.is_finite() {
        Ok(1.0 / information.sqrt())
    } else {
        Err(Refusal::NotDefined {
            of: "the error of an ability",
            because: "the questions tell nothing at that ability",
        })
    }
}
