//! Closed forms over all plans within the limits: what each kills and how sure its answer is.

use super::candidate::Candidate;
use super::caps::Caps;
use super::lattice::slices;
use super::places::placed;
use super::weeks::{WeekSet, week_sets};
use crate::closed_form::{self, OverPlans};
use crate::cost::CostOver;
use crate::scenario::{Checked, Plan};
use serde::{Deserialize, Serialize};

/// Without departures, plans whose margin is smaller than this share of the smallest one that suffices on the frontier are
/// not asked for their power: margin and power then rise together but for the floor under the variance, which moves them
/// less (held against all plans of the demo, tests/thrifty.rs). With departures every plan is asked.
const NEAR: f64 = 0.9;

/// All plans looked at.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Screen {
    /// How many plans were looked at.
    pub plans: usize,
    /// How many of them no cap of the limits forbids.
    pub allowed: usize,
    /// The frontier of toll and power: plans that no plan with a smaller toll beats, smallest toll first, power rising.
    pub frontier: Vec<Candidate>,
    /// Plans that reach the wanted power by closed form and that no plan with a smaller toll and no more money beats:
    /// smallest toll first, money falling. Empty without costs.
    pub thrifty: Vec<Candidate>,
}

impl Screen {
    /// The first plan of the frontier that reaches the wanted power by closed form.
    pub fn first_enough(&self, wanted_power: f64) -> Option<usize> {
        self.frontier.iter().position(|c| c.preview >= wanted_power)
    }
}

/// One plan of the lattice.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seen {
    /// Weighted toll, without the digits that rounding alone may change.
    pub toll: f64,
    /// Its noncentrality over the wanted one.
    pub margin: f64,
    /// Expected money; 0 without costs.
    pub money: f64,
    place: [u32; 4],
}

/// The lattice with a scenario for each of its slices.
pub(super) struct Lattice {
    slices: Vec<Checked>,
    sets: Vec<WeekSet>,
}

impl Lattice {
    pub fn new(scenario: &Checked) -> Self {
        let scenario = &*placed(scenario);
        let each = slices(scenario.as_written());
        Self {
            slices: each.iter().filter_map(|s| s.scenario(scenario)).collect(),
            sets: week_sets(scenario),
        }
    }

    /// The plan seen.
    pub fn plan(&self, seen: &Seen) -> Plan {
        let [slice, sites, traps, set] = seen.place;
        self.sets[set as usize].on(&self.slices[slice as usize].plan, sites, traps)
    }

    /// The number of the slice it lies in.
    pub fn slice(&self, seen: &Seen) -> usize {
        seen.place[0] as usize
    }

    /// Number of slices.
    pub fn slices(&self) -> usize {
        self.slices.len()
    }

    /// What closed forms say of a plan seen.
    pub fn candidate(&self, seen: &Seen) -> Candidate {
        let scenario = &self.slices[self.slice(seen)];
        Candidate::new(scenario, self.plan(seen), seen.margin)
    }

    /// Shows every plan that no cap forbids to `see`; how many were looked at.
    pub fn visit(&self, mut see: impl FnMut(Seen)) -> usize {
        let mut plans = 0;
        for (slice, scenario) in self.slices.iter().enumerate() {
            plans += self.visit_slice(slice as u32, scenario, &mut see);
        }
        plans
    }

    fn visit_slice(&self, slice: u32, scenario: &Checked, see: &mut impl FnMut(Seen)) -> usize {
        let limits = &scenario.limits;
        let weights = scenario.toll_weights();
        let caps = Caps::of(scenario);
        let fewest = scenario.fewest_sites();
        let over = OverPlans::new(scenario, fewest, limits.traps_per_site, self.sets.clone());
        let costs = CostOver::new(scenario, fewest, self.sets.clone());
        let (mut known_df, mut wanted) = (f64::NAN, 0.0);
        let mut plans = 0;
        let mut tolls = vec![0.0; weights.len()];
        for sites in (fewest..=limits.sites).filter(|&n| scenario.fits_sites(n)) {
            let plan = self.sets[0].on(&scenario.plan, sites, 1);
            let df = closed_form::degrees_of_freedom(scenario, &plan);
            if df != known_df {
                wanted = closed_form::wanted_delta(scenario, df);
                known_df = df;
            }
            let at = over.at(sites);
            let mut costs_at = costs.as_ref().map(|c| c.at(sites));
            for traps in 1..=limits.traps_per_site {
                for set in 0..self.sets.len() {
                    plans += 1;
                    at.tolls(traps, set, &mut tolls);
                    if !caps.hold(&tolls) {
                        continue;
                    }
                    let cost = costs_at.as_mut().map(|c| c.totals(traps, set));
                    if cost.as_ref().is_some_and(|c| !limits.affords(c)) {
                        continue;
                    }
                    let toll = tolls.iter().zip(&weights).map(|(t, w)| t * w).sum();
                    see(Seen {
                        toll: but_for_rounding(toll),
                        margin: at.delta(traps, set) / wanted.max(1e-9),
                        money: cost.map_or(0.0, |c| c.money),
                        place: [slice, sites, traps, set as u32],
                    });
                }
            }
        }
        plans
    }
}

/// Looks at every plan within the scenario's limits.
pub fn screen(scenario: &Checked) -> Screen {
    let lattice = Lattice::new(scenario);
    let mut all = Vec::new();
    let plans = lattice.visit(|seen| all.push(seen));
    // Smallest toll first; at equal toll the surer one.
    all.sort_by(|a, b| {
        a.toll
            .total_cmp(&b.toll)
            .then(b.margin.total_cmp(&a.margin))
    });
    let mut frontier: Vec<Candidate> = Vec::new();
    let mut best = 0.0;
    for seen in &all {
        if seen.margin > best * (1.0 + 1e-9) {
            best = seen.margin;
            frontier.push(lattice.candidate(seen));
        }
    }
    let mut thrifty: Vec<Candidate> = Vec::new();
    if scenario.premises.costs.is_some() {
        let wanted = scenario.question.wanted_power;
        let enough = |c: &Candidate| c.preview >= wanted;
        let most = frontier.last().map(|c| c.margin);
        let least = frontier.iter().find(|c| enough(c)).map(|c| c.margin);
        let near = if scenario.premises.departures.is_empty() {
            NEAR * least.or(most).unwrap_or(f64::INFINITY)
        } else {
            0.0
        };
        let mut cheapest = f64::INFINITY;
        for seen in all.iter().filter(|s| s.margin >= near) {
            if seen.money >= cheapest * (1.0 - 1e-9) {
                continue;
            }
            let candidate = lattice.candidate(seen);
            if enough(&candidate) {
                cheapest = seen.money;
                thrifty.push(candidate);
            }
        }
    }
    Screen {
        thrifty,
        plans,
        allowed: all.len(),
        frontier,
    }
}

/// A toll without its last digits, so that tolls that differ by rounding alone are equal.
fn but_for_rounding(toll: f64) -> f64 {
    f64::from_bits(toll.to_bits() & !0xfff)
}
