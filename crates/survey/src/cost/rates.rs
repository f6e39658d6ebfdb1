//! The costs' premises as rates in hours and money.

use super::{MonthCost, OverStaff, Staff};
use crate::scenario::{Checked, Paid, Sample, SteppedBy};

/// Rates of one scenario.
#[derive(Clone, Debug)]
pub(super) struct Rates {
    pub field_wage: f64,
    pub laboratory_wage: f64,
    pub sites_per_day: f64,
    pub visits_per_week: f64,
    pub visits_before: f64,
    /// Person-hours of a day's travel.
    pub travel_hours: f64,
    pub travel_money: f64,
    pub visit_hours: f64,
    pub trap_hours: f64,
    pub set_up_hours: f64,
    pub take_down_hours: f64,
    pub trap_price: f64,
    pub trap_life: usize,
    pub per_trap_week: f64,
    pub pooled: bool,
    pub sample_hours: f64,
    /// Hours to sort one animal.
    pub sorting_hours: f64,
    pub target_hours: f64,
    pub bycatch_hours: f64,
    /// Hours of curation for each animal of the target, kept or not.
    pub curation_hours: f64,
    pub lag_weeks: u32,
    pub per_year: f64,
    pub once: f64,
    pub field_staff: f64,
    pub laboratory_staff: f64,
    /// Share of trap-weeks lost.
    pub loss: f64,
    pub stepped: Vec<Step>,
}

/// A stepped cost.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    pub of: SteppedBy,
    pub takes_on: f64,
    pub money: f64,
    pub paid: Paid,
}

impl Rates {
    /// Of a scenario that states costs.
    pub fn of(scenario: &Checked) -> Option<Self> {
        let c = scenario.premises.costs.as_ref()?;
        let minutes = |m: f64| m / 60.0;
        Some(Self {
            field_wage: c.field_wage.value,
            laboratory_wage: c.laboratory_wage.value,
            sites_per_day: c.sites_per_day.value,
            visits_per_week: c.visits_per_week.value,
            visits_before: c.visits_before_season.value,
            travel_hours: c.travel_hours_per_day.value * c.people.value,
            travel_money: c.travel_money_per_day.value,
            visit_hours: c.hours_per_site_visit.value,
            trap_hours: minutes(c.minutes_per_trap.value),
            set_up_hours: minutes(c.minutes_to_set_up.value),
            take_down_hours: minutes(c.minutes_to_take_down.value),
            trap_price: c.trap_price.value,
            trap_life: c.trap_life_years.value as usize,
            per_trap_week: c.money_per_trap_week.value,
            pooled: c.sample == Sample::Site,
            sample_hours: c.sorting_hours_per_sample.value,
            sorting_hours: minutes(c.sorting_minutes_per_100.value) / 100.0,
            target_hours: minutes(c.minutes_per_target.value),
            bycatch_hours: minutes(c.minutes_per_bycatch.value),
            curation_hours: c.kept_share.value * minutes(c.curation_minutes.value),
            lag_weeks: c.laboratory_lag_weeks.value as u32,
            per_year: c.money_per_year.value,
            once: c.money_once.value,
            field_staff: c.field_staff_hours.value,
            laboratory_staff: c.laboratory_staff_hours.value,
            loss: scenario.premises.trap_loss.value,
            stepped: c
                .stepped
                .iter()
                .map(|s| Step {
                    of: s.of,
                    takes_on: s.takes_on.value,
                    money: s.money.value,
                    paid: s.paid,
                })
                .collect(),
        })
    }

    /// Whole days of one round of visits to so many sites.
    pub fn days(&self, sites: f64) -> f64 {
        steps(sites, self.sites_per_day)
    }

    /// A month of more work than staff have hours.
    pub fn over_staff(&self, year: u32, m: &MonthCost) -> impl Iterator<Item = OverStaff> + use<> {
        let month = m.month;
        let each = [
            (Staff::Field, m.hours.outside(), self.field_staff),
            (
                Staff::Laboratory,
                m.hours.laboratory(),
                self.laboratory_staff,
            ),
        ];
        each.into_iter()
            .filter(|(_, hours, available)| *available > 0.0 && steps(*hours, *available) > 1.0)
            .map(move |(staff, hours, available)| OverStaff {
                year,
                month,
                staff,
                hours,
                available,
            })
    }
}

/// How many it takes when one takes on `of`; just as much is not more.
pub(super) fn steps(amount: f64, of: f64) -> f64 {
    let exact = amount / of;
    (exact - 1e-9 * exact.max(1.0)).ceil().max(0.0)
}
