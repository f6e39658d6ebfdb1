//! What schemes of visits that close sites early spare.

use super::detection::Detection;
use crate::generator::{Closing, occupied_shares};
use crate::scenario::{Checked, Plan};
use crate::season;

/// Shares of the kill of a plan without closing that are left.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Open {
    /// Of the target at occupied sites.
    pub target: f64,
    /// Of each by-catch group.
    pub bycatch: Vec<f64>,
    /// Of the target, and of all others, in each week; empty where all are open.
    pub by_week: (Vec<f64>, Vec<f64>),
}

/// Of schemes that close sites, by week.
pub(super) struct ClosedWeeks {
    /// Share of sites trapped, the mean over years.
    pub open: Vec<f64>,
    /// The target's kill at occupied sites, over that of a year without closing.
    pub target: Vec<f64>,
    /// The same over that of the week without closing.
    pub kept: Vec<f64>,
}

/// Of schemes that close sites; `None` where no site is closed early.
pub(super) fn closed_weeks(scenario: &Checked, plan: &Plan) -> Option<ClosedWeeks> {
    let (closing, shares) = (
        Closing::of(scenario, plan)?,
        occupied_shares(scenario, plan)?,
    );
    let d = Detection::new(scenario, plan);
    let occupied = shares.iter().sum::<f64>() / shares.len() as f64;
    let weeks = d.each.len();
    // Chance that a week is trapped.
    let open: Vec<f64> = (0..weeks)
        .map(|w| match closing {
            Closing::AfterFirst => 1.0 - occupied + occupied * d.none_upto[w],
            Closing::WithoutFirst if w == 0 => 1.0,
            Closing::WithoutFirst => occupied * d.each[0],
        })
        .collect();
    let of_week: Vec<f64> = (0..weeks)
        .map(|w| match closing {
            Closing::AfterFirst => d.catch_before[w],
            Closing::WithoutFirst if w == 0 => d.catch[0],
            Closing::WithoutFirst => d.catch[w] - d.catch_without_first[w],
        })
        .collect();
    let kept = of_week.iter().zip(&d.catch);
    let kept = kept
        .map(|(o, all)| if *all > 0.0 { o / all } else { 1.0 })
        .collect();
    Some(ClosedWeeks {
        open,
        target: of_week,
        kept,
    })
}

/// What is left of the kill: all of it where no site is closed early.
pub(super) fn open_share(scenario: &Checked, plan: &Plan) -> Open {
    let groups = scenario.premises.killed_besides();
    let Some(closed) = closed_weeks(scenario, plan) else {
        return Open {
            target: 1.0,
            bycatch: vec![1.0; groups.len()],
            by_week: (Vec::new(), Vec::new()),
        };
    };
    let open = closed.open;
    let of_group = |peak: f64, width: f64| {
        let season = season::weights(plan, peak, width);
        let total: f64 = season.iter().sum();
        let kept: f64 = season.iter().zip(&open).map(|(s, o)| s * o).sum();
        if total > 0.0 { kept / total } else { 1.0 }
    };
    Open {
        target: closed.target.iter().sum(),
        bycatch: groups
            .iter()
            .map(|g| &g.group)
            .map(|g| of_group(g.season_peak_week.value, g.season_width_weeks.value))
            .collect(),
        by_week: (closed.kept, open),
    }
}
