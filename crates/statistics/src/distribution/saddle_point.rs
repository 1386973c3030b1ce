//! The binomial term Γ(n+1)/(Γ(x+1)Γ(n−x+1)) pˣ qⁿ⁻ˣ without loss of digits, whole numbers or not.
//!
//! Source: Loader 2000, "Fast and accurate computation of binomial probabilities": the term is
//! written with the error of Stirling's formula and the deviance, both small and well computed.

use std::f64::consts::PI;

/// Error of Stirling's formula: ln Γ(n+1) − [(n + ½) ln n − n + ½ ln 2π].
pub(crate) fn stirling_error(n: f64) -> f64 {
    if n < 16.0 {
        return libm::lgamma(n + 1.0) - (n + 0.5) * libm::log(n) + n - 0.5 * libm::log(2.0 * PI);
    }
    let square = n * n;
    // The asymptotic series; its next term is below 1e-17 from 16 on.
    let series = 1.0 / 12.0
        - (1.0 / 360.0
            - (1.0 / 1260.0
                - (1.0 / 1680.0 - (1.0 / 1188.0 - 691.0 / 360_360.0 / square) / square) / square)
                / square)
            / square;
    series / n
}

/// Deviance part x ln(x/m) + m − x, exact where x is near m.
pub(crate) fn deviance(x: f64, m: f64) -> f64 {
    let difference = x - m;
    if difference.abs() < 0.1 * (x + m) {
        let v = difference / (x + m);
        let square = v * v;
        let mut total = difference * v;
        let mut power = 2.0 * x * v;
        for step in 1..200 {
            power *= square;
            let next = total + power / f64::from(2 * step + 1);
            if next == total {
                return next;
            }
            total = next;
        }
        return total;
    }
    if x == 0.0 {
        return m;
    }
    x * libm::log(x / m) + m - x
}

/// The binomial term for any 0 <= x <= n; `q` is 1 − p, given apart so that it keeps its digits.
pub(crate) fn binomial_term(x: f64, n: f64, p: f64, q: f64) -> f64 {
    if p == 0.0 {
        return if x == 0.0 { 1.0 } else { 0.0 };
    }
    if q == 0.0 {
        return if x == n { 1.0 } else { 0.0 };
    }
    if x == 0.0 {
        return libm::exp(
            n * if p < 0.1 {
                libm::log1p(-p)
            } else {
                libm::log(q)
            },
        );
    }
    if x == n {
        return libm::exp(
            n * if q < 0.1 {
                libm::log1p(-q)
            } else {
                libm::log(p)
            },
        );
    }
    let rest = n - x;
    let exponent = stirling_error(n)
        - stirling_error(x)
        - stirling_error(rest)
        - deviance(x, n * p)
        - deviance(rest, n * q);
    libm::exp(exponent) * (n / (2.0 * PI * x * rest)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_terms_by_hand() {
        // 10 choose 3 over 2^10 = 120 / 1024.
        assert!((binomial_term(3.0, 10.0, 0.5, 0.5) - 120.0 / 1024.0).abs() < 1e-15);
        assert!((binomial_term(0.0, 4.0, 0.25, 0.75) - 81.0 / 256.0).abs() < 1e-15);
        assert!((binomial_term(4.0, 4.0, 0.25, 0.75) - 1.0 / 256.0).abs() < 1e-17);
    }

    #[test]
    fn both_ways_to_the_stirling_error_agree_where_they_meet() {
        let n = 16.0_f64;
        let direct =
            libm::lgamma(n + 1.0) - (n + 0.5) * libm::log(n) + n - 0.5 * libm::log(2.0 * PI);
        assert!((stirling_error(n) - direct).abs() < 2e-14);
    }
}
