//! From hours, days and traps to money.

use super::calendar::Calendar;
use super::grid::{Grid, Month};
use super::rates::{Rates, Step, steps};
use super::{CostTotals, Money};
use crate::scenario::{Paid, SteppedBy};

/// What is to be paid.
#[derive(Clone, Debug)]
pub(super) struct Bill {
    /// By calendar year.
    pub years: Vec<Money>,
    /// Of each stepped cost.
    pub stepped: Vec<SteppedBill>,
}

/// What one stepped cost comes to.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct SteppedBill {
    /// Most of what it follows in any month.
    pub busiest: f64,
    /// How many that month needs.
    pub needed: f64,
    /// Money over all years.
    pub money: f64,
}

/// What a stepped cost follows, of a month.
fn of_month(step: &Step, m: &Month) -> f64 {
    match step.of {
        SteppedBy::TravelDays => m.travel_days,
        SteppedBy::FieldHours => m.hours.outside(),
        SteppedBy::LaboratoryHours => m.hours.laboratory(),
    }
}

impl Bill {
    /// Of all years.
    pub fn of(rates: &Rates, calendar: &Calendar, grid: &Grid) -> Self {
        let mut stepped = vec![SteppedBill::default(); rates.stepped.len()];
        let years = (0..calendar.labels().len())
            .map(|row| of_year(rates, calendar, grid, row, &mut stepped))
            .collect();
        Self { years, stepped }
    }

    /// The sums over all years.
    pub fn totals(&self, grid: &Grid) -> CostTotals {
        totals(
            grid,
            self.years.iter().map(Money::total).sum(),
            self.years.len(),
        )
    }
}

/// The sums over all years, the money known.
fn totals(grid: &Grid, money: f64, rows: usize) -> CostTotals {
    let mut sums = CostTotals {
        money,
        ..CostTotals::default()
    };
    for row in 0..rows {
        let (hours, days) = grid.of_year(row);
        sums.hours.add(&hours);
        sums.travel_days += days;
    }
    sums.all_hours = sums.hours.total();
    sums
}

fn of_year(
    rates: &Rates,
    calendar: &Calendar,
    grid: &Grid,
    row: usize,
    bills: &mut [SteppedBill],
) -> Money {
    let (hours, days) = grid.of_year(row);
    let mut money = Money {
        wages: hours.outside() * rates.field_wage + hours.laboratory() * rates.laboratory_wage,
        travel: days * rates.travel_money,
        ..Money::default()
    };
    if let Some(y) = calendar.trapped().iter().position(|&r| r == row) {
        if y % rates.trap_life.max(1) == 0 {
            money.traps = grid.traps * rates.trap_price;
        }
        money.consumables = grid.trap_weeks * rates.per_trap_week;
        money.fixed = rates.per_year + if y == 0 { rates.once } else { 0.0 };
    }
    for (step, bill) in rates.stepped.iter().zip(bills) {
        let months = grid.row(row).iter();
        let busiest = months.map(|m| of_month(step, m)).fold(0.0, f64::max);
        let needed = steps(busiest, step.takes_on);
        let paid = step.money
            * match step.paid {
                Paid::Yearly => needed,
                Paid::Once => (needed - bill.needed).max(0.0),
            };
        bill.busiest = bill.busiest.max(busiest);
        bill.needed = bill.needed.max(needed);
        bill.money += paid;
        money.stepped += paid;
    }
    money
}
