//! The two regularised incomplete gamma functions, the source of the chi-square tails.
//!
//! Source: series DLMF 8.7.1 and continued fraction DLMF 8.9.2 (https://dlmf.nist.gov/8), the
//! latter by the modified Lentz method; each tail is computed by whichever is direct there.

use super::saddle_point::{deviance, stirling_error};
use std::f64::consts::PI;

/// x^a e^-x / Γ(a + 1), by Stirling's error and the deviance.
fn factor(a: f64, x: f64) -> f64 {
    libm::exp(-stirling_error(a) - deviance(a, x)) / (2.0 * PI * a).sqrt()
}

fn by_series(a: f64, x: f64) -> f64 {
    let (mut term, mut total, mut n) = (1.0, 1.0, a);
    for _ in 0..100_000 {
        n += 1.0;
        term *= x / n;
        total += term;
        if term < total * 1e-17 {
            break;
        }
    }
    total * factor(a, x)
}

fn by_fraction(a: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / if b.abs() < TINY { TINY } else { b };
    let mut fraction = d;
    for step in 1..100_000 {
        let n = f64::from(step);
        let numerator = -n * (n - a);
        b += 2.0;
        d = numerator * d + b;
        d = 1.0 / if d.abs() < TINY { TINY } else { d };
        c = b + numerator / c;
        if c.abs() < TINY {
            c = TINY;
        }
        let change = d * c;
        fraction *= change;
        if (change - 1.0).abs() < 1e-16 {
            break;
        }
    }
    fraction * factor(a, x) * a
}

/// P(a, x), the lower part.
pub(crate) fn lower_gamma(a: f64, x: f64) -> f64 {
    if x <= 0.0 {
        0.0
    } else if x < a + 1.0 {
        by_series(a, x)
    } else {
        1.0 - by_fraction(a, x)
    }
}

/// Q(a, x), the upper part.
pub(crate) fn upper_gamma(a: f64, x: f64) -> f64 {
    if x <= 0.0 {
        1.0
    } else if x < a + 1.0 {
        1.0 - by_series(a, x)
    } else {
        by_fraction(a, x)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_for_one_and_two() {
        // Q(1, x) = e^-x, Q(2, x) = (1 + x) e^-x.
        // At 600 the exponent itself is only known to 600 * 2^-53.
        for x in [0.2, 1.0, 5.0, 40.0, 600.0] {
            let e = libm::exp(-x);
            assert!((upper_gamma(1.0, x) / e - 1.0).abs() < 4e-13, "{x}");
            assert!(
                (upper_gamma(2.0, x) / ((1.0 + x) * e) - 1.0).abs() < 4e-13,
                "{x}"
            );
        }
    }
}
