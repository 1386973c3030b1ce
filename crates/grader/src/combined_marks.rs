//! Brings two or three markers' marks for one script together.
//!
//! Two marks that lie no farther apart than the allowed gap count as their mean. Farther apart they
//! wait for a third marker; then the two that lie nearest to each other count as their mean, and
//! where the third lies exactly between them the higher two. The mean is rounded once, half to
//! even, to a thousandth. The gap, a quarter of the full marks unless another is given, and the
//! rule for the third are common practice, no source.

use std::num::NonZeroU32;

use base::Marks;

/// What the marks of one script come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Combined {
    /// Fewer than two markers have marked it.
    Unfinished,
    /// Two markers lie this far apart: a third is needed.
    ThirdNeeded {
        /// The distance.
        gap: Marks,
    },
    /// The mark.
    Agreed {
        /// The mean of the two that count.
        marks: Marks,
        /// The two marks that count.
        of: [Marks; 2],
    },
}

/// The gap allowed where none is given: a quarter of the full marks.
#[must_use]
pub fn usual_gap(of: Marks) -> Marks {
    const FOUR: NonZeroU32 = NonZeroU32::MIN.saturating_add(3);
    of.share(1, FOUR)
}

/// Brings marks together: the first two markers', then the third's where there is one.
#[must_use]
pub fn combine(
    first: Option<Marks>,
    second: Option<Marks>,
    third: Option<Marks>,
    allowed: Marks,
) -> Combined {
    let (Some(first), Some(second)) = (first, second) else {
        return Combined::Unfinished;
    };
    let gap = distance(first, second);
    if gap <= allowed {
        return agreed(first, second);
    }
    let Some(third) = third else {
        return Combined::ThirdNeeded { gap };
    };
    let (low, high) = if first < second {
        (first, second)
    } else {
        (second, first)
    };
    if distance(third, low) < distance(third, high) {
        agreed(low, third)
    } else {
        agreed(high, third)
    }
}

fn distance(a: Marks, b: Marks) -> Marks {
    Marks::from_thousandths((a - b).thousandths().abs())
}

fn agreed(a: Marks, b: Marks) -> Combined {
    const TWO: NonZeroU32 = NonZeroU32::MIN.saturating_add(1);
    Combined::Agreed {
        marks: (a + b).share(1, TWO),
        of: [a, b],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn m(thousandths: i64) -> Marks {
        Marks::from_thousandths(thousandths)
    }

    #[test]
    fn near_marks_are_averaged_and_far_ones_wait_for_a_third() {
        let both =
            |a, b, third: Option<i64>| combine(Some(m(a)), Some(m(b)), third.map(m), m(1000));
        assert_eq!(
            both(3000, 4000, None),
            Combined::Agreed {
                marks: m(3500),
                of: [m(3000), m(4000)]
            }
        );
        assert_eq!(
            both(2000, 4000, None),
            Combined::ThirdNeeded { gap: m(2000) }
        );
        assert_eq!(
            both(2000, 4000, Some(3500)),
            Combined::Agreed {
                marks: m(3750),
                of: [m(4000), m(3500)]
            }
        );
        assert_eq!(
            both(2000, 4000, Some(2500)),
            Combined::Agreed {
                marks: m(2250),
                of: [m(2000), m(2500)]
            }
        );
        // Exactly between: the higher two.
        assert_eq!(
            both(4000, 2000, Some(3000)),
            Combined::Agreed {
                marks: m(3500),
                of: [m(4000), m(3000)]
            }
        );
        assert_eq!(
            combine(Some(m(1)), None, Some(m(1)), m(0)),
            Combined::Unfinished
        );
        assert_eq!(usual_gap(m(6000)), m(1500));
    }

    proptest! {
        #[test]
        fn marks_lie_between_those_given(a in 0_i64..6000, b in 0_i64..6000, c in 0_i64..6000) {
            if let Combined::Agreed { marks, of } = combine(Some(m(a)), Some(m(b)), Some(m(c)), m(1500)) {
                prop_assert!(m(a.min(b).min(c)) <= marks && marks <= m(a.max(b).max(c)));
                prop_assert!(of[0] <= marks && marks <= of[1] || of[1] <= marks && marks <= of[0]);
            }
            // Who marked first changes nothing.
            let one = combine(Some(m(a)), Some(m(b)), Some(m(c)), m(1500));
            let other = combine(Some(m(b)), Some(m(a)), Some(m(c)), m(1500));
            let marks = |combined| match combined { Combined::Agreed { marks, .. } => Some(marks), Combined::Unfinished | Combined::ThirdNeeded { .. } => None };
            prop_assert_eq!(marks(one), marks(other));
        }
    }
}
