//! Logarithm and derivatives of the gamma function.

use crate::maths::{ln, ln_gamma};

/// Digamma, the derivative of ln gamma, for x > 0. Absolute error below 1e-13 for x above 1e-3.
///
/// Recurrence up to x = 8, then the asymptotic series (Abramowitz & Stegun 1964, 6.3.5 and 6.3.18).
pub fn digamma(x: f64) -> f64 {
    let mut x = x;
    let mut shift = 0.0;
    while x < 8.0 {
        shift -= 1.0 / x;
        x += 1.0;
    }
    let r = 1.0 / (x * x);
    let series = r
        * (1.0 / 12.0
            - r * (1.0 / 120.0
                - r * (1.0 / 252.0
                    - r * (1.0 / 240.0
                        - r * (1.0 / 132.0 - r * (691.0 / 32_760.0 - r * (1.0 / 12.0)))))));
    shift + ln(x) - 0.5 / x - series
}

/// ln Γ(y + k) - ln Γ(k) for a count y: the log of the rising factorial k (k+1) ... (k+y-1).
///
/// Multiplied out for small counts, so that nothing cancels when k is large.
pub fn ln_rising(k: f64, y: f64) -> f64 {
    if y <= 0.0 {
        return 0.0;
    }
    if y <= 24.0 || k > 1e5 * y {
        if y > 1e4 {
            // k is far beyond y: k^y (1 + 1/k)(1 + 2/k)... to second order.
            return y * ln(k) + y * (y - 1.0) / (2.0 * k);
        }
        let mut sum = 0.0;
        let mut product = 1.0;
        let mut j = 0.0;
        while j < y {
            product *= k + j;
            if !(1e-250..1e250).contains(&product) {
                sum += ln(product);
                product = 1.0;
            }
            j += 1.0;
        }
        return sum + ln(product);
    }
    ln_gamma(y + k) - ln_gamma(k)
}

/// digamma(y + k) - digamma(k) for a count y.
pub fn digamma_rising(k: f64, y: f64) -> f64 {
    if y <= 0.0 {
        return 0.0;
    }
    if y <= 24.0 {
        let mut sum = 0.0;
        let mut j = 0.0;
        while j < y {
            sum += 1.0 / (k + j);
            j += 1.0;
        }
        return sum;
    }
    digamma(y + k) - digamma(k)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// digamma(1) = -Euler's constant; digamma(1/2) = -Euler - 2 ln 2 (Abramowitz & Stegun 6.3.2, 6.3.3).
    #[test]
    fn digamma_at_known_points() {
        let euler = 0.577_215_664_901_532_9;
        assert!((digamma(1.0) + euler).abs() < 1e-14);
        assert!((digamma(0.5) + euler + 2.0 * std::f64::consts::LN_2).abs() < 1e-13);
        assert!((digamma(10.0) - 2.251_752_589_066_721).abs() < 1e-14);
    }

    #[test]
    fn rising_forms_agree_across_their_branches() {
        for k in [0.05, 0.7, 2.0, 40.0, 3000.0] {
            for y in [1.0, 7.0, 24.0, 25.0, 300.0] {
                let direct: f64 = (0..y as u32).map(|j| ln(k + f64::from(j))).sum();
                assert!(
                    (ln_rising(k, y) - direct).abs() < 1e-9 * direct.abs().max(1.0),
                    "{k} {y}"
                );
                let d: f64 = (0..y as u32).map(|j| 1.0 / (k + f64::from(j))).sum();
                assert!(
                    (digamma_rising(k, y) - d).abs() < 1e-11 * d.max(1.0),
                    "{k} {y}"
                );
            }
        }
    }
}
