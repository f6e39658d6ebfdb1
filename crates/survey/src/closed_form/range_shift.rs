//! Standard error of the optimum's shift a decade.

use super::toll::mean_factor;
use crate::evaluate::Covariates;
use crate::generator::positions;
use crate::scenario::{Checked, Plan};
use crate::season;
use models::information;
use models::wald::ratio_minus_half;
use numerics::maths::exp;

/// Standard error of the shift in gradient units a decade, at the expected counts.
pub fn standard_error(scenario: &Checked, plan: &Plan) -> f64 {
    let (Some(g), Some(_)) = (&scenario.premises.gradient, &plan.transect) else {
        return f64::INFINITY;
    };
    let p = &scenario.premises;
    let t = &p.target;
    let classes = season::classes(plan, t.season_peak_week.value, t.season_width_weeks.value);
    let traps = f64::from(plan.traps_per_site) * (1.0 - p.trap_loss.value);
    let peak = t.catch_per_trap_week.value
        * mean_factor(&[t.trap_sd.value])
        * (plan.exposure_days / 7.0)
        * traps
        * season::total(&classes);
    let spread = 1.0 / (traps * t.dispersion_k.value * season::effective_weeks(&classes));
    let square = |v: f64| v * v;
    let common = square(t.site_year_sd.value) + spread;
    let speed = super::effect_size(scenario) / 10.0;
    let covariates = Covariates::new(scenario, plan);
    let years = plan.years as usize;
    let mut weights = Vec::with_capacity(plan.sites as usize * years);
    for x in positions(plan) {
        for y in 0..years {
            let d = (x - g.optimum.value - speed * y as f64) / g.tolerance.value;
            let mean = peak * exp(-0.5 * d * d);
            weights.push(if mean > 1e-12 {
                1.0 / (common + 1.0 / mean)
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
