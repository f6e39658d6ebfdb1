//! What a plan costs in hours and money: expected values, from the expected toll and the costs' premises alone.
//!
//! Years are calendar years, counted from the first year of trapping. Months follow one rule: the year is taken as 52
//! weeks, week w lies in month floor(12 (w - 1) / 52) + 1, and week 53 in December, so that each month has 4 or 5 weeks.
//! Visits are booked in the week that is trapped, setting up in the first, taking down in the last one; work in the
//! laboratory a stated number of weeks after the catch, in the next year where that is past week 52.
//!
//! A lost trap-week is visited and kills, but there is nothing to sort in it: the animals that are sorted are the
//! expected toll less the share of trap-weeks lost, whether or not losses follow the catch. Where sites are closed early,
//! visits and samples are those of the expected number of open sites. Years have the sites that are visited in them; sites
//! that drop out are taken as so many expected sites. Traps are as many as the year with the most sites needs, and wear in
//! years of trapping alone; late samples are worked on as if they were in time.

mod calendar;
mod grid;
mod money;
mod over_plans;
mod rates;
mod season;
#[cfg(test)]
mod tests;

pub use calendar::{WEEKS_A_YEAR, month_of_week};
pub use over_plans::{CostAt, CostOver};

use crate::closed_form::{Timing, expected_toll};
use crate::scenario::{Checked, Plan, SteppedBy};
use calendar::Calendar;
use grid::{Animals, Grid};
use money::Bill;
use rates::Rates;
use season::Season;
use serde::{Deserialize, Serialize};

/// Person-hours by kind of work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Hours {
    /// Travel.
    pub travel: f64,
    /// Work at the sites.
    pub field: f64,
    /// Sorting samples.
    pub sorting: f64,
    /// Identifying animals.
    pub identification: f64,
    /// Curating what is kept.
    pub curation: f64,
}

impl Hours {
    /// Travel and work at the sites.
    pub fn outside(&self) -> f64 {
        self.travel + self.field
    }

    /// Sorting, identification and curation.
    pub fn laboratory(&self) -> f64 {
        self.sorting + self.identification + self.curation
    }

    /// All.
    pub fn total(&self) -> f64 {
        self.outside() + self.laboratory()
    }

    fn add(&mut self, other: &Self) {
        self.travel += other.travel;
        self.field += other.field;
        self.sorting += other.sorting;
        self.identification += other.identification;
        self.curation += other.curation;
    }
}

/// Money by what it is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Money {
    /// Wages of all hours.
    pub wages: f64,
    /// Distance.
    pub travel: f64,
    /// Traps bought.
    pub traps: f64,
    /// What traps use up.
    pub consumables: f64,
    /// Stepped costs.
    pub stepped: f64,
    /// Whatever the plan: every year, and once.
    pub fixed: f64,
}

impl Money {
    /// All.
    pub fn total(&self) -> f64 {
        self.wages + self.travel + self.traps + self.consumables + self.stepped + self.fixed
    }
}

/// The sums that plans are compared by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CostTotals {
    /// Money over all years.
    pub money: f64,
    /// Person-hours over all years and kinds.
    pub all_hours: f64,
    /// Person-hours over all years by kind.
    pub hours: Hours,
    /// Days with travel over all years.
    pub travel_days: f64,
}

/// One month's work.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MonthCost {
    /// Month of the year, 1 to 12.
    pub month: u32,
    /// Person-hours.
    pub hours: Hours,
    /// Days with travel.
    pub travel_days: f64,
}

/// One year's cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct YearCost {
    /// Calendar year, from 1 for the first year of trapping.
    pub year: u32,
    /// Money by what it is for.
    pub money: Money,
    /// All money of the year.
    pub all_money: f64,
    /// Person-hours.
    pub hours: Hours,
    /// Days with travel.
    pub travel_days: f64,
    /// Months with work.
    pub months: Vec<MonthCost>,
}

/// What a stepped cost comes to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SteppedCost {
    /// What it is.
    pub name: String,
    /// What it follows.
    pub of: SteppedBy,
    /// Most of it in any month.
    pub busiest_month: f64,
    /// How much of it one takes on in a month.
    pub takes_on: f64,
    /// Number needed in the busiest month.
    pub needed: f64,
    /// Money over all years.
    pub money: f64,
}

/// Which staff.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Staff {
    /// For travel and field.
    Field,
    /// For the laboratory.
    Laboratory,
}

/// A month with more work than staff have hours.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OverStaff {
    /// Calendar year, from 1.
    pub year: u32,
    /// Month, 1 to 12.
    pub month: u32,
    /// Which staff.
    pub staff: Staff,
    /// Hours of work.
    pub hours: f64,
    /// Hours that staff have.
    pub available: f64,
}

/// What a plan costs; expected values.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanCost {
    /// The currency, as the scenario names it.
    pub currency: String,
    /// Over all years.
    pub total: CostTotals,
    /// Years with work or money.
    pub years: Vec<YearCost>,
    /// Stepped costs, in the scenario's order.
    pub stepped: Vec<SteppedCost>,
    /// Months with more work than the stated staff have hours, in order.
    pub over_staff: Vec<OverStaff>,
}

impl PlanCost {
    /// The year with most hours, the first of equals.
    pub fn busiest_year(&self) -> Option<&YearCost> {
        let mut busiest: Option<&YearCost> = None;
        for year in &self.years {
            if busiest.is_none_or(|b| year.hours.total() > b.hours.total()) {
                busiest = Some(year);
            }
        }
        busiest
    }
}

/// The months of a plan, with the rates and the calendar they were made from.
fn worked(scenario: &Checked, plan: &Plan) -> Option<(Rates, Calendar, Grid)> {
    let rates = Rates::of(scenario)?;
    let timing = Timing::of(scenario, plan);
    let toll = expected_toll(scenario, plan);
    let season = Season::new(&rates, plan, &timing);
    let calendar = Calendar::of(scenario, plan.years);
    let mut animals = vec![Animals::target(toll.target, &timing.target.years)];
    let others = scenario.premises.killed_besides();
    for ((kill, shares), killed) in toll.bycatch.iter().zip(&timing.besides).zip(&others) {
        animals.push(Animals {
            kill: *kill,
            years: &shares.years,
            asked_about: killed.asked_about,
        });
    }
    let mut grid = Grid::new(&calendar);
    let traps = f64::from(plan.traps_per_site);
    grid.fill(&rates, &calendar, &season, &timing.sites, traps, &animals);
    Some((rates, calendar, grid))
}

/// What a plan costs; `None` when the scenario states no costs.
pub fn expected_cost(scenario: &Checked, plan: &Plan) -> Option<PlanCost> {
    let (rates, calendar, grid) = worked(scenario, plan)?;
    let costs = scenario.premises.costs.as_ref()?;
    let bill = Bill::of(&rates, &calendar, &grid);
    let mut years = Vec::new();
    let mut over_staff = Vec::new();
    for (row, &year) in calendar.labels().iter().enumerate() {
        let months: Vec<MonthCost> = (1..)
            .zip(grid.row(row))
            .filter(|(_, m)| m.hours.total() > 0.0 || m.travel_days > 0.0)
            .map(|(month, m)| MonthCost {
                month,
                hours: m.hours,
                travel_days: m.travel_days,
            })
            .collect();
        let money = bill.years[row];
        if months.is_empty() && money.total() == 0.0 {
            continue;
        }
        for m in &months {
            over_staff.extend(rates.over_staff(year, m));
        }
        let (hours, travel_days) = grid.of_year(row);
        years.push(YearCost {
            year,
            money,
            all_money: money.total(),
            hours,
            travel_days,
            months,
        });
    }
    let stepped = costs.stepped.iter().zip(&bill.stepped);
    Some(PlanCost {
        currency: costs.currency.clone(),
        total: bill.totals,
        years,
        stepped: stepped
            .map(|(s, b)| SteppedCost {
                name: s.name.clone(),
                of: s.of,
                busiest_month: b.busiest,
                takes_on: s.takes_on.value,
                needed: b.needed,
                money: b.money,
            })
            .collect(),
        over_staff,
    })
}

/// The sums of [`expected_cost`] alone.
pub fn cost_totals(scenario: &Checked, plan: &Plan) -> Option<CostTotals> {
    let (rates, calendar, grid) = worked(scenario, plan)?;
    Some(Bill::of(&rates, &calendar, &grid).totals)
}
