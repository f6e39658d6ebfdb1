//! Parts of the probabilities of counts in saddle-point form, precise for counts of any size.
//!
//! Loader (2000), Fast and accurate computation of binomial probabilities: the factorials' Stirling errors and the
//! deviance are small numbers, where the logarithms of the factorials themselves would cancel.

use numerics::maths::{ln, ln_gamma};

/// Half of ln(2 pi).
const HALF_LN_2PI: f64 = 0.918_938_533_204_672_8;

/// ln Gamma(x + 1) less Stirling's formula (x + 1/2) ln x - x + ln(2 pi)/2, for x > 0.
pub fn stirling_error(x: f64) -> f64 {
    if x < 16.0 {
        return ln_gamma(x + 1.0) - (x + 0.5) * ln(x) + x - HALF_LN_2PI;
    }
    // Abramowitz & Stegun (1964), 6.1.41.
    let r = 1.0 / (x * x);
    (1.0 / 12.0 - r * (1.0 / 360.0 - r * (1.0 / 1260.0 - r * (1.0 / 1680.0 - r / 1188.0)))) / x
}

/// x ln(x/m) + m - x, without cancellation where x is near m; x and m above 0.
pub fn deviance(x: f64, m: f64) -> f64 {
    let (gap, sum) = (x - m, x + m);
    if gap.abs() >= 0.1 * sum {
        return x * ln(x / m) - gap;
    }
    // x ln((1 + v)/(1 - v)) with v = (x - m)/(x + m), by the series of the inverse hyperbolic tangent.
    let v = gap / sum;
    let square = v * v;
    let mut term = 2.0 * x * v;
    let mut total = gap * v;
    let mut odd = 3.0;
    loop {
        term *= square;
        let next = total + term / odd;
        if next == total {
            return total;
        }
        total = next;
        odd += 2.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Both branches against ln n! multiplied out.
    #[test]
    fn stirling_errors_of_whole_numbers() {
        let mut log = 0.0;
        for n in 1..60 {
            let x = f64::from(n);
            log += ln(x);
            let direct = log - (x + 0.5) * ln(x) + x - HALF_LN_2PI;
            assert!((stirling_error(x) - direct).abs() < 1e-13, "{n}");
        }
        assert!((stirling_error(16.0) / stirling_error(16.0 - 1e-9) - 1.0).abs() < 1e-9);
    }

    /// At its leading term (x - m)^2 / (2 m) where x is very near m, and from the definition elsewhere.
    #[test]
    fn deviances() {
        assert_eq!(deviance(7.0, 7.0), 0.0);
        let near = deviance(1e12 + 1e3, 1e12);
        assert!((near / 5e-7 - 1.0).abs() < 1e-8, "{near}");
        for (x, m) in [(3.0, 3.4), (3.0, 9.0), (5.0, 0.1)] {
            let direct = x * ln(x / m) + m - x;
            assert!((deviance(x, m) / direct - 1.0).abs() < 1e-13, "{x} {m}");
        }
    }
}
