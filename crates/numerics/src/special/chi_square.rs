//! The chi-square distribution with any positive number of degrees of freedom, by the regularised incomplete gamma
//! function.
//!
//! Series below the mean, continued fraction above it (Abramowitz & Stegun 1964, 6.5.29 and 6.5.31), the latter by the
//! modified method of Lentz (1976, Applied Optics 15:668).

use super::normal;
use crate::maths::{exp, ln, ln_gamma};
use crate::root::bracketed;

const STEPS: u32 = 20_000;
/// Beyond this many degrees of freedom Wilson & Hilferty's cube root is as good as the sums.
const MANY: f64 = 1e7;

/// Probability of a value at most x with `df` degrees of freedom, df > 0; absolute error about 1e-12. NaN for numbers
/// out of bounds.
pub fn cdf(x: f64, df: f64) -> f64 {
    if x.is_nan() || df.is_nan() || df <= 0.0 {
        return f64::NAN;
    }
    if x <= 0.0 {
        return 0.0;
    }
    if x.is_infinite() {
        return 1.0;
    }
    if df > MANY {
        // Wilson & Hilferty (1931), PNAS 17:684-688.
        let v = 2.0 / (9.0 * df);
        let root = exp(ln(x / df) / 3.0);
        return normal::cdf((root - 1.0 + v) / v.sqrt());
    }
    let (a, x) = (0.5 * df, 0.5 * x);
    let front = exp(a * ln(x) - x - ln_gamma(a));
    if x < a + 1.0 {
        (front * series(a, x)).min(1.0)
    } else {
        (1.0 - front * fraction(a, x)).clamp(0.0, 1.0)
    }
}

/// The value below which the share p lies, 0 < p < 1; NaN out of bounds.
pub fn quantile(p: f64, df: f64) -> f64 {
    if !(p > 0.0 && p < 1.0 && df > 0.0) {
        return f64::NAN;
    }
    let short = |x: f64| cdf(x, df) - p;
    let (mut low, mut high) = (0.5 * df, 2.0 * df);
    while short(low) > 0.0 && low > f64::MIN_POSITIVE {
        low *= 0.25;
    }
    while short(high) < 0.0 {
        high *= 2.0;
    }
    bracketed(short, low, high, 1e-12)
}

/// 1/a + x/(a(a+1)) + x^2/(a(a+1)(a+2)) + ...
fn series(a: f64, x: f64) -> f64 {
    let mut term = 1.0 / a;
    let mut sum = term;
    for n in 1..STEPS {
        term *= x / (a + f64::from(n));
        sum += term;
        if term < 1e-17 * sum {
            break;
        }
    }
    sum
}

/// 1/(x + 1 - a - 1(1 - a)/(x + 3 - a - 2(2 - a)/(x + 5 - a - ...))).
fn fraction(a: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / if b.abs() < TINY { TINY } else { b };
    let mut value = d;
    for n in 1..STEPS {
        let n = f64::from(n);
        let an = -n * (n - a);
        b += 2.0;
        let nonzero = |v: f64| if v.abs() < TINY { TINY } else { v };
        d = 1.0 / nonzero(an * d + b);
        c = nonzero(b + an / c);
        let step = c * d;
        value *= step;
        if (step - 1.0).abs() < 1e-16 {
            break;
        }
    }
    value
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Upper percentage points, Abramowitz & Stegun (1964), table 26.8.
    #[test]
    fn published_percentage_points() {
        for (df, p, want) in [
            (1.0, 0.95, 3.84146),
            (2.0, 0.95, 5.99146),
            (5.0, 0.99, 15.0863),
            (10.0, 0.05, 3.94030),
            (10.0, 0.95, 18.3070),
            (30.0, 0.9, 40.2560),
            (100.0, 0.95, 124.342),
        ] {
            let got = quantile(p, df);
            assert!((got / want - 1.0).abs() < 5e-6, "{df} {p}: {got}");
            assert!((cdf(want, df) - p).abs() < 1e-5);
        }
    }

    /// With 2 degrees of freedom it is 1 - e^(-x/2), with 1 the square of a normal number.
    #[test]
    fn closed_forms() {
        for x in [1e-6, 0.3, 1.0, 2.9, 7.0, 40.0, 200.0] {
            let two = 1.0 - exp(-0.5 * x);
            assert!((cdf(x, 2.0) - two).abs() < 1e-14, "{x}");
            let one = 1.0 - 2.0 * normal::cdf(-f64::sqrt(x));
            assert!((cdf(x, 1.0) - one).abs() < 1e-13, "{x}");
        }
    }

    /// Recurrence F(x; n + 2) = F(x; n) - (x/2)^(n/2) e^(-x/2) / Gamma(n/2 + 1) (Abramowitz & Stegun 26.4.8), with
    /// broken degrees of freedom, on both sides of the mean.
    #[test]
    fn recurrence() {
        for df in [0.3, 3.7, 41.5, 900.0] {
            for x in [0.2 * df, 0.9 * df, 1.1 * df + 2.0, 3.0 * df] {
                let step = exp(0.5 * df * ln(0.5 * x) - 0.5 * x - ln_gamma(0.5 * df + 1.0));
                let gap = cdf(x, df) - step - cdf(x, df + 2.0);
                assert!(gap.abs() < 1e-12, "{df} {x}: {gap}");
            }
        }
    }

    #[test]
    fn many_degrees_meet_the_sums() {
        for z in [-2.0, 0.0, 1.5] {
            let at = |df: f64| cdf(df + z * (2.0 * df).sqrt(), df);
            assert!((at(0.99 * MANY) - at(1.01 * MANY)).abs() < 1e-6, "{z}");
        }
    }

    #[test]
    fn out_of_bounds() {
        assert!(cdf(1.0, 0.0).is_nan() && cdf(f64::NAN, 2.0).is_nan());
        assert_eq!((cdf(-1.0, 3.0), cdf(f64::INFINITY, 3.0)), (0.0, 1.0));
        assert!(quantile(0.0, 3.0).is_nan() && quantile(1.0, 3.0).is_nan());
        assert!(quantile(0.5, -1.0).is_nan());
    }
}
