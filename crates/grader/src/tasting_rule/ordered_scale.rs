//! Colour depth, body and finish: linear credit with the distance on an ordered scale.
//!
//! Source: linear weights of Cohen 1968, 1 - |i - j| / (K - 1) with K steps. Chance score: a
//! guesser picks any step with equal chance; the mean is the higher the nearer the truth lies to
//! the middle, and it is reported because it is high. Who marks several steps gets nothing.

use base::Marks;

use crate::reason::{Earned, Reason};
use crate::share::Share;
use crate::verdict::Verdict;
use crate::written_number::read_number;

/// An ordered scale of whole steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scale {
    /// The first step.
    pub first: u32,
    /// The last step.
    pub last: u32,
    /// The rule's stable name.
    pub rule: &'static str,
}

/// Depth of colour: 0 clear to 10 darkest.
pub const COLOUR: Scale = Scale {
    first: 0,
    last: 10,
    rule: "colour scale",
};
/// Body: 1 light to 5 full.
pub const BODY: Scale = Scale {
    first: 1,
    last: 5,
    rule: "body scale",
};
/// Finish: 1 short to 5 long.
pub const FINISH: Scale = Scale {
    first: 1,
    last: 5,
    rule: "finish scale",
};

/// How credit falls with the distance of two steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScaleCredit {
    /// Evenly: 1 - |i - j| / (K - 1). By this one glasses are marked.
    Linear,
    /// Slowly at first: 1 - (i - j)² / (K - 1)².
    Quadratic,
    /// All for the step itself, nothing beside it.
    Exact,
    /// All for the step and its neighbours.
    ExactOrAdjacent,
}

impl ScaleCredit {
    /// Every way.
    pub const ALL: [Self; 4] = [
        Self::Linear,
        Self::Quadratic,
        Self::Exact,
        Self::ExactOrAdjacent,
    ];

    /// The credit of step `answer` where `truth` is right, on a scale of `steps` steps.
    #[must_use]
    pub fn of(self, steps: u32, truth: u32, answer: u32) -> Share {
        let length = steps.saturating_sub(1);
        let distance = truth.abs_diff(answer);
        let all_within = |near: u32| Share::new(u32::from(distance <= near), 1);
        match self {
            Self::Linear if length > 0 => Share::new(length.saturating_sub(distance), length),
            Self::Quadratic if length > 0 => {
                let (whole, lost) = (
                    length.saturating_mul(length),
                    distance.saturating_mul(distance),
                );
                Share::new(whole.saturating_sub(lost), whole)
            }
            Self::Linear | Self::Quadratic | Self::Exact => all_within(0),
            Self::ExactOrAdjacent => all_within(1),
        }
    }

    /// The mean credit over all steps, counted from 0, where `truth` is right: what a guesser gets.
    #[must_use]
    pub fn mean_over_every_step(self, steps: u32, truth: u32) -> f64 {
        (0..steps)
            .map(|answer| self.of(steps, truth, answer).as_f64())
            .sum::<f64>()
            / f64::from(steps.max(1))
    }
}

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(scale: Scale, truth: Option<u32>, answer: &str, of: Marks) -> Verdict {
    let Some(truth) = truth else {
        return Verdict::for_a_person("the sample record states no such value", Vec::new());
    };
    match whole_step(scale, answer) {
        Some(given) => {
            let steps = scale.last - scale.first + 1;
            let marks = ScaleCredit::Linear.of(steps, truth, given).of(of);
            Reason::ScaleStep {
                given,
                truth,
                length: scale.last - scale.first,
                earned: Earned { marks, of },
            }
            .verdict(marks, scale.rule)
        }
        None => Verdict::for_a_person(
            format!(
                "\"{}\" is no whole number from {} to {}",
                base::walk::shortened(answer.trim()),
                scale.first,
                scale.last
            ),
            Vec::new(),
        ),
    }
}

fn whole_step(scale: Scale, answer: &str) -> Option<u32> {
    let read = read_number(answer).filter(|read| read.rest.is_empty())?;
    match read.readings.as_slice() {
        [one] if one.fract() == 0.0 => {
            (scale.first..=scale.last).find(|step| f64::from(*step) == *one)
        }
        _ => None,
    }
}

/// What a guesser gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(scale: Scale, truth: u32) -> f64 {
    ScaleCredit::Linear.mean_over_every_step(
        scale.last - scale.first + 1,
        truth.saturating_sub(scale.first),
    )
}

#[cfg(test)]
mod tests {
    use crate::example::{Glass, told};
    use exam_plan::Asked;

    #[test]
    fn credit_falls_evenly_with_the_distance() {
        let glass = Glass::new();
        for (asked, answer, marks) in [
            (Asked::Colour, "6", "1"),
            (Asked::Colour, "4", "0.8"),
            (Asked::Colour, "0", "0.4"),
            (Asked::Body, "5", "0.5"),
            (Asked::Finish, "1", "0.25"),
        ] {
            assert_eq!(told(&glass.mark(asked, "1", answer)).0, marks, "{answer}");
        }
        for answer in ["11", "3.5", "-1", "dark", "0", "2 3"] {
            assert!(glass.mark(Asked::Body, "1", answer).waits(), "{answer}");
        }
    }

    #[test]
    fn a_record_without_the_value_waits_for_a_person() {
        let mut glass = Glass::new();
        glass.record.colour = None;
        assert!(glass.mark(Asked::Colour, "1", "6").waits());
    }
}
