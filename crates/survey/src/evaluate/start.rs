//! The truth, as the analysis would see it: where a simulated fit starts.

use super::covariates::Covariates;
use crate::closed_form::truth;
use crate::generator::World;
use crate::scenario::{Checked, Effect, Plan, Rows};
use crate::season;
use models::glmm::Start;
use numerics::maths::ln;

/// Where fits of surveys of `world` start.
pub(super) fn start(
    scenario: &Checked,
    plan: &Plan,
    covariates: &Covariates,
    world: World,
) -> Start {
    let t = &scenario.premises.target;
    let square = |v: f64| v * v;
    let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
    let classes = season::classes(plan, peak, width);
    let traps = f64::from(plan.traps_per_site) * (1.0 - scenario.premises.trap_loss.value);
    let weekly = scenario.analysis.rows == Rows::Weeks;
    let season = if weekly {
        // The season's bell curve at the middle of the run.
        -0.5 * square((covariates.middle_week - peak) / width)
    } else {
        ln(season::total(&classes) / f64::from(plan.weeks))
    };
    let level = ln(t.catch_per_trap_week.value) + season + 0.5 * square(t.trap_sd.value);
    let mid = 0.5 * (f64::from(plan.years) - 1.0);
    let changes = if world == World::Change { 1.0 } else { 0.0 };
    let mut beta = match (&scenario.question.effect, scenario.moving(plan.years)) {
        (Effect::RangeShift(shift), Some(g))
            if shift.of.is_optimum() && plan.transect.is_some() =>
        {
            let speed = changes * shift.distance_per_decade / 10.0 / covariates.scale;
            let optimum = (g.first - covariates.centre) / covariates.scale + speed * mid;
            let b_xx = -0.5 * square(covariates.scale / g.width);
            // b_xx (x - optimum - speed t)^2 without its t^2 term
            vec![
                level + b_xx * optimum * optimum,
                -2.0 * b_xx * optimum,
                b_xx,
                2.0 * b_xx * optimum * speed,
                -2.0 * b_xx * speed,
            ]
        }
        (Effect::Decline(_) | Effect::NoWorse(_), _) => {
            let slope = changes * truth(scenario);
            vec![level + slope * mid, slope]
        }
        (Effect::Difference(_) | Effect::BeforeAfter(_), _) => {
            // ratio (g + G)(p + P), with g and p centred and G and P their means.
            let ratio = changes * truth(scenario);
            let (sites, years) = covariates.treated;
            let all = [
                level + ratio * sites * years,
                ratio * years,
                ratio * sites,
                ratio,
            ];
            if covariates.change == 1 {
                vec![all[0], ratio]
            } else {
                all.to_vec()
            }
        }
        _ => vec![level; covariates.columns - covariates.season],
    };
    // -(w - peak)^2 / (2 width^2) in powers of the week from the run's middle.
    let off = peak - covariates.middle_week;
    beta.extend(
        [off / square(width), -0.5 / square(width)]
            .iter()
            .take(covariates.season),
    );
    let counts = traps * t.dispersion_k.value;
    let site = square(t.site_sd.value) + square(t.trap_sd.value) / f64::from(plan.traps_per_site);
    let (site_year_sd, spread) = if weekly {
        (t.site_year_sd.value.max(0.05), 1.0 / counts)
    } else {
        let weeks = season::effective_weeks(&classes);
        // Visited in one year each, sites are told apart by their dispersion alone.
        let alone = if plan.comes_back() { 0.0 } else { site };
        (
            0.0,
            alone + square(t.site_year_sd.value) + 1.0 / (counts * weeks),
        )
    };
    Start {
        beta,
        site_sd: site.sqrt().max(0.05),
        year_sd: t.year_sd.value.max(0.05),
        site_year_sd,
        k: 1.0 / spread,
    }
}
