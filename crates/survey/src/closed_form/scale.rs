//! The scale of the estimate: what it measures, how large the stated effect is on it, and the way back into the words
//! of the question.

use crate::scenario::{Checked, Effect, Seasons, log_odds, percent_change, percent_fall, share_of};
use numerics::maths::ln;

/// The true value of the estimate in the world of change; in the other it is 0.
///
/// Decline: slope a year on the log scale. No worse: that slope less the margin's. Difference, before and after: log
/// ratio. Range shift: gradient units a decade. Occupancy: slope a year of the log odds, or the difference of the last
/// from the first year's share. Absence: the density that is to be excluded. Inventory: the share wanted. A baseline has no
/// such value; what stands for it is the wanted half-width of the interval over the mean.
pub fn truth(scenario: &Checked) -> f64 {
    match &scenario.question.effect {
        Effect::Decline(d) => d.log_slope(),
        Effect::NoWorse(n) => n.true_slope() - n.margin_slope(),
        Effect::Difference(d) => d.log_ratio(),
        Effect::BeforeAfter(b) => b.log_ratio(),
        Effect::RangeShift(r) => r.distance_per_decade,
        Effect::Occupancy(o) => {
            let from = first_share(scenario);
            if in_a_row(scenario) {
                o.slope(from)
            } else {
                o.to_share - from
            }
        }
        Effect::Absence(a) => a.catch_per_trap_week,
        Effect::Baseline(b) => b.within_percent / 100.0,
        Effect::Inventory(i) => i.wanted_share,
    }
}

/// Size of the question's effect on the estimate's scale, 0 or more.
pub fn effect_size(scenario: &Checked) -> f64 {
    truth(scenario).abs()
}

/// Share of sites occupied in the first year.
pub(super) fn first_share(scenario: &Checked) -> f64 {
    let p = scenario.premises.occupancy.as_ref();
    p.map_or(f64::NAN, |p| p.occupied.value)
}

/// Whether occupancy is followed year by year.
pub(crate) fn in_a_row(scenario: &Checked) -> bool {
    let visits = scenario.plan.visits.as_ref();
    visits.is_some_and(|v| v.seasons == Seasons::EveryYear)
}

/// A signed value of the estimate's scale from its size, in the stated direction.
pub fn signed(scenario: &Checked, effect: f64) -> f64 {
    if truth(scenario) < 0.0 {
        -effect
    } else {
        effect
    }
}

/// The largest effect worth looking at, on the estimate's scale: a catch a thousand times as large or small, a move or
/// change of odds a thousand times the stated one, a share that leaves a millionth.
pub(crate) fn largest_effect(scenario: &Checked) -> f64 {
    let thousandfold = 1000f64;
    let logs = ln(thousandfold);
    match &scenario.question.effect {
        Effect::Decline(d) => logs / d.over_years,
        Effect::NoWorse(n) => n.true_slope() + logs / n.over_years,
        Effect::Difference(_) | Effect::BeforeAfter(_) => logs,
        Effect::Occupancy(_) if !in_a_row(scenario) => {
            let from = first_share(scenario);
            let room = if truth(scenario) < 0.0 {
                from
            } else {
                1.0 - from
            };
            room - 1e-6
        }
        _ => thousandfold * effect_size(scenario),
    }
}

/// The first effect, from the stated one upwards by half each time and at last the [largest](largest_effect), at which
/// `enough` holds; `None` when none does.
pub(crate) fn first_enough(scenario: &Checked, enough: impl Fn(f64) -> bool) -> Option<f64> {
    let most = largest_effect(scenario);
    let mut high = effect_size(scenario).min(most);
    while !enough(high) {
        if high >= most {
            return None;
        }
        high = (1.5 * high).min(most);
    }
    Some(high)
}

/// An effect on the estimate's scale (0 or more) in the question's unit: per cent of fall over the horizon (no worse: the
/// margin that it leaves), per cent above or below, gradient units a decade, share occupied at the end, catch a
/// trap-week, half-width in per cent of the mean.
pub fn in_words_of_question(scenario: &Checked, effect: f64) -> f64 {
    let value = signed(scenario, effect);
    match &scenario.question.effect {
        Effect::Decline(d) => percent_fall(value, d.over_years),
        Effect::NoWorse(n) => percent_fall(n.true_slope() - effect, n.over_years),
        Effect::Difference(_) | Effect::BeforeAfter(_) => percent_change(value),
        Effect::RangeShift(_) | Effect::Absence(_) | Effect::Inventory(_) => effect,
        Effect::Baseline(_) => 100.0 * effect,
        Effect::Occupancy(o) => {
            let from = first_share(scenario);
            if in_a_row(scenario) {
                share_of(log_odds(from) + value * o.over_years)
            } else {
                from + value
            }
        }
    }
}

/// The key of that unit.
pub fn unit(scenario: &Checked) -> &'static str {
    match &scenario.question.effect {
        Effect::Decline(_)
        | Effect::NoWorse(_)
        | Effect::Difference(_)
        | Effect::BeforeAfter(_)
        | Effect::Baseline(_) => "percent",
        Effect::RangeShift(_) => "per_decade",
        Effect::Occupancy(_) | Effect::Inventory(_) => "share",
        Effect::Absence(_) => "per_trap_week",
    }
}
