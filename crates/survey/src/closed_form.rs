//! The instant preview: power, smallest change and expected toll by closed forms.
//!
//! Decline: var(slope) = [s_year^2 + v/S] / S_tt, S_tt = T(T^2 - 1)/12, with v = s_siteyear^2 + 1/M + 1/(m k W) for
//! a site-year total of mean M from m traps over W effective weeks, widened for uneven traps and losses (Larsen et al. 2001, BioScience 51:1069;
//! Urquhart, Paulsen & Larsen 1998, Ecol. Appl. 8:246; the count terms by the delta method). Traps at fixed points
//! drop out, sites too. Power by the noncentral t with T - 2 degrees of freedom; of the calibrated test by the law of a
//! statistic whose variance has a floor ([`models::pooled`]).
//!
//! Edge of a range: by the covariance of what sites show, or the information of occupancy and detection ([`edge`]).
//!
//! Range shift: the same variances by generalised least squares over the analysis' design, then the delta method.
//!
//! Two groups of sites, occupancy, absence, a baseline and inventories have forms of their own ([`groups`],
//! [`occupancy`], [`absence`], [`baseline`], [`inventory`]).
//!
//! Plans that do not visit every site in every year, and sites that drop out, by generalised least squares over kinds of
//! sites ([`panels`]).
//!
//! Departures from the plain model ([`crate::scenario::Departures`]) that the analysis does not know of widen the
//! estimate's variance beyond its standard error's; a drift of the traps moves the estimate. Losses that follow the
//! catch have no closed form: they are taken as lost at random here.

mod absence;
mod baseline;
mod clustering;
mod decline;
mod detection;
mod edge;
mod elsewhere;
mod gradual;
mod groups;
mod inventory;
mod kept;
mod law;
mod occupancy;
mod over_plans;
mod panels;
mod range_shift;
mod removal;
mod scale;
pub mod serial;
mod space;
mod timing;
mod toll;
mod two_rates;
mod visits;

pub use absence::density_found;
pub(crate) use baseline::half_width;
pub use clustering::{Clustered, Clustering, clustering, design_effect};
pub(crate) use decline::slope_variance;
pub(crate) use detection::Detection;
pub(crate) use edge::working_site_sd;
pub use elsewhere::planned_elsewhere;
pub(crate) use gradual::Gradual;
pub(crate) use kept::{site_year_variance, trap_total_variance};
pub use over_plans::{AtSites, OverPlans};
pub use panels::{presence, within_degrees};
pub use removal::{Removed, removed};
pub use scale::{effect_size, in_words_of_question, signed, truth, unit};
pub(crate) use scale::{first_enough, in_a_row};
pub use space::mean_correlation;
pub(crate) use timing::Timing;
pub use toll::{ExpectedToll, expected_toll};
pub(crate) use toll::{
    grown, mean_factor, reproductive_shares, spread_of_catch, still_share, still_shares,
};
pub use two_rates::sites_by_rates;

use crate::scenario::{Checked, Direction, Effect, Known, Plan, Scenario, Test};
use law::Law;
use numerics::maths::{exp, exp_m1, ln_1p};
use numerics::root::bracketed;
use numerics::special::noncentral_t;

/// The preview of one plan.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Preview {
    /// Approximate power.
    pub power: f64,
    /// Effect found with the wanted power, in the question's unit (per cent fall over the horizon, or distance a
    /// decade; of a baseline the precision reached); NaN when no effect is.
    pub smallest_change: f64,
    /// Standard error of the estimate (slope a year on the log scale, or distance a decade; of a baseline over the mean).
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

/// Degrees of freedom of the t form: years of trapping - 2 for a decline, which is seen only between years, whatever the
/// pattern of revisits (sites that change only add to what a year's index scatters);
/// (sites - 1)(years - 1) - 1 for a range shift, which is seen within every year. Two groups: sites - 2 or pairs - 1
/// when sites are compared, and what site-years leave, (sites - 1)(years - 1) - 1 or pairs (years - 1) - 1, when sites are
/// their own controls; with a pattern what [`within_degrees`] says in place of (sites - 1)(years - 1). Infinite where a likelihood without random effects is used.
pub fn t_degrees(scenario: &Checked, plan: &Plan) -> f64 {
    // Years count in which anybody traps.
    let (sites, years) = (f64::from(plan.sites), f64::from(plan.turns()));
    let within = within_degrees(scenario, plan);
    let paired = plan.groups.as_ref().is_some_and(|g| g.paired);
    match scenario.question.effect {
        Effect::Decline(_) | Effect::NoWorse(_) => years - 2.0,
        Effect::RangeShift(_) if scenario.by_occupancy() => f64::INFINITY,
        Effect::RangeShift(_) if scenario.by_presence() => (years - 2.0).max(1.0),
        Effect::RangeShift(_) => (within - 1.0).max(1.0),
        Effect::Difference(_) if paired => (sites / 2.0 - 1.0).max(1.0),
        Effect::Difference(_) => (sites - 2.0).max(1.0),
        // With slopes of their own sites are all that is repeated.
        Effect::BeforeAfter(_) if scenario.analysis.knows.contains(&Known::SiteSlopes) => {
            let units = if paired { sites / 2.0 + 1.0 } else { sites };
            (units - 2.0).max(1.0)
        }
        Effect::BeforeAfter(_) if paired && panels::applies(scenario, plan) => {
            (0.5 * within - 1.0).max(1.0)
        }
        Effect::BeforeAfter(_) if paired => (sites / 2.0 * (years - 1.0) - 1.0).max(1.0),
        Effect::BeforeAfter(_) => (within - 1.0).max(1.0),
        Effect::Occupancy(_) | Effect::Absence(_) | Effect::Inventory(_) => f64::INFINITY,
        Effect::Baseline(_) => sites - 1.0,
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

/// Power at noncentrality `delta` of the question's test. Of a claim of absence `delta` is -ln of the chance that
/// none is caught, of a baseline -ln of the chance of too wide an interval, of an inventory that the share is not reached.
pub fn power_at(scenario: &Checked, df: f64, delta: f64) -> f64 {
    if scenario.question.effect.is_chance() {
        return 1.0 - exp(-delta);
    }
    let two = scenario.question.direction == Direction::Either;
    noncentral_t::power(critical(scenario, df), df, delta, two)
}

/// The noncentrality at which the question's test has the wanted power.
pub fn wanted_delta(scenario: &Checked, df: f64) -> f64 {
    delta_for(scenario, df, scenario.question.wanted_power)
}

/// The noncentrality at which the question's test has this power (below 1); 0 when its level is as much.
pub fn delta_for(scenario: &Checked, df: f64, power: f64) -> f64 {
    if scenario.question.effect.is_chance() {
        return -ln_1p(-power);
    }
    let two = scenario.question.direction == Direction::Either;
    Law::T(df)
        .delta_where(critical(scenario, df), two, power)
        .max(0.0)
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
    let value = signed(scenario, effect);
    match &scenario.question.effect {
        Effect::NoWorse(n) if panels::applies(scenario, plan) => {
            panels::variances(scenario, plan, n.true_slope())
        }
        Effect::Decline(_) | Effect::Difference(_) | Effect::BeforeAfter(_)
            if panels::applies(scenario, plan) =>
        {
            panels::variances(scenario, plan, value)
        }
        Effect::RangeShift(r) if r.of.is_optimum() && panels::applies(scenario, plan) => {
            panels::variances(scenario, plan, value)
        }
        Effect::Decline(_) => decline::variances(scenario, plan, value),
        // The margin moves, not the catch.
        Effect::NoWorse(n) => decline::variances(scenario, plan, n.true_slope()),
        Effect::Difference(_) | Effect::BeforeAfter(_) => groups::variances(scenario, plan, value),
        Effect::RangeShift(r) if !r.of.is_optimum() => edge::variances(scenario, plan, value),
        Effect::RangeShift(_) => range_shift::variances(scenario, plan, value),
        Effect::Occupancy(_) => occupancy::variances(scenario, plan, value),
        // Not told by a standard error.
        Effect::Absence(_) | Effect::Baseline(_) | Effect::Inventory(_) => {
            Variances::same(f64::NAN)
        }
    }
}

fn is_baseline(scenario: &Checked) -> bool {
    matches!(scenario.question.effect, Effect::Baseline(_))
}

/// The share wanted of an inventory, and what a plan records.
fn share_recorded(scenario: &Checked, plan: &Plan) -> Option<(f64, inventory::Share)> {
    let Effect::Inventory(asked) = &scenario.question.effect else {
        return None;
    };
    let believed = inventory::Believed::new(scenario);
    let share = inventory::Share::new(scenario, plan, &believed);
    Some((asked.wanted_share, share))
}

fn is_absence(scenario: &Checked) -> bool {
    matches!(scenario.question.effect, Effect::Absence(_))
}

/// What the traps' drift, what they take from one year for the next, and a season that moves under fixed weeks, add to
/// the estimate in the direction of the question's effect: below 0 when they hide it. A range shift, and a difference
/// between groups, is seen within every year, where they are the same everywhere. An analysis may be told of the drift
/// alone.
pub fn drift_towards(scenario: &Checked, plan: &Plan) -> f64 {
    let both = removal::unforeseen_slope(scenario, plan) + season_slope(scenario, plan);
    match &scenario.question.effect {
        Effect::Decline(_) => -both,
        Effect::NoWorse(_) => both,
        _ => 0.0,
    }
}

/// Change of the log catch a year in the plan's weeks by a season that moves, on average over years' own shifts.
pub fn season_slope(scenario: &Scenario, plan: &Plan) -> f64 {
    let p = &scenario.premises;
    let (peak, width) = (
        p.target.season_peak_week.value,
        p.target.season_width_weeks.value,
    );
    crate::season::Moving::of(&p.departures).map_or(0.0, |m| m.of_log(plan, peak, width).slope)
}

/// The same in per cent a year.
pub fn season_percent_a_year(scenario: &Scenario, plan: &Plan) -> f64 {
    100.0 * exp_m1(season_slope(scenario, plan))
}

/// Whether the preview of any plan is the plain power of a noncentral t.
pub fn is_plain(scenario: &Checked) -> bool {
    let pooled = scenario.analysis.test == Test::Calibrated && scenario.question.effect.is_trend();
    let sites = scenario.by_occupancy() || scenario.by_presence();
    let own = matches!(
        scenario.question.effect,
        Effect::Baseline(_) | Effect::Inventory(_)
    );
    let endless = scenario.premises.local_population.is_none();
    scenario.premises.departures.is_empty() && endless && !pooled && !sites && !own
}

/// The preview of a claim of absence: nothing is claimed falsely where nothing is, so that there are no false alarms.
fn absence_at_stated(scenario: &Checked, plan: &Plan) -> Preview {
    let delta = plan_delta(scenario, plan);
    Preview {
        power: 1.0 - exp(-delta),
        smallest_change: f64::NAN,
        se: f64::NAN,
        delta,
        df: f64::INFINITY,
        false_alarm: 0.0,
    }
}

/// The preview of a baseline's precision; what stands for false alarms are intervals that miss the truth.
fn preview_of_baseline(scenario: &Checked, plan: &Plan) -> Preview {
    let p = baseline::precision(scenario, plan);
    Preview {
        power: p.chance,
        smallest_change: in_words_of_question(scenario, p.reached),
        se: p.se,
        delta: p.delta,
        df: t_degrees(scenario, plan),
        false_alarm: p.misses,
    }
}

/// The preview of an inventory. How often surveys claim the share falsely has no closed form.
fn inventory_at_stated(wanted: f64, share: &inventory::Share) -> Preview {
    Preview {
        power: share.power(wanted),
        smallest_change: f64::NAN,
        se: f64::NAN,
        delta: share.delta(wanted),
        df: f64::INFINITY,
        false_alarm: f64::NAN,
    }
}

/// What plans are ranked by: effect over standard error; of a claim of absence -ln of the chance that none is caught, of
/// an inventory that the share is not reached.
pub fn plan_delta(scenario: &Checked, plan: &Plan) -> f64 {
    if let Some((wanted, share)) = share_recorded(scenario, plan) {
        return share.delta(wanted);
    }
    if is_baseline(scenario) {
        return baseline::precision(scenario, plan).delta;
    }
    if is_absence(scenario) {
        let one = absence::OneTrap::new(scenario, plan, truth(scenario));
        return one.delta(plan.sites, plan.traps_per_site);
    }
    effect_size(scenario) / standard_error(scenario, plan)
}

/// The planned statistic under a plan: its law, and what it must exceed.
struct Judged<'a> {
    scenario: &'a Checked,
    law: Law,
    /// Critical value over the inflation of the statistic.
    critical: f64,
    /// Law and critical value of the world without a change, where that has variances of its own.
    still: Option<(Law, f64)>,
    se: f64,
    drift: f64,
    two: bool,
}

impl<'a> Judged<'a> {
    fn new(scenario: &'a Checked, plan: &Plan, v: Variances) -> Self {
        let question = &scenario.question;
        let df = degrees_of_freedom(scenario, plan);
        let (law, se) = (Law::of(scenario, plan, &v, df), v.truth.sqrt());
        let two = question.direction == Direction::Either;
        let drift = drift_towards(scenario, plan);
        if scenario.edge().is_some() {
            return Self::of_edge(scenario, plan, v, law);
        }
        let plain = drift == 0.0 && v.truth == v.believed && matches!(law, Law::T(_));
        let critical = if scenario.analysis.test == Test::Calibrated && !plain {
            // The value that the accepted share of surveys of this very world without a change exceeds.
            law.critical(question.significance, drift / se, two)
        } else {
            critical(scenario, df) / v.inflation()
        };
        Self {
            scenario,
            law,
            critical,
            still: None,
            se,
            drift,
            two,
        }
    }

    /// Of an edge: while it stays where it is the same sites are occupied from year to year, and alike in another way than
    /// while it moves.
    fn of_edge(scenario: &'a Checked, plan: &Plan, v: Variances, law: Law) -> Self {
        let two = scenario.question.direction == Direction::Either;
        let df = degrees_of_freedom(scenario, plan);
        let null = variances_at(scenario, plan, 0.0);
        let still_law = Law::of(scenario, plan, &null, df);
        let still = if scenario.analysis.test == Test::Calibrated {
            let level = scenario.question.significance;
            still_law.critical(level, 0.0, two)
        } else {
            critical(scenario, df) / null.inflation()
        };
        Self {
            scenario,
            law,
            critical: still * null.inflation() / v.inflation(),
            still: Some((still_law, still)),
            se: v.truth.sqrt(),
            drift: 0.0,
            two,
        }
    }

    /// Chance of a finding where nothing changes.
    fn false_alarm(&self) -> f64 {
        match &self.still {
            Some((law, still)) => law.power(*still, 0.0, self.two),
            None => self.power(0.0),
        }
    }

    fn power(&self, effect: f64) -> f64 {
        self.law
            .power(self.critical, (effect + self.drift) / self.se, self.two)
    }

    fn wanted(&self) -> f64 {
        let wanted = self.scenario.question.wanted_power;
        self.law.delta_where(self.critical, self.two, wanted)
    }
}

/// The preview of a plan.
pub fn preview(scenario: &Checked, plan: &Plan) -> Preview {
    if is_baseline(scenario) {
        return preview_of_baseline(scenario, plan);
    }
    if let Some((wanted, share)) = share_recorded(scenario, plan) {
        return Preview {
            smallest_change: share.reached_with(scenario.question.wanted_power),
            ..inventory_at_stated(wanted, &share)
        };
    }
    let smallest = if is_absence(scenario) {
        density_found(scenario, plan, scenario.question.wanted_power)
    } else {
        let v = variances_at(scenario, plan, effect_size(scenario));
        let wanted = Judged::new(scenario, plan, v).wanted();
        smallest_effect(scenario, plan, wanted).map(|e| in_words_of_question(scenario, e))
    };
    Preview {
        smallest_change: smallest.unwrap_or(f64::NAN),
        ..preview_at_stated(scenario, plan)
    }
}

/// The power of [`preview_at_stated`] alone, in a fraction of the time.
pub fn power_at_stated(scenario: &Checked, plan: &Plan) -> f64 {
    let effect = &scenario.question.effect;
    if is_absence(scenario) || is_baseline(scenario) || matches!(effect, Effect::Inventory(_)) {
        return preview_at_stated(scenario, plan).power;
    }
    let effect = effect_size(scenario);
    let v = variances_at(scenario, plan, effect);
    Judged::new(scenario, plan, v).power(effect)
}

/// The preview of a plan without the smallest change (NaN), which takes longer than all the rest.
pub fn preview_at_stated(scenario: &Checked, plan: &Plan) -> Preview {
    if let Some((wanted, share)) = share_recorded(scenario, plan) {
        return inventory_at_stated(wanted, &share);
    }
    if is_absence(scenario) {
        return absence_at_stated(scenario, plan);
    }
    if is_baseline(scenario) {
        return preview_of_baseline(scenario, plan);
    }
    let effect = effect_size(scenario);
    let v = variances_at(scenario, plan, effect);
    let df = degrees_of_freedom(scenario, plan);
    let judged = Judged::new(scenario, plan, v);
    let plain = scenario.premises.departures.is_empty()
        && v.truth == v.believed
        && judged.drift == 0.0
        && matches!(judged.law, Law::T(_));
    let power = judged.power(effect);
    Preview {
        power,
        smallest_change: f64::NAN,
        se: judged.se,
        delta: if plain {
            effect / judged.se
        } else {
            delta_for(scenario, df, power.min(1.0 - 1e-9))
        },
        df,
        false_alarm: if plain {
            scenario.question.significance
        } else {
            judged.false_alarm()
        },
    }
}

/// The effect (on the estimate's scale) found with the wanted power, that is at the noncentrality `wanted`; the
/// standard error moves with the effect, and the traps' drift with none. `None` when no effect is.
fn smallest_effect(scenario: &Checked, plan: &Plan, wanted: f64) -> Option<f64> {
    let drift = drift_towards(scenario, plan);
    let short = |effect: f64| (effect + drift) / standard_error_at(scenario, plan, effect) - wanted;
    // Where the drift alone is found as often as wanted, no change is needed.
    if short(0.0) >= 0.0 {
        return Some(0.0);
    }
    let high = scale::first_enough(scenario, |effect| short(effect) >= 0.0)?;
    Some(bracketed(short, 0.0, high, gradual::TOLERANCE))
}
