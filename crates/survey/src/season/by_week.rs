//! Each week of the year by itself: what it would catch, kill and tell.

use super::toll::{SetToll, Weights};
use super::weight;
use crate::closed_form::{effect_size, mean_factor, plan_delta, spread_of_catch, variances_at};
use crate::generator::rate;
use crate::scenario::{Checked, Plan};
use serde::{Deserialize, Serialize};

/// Last week of a year.
pub const LAST_WEEK: u32 = 53;

/// A week of the year.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Week {
    /// Its number.
    pub week: u32,
    /// Whether the plan's traps are open in it.
    pub open: bool,
    /// What the plan's traps kill in it over all sites and years, were they open all day of their exposure; of schemes that
    /// close sites early, were it the only week.
    pub toll: SetToll,
    /// Information of one trap's catch in it alone, per (weighted) animal killed. A count of mean mu and dispersion k has
    /// the variance 1/mu + 1/k on the log scale, thus the information mu k/(mu + k); with r of the by-catch killed per
    /// animal of the target, all of weight 1, it is 1/((1 + mu/k)(1 + r)) per animal.
    pub alone_per_animal: f64,
    /// Information on what is asked that the plan gains by the week: with it less without it, all other open weeks
    /// as planned. Information is 1/variance of the estimate, or of a claim of absence, a precision or an inventory -ln of
    /// the chance to miss it.
    pub gain: f64,
    /// The same over the plan's whole information.
    pub gain_share: f64,
    /// The same per (weighted) animal that the week kills; its shape over weeks is what matters.
    pub gain_per_animal: f64,
}

/// Information of a plan on what is asked; 0 of a plan that cannot tell it.
pub(super) fn information(scenario: &Checked, plan: &Plan) -> f64 {
    let value = if scenario.question.effect.is_chance() {
        plan_delta(scenario, plan)
    } else {
        1.0 / variances_at(scenario, plan, effect_size(scenario)).truth
    };
    if value.is_finite() { value } else { 0.0 }
}

/// Information of the plan in other weeks; none without any.
fn information_in(scenario: &Checked, plan: &Plan, weeks: &[u32]) -> f64 {
    if weeks.is_empty() || (weeks.len() < 2 && scenario.by_occupancy()) {
        return 0.0;
    }
    information(scenario, &plan.in_weeks(weeks))
}

fn over(a: f64, b: f64) -> f64 {
    if b > 0.0 { a / b } else { 0.0 }
}

/// All weeks of the year under the scenario's plan.
pub fn by_week(scenario: &Checked, weights: &Weights) -> Vec<Week> {
    let plan = &scenario.plan;
    let open = plan.open_weeks();
    let whole = information_in(scenario, plan, &open);
    let t = &scenario.premises.target;
    let (k, peak, width) = (
        t.dispersion_k.value,
        t.season_peak_week.value,
        t.season_width_weeks.value,
    );
    let at_peak =
        rate(scenario) * mean_factor(&spread_of_catch(scenario)) * plan.exposure_days / 7.0;
    (1..=LAST_WEEK)
        .map(|week| {
            let is_open = open.contains(&week);
            let toll = SetToll::of(scenario, &plan.in_weeks(&[week]), weights);
            let mut others: Vec<u32> = open.iter().copied().filter(|w| *w != week).collect();
            let gain = if is_open {
                whole - information_in(scenario, plan, &others)
            } else {
                others.push(week);
                others.sort_unstable();
                information_in(scenario, plan, &others) - whole
            };
            let mu = at_peak * weight(f64::from(week), peak, width);
            // All animals killed by a trap whose catch is mu.
            let killed = over(toll.weighted, toll.target) * mu;
            Week {
                week,
                open: is_open,
                alone_per_animal: over(mu * k / (mu + k), killed),
                gain,
                gain_share: over(gain, whole),
                gain_per_animal: over(gain, toll.weighted),
                toll,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::closed_form::standard_error;
    use crate::scenario::read;
    use numerics::maths::exp;

    /// The rule 1/((1 + mu/k)(1 + r)) of a week by hand, and the plan's information with the week and without it.
    #[test]
    fn a_week_by_hand() {
        let text = include_str!("../../../../demo-data/meadow-beetles.json");
        let mut s = read(text).unwrap();
        s.premises.bycatch.truncate(1);
        let s = s.check().unwrap();
        let all = by_week(&s, &Weights::default());
        assert_eq!(all.len(), 53);
        let open: Vec<u32> = all.iter().filter(|w| w.open).map(|w| w.week).collect();
        assert_eq!(open, [21, 22, 23, 24, 25]);
        // Week 27, one SD after the peak.
        let w = &all[26];
        let t = &s.premises.target;
        let mu = 9.0 * exp(-0.5) * mean_factor(&spread_of_catch(&s));
        let k = t.dispersion_k.value;
        let r = w.toll.bycatch.total() / w.toll.target;
        let want = 1.0 / ((1.0 + mu / k) * (1.0 + r));
        assert!(
            (w.alone_per_animal / want - 1.0).abs() < 1e-12,
            "{w:?} {want}"
        );
        let info = |weeks: &[u32]| {
            let se = standard_error(&s, &s.plan.in_weeks(weeks));
            1.0 / (se * se)
        };
        let gain = info(&[21, 22, 23, 24, 25, 27]) - info(&[21, 22, 23, 24, 25]);
        assert!((w.gain / gain - 1.0).abs() < 1e-9);
        let last = info(&[21, 22, 23, 24, 25]) - info(&[21, 22, 23, 24]);
        assert!((all[24].gain / last - 1.0).abs() < 1e-9);
        // Tolls of weeks add up to the plan's.
        let sum: f64 = all.iter().filter(|w| w.open).map(|w| w.toll.total).sum();
        let whole = SetToll::of(&s, &s.plan, &Weights::default()).total;
        assert!((sum / whole - 1.0).abs() < 1e-12);
    }
}
