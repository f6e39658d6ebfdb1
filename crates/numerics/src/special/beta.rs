//! The regularised incomplete beta function.

use crate::maths::{exp, ln, ln_1p, ln_gamma};

/// Logarithm of the beta function B(a, b), a and b > 0.
pub fn ln_beta(a: f64, b: f64) -> f64 {
    ln_gamma(a) + ln_gamma(b) - ln_gamma(a + b)
}

/// I_x(a, b): the probability that a Beta(a, b) variable is at most x; a, b > 0.
///
/// Continued fraction of DLMF 8.17.22 by the modified Lentz method, with the symmetry
/// I_x(a, b) = 1 - I_{1-x}(b, a) where it converges faster.
pub fn regularised(a: f64, b: f64, x: f64) -> f64 {
    regularised_both(a, b, x).0
}

/// I_x(a, b) and its complement, each without cancellation.
pub fn regularised_both(a: f64, b: f64, x: f64) -> (f64, f64) {
    if x.is_nan() || a <= 0.0 || b <= 0.0 {
        return (f64::NAN, f64::NAN);
    }
    if x <= 0.0 {
        return (0.0, 1.0);
    }
    if x >= 1.0 {
        return (1.0, 0.0);
    }
    let front = exp(a * ln(x) + b * ln_1p(-x) - ln_beta(a, b));
    if x < (a + 1.0) / (a + b + 2.0) {
        let p = front * fraction(a, b, x) / a;
        (p, 1.0 - p)
    } else {
        let q = front * fraction(b, a, 1.0 - x) / b;
        (1.0 - q, q)
    }
}

fn fraction(a: f64, b: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let guard = |v: f64| if v.abs() < TINY { TINY } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / guard(1.0 - (a + b) * x / (a + 1.0));
    let mut h = d;
    for m in 1..500 {
        let m = f64::from(m);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / guard(1.0 + even * d);
        c = guard(1.0 + even / c);
        h *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / guard(1.0 + odd * d);
        c = guard(1.0 + odd / c);
        let step = d * c;
        h *= step;
        if (step - 1.0).abs() < 1e-16 {
            break;
        }
    }
    h
}

#[cfg(test)]
mod tests {
    use super::*;

    /// I_x(1, b) = 1 - (1-x)^b, I_x(a, 1) = x^a, I_{1/2}(a, a) = 1/2 (DLMF 8.17.5).
    #[test]
    fn closed_cases() {
        for x in [0.001, 0.2, 0.7, 0.99] {
            assert!(
                (regularised(1.0, 3.0, x) - (1.0 - (1.0 - x) * (1.0 - x) * (1.0 - x))).abs()
                    < 1e-14
            );
            assert!((regularised(2.0, 1.0, x) - x * x).abs() < 1e-14);
        }
        for a in [0.3, 4.0, 60.0] {
            assert!((regularised(a, a, 0.5) - 0.5).abs() < 1e-12, "{a}");
        }
    }
}
