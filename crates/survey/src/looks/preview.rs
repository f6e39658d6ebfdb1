//! What the looks come to by closed form.

use super::expected::expected_by_end;
use super::plan::{LooksPlan, after};
use crate::closed_form::{self, expected_toll, still_share};
use crate::scenario::{Checked, Test};
use models::sequential::{Lines, Outcome, on_t_scale};
use numerics::special::{noncentral_t, normal, student};
use serde::Serialize;

/// Shares of surveys that stop at one look.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Stops {
    /// With a change found.
    pub found: f64,
    /// For futility.
    pub futile: f64,
}

/// One world by closed form.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WorldPreview {
    /// Stops at each look.
    pub stops: Vec<Stops>,
    /// Share of surveys that find a change at any look.
    pub found: f64,
    /// Mean years until the end.
    pub expected_years: f64,
    /// Mean number of animals killed.
    pub expected_toll: f64,
    /// The same of the plan without looks.
    pub fixed_toll: f64,
}

/// The looks by closed form.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LooksPreview {
    /// With the stated change.
    pub change: WorldPreview,
    /// Without.
    pub still: WorldPreview,
    /// Final information over that of a test without looks, of the same level and of the wanted power, on the normal
    /// scale: what the looks cost when no survey stops early.
    pub inflation: f64,
}

/// The preview of a scenario's looks.
///
/// Each look's statistic is given a mean on the normal scale such that it exceeds its line as often as the noncentral t
/// exceeds the line of t; what ties the looks to each other stays that of normal statistics. Departures that the
/// analysis does not know of make it too sure, and lines nearer, by what they inflate; a calibrated test allows for that.
pub fn looks_preview(scenario: &Checked, plan: &LooksPlan) -> LooksPreview {
    let effect = closed_form::effect_size(scenario);
    LooksPreview {
        change: world(scenario, plan, effect, true),
        still: world(scenario, plan, 0.0, false),
        inflation: plan
            .design
            .inflation(&plan.lines, scenario.question.wanted_power),
    }
}

fn world(scenario: &Checked, plan: &LooksPlan, effect: f64, change: bool) -> WorldPreview {
    let calibrated = scenario.analysis.test == Test::Calibrated;
    let mut lines = Lines {
        upper: Vec::new(),
        futility: Vec::new(),
    };
    let mut means = Vec::new();
    for (k, (&years, &df)) in plan.years.iter().zip(&plan.df).enumerate() {
        let at = after(&scenario.plan, years);
        let drift = closed_form::drift_towards(scenario, &at);
        let v = closed_form::variances_at(scenario, &at, effect);
        let too_sure = if calibrated { 1.0 } else { v.inflation() };
        let towards = if calibrated && !change { 0.0 } else { drift };
        let delta = (effect + towards) / v.truth.sqrt();
        let upper = nearer(plan.lines.upper[k], df, too_sure);
        means.push(mean_on_normal_scale(upper, df, delta));
        lines.upper.push(upper);
        let futility = plan.lines.futility[k];
        lines
            .futility
            .push(futility.map(|f| nearer(f, df, too_sure).min(upper)));
    }
    let outcome = plan.design.outcome_with(&lines, &means);
    told(scenario, plan, &outcome, change)
}

/// A line for a statistic that is `too_sure` times as large as a t with `df` degrees of freedom.
fn nearer(line: f64, df: f64, too_sure: f64) -> f64 {
    if too_sure == 1.0 {
        return line;
    }
    let t = on_t_scale(line, df) / too_sure;
    let size = -normal::quantile(student::cdf(-t.abs(), df));
    if t < 0.0 { -size } else { size }
}

/// The mean at which a normal statistic exceeds `line` as often as a noncentral t with `df` degrees of freedom and
/// noncentrality `delta` exceeds that line moved to its scale.
fn mean_on_normal_scale(line: f64, df: f64, delta: f64) -> f64 {
    let exceeds = noncentral_t::upper(on_t_scale(line, df), df, delta);
    // Where hardly any or nearly all do, digits are lost and the mean matters little.
    if delta == 0.0 || df.is_infinite() || !(1e-9..1.0 - 1e-9).contains(&exceeds) {
        return delta;
    }
    line + normal::quantile(exceeds)
}

fn told(scenario: &Checked, plan: &LooksPlan, outcome: &Outcome, change: bool) -> WorldPreview {
    let (ends, looks) = (outcome.ends(), plan.years.len());
    let stops = (0..looks).map(|k| Stops {
        found: outcome.above[k] + outcome.below[k],
        futile: outcome.futile[k],
    });
    let toll = |&years: &u32| {
        let plan = after(&scenario.plan, years);
        let toll = expected_toll(scenario, &plan);
        if change {
            return toll.total();
        }
        // By-catch does not change, the target and other species that are asked about do.
        let share = still_share(scenario, &plan);
        let groups = scenario.premises.killed_besides();
        let besides = toll.bycatch.iter().zip(&groups);
        let of = |(kill, g): (&f64, &crate::scenario::Killed)| {
            kill * if g.asked_about { share } else { 1.0 }
        };
        toll.target * share + besides.map(of).sum::<f64>()
    };
    let tolls: Vec<f64> = plan.years.iter().map(toll).collect();
    let ones = vec![1.0; scenario.plan.years as usize];
    WorldPreview {
        stops: stops.collect(),
        found: outcome.found(),
        expected_years: expected_by_end(&ends, &plan.years, &ones),
        expected_toll: outcome.expected(&tolls),
        fixed_toll: tolls.last().copied().unwrap_or(f64::NAN),
    }
}
