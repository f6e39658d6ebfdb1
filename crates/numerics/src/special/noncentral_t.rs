//! The noncentral t distribution: the law of a t statistic when there is something to find.

use super::beta::{ln_beta, regularised};
use super::{normal, student};
use crate::maths::{exp, ln, ln_1p, ln_gamma};

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
        // Poisson weights start at their mode and go both ways.
        let mode = half.floor();
        let mut whole = Series::new(mode, 0.5, b, x, half);
        let mut shifted = Series::new(mode, 1.0, b, x, half);
        let sign = delta / std::f64::consts::SQRT_2;
        let (mut up, mut up_shifted) = (whole, shifted);
        loop {
            total += up.term() + sign * up_shifted.term();
            if up.weight < 1e-17 || up.j > mode + 5000.0 {
                break;
            }
            up.rise();
            up_shifted.rise();
        }
        while whole.j > 0.0 && whole.weight > 1e-17 {
            whole.fall();
            shifted.fall();
            total += whole.term() + sign * shifted.term();
        }
    }
    (0.5 * total + normal::cdf(-delta)).clamp(0.0, 1.0)
}

/// One of the two series: weight e^-half half^j / Gamma(j + 1/2 + c) times I_x(j + c, b), stepped by recurrence:
/// I_x(a + 1, b) = I_x(a, b) - x^a (1-x)^b / (a B(a, b)) (DLMF 8.17.20).
#[derive(Clone, Copy)]
struct Series {
    j: f64,
    c: f64,
    b: f64,
    x: f64,
    half: f64,
    weight: f64,
    ratio: f64,
    /// x^a (1-x)^b / (a B(a, b)) at a = j + c.
    step: f64,
}

impl Series {
    fn new(j: f64, c: f64, b: f64, x: f64, half: f64) -> Self {
        let a = j + c;
        Self {
            j,
            c,
            b,
            x,
            half,
            weight: exp(-half + j * ln(half) - ln_gamma(j + c + 0.5)),
            ratio: regularised(a, b, x),
            step: exp(a * ln(x) + b * ln_1p(-x) - ln_beta(a, b)) / a,
        }
    }

    fn term(&self) -> f64 {
        self.weight * self.ratio
    }

    fn rise(&mut self) {
        let a = self.j + self.c;
        self.ratio = (self.ratio - self.step).max(0.0);
        self.step *= self.x * (a + self.b) / (a + 1.0);
        self.weight *= self.half / (self.j + self.c + 0.5);
        self.j += 1.0;
    }

    fn fall(&mut self) {
        self.j -= 1.0;
        let a = self.j + self.c;
        self.step *= (a + 1.0) / (self.x * (a + self.b));
        self.ratio = (self.ratio + self.step).min(1.0);
        self.weight *= (self.j + self.c + 0.5) / self.half;
    }
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
