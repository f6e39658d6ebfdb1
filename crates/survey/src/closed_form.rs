//! The instant preview: power, smallest change and expected toll by closed forms.
//!
//! Decline: var(slope) = [s_year^2 + v/S] / S_tt, S_tt = T(T^2 - 1)/12, with v = s_siteyear^2 + 1/M + 1/(m k W) for
//! a site-year total of mean M from m traps over W effective weeks, widened for uneven traps and losses (Larsen et al. 2001, BioScience 51:1069;
//! Urquhart, Paulsen & Larsen 1998, Ecol. Appl. 8:246; the count terms by the delta method). Traps at fixed points
//! drop out, sites too. Power by the noncentral t with T - 2 degrees of freedom; of the calibrated test by the law of a
//! statistic whose variance has a floor ([`models::pooled`]).
//!
//! Range shift: the same variances by generalised least squares over the analysis' design, then the delta method.
//!
//! Departures from the plain model ([`crate::scenario::Departures`]) that the analysis does not know of widen the
//! estimate's variance beyond its standard error's; a drift of the traps moves the estimate. Losses that follow the
//! catch have no closed form: they are taken as lost at random here.

mod decline;
mod kept;
mod law;
mod over_plans;
mod range_shift;
pub mod serial;
mod space;
mod toll;

pub use over_plans::{AtSites, OverPlans};
pub use space::mean_correlation;
pub use toll::{ExpectedToll, expected_toll};

use crate::scenario::{Checked, Direction, Effect, Known, Plan, Test, percent_fall};
use law::Law;
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
    /// Noncentrality: effect over standard error; with departures, and for a calibrated test, the one at which a t test
    /// with these degrees of freedom, a right standard error and no drift would have this power.
    pub delta: f64,
    /// Degrees of freedom of the t form.
    pub df: f64,
    /// Approximate share of surveys in which nothing changes that raise a false alarm: the accepted level, unless the
    /// world departs from what the analysis takes it for.
    pub false_alarm: f64,
}

/// Variance of an estimate, and what its standard error squared is on average.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Variances {
    /// Of the estimate.
    pub truth: f64,
    /// As the analysis, which knows nothing of departures, believes.
    pub believed: f64,
    /// What the analysis would believe were the years all alike, the least it can: that of site-years by themselves. 0
    /// where no such floor is known.
    pub floor: f64,
}

impl Variances {
    /// The analysis is right.
    fn same(variance: f64) -> Self {
        Self {
            truth: variance,
            believed: variance,
            floor: 0.0,
        }
    }

    /// SD of the estimate over its standard error: 1 when the analysis is right, more when it is too sure.
    pub fn inflation(&self) -> f64 {
        if self.truth == self.believed {
            1.0
        } else {
            (self.truth / self.believed).sqrt()
        }
    }
}

/// Degrees of freedom of the planned statistic's t form; infinite for the normal. Satterthwaite tests have no closed
/// form: theirs is that of t.
pub fn degrees_of_freedom(scenario: &Checked, plan: &Plan) -> f64 {
    match scenario.analysis.test {
        Test::Z | Test::LikelihoodRatio => f64::INFINITY,
        Test::T | Test::Calibrated | Test::Satterthwaite | Test::AnnualIndex => {
            t_degrees(scenario, plan)
        }
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
    Law::T(df).delta_where(critical(scenario, df), two, power)
}

/// Standard error of the estimate under a plan; infinite when the design cannot tell it.
pub fn standard_error(scenario: &Checked, plan: &Plan) -> f64 {
    standard_error_at(scenario, plan, effect_size(scenario))
}

/// The same when the true effect has another size (on the estimate's scale, 0 or more, in the stated direction).
pub fn standard_error_at(scenario: &Checked, plan: &Plan, effect: f64) -> f64 {
    variances_at(scenario, plan, effect).truth.sqrt()
}

/// Variances of the estimate when the true effect has this size (as [`standard_error_at`]).
pub fn variances_at(scenario: &Checked, plan: &Plan, effect: f64) -> Variances {
    match &scenario.question.effect {
        Effect::Decline(_) => decline::variances(scenario, plan, -effect),
        Effect::RangeShift(r) => {
            let signed = if r.distance_per_decade < 0.0 {
                -effect
            } else {
                effect
            };
            range_shift::variances(scenario, plan, signed)
        }
    }
}

/// What the traps' drift adds to the estimate in the direction of the question's effect: below 0 when it hides it. A
/// range shift is seen within every year, where the drift is the same everywhere.
pub fn drift_towards(scenario: &Checked) -> f64 {
    let told = scenario.analysis.knows.contains(&Known::DetectionDrift);
    match &scenario.question.effect {
        Effect::Decline(_) if !told => -scenario.premises.departures.log_drift(),
        Effect::Decline(_) | Effect::RangeShift(_) => 0.0,
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

/// Whether the preview of any plan is the plain power of a noncentral t.
pub fn is_plain(scenario: &Checked) -> bool {
    let pooled = scenario.analysis.test == Test::Calibrated
        && matches!(scenario.question.effect, Effect::Decline(_));
    scenario.premises.departures.is_empty() && !pooled
}

/// The preview of a plan.
pub fn preview(scenario: &Checked, plan: &Plan) -> Preview {
    let effect = effect_size(scenario);
    let v = variances_at(scenario, plan, effect);
    let se = v.truth.sqrt();
    let df = degrees_of_freedom(scenario, plan);
    let question = &scenario.question;
    let law = Law::of(scenario, plan, &v, df);
    let smallest = |wanted: f64| {
        smallest_effect(scenario, plan, wanted)
            .map_or(f64::NAN, |e| in_words_of_question(scenario, e))
    };
    if scenario.premises.departures.is_empty() && matches!(law, Law::T(_)) {
        let delta = effect / se;
        return Preview {
            power: power_at(scenario, df, delta),
            smallest_change: smallest(wanted_delta(scenario, df)),
            se,
            delta,
            df,
            false_alarm: question.significance,
        };
    }
    // The statistic has the law times the inflation.
    let two = question.direction == Direction::Either;
    let drift = drift_towards(scenario);
    let c = if scenario.analysis.test == Test::Calibrated {
        // The value that the accepted share of surveys of this very world without a change exceeds.
        law.critical(question.significance, drift / se, two)
    } else {
        critical(scenario, df) / v.inflation()
    };
    let found = |effect: f64| law.power(c, (effect + drift) / se, two);
    let power = found(effect);
    Preview {
        power,
        smallest_change: smallest(law.delta_where(c, two, question.wanted_power)),
        se,
        delta: delta_for(scenario, df, power.min(1.0 - 1e-9)),
        df,
        false_alarm: found(0.0),
    }
}

/// The effect (on the estimate's scale) found with the wanted power, that is at the noncentrality `wanted`; the
/// standard error moves with the effect, and the traps' drift with none. `None` when no effect is.
fn smallest_effect(scenario: &Checked, plan: &Plan, wanted: f64) -> Option<f64> {
    let drift = drift_towards(scenario);
    let short = |effect: f64| (effect + drift) / standard_error_at(scenario, plan, effect) - wanted;
    // Where the drift alone is found as often as wanted, no change is needed.
    if short(0.0) >= 0.0 {
        return Some(0.0);
    }
    let mut high = effect_size(scenario);
    while short(high) < 0.0 {
        high *= 1.5;
        if high > 1e3 * effect_size(scenario) || !short(high).is_finite() {
            return None;
        }
    }
    Some(bracketed(short, 0.0, high, 1e-6))
}
