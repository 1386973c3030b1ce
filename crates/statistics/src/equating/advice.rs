//! Which ways of equating do so many candidates carry?
//!
//! Sources: 25 or fewer: identity does no worse than any equating (Skaggs 2005). Small groups: mean
//! equating, nominal weights (Babcock, Albano & Raymond 2012) and the circle arc (Livingston & Kim
//! 2009, 2010). Linear from about 400 a form, equipercentile from about 1,500 a form in random
//! groups (Kolen & Brennan 2004, ch. 8, from memory). The bound of 100 between small groups and
//! linear with reserve is common practice, no source. Invalid: forms of very different difficulty
//! or content, where no number of candidates makes scores exchangeable.

/// A way of equating.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum EquatingMethod {
    /// A mark is a mark.
    Identity,
    /// A constant is added.
    Mean,
    /// A constant from an anchor, weighted by the lengths of test and anchor.
    NominalWeights,
    /// An arc through both ends and one middle point.
    CircleArc,
    /// Mean and spread are matched: linear, Tucker, Levine, chained.
    Linear,
    /// The whole distribution is matched, smoothed beforehand.
    SmoothedEquipercentile,
}

/// What the number of candidates carries.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Advice {
    /// The number spoken of: candidates on the form with fewer of them.
    pub n: usize,
    /// The way to take first.
    pub first: EquatingMethod,
    /// Every way that this number carries, the first among them.
    pub carried: Vec<EquatingMethod>,
    /// Why, with its source.
    pub reason: &'static str,
    /// How many candidates would carry the next way; none when all are carried.
    pub more_from: Option<usize>,
}

/// Advice for `n` candidates on the form with fewer of them.
#[must_use]
pub fn advice(n: usize) -> Advice {
    use EquatingMethod::{
        CircleArc, Identity, Linear, Mean, NominalWeights, SmoothedEquipercentile,
    };
    let (first, carried, reason, more_from) = match n {
        0..=25 => (
            Identity,
            vec![Identity],
            "with 25 or fewer on a form, equating adds more error than it removes (Skaggs 2005)",
            Some(26),
        ),
        26..=99 => (
            CircleArc,
            vec![Identity, Mean, NominalWeights, CircleArc],
            "small groups carry one estimated point: a mean or the middle of an arc \
             (Livingston & Kim 2009; Babcock, Albano & Raymond 2012)",
            Some(100),
        ),
        100..=399 => (
            CircleArc,
            vec![Identity, Mean, NominalWeights, CircleArc, Linear],
            "a spread can be estimated, but its error at the ends is large below 400: \
             compare the line with the arc (bound of 100: common practice, no source)",
            Some(400),
        ),
        400..=1499 => (
            Linear,
            vec![Identity, Mean, NominalWeights, CircleArc, Linear],
            "about 400 a form carry a line (Kolen & Brennan 2004, ch. 8)",
            Some(1500),
        ),
        _ => (
            SmoothedEquipercentile,
            vec![
                Identity,
                Mean,
                NominalWeights,
                CircleArc,
                Linear,
                SmoothedEquipercentile,
            ],
            "about 1,500 a form carry the whole distribution (Kolen & Brennan 2004, ch. 8)",
            None,
        ),
    };
    Advice {
        n,
        first,
        carried,
        reason,
        more_from,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twenty_five_carry_the_identity_alone() {
        assert_eq!(advice(25).carried, [EquatingMethod::Identity]);
        assert_eq!(advice(0).first, EquatingMethod::Identity);
        assert_ne!(advice(26).first, EquatingMethod::Identity);
    }

    #[test]
    fn more_candidates_never_carry_less_and_the_next_bound_is_true() {
        for n in 0..2000 {
            let (one, next) = (advice(n), advice(n + 1));
            assert!(one.carried.iter().all(|way| next.carried.contains(way)));
            assert!(one.carried.contains(&one.first));
            if let Some(bound) = one.more_from {
                assert!(bound > n && advice(bound).reason != one.reason);
            }
        }
    }
}
