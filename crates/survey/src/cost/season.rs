//! A season's weeks in months: what hangs on the weeks of a plan, and on schemes that close sites.

use super::calendar::{SLOTS, month_of_week, slot};
use super::rates::Rates;
use crate::closed_form::Timing;
use crate::scenario::Plan;

/// A run of weeks in one month with as many sites open.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run {
    /// Month of the visits, from 0.
    pub month: usize,
    /// Month of the work in the laboratory, from 0; 12 and above are the next year's.
    pub slot: usize,
    /// Share of sites open.
    pub open: f64,
    /// Weeks.
    pub weeks: f64,
}

/// A season.
#[derive(Clone, Debug)]
pub(super) struct Season {
    /// All weeks, in order.
    pub runs: Vec<Run>,
    /// Months with work in the laboratory, in order.
    pub slots: Vec<usize>,
    /// Months with any work, in order.
    pub used: Vec<usize>,
    /// For each month with work in the laboratory and each group of animals (the target first): the share of its kill. Month by month.
    pub kill: Vec<f64>,
}

impl Season {
    /// Of a plan.
    pub fn new(rates: &Rates, plan: &Plan, timing: &Timing) -> Self {
        let mut runs: Vec<Run> = Vec::new();
        let groups = 1 + timing.besides.len();
        let mut kill = vec![0.0; SLOTS * groups];
        let open_weeks = plan.open_weeks();
        for (w, &open) in timing.open.iter().enumerate() {
            let week = open_weeks[w];
            let month = month_of_week(week) as usize - 1;
            let slot = slot(week, rates.lag_weeks);
            let alike = |r: &&mut Run| (r.month, r.slot, r.open) == (month, slot, open);
            match runs.last_mut().filter(alike) {
                Some(run) => run.weeks += 1.0,
                None => runs.push(Run {
                    month,
                    slot,
                    open,
                    weeks: 1.0,
                }),
            }
            let each = std::iter::once(&timing.target).chain(&timing.besides);
            for (k, shares) in kill[slot * groups..].iter_mut().zip(each) {
                *k += shares.weeks[w];
            }
        }
        let mut slots: Vec<usize> = runs.iter().map(|r| r.slot).collect();
        slots.dedup();
        let kill = slots
            .iter()
            .flat_map(|s| kill[s * groups..(s + 1) * groups].iter().copied())
            .collect();
        let mut used: Vec<usize> = runs.iter().flat_map(|r| [r.month, r.slot]).collect();
        used.sort_unstable();
        used.dedup();
        Self {
            runs,
            slots,
            used,
            kill,
        }
    }

    /// Trap-weeks (or, of sites, site-weeks) that are set, over those if all sites were open in one week.
    pub fn set(&self) -> f64 {
        self.runs.iter().map(|r| r.open * r.weeks).sum()
    }
}
