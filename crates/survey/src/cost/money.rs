//! From hours, days and traps to money.

use super::calendar::Calendar;
use super::grid::{Grid, Month};
use super::rates::{Rates, Step, steps};
use super::{CostTotals, Hours, Money};
use crate::scenario::{Paid, SteppedBy};

/// What is to be paid.
#[derive(Clone, Debug)]
pub(super) struct Bill {
    /// By calendar year.
    pub years: Vec<Money>,
    /// Of each stepped cost.
    pub stepped: Vec<SteppedBill>,
    /// The sums over all years.
    pub totals: CostTotals,
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
        let mut bill = Self {
            years: Vec::with_capacity(calendar.labels().len()),
            stepped: vec![SteppedBill::default(); rates.stepped.len()],
            totals: CostTotals::default(),
        };
        for row in 0..calendar.labels().len() {
            let (hours, days) = grid.of_year(row);
            let money = of_year(rates, calendar, grid, row, (hours, days), &mut bill.stepped);
            bill.totals.money += money.total();
            bill.totals.hours.add(&hours);
            bill.totals.travel_days += days;
            bill.years.push(money);
        }
        bill.totals.all_hours = bill.totals.hours.total();
        bill
    }
}

fn of_year(
    rates: &Rates,
    calendar: &Calendar,
    grid: &Grid,
    row: usize,
    (hours, days): (Hours, f64),
    bills: &mut [SteppedBill],
) -> Money {
    let mut money = Money {
        wages: hours.outside() * rates.field_wage + hours.laboratory() * rates.laboratory_wage,
        travel: days * rates.travel_money,
        ..Money::default()
    };
    if let Some(y) = calendar.trapped().iter().position(|&r| r == row) {
        let trapped = |y: usize| grid.trap_weeks[y] > 0.0;
        if trapped(y) {
            // Seasons that the traps have seen.
            let seen = (0..y).filter(|&y| trapped(y)).count();
            if seen.is_multiple_of(rates.trap_life.max(1)) {
                money.traps = grid.traps * rates.trap_price;
            }
            money.fixed = rates.per_year;
        }
        money.consumables = grid.trap_weeks[y] * rates.per_trap_week;
        if y == 0 {
            money.fixed += rates.once;
        }
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
