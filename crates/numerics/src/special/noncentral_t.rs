//! The noncentral t distribution: the law of a t statistic when there is something to find.

use super::beta::regularised;
use super::{normal, student};
use crate::maths::{exp, ln, ln_gamma};

/// P(T <= t) with `df` degrees of freedom and noncentrality `delta`.
///
/// Lenth (1989), Algorithm AS 243, Applied Statistics 38:185-189, equation (2); absolute error below 1e-12. Beyond
/// |delta| = 37 the series underflows and the normal form of Abramowitz & Stegun 26.7.10 takes over. Never NaN
/// for finite arguments; infinite df is the shifted normal.
pub fn cdf(t: f64, df: f64, delta: f64) -> f64 {
    if t.is_nan() || df.is_nan() || delta.is_nan() || df <= 0.0 {
        return f64::NAN;
    }
    if t == f64::INFINITY {
        return 1.0;
    }
    if t == f64::NEG_INFINITY {
        return 0.0;
    }
    if df.is_infinite() {
        return normal::cdf(t - delta);
    }
    if delta == 0.0 {
        return student::cdf(t, df);
    }
    // With P_d(t) the distribution function, P_d(t) = 1 - P_{-d}(-t).
    if t < 0.0 {
        (1.0 - nonnegative(-t, df, -delta)).max(0.0)
    } else {
        nonnegative(t, df, delta)
    }
}

/// P(T > t), without cancellation where it is negligible: then it is 0.
pub fn upper(t: f64, df: f64, delta: f64) -> f64 {
    let p = 1.0 - cdf(t, df, delta);
    if p < 1e-12 { 0.0 } else { p }
}

fn nonnegative(t: f64, df: f64, delta: f64) -> f64 {
    if delta.abs() > 37.0 {
        let z = (t * (1.0 - 1.0 / (4.0 * df)) - delta) / (1.0 + t * t / (2.0 * df)).sqrt();
        return normal::cdf(z);
    }
    let x = t * t / (t * t + df);
    let mut total = 0.0;
    if x > 0.0 {
        let lambda = delta * delta;
        let half = 0.5 * lambda;
        let b = 0.5 * df;
        // Poisson weights p_j, and q_j of the half-integer terms, start at their own mode downwards and upwards.
        let mode = half.floor();
        let ln_p = |j: f64| -half + j * ln(half) - ln_gamma(j + 1.0);
        let ln_q = |j: f64| -half + j * ln(half) - ln_gamma(j + 1.5);
        let sign = delta / std::f64::consts::SQRT_2;
        let term = |j: f64| {
            exp(ln_p(j)) * regularised(j + 0.5, b, x)
                + sign * exp(ln_q(j)) * regularised(j + 1.0, b, x)
        };
        let mut j = mode;
        loop {
            let v = term(j);
            total += v;
            if (exp(ln_p(j)) < 1e-17 && j > mode) || j > mode + 2000.0 {
                break;
            }
            j += 1.0;
        }
        let mut j = mode - 1.0;
        while j >= 0.0 {
            total += term(j);
            if exp(ln_p(j)) < 1e-17 {
                break;
            }
            j -= 1.0;
        }
    }
    (0.5 * total + normal::cdf(-delta)).clamp(0.0, 1.0)
}

/// Power of a t test at noncentrality `delta` (signed so that the direction looked for is positive).
///
/// `two_sided` rejects beyond the critical value `critical` on either side, otherwise only above it.
pub fn power(critical: f64, df: f64, delta: f64, two_sided: bool) -> f64 {
    let above = upper(critical, df, delta);
    if !two_sided {
        return above;
    }
    let below = cdf(-critical, df, delta);
    above + if below < 1e-12 { 0.0 } else { below }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy 1.17 `nct.cdf(x, df, delta)`, checked with mpmath integration.
    #[test]
    fn distribution_function() {
        for (x, df, delta, want) in [
            (2.0, 10.0, 2.5, 0.306_961_688_689_082),
            (2.228139, 10.0, 3.0, 0.228_599_823_228_165),
            (1.0, 5.0, 0.5, 0.666_535_702_687_272),
            (-1.5, 8.0, 1.2, 0.006_213_178_799_435_71),
            (3.0, 30.0, 2.0, 0.818_487_949_987_96),
        ] {
            let got = cdf(x, df, delta);
            assert!((got - want).abs() < 1e-11, "{x} {df} {delta}: {got}");
        }
    }

    /// Gerrodette (1987) slope test with Link & Hatfield's (1990) t: delta and power by scipy 1.17.
    #[test]
    fn slope_test_power() {
        for (n, b, sd, delta, by_t, by_z) in [
            (10.0, 0.1, 0.3, 3.027_650_35, 0.755_575_01, 0.857_169_30),
            (10.0, -0.05, 0.2, 2.270_737_77, 0.514_509_41, 0.622_025_35),
            (15.0, -0.03, 0.15, 3.346_640_11, 0.871_032_98, 0.917_229_78),
        ] {
            let n: f64 = n;
            let stt: f64 = n * (n * n - 1.0) / 12.0;
            let d = f64::abs(b) * stt.sqrt() / sd;
            assert!((d - delta).abs() < 1e-8);
            let t = student::quantile(0.975, n - 2.0);
            assert!((power(t, n - 2.0, d, true) - by_t).abs() < 1e-8);
            let z = normal::quantile(0.975);
            assert!((power(z, f64::INFINITY, d, true) - by_z).abs() < 1e-8);
        }
    }

    #[test]
    fn far_tails_are_numbers() {
        for delta in [0.0, 1e-9, 5.0, 20.0, 36.9, 37.1, 80.0, 1e4] {
            for df in [1.0, 3.0, 50.0, 1e5, f64::INFINITY] {
                for t in [-1e6, -3.0, 0.0, 2.2, 40.0, 1e6] {
                    let p = cdf(t, df, delta);
                    assert!((0.0..=1.0).contains(&p), "{t} {df} {delta} {p}");
                }
                let w = power(2.3, df, delta, true);
                assert!((0.0..=1.0).contains(&w));
            }
        }
        assert_eq!(power(2.3, 8.0, 50.0, true), 1.0);
    }
}
