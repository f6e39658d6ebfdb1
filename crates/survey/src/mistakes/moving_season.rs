//! Fixed weeks under a season that moves.
//!
//! The catch of the open weeks follows the part of the season that they cover; where that moves from year to year there
//! is a trend that no animal made ([`crate::season::Moving`]).

use super::base::Base;
use super::knob::{Knob, Origin, value};
use crate::scenario::Plan;
use crate::season::Moving;
use numerics::special::{noncentral_t, student};
use serde::Serialize;

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MovingSeason {
    /// Days a decade by which the season comes earlier; below 0 later.
    pub days_a_decade: f64,
    /// Weeks by which the middle of the open weeks lies after the peak of the first year; below 0 before it.
    pub weeks_after_peak: f64,
    /// SD of the season in weeks.
    pub width_weeks: f64,
    /// Years.
    pub years: f64,
    /// False trend in per cent a decade; below 0 a fall.
    pub change_percent_a_decade: f64,
    /// Accepted false alarms.
    pub accepted: f64,
    /// Share of surveys of this size that find a change, though nothing changed but the season.
    pub false_alarm: f64,
    /// Year from 1, what the weeks catch over what they catch in the first.
    pub points: Vec<[f64; 2]>,
}

/// The middle of the plan's open weeks.
fn middle(plan: &Plan) -> f64 {
    let weeks = plan.open_weeks();
    let sum: f64 = weeks.iter().map(|w| f64::from(*w)).sum();
    sum / weeks.len() as f64
}

pub(super) fn knobs(base: &Base) -> Vec<Knob> {
    vec![
        Knob::new(
            "days_a_decade",
            "the season comes earlier by",
            "days a decade",
            (-15.0, 15.0, 0.1),
            base.days_a_decade,
        ),
        Knob::new(
            "weeks_after_peak",
            "middle of the open weeks after the peak",
            "weeks",
            (-8.0, 8.0, 0.1),
            (middle(&base.plan) - base.peak, Origin::Scenario),
        ),
        Knob::new(
            "width_weeks",
            "width of the season (SD)",
            "weeks",
            (0.5, 12.0, 0.1),
            (base.width, Origin::Scenario),
        ),
    ]
}

pub(super) fn shown(base: &Base, knobs: &[Knob]) -> MovingSeason {
    let (days, after) = (
        value(knobs, "days_a_decade"),
        value(knobs, "weeks_after_peak"),
    );
    let width = value(knobs, "width_weeks");
    let years = base.years.0;
    let plan = Plan {
        years: years as u32,
        ..base.plan.clone()
    };
    let moving = Moving {
        // Weeks a year.
        earlier: days / 70.0,
        sd: 0.0,
    };
    // The open weeks stay as they are; the peak is where they are so much after it.
    let peak = middle(&plan) - after;
    let slope = moving.of_log(&plan, peak, width).slope;
    let totals = moving.totals(&plan, peak, width);
    let first = totals.first().copied().unwrap_or(f64::NAN);
    let se = base
        .slope_variance(base.sites.0, years, base.year_sd)
        .sqrt();
    let critical = student::quantile(1.0 - 0.5 * base.level, years - 2.0);
    MovingSeason {
        days_a_decade: days,
        weeks_after_peak: after,
        width_weeks: width,
        years,
        change_percent_a_decade: -super::fall_a_decade(slope),
        accepted: base.level,
        false_alarm: noncentral_t::power(critical, years - 2.0, slope.abs() / se, true),
        points: totals
            .iter()
            .zip(1..)
            .map(|(t, y)| [f64::from(y), t / first])
            .collect(),
    }
}
