//! The instant preview: power, smallest change and expected toll by closed forms.
//!
//! Decline: var(slope) = [s_year^2 + v/S] / S_tt, S_tt = T(T^2 - 1)/12, with v = s_siteyear^2 + 1/M + 1/(m k W) for
//! a site-year total of mean M from m traps over W effective weeks, widened for uneven traps and losses (Larsen et al. 2001, BioScience 51:1069;
//! Urquhart, Paulsen & Larsen 1998, Ecol. Appl. 8:246; the count terms by the delta method). Traps at fixed points
//! drop out, sites too. Power by the noncentral t with T - 2 degrees of freedom.
//!
//! Range shift: the same variances by generalised least squares over the analysis' design, then the delta method.

mod decline;
mod kept;
mod range_shift;
mod toll;

pub use toll::{ExpectedToll, expected_toll};

use crate::scenario::{Checked, Direction, Effect, Plan, Reference, percent_fall};
use numerics::root::bracketed;
use numerics::special::noncentral_t;

/// The preview of one plan.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Preview {
    /// Approximate power.
    pub power: f64,
    /// Effect found with the wanted power, in the question's unit (per cent fall over the horizon, or distance a
    /// decade); NaN when no effect is.
    pub smallest_change: f64,
    /// Standard error of the estimate (slope a year on the log scale, or distance a decade).
    pub se: f64,
    /// Noncentrality: effect over standard error.
    pub delta: f64,
    /// Degrees of freedom of the test.
    pub df: f64,
}

/// Degrees of freedom of the planned Wald statistic; infinite for the normal.
pub fn degrees_of_freedom(scenario: &Checked, plan: &Plan) -> f64 {
    match scenario.analysis.reference {
        Reference::Z => f64::INFINITY,
        Reference::T => t_degrees(scenario, plan),
    }
}

/// Degrees of freedom of the t form: years - 2 for a decline, which is seen only between years;
/// (sites - 1)(years - 1) - 1 for a range shift, which is seen within every year.
pub fn t_degrees(scenario: &Checked, plan: &Plan) -> f64 {
    let (sites, years) = (f64::from(plan.sites), f64::from(plan.years));
    match scenario.question.effect {
        Effect::Decline(_) => years - 2.0,
        Effect::RangeShift(_) => ((sites - 1.0) * (years - 1.0) - 1.0).max(1.0),
    }
}

/// Critical value of the question's test.
pub fn critical(scenario: &Checked, df: f64) -> f64 {
    use models::wald::{Alternative, WaldTest};
    let two = scenario.question.direction == Direction::Either;
    let alternative = if two {
        Alternative::TwoSided
    } else {
        Alternative::Above
    };
    WaldTest {
        df,
        level: scenario.question.significance,
        alternative,
    }
    .critical()
}

/// Power at noncentrality `delta` of the question's test.
pub fn power_at(scenario: &Checked, df: f64, delta: f64) -> f64 {
    let two = scenario.question.direction == Direction::Either;
    noncentral_t::power(critical(scenario, df), df, delta, two)
}

/// The noncentrality at which the question's test has the wanted power.
pub fn wanted_delta(scenario: &Checked, df: f64) -> f64 {
    delta_for(scenario, df, scenario.question.wanted_power)
}

/// The noncentrality at which the question's test has this power (below 1); 0 when its level is as much.
pub fn delta_for(scenario: &Checked, df: f64, power: f64) -> f64 {
    let two = scenario.question.direction == Direction::Either;
    let c = critical(scenario, df);
    let short = |delta: f64| noncentral_t::power(c, df, delta, two) - power;
    if short(0.0) >= 0.0 {
        return 0.0;
    }
    let mut high = c + 2.0;
    while short(high) < 0.0 && high < 1e6 {
        high *= 1.6;
    }
    bracketed(short, 0.0, high, 1e-9)
}

/// Standard error of the estimate under a plan; infinite when the design cannot tell it.
pub fn standard_error(scenario: &Checked, plan: &Plan) -> f64 {
    standard_error_at(scenario, plan, effect_size(scenario))
}

/// The same when the true effect has another size (on the estimate's scale, 0 or more, in the stated direction).
pub fn standard_error_at(scenario: &Checked, plan: &Plan, effect: f64) -> f64 {
    match &scenario.question.effect {
        Effect::Decline(_) => decline::standard_error(scenario, plan, -effect),
        Effect::RangeShift(r) => {
            let signed = if r.distance_per_decade < 0.0 {
                -effect
            } else {
                effect
            };
            range_shift::standard_error(scenario, plan, signed)
        }
    }
}

/// Size of the question's effect on the estimate's scale, 0 or more.
pub fn effect_size(scenario: &Checked) -> f64 {
    match &scenario.question.effect {
        Effect::Decline(d) => d.log_slope().abs(),
        Effect::RangeShift(r) => r.distance_per_decade.abs(),
    }
}

/// An effect on the estimate's scale (0 or more) in the question's unit.
pub fn in_words_of_question(scenario: &Checked, effect: f64) -> f64 {
    match &scenario.question.effect {
        Effect::Decline(d) => percent_fall(-effect, d.over_years),
        Effect::RangeShift(_) => effect,
    }
}

/// The preview of a plan.
pub fn preview(scenario: &Checked, plan: &Plan) -> Preview {
    let se = standard_error(scenario, plan);
    let df = degrees_of_freedom(scenario, plan);
    let delta = effect_size(scenario) / se;
    let power = power_at(scenario, df, delta);
    let smallest_change =
        smallest_effect(scenario, plan, df).map_or(f64::NAN, |e| in_words_of_question(scenario, e));
    Preview {
        power,
        smallest_change,
        se,
        delta,
        df,
    }
}

/// The effect (on the estimate's scale) found with the wanted power; the standard error moves with the effect. `None`
/// when no effect is.
fn smallest_effect(scenario: &Checked, plan: &Plan, df: f64) -> Option<f64> {
    let wanted = wanted_delta(scenario, df);
    let short = |effect: f64| effect / standard_error_at(scenario, plan, effect) - wanted;
    let mut high = effect_size(scenario);
    while short(high) < 0.0 {
        high *= 1.5;
        if high > 1e3 * effect_size(scenario) || !short(high).is_finite() {
            return None;
        }
    }
    Some(bracketed(short, 0.0, high, 1e-6))
}
