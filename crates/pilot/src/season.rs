//! The season: a bell curve over the weeks, where the catches show one.

use super::model::Weeks;
use super::samples::Observation;
use models::glmm::Fit;
use models::wald::ratio_minus_half;
use numerics::maths::pow;
use std::collections::BTreeMap;

/// Fewest distinct weeks for a curve.
pub(crate) const FEWEST_WEEKS: usize = 4;
/// The quadratic term over its standard error must lie below this.
const CURVED: f64 = -2.0;
/// How many weeks outside those sampled a peak may lie.
const BEYOND: f64 = 2.0;

/// A gap of more weeks than this parts two seasons.
const GAP: u8 = 20;

/// A fitted bell curve; standard errors by the delta method.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Curve {
    /// Week of the peak.
    pub peak: f64,
    /// Its standard error.
    pub peak_se: f64,
    /// SD of the curve in weeks.
    pub width: f64,
    /// Its standard error.
    pub width_se: f64,
}

/// The curve of a fit with b1 u + b2 u^2: peak centre - scale b1/(2 b2), width scale (-2 b2)^(-1/2).
///
/// # Errors
/// In words, when the catches do not show a peak.
pub(crate) fn curve(fit: &Fit, weeks: &Weeks) -> Result<Curve, String> {
    let (b1, b2) = (fit.beta[1], fit.beta[2]);
    let z = b2 / fit.se(2);
    if z.is_nan() || z >= CURVED {
        return Err("catches do not rise and fall clearly within the weeks sampled".into());
    }
    let cov = |i: usize, j: usize| fit.covariance[i * 3 + j];
    let (u, u_se) = ratio_minus_half(b1, b2, cov(1, 1), cov(2, 2), cov(1, 2));
    let peak = weeks.centre + weeks.scale * u;
    if peak < weeks.first - BEYOND || peak > weeks.last + BEYOND || !(1.0..=53.0).contains(&peak) {
        return Err(format!(
            "the fitted peak, week {peak:.1}, lies outside the weeks sampled ({} to {})",
            weeks.first, weeks.last
        ));
    }
    let width = pow(-2.0 * b2, -0.5);
    Ok(Curve {
        peak,
        peak_se: weeks.scale * u_se,
        width: weeks.scale * width,
        width_se: weeks.scale * width * width * width * fit.se(2),
    })
}

/// Mean week of the catch, each week weighted by its catch per trap-week.
pub(crate) fn mean_week(rows: &[Observation]) -> Option<f64> {
    let mut weeks: BTreeMap<u8, (f64, f64)> = BTreeMap::new();
    for row in rows {
        let week = weeks.entry(row.week?).or_default();
        week.0 += row.count;
        week.1 += row.effort;
    }
    let rate: f64 = weeks.values().map(|(c, e)| c / e).sum();
    let sum: f64 = weeks.iter().map(|(&w, (c, e))| f64::from(w) * c / e).sum();
    (rate > 0.0).then(|| sum / rate)
}

/// Whether the weeks run over the turn of the year: a long gap inside them and a shorter one at its turn.
pub(crate) fn over_new_year(rows: &[Observation]) -> bool {
    let mut weeks: Vec<u8> = rows.iter().filter_map(|r| r.week).collect();
    weeks.sort_unstable();
    weeks.dedup();
    let inner = weeks.windows(2).map(|w| w[1] - w[0]).max().unwrap_or(0);
    match (weeks.first(), weeks.last()) {
        (Some(first), Some(last)) => inner > GAP && inner > first + 52_u8.saturating_sub(*last),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(weeks: &[(u8, f64, f64)]) -> Vec<Observation> {
        let row = |&(w, count, effort): &(u8, f64, f64)| Observation {
            site: 0,
            year: 0,
            week: Some(w),
            effort,
            count,
        };
        weeks.iter().map(row).collect()
    }

    #[test]
    fn mean_week_is_by_catch_per_effort() {
        let r = rows(&[(20, 10.0, 1.0), (22, 20.0, 2.0), (22, 0.0, 0.5)]);
        let want = (20.0 * 10.0 + 22.0 * 8.0) / 18.0;
        assert!((mean_week(&r).unwrap() - want).abs() < 1e-12);
        assert_eq!(mean_week(&rows(&[(20, 0.0, 1.0)])), None);
    }

    #[test]
    fn turn_of_the_year() {
        let over = |weeks: &[u8]| {
            over_new_year(&rows(
                &weeks.iter().map(|&w| (w, 1.0, 1.0)).collect::<Vec<_>>(),
            ))
        };
        assert!(over(&[48, 50, 52, 2, 4]));
        assert!(!over(&[14, 18, 22, 26]));
        assert!(!over(&[2, 20, 30, 40, 50]));
    }
}
