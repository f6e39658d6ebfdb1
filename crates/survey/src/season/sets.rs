//! The best weeks for a given number of them.
//!
//! Looked at are the weeks in which the target's catch is at least a thousandth of its peak's (and at any rate two more
//! than are wanted). Where their sets are few enough, every one is looked at; otherwise one starts with the surest
//! set and with the best run of weeks, and exchanges one week at a time for as long as that helps.

use super::by_week::{LAST_WEEK, information};
use super::toll::{SetToll, Weights};
use super::weight;
use crate::closed_form::{plan_delta, power_at_stated, preview_at_stated};
use crate::scenario::{Checked, Plan};
use serde::{Deserialize, Serialize};

/// Smallest share of the peak's catch of a week that is looked at.
const LEAST_WEIGHT: f64 = 1e-3;
/// Most sets that are looked at one by one where a closed form is quick (trends), and where it is not.
const MOST_SETS: (u64, u64) = (20_000, 1_000);
/// Two numbers that differ by less than this are the same; the earlier weeks are then taken.
const SAME: f64 = 1e-9;

/// What is best.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Goal {
    /// The smallest variance of the estimate (the surest answer), whatever it kills.
    LeastVariance,
    /// The smallest (weighted) toll that keeps the wanted power by closed form.
    LeastToll,
    /// The most information per (weighted) animal killed.
    MostPerAnimal,
}

/// How sets were looked through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// Every set: the best one is found.
    Enumeration,
    /// Week for week: a better set further away may be missed.
    Exchange,
}

/// A set of weeks with what it tells and kills.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Found {
    /// The weeks, rising.
    pub weeks: Vec<u32>,
    /// Its information over that of the scenario's own plan.
    pub information_share: f64,
    /// Its power by closed form.
    pub power: f64,
    /// Share of surveys in which nothing changes that raise a false alarm, by closed form.
    pub false_alarm: f64,
    /// What it kills.
    pub toll: SetToll,
    /// Share of all animals killed that is reproductive; `null` when no share is given.
    pub reproductive_share: Option<f64>,
}

/// The best set for one goal; none where no set keeps the wanted power.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Best {
    /// What it is best in.
    pub goal: Goal,
    /// The set.
    pub set: Option<Found>,
    /// How it was found.
    pub method: Method,
}

impl Found {
    /// The scenario's plan in these weeks; `own` is the information of the plan as it stands.
    pub(super) fn new(scenario: &Checked, weeks: &[u32], own: f64, weights: &Weights) -> Self {
        let plan = scenario.plan.in_weeks(weeks);
        let toll = SetToll::of(scenario, &plan, weights);
        let preview = preview_at_stated(scenario, &plan);
        let share = information(scenario, &plan) / own;
        Self {
            weeks: weeks.to_vec(),
            information_share: if share.is_finite() { share } else { 0.0 },
            power: preview.power,
            false_alarm: preview.false_alarm,
            reproductive_share: toll.reproductive_share(),
            toll,
        }
    }
}

/// A set with what it is judged by.
#[derive(Clone, Debug)]
struct Judged {
    weeks: Vec<u32>,
    information: f64,
    /// Weighted.
    toll: f64,
}

/// Looks through the sets of one number of weeks.
struct Search<'a> {
    scenario: &'a Checked,
    weights: &'a Weights,
    /// Weeks looked at, rising.
    weeks: Vec<u32>,
    /// Weighted toll of each of the year's weeks by itself, from 1; `None` where a set's toll is not their sum.
    by_week: Option<Vec<f64>>,
    /// Smallest noncentrality known to have the wanted power, and largest known to fall short: power rises with it as
    /// long as weeks do not move the estimate.
    enough: f64,
    short: f64,
}

impl<'a> Search<'a> {
    fn new(scenario: &'a Checked, number: usize, weights: &'a Weights) -> Self {
        let t = &scenario.premises.target;
        let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
        let of = |w: u32| weight(f64::from(w), peak, width);
        let mut weeks: Vec<u32> = (1..=LAST_WEEK).collect();
        weeks.sort_by(|a, b| of(*b).total_cmp(&of(*a)).then(a.cmp(b)));
        let enough = weeks.iter().take_while(|w| of(**w) >= LEAST_WEIGHT).count();
        weeks.truncate(enough.max(number + 2));
        weeks.sort_unstable();
        let one = |w| SetToll::of(scenario, &scenario.plan.in_weeks(&[w]), weights).weighted;
        // Schemes that close sites early kill less in a week the more weeks came before it.
        let sums = scenario.plan.visits.is_none();
        Self {
            scenario,
            weights,
            weeks,
            by_week: sums.then(|| (1..=LAST_WEEK).map(one).collect()),
            enough: f64::INFINITY,
            short: 0.0,
        }
    }

    fn plan(&self, weeks: &[u32]) -> Plan {
        self.scenario.plan.in_weeks(weeks)
    }

    fn judge(&self, weeks: &[u32]) -> Judged {
        let plan = self.plan(weeks);
        Judged {
            weeks: weeks.to_vec(),
            information: information(self.scenario, &plan),
            toll: match &self.by_week {
                Some(each) => weeks.iter().map(|&w| each[w as usize - 1]).sum(),
                None => SetToll::of(self.scenario, &plan, self.weights).weighted,
            },
        }
    }

    fn keeps_power(&mut self, set: &Judged) -> bool {
        let plan = self.plan(&set.weeks);
        let wanted = self.scenario.question.wanted_power;
        if self.scenario.premises.departures.moves_season() {
            return power_at_stated(self.scenario, &plan) >= wanted;
        }
        let delta = plan_delta(self.scenario, &plan);
        if !(delta > self.short && delta < self.enough) {
            return delta >= self.enough;
        }
        let keeps = power_at_stated(self.scenario, &plan) >= wanted;
        if keeps {
            self.enough = delta;
        } else {
            self.short = delta;
        }
        keeps
    }

    /// Whether `a` is better than `b`, and the power is kept where that is asked.
    fn better(&mut self, goal: Goal, a: &Judged, b: &Judged) -> bool {
        let more = |a: f64, b: f64| a > b * (1.0 + SAME);
        match goal {
            Goal::LeastVariance => more(a.information, b.information),
            Goal::LeastToll => more(b.toll, a.toll) && self.keeps_power(a),
            Goal::MostPerAnimal => more(per_animal(a), per_animal(b)),
        }
    }

    /// The best of all sets.
    fn enumerated(&mut self, goal: Goal, all: &[Judged]) -> Option<Judged> {
        let mut best: Option<Judged> = None;
        for set in all {
            let better = match &best {
                Some(b) => self.better(goal, set, b),
                None => goal != Goal::LeastToll || self.keeps_power(set),
            };
            if better {
                best = Some(set.clone());
            }
        }
        best
    }

    /// From a set week for week to better ones.
    fn exchanged(&mut self, goal: Goal, from: &Judged) -> Judged {
        let mut best = from.clone();
        loop {
            let base = best.clone();
            for out in &base.weeks {
                for into in self.weeks.clone() {
                    if base.weeks.contains(&into) {
                        continue;
                    }
                    let mut weeks: Vec<u32> =
                        base.weeks.iter().copied().filter(|w| w != out).collect();
                    weeks.push(into);
                    weeks.sort_unstable();
                    let set = self.judge(&weeks);
                    if self.better(goal, &set, &best) {
                        best = set;
                    }
                }
            }
            if best.weeks == base.weeks {
                return best;
            }
        }
    }

    /// By exchange from the surest set and from the best of the runs of weeks, whichever leads to the better one.
    fn starting_at_both(&mut self, goal: Goal, surest: &Judged, number: usize) -> Option<Judged> {
        let windows = self.weeks.windows(number);
        let runs: Vec<Judged> = windows.map(|weeks| self.judge(weeks)).collect();
        let run = self.enumerated(goal, &runs);
        let keeps = goal != Goal::LeastToll || self.keeps_power(surest);
        let starts = keeps.then(|| surest.clone()).into_iter().chain(run);
        let ends: Vec<Judged> = starts.map(|from| self.exchanged(goal, &from)).collect();
        self.enumerated(goal, &ends)
    }

    /// The weeks of the largest catch, the earlier of equal ones.
    fn heaviest(&self, number: usize) -> Vec<u32> {
        let t = &self.scenario.premises.target;
        let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
        let of = |w: u32| weight(f64::from(w), peak, width);
        let mut weeks = self.weeks.clone();
        weeks.sort_by(|a, b| of(*b).total_cmp(&of(*a)).then(a.cmp(b)));
        weeks.truncate(number);
        weeks.sort_unstable();
        weeks
    }
}

fn per_animal(set: &Judged) -> f64 {
    if set.toll > 0.0 {
        set.information / set.toll
    } else {
        set.information * f64::MAX
    }
}

/// How many sets of `k` of `n`; no more than `u64::MAX`.
fn sets_of(n: u64, k: u64) -> u64 {
    (0..k.min(n - k.min(n))).fold(1u64, |sets, i| sets.saturating_mul(n - i) / (i + 1))
}

/// All sets of `number` of `weeks`, in the order of their weeks.
fn all_sets(weeks: &[u32], number: usize) -> Vec<Vec<u32>> {
    let mut all = Vec::new();
    let mut places: Vec<usize> = (0..number).collect();
    loop {
        all.push(places.iter().map(|&p| weeks[p]).collect());
        let Some(i) = (0..number)
            .rev()
            .find(|&i| places[i] < weeks.len() - number + i)
        else {
            return all;
        };
        places[i] += 1;
        for j in i + 1..number {
            places[j] = places[j - 1] + 1;
        }
    }
}

/// The best sets of `number` weeks (1 to 53) for each goal, all else as in the scenario's plan.
pub fn best_sets(scenario: &Checked, number: u32, weights: &Weights) -> Vec<Best> {
    let most = if scenario.question.effect.is_trend() {
        MOST_SETS.0
    } else {
        MOST_SETS.1
    };
    best_of(scenario, number, weights, most)
}

/// The same, where at most so many sets are looked at one by one.
fn best_of(scenario: &Checked, number: u32, weights: &Weights, most: u64) -> Vec<Best> {
    let number = number.clamp(1, LAST_WEEK) as usize;
    let mut search = Search::new(scenario, number, weights);
    let own = information(scenario, &scenario.plan);
    let few = sets_of(search.weeks.len() as u64, number as u64) <= most;
    let all: Vec<Judged> = if few {
        let sets = all_sets(&search.weeks, number);
        sets.iter().map(|weeks| search.judge(weeks)).collect()
    } else {
        Vec::new()
    };
    let begin = search.judge(&search.heaviest(number));
    let surest = search.exchanged(Goal::LeastVariance, &begin);
    let mut best = |goal: Goal| {
        let set = if few {
            search.enumerated(goal, &all)
        } else {
            search.starting_at_both(goal, &surest, number)
        };
        Best {
            goal,
            set: set.map(|s| Found::new(scenario, &s.weeks, own, weights)),
            method: if few {
                Method::Enumeration
            } else {
                Method::Exchange
            },
        }
    };
    [Goal::LeastVariance, Goal::LeastToll, Goal::MostPerAnimal]
        .into_iter()
        .map(&mut best)
        .collect()
}

#[cfg(test)]
mod tests;
