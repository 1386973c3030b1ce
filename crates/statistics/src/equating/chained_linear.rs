//! Linear equating from form to anchor in one group, and from anchor to form in the other.
//!
//! Source: Angoff 1971; Kolen & Brennan 2004, ch. 4. Invalid: an anchor much shorter than the forms
//! or unlike them. Smallest: see [`super::advice`]; refused below two candidates or without
//! variance. No interval here; resample both groups. Missing: left out before.

use crate::equating::anchor_group::{AnchorGroup, same_anchor};
use crate::equating::conversion::LinearConversion;
use crate::refusal::Refusal;

/// The chain of two lines.
///
/// # Errors
/// `Refusal::UnequalLengths` for different anchors.
pub fn chained_linear(x: &AnchorGroup, y: &AnchorGroup) -> Result<LinearConversion, Refusal> {
    same_anchor(x, y)?;
    let (one, two) = (x.moments(), y.moments());
    let to_anchor = (one.anchor_variance / one.total_variance).sqrt();
    let to_form = (two.total_variance / two.anchor_variance).sqrt();
    let first = LinearConversion {
        slope: to_anchor,
        intercept: one.anchor_mean - to_anchor * one.total_mean,
    };
    let second = LinearConversion {
        slope: to_form,
        intercept: two.total_mean - to_form * two.anchor_mean,
    };
    Ok(first.then(&second))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::anchor_group::tests::groups;

    #[test]
    fn there_and_back_is_the_identity() {
        let (x, y) = groups();
        let both = chained_linear(&x, &y)
            .unwrap()
            .then(&chained_linear(&y, &x).unwrap());
        assert!((both.slope - 1.0).abs() < 1e-13 && both.intercept.abs() < 1e-13);
    }
}
