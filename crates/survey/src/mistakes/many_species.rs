//! Many species tested, and the significant ones told.
//!
//! With n independent tests of things that do not change, n times the level are significant on average, and any with chance
//! 1 - (1 - level)^n; each test at level/n keeps that below the level (Bonferroni; Dunn 1961, J. Am. Stat. Assoc.
//! 56:52-64).

use super::knob::{Knob, value};
use numerics::maths::{exp_m1, ln_1p};
use serde::Serialize;

/// Most species of the picture, unless the knob stands higher.
const MOST: f64 = 60.0;

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ManySpecies {
    /// Species tested, none of which changes.
    pub species: f64,
    /// Accepted false alarms of each test.
    pub accepted: f64,
    /// False alarms to expect.
    pub expected: f64,
    /// Chance of at least one.
    pub any: f64,
    /// The level for each test that keeps the chance of any below the accepted one.
    pub level_for_each: f64,
    /// Species, chance of at least one false alarm.
    pub points: Vec<[f64; 2]>,
}

pub(super) fn knobs(base: &super::Base) -> Vec<Knob> {
    vec![
        Knob::new(
            "species",
            "species tested",
            "",
            (1.0, 100.0, 1.0),
            base.species,
        ),
        super::knob::level(base),
    ]
}

pub(super) fn shown(knobs: &[Knob]) -> ManySpecies {
    let (n, level) = (
        value(knobs, "species"),
        value(knobs, "level_percent") / 100.0,
    );
    let any = |n: f64| -exp_m1(n * ln_1p(-level));
    ManySpecies {
        species: n,
        accepted: level,
        expected: n * level,
        any: any(n),
        level_for_each: level / n,
        points: (1..=MOST.max(n) as u32)
            .map(|i| [f64::from(i), any(f64::from(i))])
            .collect(),
    }
}
