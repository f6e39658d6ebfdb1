//! Which weeks a plan of the lattice traps in.

use crate::frontier::resized;
use crate::scenario::{Plan, Scenario, WeekChoice};
use crate::season::weight;

/// Weeks of the year that a run may lie in.
const LAST_WEEK: u32 = 53;
/// Smallest share of the peak's catch of a week that is chosen by itself.
const LEAST_WEIGHT: f64 = 1e-3;
/// Trade-offs between catch and toll at which sets are taken, at most.
const TRADES: usize = 33;

/// Some weeks of the year.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekSet {
    /// The open weeks, rising.
    pub weeks: Vec<u32>,
}

impl WeekSet {
    /// Weeks in a row.
    pub fn run(first_week: u32, weeks: u32) -> Self {
        Self {
            weeks: (first_week..first_week + weeks).collect(),
        }
    }

    /// The plan with these weeks, and other numbers of sites and traps.
    pub fn on(&self, plan: &Plan, sites: u32, traps_per_site: u32) -> Plan {
        Plan {
            sites,
            traps_per_site,
            ..plan.in_weeks(&self.weeks)
        }
    }
}

/// The sets of weeks within the limits, fewest weeks first; the last one has the most.
pub fn week_sets(scenario: &Scenario) -> Vec<WeekSet> {
    let (plan, most) = (&scenario.plan, scenario.limits.weeks);
    match scenario.limits.week_choice {
        WeekChoice::Around => (1..=most)
            .map(|weeks| WeekSet {
                weeks: resized(plan, plan.sites, plan.traps_per_site, weeks).open_weeks(),
            })
            .collect(),
        WeekChoice::AnyRun => (1..=most)
            .flat_map(|weeks| {
                (1..=(LAST_WEEK + 1).saturating_sub(weeks))
                    .map(move |first| WeekSet::run(first, weeks))
            })
            .collect(),
        WeekChoice::Chosen => chosen(scenario),
    }
}

/// For each number of weeks the sets that are best for some trade-off between what the target's weeks catch and what they
/// kill: those with the largest sum of (catch - trade x toll). Sets between these (not on the convex front of catch and
/// toll) are left out.
fn chosen(scenario: &Scenario) -> Vec<WeekSet> {
    let t = &scenario.premises.target;
    let catch = |w: u32| {
        weight(
            f64::from(w),
            t.season_peak_week.value,
            t.season_width_weeks.value,
        )
    };
    let mut weeks: Vec<u32> = (1..=LAST_WEEK).collect();
    weeks.sort_by(|a, b| catch(*b).total_cmp(&catch(*a)).then(a.cmp(b)));
    let enough = weeks
        .iter()
        .take_while(|w| catch(**w) >= LEAST_WEIGHT)
        .count();
    weeks.truncate(enough.max(scenario.limits.weeks as usize));
    let each: Vec<(u32, f64, f64)> = weeks
        .iter()
        .map(|&w| (w, catch(w), kill(scenario, w)))
        .collect();
    let mut sets: Vec<WeekSet> = Vec::new();
    for trade in trades(&each) {
        let mut order = each.clone();
        let gain = |e: &(u32, f64, f64)| e.1 - trade * e.2;
        order.sort_by(|a, b| gain(b).total_cmp(&gain(a)).then(a.0.cmp(&b.0)));
        for number in 1..=(scenario.limits.weeks as usize).min(order.len()) {
            let mut weeks: Vec<u32> = order[..number].iter().map(|e| e.0).collect();
            weeks.sort_unstable();
            let set = WeekSet { weeks };
            if !sets.contains(&set) {
                sets.push(set);
            }
        }
    }
    sets.sort_by(|a, b| (a.weeks.len(), &a.weeks).cmp(&(b.weeks.len(), &b.weeks)));
    sets
}

/// Weighted toll of one trap in one week, at a typical site in a typical year.
fn kill(scenario: &Scenario, week: u32) -> f64 {
    let p = &scenario.premises;
    let own = |rate: f64, peak: f64, width: f64| rate * weight(f64::from(week), peak, width);
    let t = &p.target;
    let mut tolls = vec![own(
        t.catch_per_trap_week.value,
        t.season_peak_week.value,
        t.season_width_weeks.value,
    )];
    tolls.extend(p.killed_besides().iter().map(|k| {
        let g = &k.group;
        own(
            g.catch_per_trap_week.value,
            g.season_peak_week.value,
            g.season_width_weeks.value,
        )
    }));
    tolls
        .iter()
        .zip(scenario.toll_weights())
        .map(|(t, w)| t * w)
        .sum()
}

/// Trade-offs at which the order of two weeks turns, thinned, and none at all.
fn trades(each: &[(u32, f64, f64)]) -> Vec<f64> {
    let mut turns = vec![0.0];
    for (i, a) in each.iter().enumerate() {
        for b in &each[i + 1..] {
            let turn = (a.1 - b.1) / (a.2 - b.2);
            if turn.is_finite() && turn > 0.0 {
                // Just beyond the turn.
                turns.push(turn * (1.0 + 1e-9));
            }
        }
    }
    turns.sort_by(f64::total_cmp);
    turns.dedup();
    if turns.len() <= TRADES {
        return turns;
    }
    (0..TRADES)
        .map(|i| turns[i * (turns.len() - 1) / (TRADES - 1)])
        .collect()
}
