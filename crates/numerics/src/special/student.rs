//! Student's t distribution.

use super::beta;
use super::normal;
use crate::root::bracketed;

/// Probability of a value at most t with `df` degrees of freedom (df > 0; infinite df is the normal).
pub fn cdf(t: f64, df: f64) -> f64 {
    if df.is_infinite() {
        return normal::cdf(t);
    }
    let upper = 0.5 * tails(t.abs(), df);
    if t > 0.0 { 1.0 - upper } else { upper }
}

/// Probability of a value beyond |t| on either side: the two-sided p value.
pub fn two_sided(t: f64, df: f64) -> f64 {
    if t.is_nan() {
        return f64::NAN;
    }
    if df.is_infinite() {
        return 2.0 * normal::cdf(-t.abs());
    }
    tails(t.abs(), df)
}

fn tails(t: f64, df: f64) -> f64 {
    if t.is_infinite() {
        return 0.0;
    }
    let t2 = t * t;
    if t2 > df {
        beta::regularised(0.5 * df, 0.5, df / (df + t2))
    } else {
        beta::regularised_both(0.5, 0.5 * df, t2 / (df + t2)).1
    }
}

/// The value below which a share p of the distribution lies, 0 < p < 1.
pub fn quantile(p: f64, df: f64) -> f64 {
    if df.is_infinite() {
        return normal::quantile(p);
    }
    if !(p > 0.0 && p < 1.0 && df > 0.0) {
        return f64::NAN;
    }
    if p == 0.5 {
        return 0.0;
    }
    let tail = p.min(1.0 - p);
    let mut high = 2.0;
    while 0.5 * tails(high, df) > tail {
        high *= 2.0;
    }
    let t = bracketed(|t| 0.5 * tails(t, df) - tail, 0.0, high, 1e-15);
    if p < 0.5 { -t } else { t }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// t(.975, df) from published tables, to the digits scipy 1.17 `t.ppf` prints.
    #[test]
    fn critical_values() {
        for (df, t) in [
            (1.0, 12.706_204_736_174_694),
            (3.0, 3.182_446_305_283_707_8),
            (5.0, 2.570_581_835_636_314),
            (8.0, 2.306_004_135_204_166),
            (10.0, 2.228_138_851_986_274),
            (18.0, 2.100_922_040_241_038),
            (30.0, 2.042_272_456_301_238),
        ] {
            assert!(
                (quantile(0.975, df) - t).abs() < 1e-11,
                "{df}: {}",
                quantile(0.975, df)
            );
            assert!((quantile(0.025, df) + t).abs() < 1e-11);
            assert!((two_sided(t, df) - 0.05).abs() < 1e-13);
            assert!((cdf(t, df) - 0.975).abs() < 1e-13);
        }
    }

    #[test]
    fn infinite_df_is_the_normal() {
        assert_eq!(quantile(0.975, f64::INFINITY), normal::quantile(0.975));
        assert_eq!(cdf(-1.3, f64::INFINITY), normal::cdf(-1.3));
        assert_eq!(two_sided(f64::INFINITY, 4.0), 0.0);
    }
}
