//! Losses that cluster, sites that drop out and samples that are late: what each costs, and how many sites to recruit,
//! by closed form.

use crate::closed_form::{expected_toll, power_at_stated, presence, preview};
use crate::frontier::resized;
use crate::scenario::{Checked, Plan, Premise, Scenario, Source};
use serde::Serialize;

/// What does not come back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Missing {
    /// Nothing: every trap-week is counted.
    Nothing,
    /// Trap-weeks, each lost by itself.
    Losses,
    /// The same share of them, in clusters.
    ClusteredLosses,
    /// Sites that drop out.
    DropOut,
    /// Late samples.
    Late,
    /// All that the premises state.
    All,
}

impl Missing {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Nothing,
        Self::Losses,
        Self::ClusteredLosses,
        Self::DropOut,
        Self::Late,
        Self::All,
    ];

    /// Whether the premises state it.
    fn is_stated(self, s: &Scenario) -> bool {
        let p = &s.premises;
        let clustered = p.departures.loss_clustering.value > 0.0;
        match self {
            Self::Nothing | Self::All => true,
            Self::Losses => p.trap_loss.value > 0.0,
            Self::ClusteredLosses => p.trap_loss.value > 0.0 && clustered,
            Self::DropOut => p.attrition.value > 0.0,
            Self::Late => p.late_share.value > 0.0,
        }
    }

    /// The scenario in which this alone is missing.
    ///
    /// # Errors
    /// Never of a checked scenario: nothing is added to it.
    fn alone(self, s: &Scenario) -> Option<Checked> {
        let mut s = s.clone();
        let p = &mut s.premises;
        let none = || Premise::new(0.0, Source::Guess);
        let keep = |wanted: &[Self]| wanted.contains(&self) || self == Self::All;
        if !keep(&[Self::Losses, Self::ClusteredLosses]) {
            p.trap_loss = none();
        }
        if !keep(&[Self::ClusteredLosses]) {
            p.departures.loss_clustering = none();
        }
        if !keep(&[Self::DropOut]) {
            p.attrition = none();
        }
        if !keep(&[Self::Late]) {
            p.late_share = none();
        }
        s.check().ok()
    }
}

/// What something missing does to the plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cost {
    /// What is missing.
    pub missing: Missing,
    /// Standard error of the estimate; NaN where the answer is no test of an estimate.
    pub se: f64,
    /// Power.
    pub power: f64,
    /// Share of surveys in which nothing changes that raise a false alarm, by closed form.
    pub false_alarm: f64,
    /// Effect found with the wanted power, in the question's unit; NaN when none is.
    pub smallest_change: f64,
    /// All animals killed.
    pub toll: f64,
}

/// How many sites to begin with.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Recruit {
    /// Share of the planned site-years of the last year of trapping that is left.
    pub left_in_last_year: f64,
    /// Share of all planned site-years that is trapped.
    pub left_on_average: f64,
    /// So that in the last year as many are left as planned.
    pub for_last_year: u32,
    /// So that on average over the years as many are left as planned.
    pub on_average: u32,
    /// So that the wanted power is reached with all that is missing; `None` when no number does.
    pub for_power: Option<u32>,
    /// The same were nobody to drop out and nothing late.
    pub for_power_if_all_stay: Option<u32>,
}

/// Most sites that are looked at.
pub const MOST_RECRUITED: u32 = 2000;

/// What is missing, one by one and together.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Returns {
    /// Rows of the table.
    pub costs: Vec<Cost>,
    /// How many to recruit; `None` where nobody drops out and nothing is late.
    pub recruit: Option<Recruit>,
}

/// Whether anything beyond losses at random is missing.
pub fn any(scenario: &Scenario) -> bool {
    let stated = [Missing::ClusteredLosses, Missing::DropOut, Missing::Late];
    stated.iter().any(|m| m.is_stated(scenario))
}

/// What does not come back of the scenario's plan.
pub fn returns(scenario: &Checked) -> Returns {
    let costs = Missing::ALL
        .into_iter()
        .filter(|m| m.is_stated(scenario))
        .filter_map(|missing| {
            let s = missing.alone(scenario)?;
            let p = preview(&s, &s.plan);
            Some(Cost {
                missing,
                se: p.se,
                power: p.power,
                false_alarm: p.false_alarm,
                smallest_change: p.smallest_change,
                toll: expected_toll(&s, &s.plan).total(),
            })
        })
        .collect();
    let gone = Missing::DropOut.is_stated(scenario) || Missing::Late.is_stated(scenario);
    Returns {
        costs,
        recruit: gone.then(|| recruit(scenario)),
    }
}

fn recruit(scenario: &Checked) -> Recruit {
    let plan = &scenario.plan;
    let back = 1.0 - scenario.premises.late_share.value;
    let there = presence(scenario, plan);
    let years = plan.years as usize;
    let last = plan.years_of_trapping().last().copied().unwrap_or(0);
    let (left_in_last_year, left_on_average) = if there.is_empty() {
        (back, back)
    } else {
        let of_year: f64 = there.iter().skip(last as usize).step_by(years).sum();
        let planned = f64::from(plan.sites_in_year(last));
        let all: f64 = there.iter().sum();
        (
            back * of_year / planned,
            back * all / f64::from(plan.site_years()),
        )
    };
    let rounded = |share: f64| {
        let sites = (f64::from(plan.sites) / share - 1e-9).ceil();
        let sites = sites.min(f64::from(u32::MAX / 2)) as u32;
        let fits = (sites..).take(200).find(|&n| scenario.fits_sites(n));
        fits.unwrap_or(sites)
    };
    Recruit {
        left_in_last_year,
        left_on_average,
        for_last_year: rounded(left_in_last_year),
        on_average: rounded(left_on_average),
        for_power: for_power(scenario),
        for_power_if_all_stay: Missing::ClusteredLosses
            .alone(scenario)
            .and_then(|s| for_power(&s)),
    }
}

/// The fewest sites with which the plan has the wanted power by closed form.
fn for_power(scenario: &Checked) -> Option<u32> {
    let sites: Vec<u32> = (scenario.fewest_sites()..=MOST_RECRUITED)
        .filter(|&n| scenario.fits_sites(n))
        .collect();
    let plan = &scenario.plan;
    let enough = |n: u32| {
        let other: Plan = resized(plan, n, plan.traps_per_site, plan.weeks);
        power_at_stated(scenario, &other) >= scenario.question.wanted_power
    };
    // The power rises with the sites: first doubling, so that large plans are looked at only where they are needed.
    let (mut low, mut high) = (0, 1.min(sites.len()));
    while high < sites.len() && !enough(sites[high]) {
        low = high;
        high *= 2;
    }
    let mut high = high.min(sites.len().checked_sub(1)?);
    if !enough(sites[high]) {
        return None;
    }
    if enough(sites[low]) {
        return Some(sites[low]);
    }
    while low + 1 < high {
        let mid = low.midpoint(high);
        if enough(sites[mid]) {
            high = mid;
        } else {
            low = mid;
        }
    }
    Some(sites[high])
}
