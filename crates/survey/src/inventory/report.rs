//! What a pilot tells: species and coverage with intervals, the curves against trap-weeks, what the wanted share takes,
//! and which further trap-weeks add most species for each animal killed.
//!
//! All of it follows from the pilot alone (and the share wanted), by `models::inventory`; nothing of the plan is in it.

use super::pilot::Pilot;
use crate::scenario::{Checked, Effect, Recorded};
use models::inventory::Complete;
use models::inventory::curve::{self, Reach};
use models::inventory::gain::{By, Gain};
use models::inventory::interval::{self, Bootstrap};
use models::inventory::{coverage, richness};
use serde::Serialize;

/// Further trap-weeks that are shared out when no number is given.
pub const USUAL_FURTHER: u32 = 10;
/// Level of all intervals.
const LEVEL: f64 = 0.95;
/// Seed of the bootstrap: the same pilot gives the same intervals.
const SEED: u64 = 1;
/// Redrawn inventories, at most and at least; species times inventories are held near a number in between.
const REDRAWN: (usize, usize) = (200, 40);
const WORK: usize = 12_000;
/// Sizes of the curve, in pilots.
const SIZES: [f64; 17] = [
    0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 3.0,
];

/// What the pilot tells.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Report {
    /// The share wanted.
    pub wanted_share: f64,
    /// What it is a share of: `coverage` or `species`.
    pub of: Recorded,
    /// Level of the intervals.
    pub level: f64,
    /// Inventories redrawn for the intervals of curves and coverage.
    pub redrawn: u32,
    /// By individuals; `null` without strata.
    pub individuals: Option<Form>,
    /// By incidences, proof against catches in clumps; `null` without them.
    pub incidences: Option<Form>,
    /// One more trap-week in each stratum, most new species for each animal killed first; empty without strata.
    pub next_trap_week: Vec<Gained>,
    /// Further trap-weeks shared out over the strata by what they add for each animal, and by what they add for each
    /// trap-week.
    pub further: Vec<Allocated>,
}

/// A number with its interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Estimated {
    /// The estimate.
    pub estimate: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
}

/// The inventory by individuals or by samples.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Form {
    /// Individuals, or samples.
    pub size: f64,
    /// Trap-weeks they took.
    pub trap_weeks: f64,
    /// Animals of all kinds they killed; `null` where the pilot does not say.
    pub killed: Option<f64>,
    /// Species recorded.
    pub species: f64,
    /// Of them seen once, and twice.
    pub seen_once_and_twice: (f64, f64),
    /// Species there, at least: Chao1 or Chao2 with its interval.
    pub richness: Estimated,
    /// Coverage reached.
    pub coverage: Estimated,
    /// Species recorded as a share of those reckoned to be there.
    pub species_share: Estimated,
    /// Species and coverage against trap-weeks.
    pub curve: Vec<CurvePoint>,
    /// What the wanted share takes; `null` where no effort is expected to reach it.
    pub wanted: Option<Reached>,
}

/// The inventory expected of some trap-weeks of the pilot's kind.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CurvePoint {
    /// Trap-weeks.
    pub trap_weeks: f64,
    /// Individuals, or samples.
    pub size: f64,
    /// How far it lies from what was seen.
    pub reach: &'static str,
    /// Species.
    pub species: Estimated,
    /// Coverage.
    pub coverage: Estimated,
    /// Animals killed; `null` where the pilot does not say.
    pub killed: Option<f64>,
}

/// What the wanted share takes, by the expected curve: as often more as less.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Reached {
    /// Trap-weeks of the pilot's kind in all.
    pub trap_weeks: f64,
    /// Of them beyond the pilot's.
    pub further_trap_weeks: f64,
    /// Individuals, or samples, in all.
    pub size: f64,
    /// Animals of all kinds that the further ones kill; `null` where the pilot does not say.
    pub further_killed: Option<f64>,
    /// How far it lies from what was seen.
    pub reach: &'static str,
}

/// One more trap-week in a stratum.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Gained {
    /// The stratum.
    pub stratum: String,
    /// Its trap-weeks so far.
    pub trap_weeks: f64,
    /// New species expected.
    pub new_species: Estimated,
    /// Animals of all kinds killed.
    pub killed: f64,
    /// New species for each animal killed; `null` where none is killed and some are new.
    pub species_per_animal: Option<f64>,
}

/// Further trap-weeks over the strata.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Allocated {
    /// What they are shared out by: `animal` or `trap_week`.
    pub by: &'static str,
    /// Each stratum with its further trap-weeks, in the pilot's order.
    pub trap_weeks: Vec<(String, u32)>,
    /// New species expected of them all.
    pub new_species: f64,
    /// Animals of all kinds killed.
    pub killed: f64,
    /// Whether a stratum gets more trap-weeks than it had, which the curve cannot be trusted in.
    pub beyond_double: bool,
}

/// The key of how far a size lies from what was seen.
fn key(reach: Reach) -> &'static str {
    match reach {
        Reach::Seen => "seen",
        Reach::Double => "double",
        Reach::Triple => "triple",
        Reach::Beyond => "beyond",
    }
}

/// How an inventory's size turns into trap-weeks, and these into kills.
#[derive(Clone, Copy)]
struct Effort {
    trap_weeks_each: f64,
    kills_each: Option<f64>,
}

impl Effort {
    fn trap_weeks(&self, size: f64) -> f64 {
        size * self.trap_weeks_each
    }

    fn killed(&self, size: f64) -> Option<f64> {
        self.kills_each.map(|k| k * self.trap_weeks(size))
    }
}

fn told(e: &interval::Estimate) -> Estimated {
    Estimated {
        estimate: e.value,
        low: e.interval.0,
        high: e.interval.1,
    }
}

/// What the pilot of an inventory's scenario tells, with so many further trap-weeks shared out; `None` for any other
/// question.
pub fn report(scenario: &Checked, further: u32) -> Option<Report> {
    let Effect::Inventory(asked) = &scenario.question.effect else {
        return None;
    };
    let community = scenario.premises.community.as_ref()?;
    let pilot = Pilot::of(community).ok()?;
    let believed = pilot.believed();
    let species = believed.seen.len() + believed.unseen;
    let redrawn = (WORK / species.max(1)).clamp(REDRAWN.1, REDRAWN.0) as u32;
    let (trap_weeks, kills) = (pilot.trap_weeks(), &pilot.strata);
    let killed: f64 = kills
        .iter()
        .map(|s| s.killed_per_trap_week * s.trap_weeks)
        .sum();
    let kills_each = (trap_weeks > 0.0).then(|| killed / trap_weeks);
    let individuals = pilot.abundances.as_ref().map(|a| {
        let effort = Effort {
            trap_weeks_each: trap_weeks / a.individuals(),
            kills_each,
        };
        told_of(a, redrawn, effort, asked.wanted_share, asked.of)
    });
    let incidences = pilot.incidences.as_ref().map(|(i, trap_weeks_each)| {
        let effort = Effort {
            trap_weeks_each: *trap_weeks_each,
            kills_each,
        };
        told_of(i, redrawn, effort, asked.wanted_share, asked.of)
    });
    let gain = Gain::new(&pilot.strata).ok();
    let name = |i: usize| community.strata[i].name.trim().to_string();
    let next_trap_week = gain.iter().flat_map(|g| g.next_trap_week(LEVEL));
    let next_trap_week = next_trap_week.map(|n| Gained {
        stratum: name(n.stratum),
        trap_weeks: pilot.strata[n.stratum].trap_weeks,
        new_species: Estimated {
            estimate: n.new_species,
            low: n.interval.0,
            high: n.interval.1,
        },
        killed: n.killed,
        species_per_animal: n
            .species_per_animal
            .is_finite()
            .then_some(n.species_per_animal),
    });
    let shared = |g: &Gain, by: By| {
        let a = g.allocate(further, by);
        let last = a.steps.last();
        Allocated {
            by: match by {
                By::Animal => "animal",
                By::TrapWeek => "trap_week",
            },
            trap_weeks: a
                .trap_weeks
                .iter()
                .enumerate()
                .map(|(i, &n)| (name(i), n))
                .collect(),
            new_species: last.map_or(0.0, |s| s.new_species),
            killed: last.map_or(0.0, |s| s.killed),
            beyond_double: a.beyond_double,
        }
    };
    Some(Report {
        wanted_share: asked.wanted_share,
        of: asked.of,
        level: LEVEL,
        redrawn,
        individuals,
        incidences,
        next_trap_week: next_trap_week.collect(),
        further: gain
            .iter()
            .flat_map(|g| [By::Animal, By::TrapWeek].map(|by| shared(g, by)))
            .collect(),
    })
}

/// The inventory by one kind of count.
fn told_of(
    inventory: &impl Complete,
    redrawn: u32,
    effort: Effort,
    wanted: f64,
    of: Recorded,
) -> Form {
    let f = inventory.frequencies();
    let redrawn = Bootstrap::new(inventory, SEED, redrawn);
    let all = richness::estimated(f);
    let (low, high) = all.interval(LEVEL);
    let sizes = SIZES.map(|s| s * f.size());
    let curve = redrawn
        .curve(&sizes, LEVEL)
        .into_iter()
        .map(|p| CurvePoint {
            trap_weeks: effort.trap_weeks(p.size),
            size: p.size,
            reach: key(p.reach),
            species: told(&p.species),
            coverage: told(&p.coverage),
            killed: effort.killed(p.size),
        });
    let needed = match of {
        Recorded::Coverage => curve::size_for_coverage(f, wanted),
        Recorded::Species => curve::size_for_share(f, wanted),
    };
    Form {
        size: f.size(),
        trap_weeks: effort.trap_weeks(f.size()),
        killed: effort.killed(f.size()),
        species: f.species(),
        seen_once_and_twice: (f.once(), f.twice()),
        richness: Estimated {
            estimate: all.estimated,
            low,
            high,
        },
        coverage: told(&redrawn.estimate(coverage::estimated, LEVEL, (0.0, 1.0))),
        species_share: Estimated {
            estimate: f.species() / all.estimated,
            low: f.species() / high,
            high: f.species() / low,
        },
        curve: curve.collect(),
        wanted: needed.map(|size| {
            let further = (size - f.size()).max(0.0);
            Reached {
                trap_weeks: effort.trap_weeks(size),
                further_trap_weeks: effort.trap_weeks(further),
                size,
                further_killed: effort.killed(further),
                reach: key(curve::reach(f, size)),
            }
        }),
    }
}
