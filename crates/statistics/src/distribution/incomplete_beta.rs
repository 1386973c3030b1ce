//! The regularised incomplete beta function, the source of the t, F, beta and binomial tails.
//!
//! Source: continued fraction DLMF 8.17.22 (https://dlmf.nist.gov/8.17), evaluated by the modified
//! Lentz method; the factor before it as a binomial term.

use super::saddle_point::binomial_term;

/// Iₓ(a, b), with `y` = 1 − x given apart so that a small one keeps its digits.
pub(crate) fn incomplete_beta(a: f64, b: f64, x: f64, y: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if y <= 0.0 {
        return 1.0;
    }
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - lower_part(b, a, y, x);
    }
    lower_part(a, b, x, y)
}

/// The function where its continued fraction converges quickly.
fn lower_part(a: f64, b: f64, x: f64, y: f64) -> f64 {
    // x^a y^b / (a B(a, b)) = binomial term * b / (a + b)
    let factor = binomial_term(a, a + b, x, y) * b / (a + b);
    factor * continued_fraction(a, b, x)
}

fn continued_fraction(a: f64, b: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let away_from_zero = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / away_from_zero(1.0 - (a + b) * x / (a + 1.0));
    let mut fraction = d;
    for step in 1..100_000 {
        let m = f64::from(step);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / away_from_zero(1.0 + even * d);
        c = away_from_zero(1.0 + even / c);
        fraction *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / away_from_zero(1.0 + odd * d);
        c = away_from_zero(1.0 + odd / c);
        let change = d * c;
        fraction *= change;
        if (change - 1.0).abs() < 1e-16 {
            break;
        }
    }
    fraction
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_forms() {
        // I_x(1, b) = 1 - (1 - x)^b and I_x(a, 1) = x^a (DLMF 8.17.5 and definition).
        for x in [0.01, 0.3, 0.5, 0.9] {
            let y: f64 = 1.0 - x;
            assert!((incomplete_beta(1.0, 3.0, x, y) - (1.0 - y * y * y)).abs() < 1e-15);
            assert!((incomplete_beta(3.0, 1.0, x, y) - x * x * x).abs() < 1e-15);
        }
        assert!((incomplete_beta(500.0, 500.0, 0.5, 0.5) - 0.5).abs() < 1e-13);
    }
}
