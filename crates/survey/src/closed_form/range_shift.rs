//! Standard error of the optimum's shift a decade.

use super::kept::scatter;
use crate::evaluate::Covariates;
use crate::generator::positions;
use crate::scenario::{Checked, Plan};
use models::information;
use models::wald::ratio_minus_half;
use numerics::maths::exp;

/// Standard error of the shift in gradient units a decade, at the expected counts, when the true shift is `effect`.
pub fn standard_error(scenario: &Checked, plan: &Plan, effect: f64) -> f64 {
    let (Some(g), Some(_)) = (&scenario.premises.gradient, &plan.transect) else {
        return f64::INFINITY;
    };
    let t = &scenario.premises.target;
    let scatter = scatter(scenario, plan);
    let square = |v: f64| v * v;
    let common = square(t.site_year_sd.value) + scatter.dispersion;
    let speed = effect / 10.0;
    let covariates = Covariates::new(scenario, plan);
    let years = plan.years as usize;
    let mut weights = Vec::with_capacity(plan.sites as usize * years);
    for x in positions(plan) {
        for y in 0..years {
            let d = (x - g.optimum.value - speed * y as f64) / g.tolerance.value;
            // The response e^(-d^2/2) thins the catch away from the optimum.
            let response = exp(-0.5 * d * d);
            weights.push(if response > 1e-200 {
                scatter.seen / (common + scatter.inverse_mean / response)
            } else {
                0.0
            });
        }
    }
    let site_sd =
        (square(t.site_sd.value) + square(t.trap_sd.value) / f64::from(plan.traps_per_site)).sqrt();
    let columns = covariates.columns;
    let Some(c) = information::covariance(
        &weights,
        &covariates.x,
        columns,
        years,
        site_sd,
        t.year_sd.value,
    ) else {
        return f64::INFINITY;
    };
    // True coefficients: b_xx = -scale^2 / (2 tolerance^2), and the shift a year in scale units is -b_xt/(2 b_xx).
    let b_xx = -0.5 * square(covariates.scale / g.tolerance.value);
    let b_xt = -2.0 * b_xx * speed / covariates.scale;
    let (_, se) = ratio_minus_half(
        b_xt,
        b_xx,
        c[4 * columns + 4],
        c[2 * columns + 2],
        c[2 * columns + 4],
    );
    10.0 * covariates.scale * se
}
