//! What no number of traps and sites lowers: the floor set by years.
//!
//! In the limit of unlimited traps and sites var(slope) = s2_year / (T (T^2 - 1)/12): only what all sites share is left
//! (Larsen et al. 2001, BioScience 51:1069). The smallest change is then found with the question's own test. Sites that are
//! alike by their distance never tell more than their region does; that limit is taken at a thousand sites.

use super::finite;
use super::source::nothing_lost;
use crate::scenario::{Checked, Effect, MOST_CORRELATED_SITES, Plan, TrapPoints};
use numerics::maths::{exp_m1, ln_1p};
use serde::Serialize;

/// So many times what there is stands for no end of it.
pub(super) const HUGE: f64 = 1e9;
/// A spread that stands for none where something must be left to weigh by.
const TINY: f64 = 1e-5;
/// Most years that a floor is told for.
pub const MOST_YEARS: u32 = 40;
/// Sites at which the limit of sites that are alike is taken.
pub const FEWEST_SITES: u32 = MOST_CORRELATED_SITES;

/// The floor in some number of years.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FloorOfYears {
    /// Years.
    pub years: u32,
    /// Smallest change that unlimited traps and sites would find, in the question's unit; `null` when none is.
    pub smallest: Option<f64>,
    /// The chance that they would find the wanted change.
    pub power: f64,
}

/// The floor set by years.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Floor {
    /// In the plan's own years.
    pub smallest: Option<f64>,
    /// Of a decline: the same in per cent a year.
    pub percent_a_year: Option<f64>,
    /// Whether unlimited traps and sites would find the wanted change in the plan's years.
    pub reached: bool,
    /// The fewest years in which they would; `null` when none up to [`MOST_YEARS`] do.
    pub years_needed: Option<u32>,
    /// By years.
    pub by_years: Vec<FloorOfYears>,
}

/// Why years set no floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum NoFloor {
    /// The premises say that all years are alike.
    YearsAlike,
    /// What is asked is seen within every year, so that what years share drops out.
    WithinYears,
    /// What is asked is that of the years that are trapped.
    OfTheseYears,
    /// The model takes years to act on how many are seen, not on which sites are occupied.
    Occupancy,
}

/// Whether years set a floor.
pub(super) fn has_floor(s: &Checked) -> Result<(), NoFloor> {
    let d = &s.premises.departures;
    let alike = s.premises.target.year_sd.value == 0.0
        && d.shared_week_sd.value == 0.0
        && d.season_shift_sd.value == 0.0
        && d.correlation_length_km.value == 0.0;
    match &s.question.effect {
        Effect::Decline(_) | Effect::NoWorse(_) if alike => Err(NoFloor::YearsAlike),
        Effect::Decline(_) | Effect::NoWorse(_) => Ok(()),
        Effect::RangeShift(r) if !r.of.is_optimum() => Err(NoFloor::Occupancy),
        Effect::RangeShift(_) | Effect::Difference(_) | Effect::BeforeAfter(_) => {
            Err(NoFloor::WithinYears)
        }
        Effect::Occupancy(_) => Err(NoFloor::Occupancy),
        Effect::Absence(_) | Effect::Baseline(_) | Effect::Inventory(_) => {
            Err(NoFloor::OfTheseYears)
        }
    }
}

/// Years for which the floor is told: from the fewest that can be tested up to [`MOST_YEARS`].
pub(super) fn years(s: &Checked) -> Vec<u32> {
    (s.fewest_years()..=MOST_YEARS.max(s.plan.years)).collect()
}

/// No end of traps at the same sites: what scatters within a site-year is gone.
pub(super) fn unlimited_traps(scenario: &Checked) -> Checked {
    scenario.supposing(|s| {
        nothing_within(s);
        s.premises.trap_loss.value = 0.0;
        s.premises.departures.loss_clustering.value = 0.0;
    })
}

fn nothing_within(s: &mut crate::scenario::Scenario) {
    let t = &mut s.premises.target;
    t.trap_sd.value = 0.0;
    t.dispersion_k.value *= HUGE;
    t.catch_per_trap_week.value *= HUGE;
    // A few traps at each of so many sites need not take their animals to an end.
    s.premises.local_population = None;
    s.plan.trap_points = TrapPoints::Same;
}

/// No end of traps and sites, in so many years: every site in every year that anybody traps.
pub(super) fn floor_in(scenario: &Checked, years: u32) -> Checked {
    let alike = scenario.premises.departures.correlation_length_km.value > 0.0;
    scenario.supposing(|s| {
        nothing_within(s);
        nothing_lost(s);
        s.plan = Plan {
            revisit: None,
            looks: None,
            years,
            ..s.plan.clone()
        };
        s.plan.gap_years.retain(|y| *y < years);
        if alike {
            s.plan.sites = s.plan.sites.max(FEWEST_SITES);
        } else {
            s.premises.target.site_sd.value = TINY;
            s.premises.target.site_year_sd.value = TINY;
            s.premises.departures.site_slope_sd.value = 0.0;
        }
    })
}

impl Floor {
    /// From the floors by years.
    pub(super) fn of(s: &Checked, by_years: Vec<FloorOfYears>) -> Self {
        let wanted = s.question.wanted_power;
        let own = by_years.iter().find(|f| f.years == s.plan.years).copied();
        let smallest = own.and_then(|f| f.smallest);
        Self {
            smallest,
            percent_a_year: match &s.question.effect {
                Effect::Decline(d) => smallest
                    .and_then(|fall| finite(-100.0 * exp_m1(ln_1p(-fall / 100.0) / d.over_years))),
                _ => None,
            },
            reached: own.is_some_and(|f| f.power >= wanted),
            years_needed: by_years.iter().find(|f| f.power >= wanted).map(|f| f.years),
            by_years,
        }
    }
}
