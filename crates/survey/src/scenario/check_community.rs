//! What a pilot's community may hold.

use super::check::Fault;
use super::{Community, Scenario, SpeciesCount};
use crate::inventory::{Pilot, PilotError};
use std::collections::BTreeSet;

/// Most strata of a pilot.
pub const MOST_STRATA: usize = 30;
/// Most species of a pilot.
pub const MOST_SPECIES: usize = 2_000;
/// Most species that a pilot may reckon unseen.
pub const MOST_UNSEEN: usize = 4_000;

/// Trap-weeks of a stratum or a sample.
const TRAP_WEEKS: (f64, f64) = (0.01, 1e6);
/// Animals killed a trap-week.
const KILLED: (f64, f64) = (0.0, 1e6);
/// Samples of an incidence table.
const SAMPLES: (u32, u32) = (2, 1_000_000);

fn bound(path: String, value: impl ToString, bound: impl Into<String>) -> Fault {
    Fault::Bound {
        path,
        value: value.to_string(),
        bound: bound.into(),
    }
}

/// Adds the faults of the community.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let Some(community) = &s.premises.community else {
        return;
    };
    let before = faults.len();
    parts(community, faults);
    if faults.len() > before {
        return;
    }
    let at = "premises.community".to_string();
    match Pilot::of(community) {
        Err(PilotError::Nothing) => faults.push(bound(
            at,
            "without a catch",
            "at least 2 individuals, or 2 samples of which 1 holds a species",
        )),
        Ok(pilot) => {
            let unseen = pilot.believed().unseen;
            if unseen > MOST_UNSEEN {
                faults.push(bound(
                    at,
                    format!("a pilot that reckons {unseen} species unseen"),
                    format!(
                        "one that reckons at most {MOST_UNSEEN}: species seen once are too many against those seen twice"
                    ),
                ));
            }
        }
    }
}

fn parts(community: &Community, faults: &mut Vec<Fault>) {
    let strata = &community.strata;
    if strata.is_empty() && community.incidences.is_none() {
        faults.push(bound(
            "premises.community.strata".into(),
            "0 strata",
            format!("1 to {MOST_STRATA} strata, or premises.community.incidences"),
        ));
    }
    if strata.len() > MOST_STRATA {
        faults.push(bound(
            "premises.community.strata".into(),
            format!("{} strata", strata.len()),
            format!("at most {MOST_STRATA} strata"),
        ));
    }
    let mut names = BTreeSet::new();
    let mut all = BTreeSet::new();
    for (i, stratum) in strata.iter().enumerate() {
        let prefix = format!("premises.community.strata[{i}]");
        name(&format!("{prefix}.name"), &stratum.name, faults);
        if !names.insert(stratum.name.trim()) {
            faults.push(bound(
                format!("{prefix}.name"),
                format!("{:?}", stratum.name),
                "a name that no other stratum has",
            ));
        }
        number(
            &format!("{prefix}.trap_weeks"),
            stratum.trap_weeks,
            TRAP_WEEKS,
            faults,
        );
        number(
            &format!("{prefix}.killed_per_trap_week"),
            stratum.killed_per_trap_week,
            KILLED,
            faults,
        );
        list(&prefix, &stratum.species, faults);
        all.extend(stratum.species.iter().map(|s| s.name.trim()));
    }
    if all.len() > MOST_SPECIES {
        faults.push(bound(
            "premises.community.strata".into(),
            format!("{} species in all", all.len()),
            format!("at most {MOST_SPECIES} species"),
        ));
    }
    let Some(incidences) = &community.incidences else {
        return;
    };
    let prefix = "premises.community.incidences";
    if !(SAMPLES.0..=SAMPLES.1).contains(&incidences.samples) {
        faults.push(bound(
            format!("{prefix}.samples"),
            incidences.samples,
            format!("a whole number from {} to {}", SAMPLES.0, SAMPLES.1),
        ));
    }
    number(
        &format!("{prefix}.trap_weeks_per_sample"),
        incidences.trap_weeks_per_sample,
        TRAP_WEEKS,
        faults,
    );
    list(prefix, &incidences.species, faults);
    for (i, s) in incidences.species.iter().enumerate() {
        if s.count > incidences.samples {
            faults.push(bound(
                format!("{prefix}.species[{i}].count"),
                s.count,
                format!(
                    "at most {prefix}.samples, {}: the samples with the species",
                    incidences.samples
                ),
            ));
        }
    }
}

fn number(path: &str, value: f64, (low, high): (f64, f64), faults: &mut Vec<Fault>) {
    if !(low..=high).contains(&value) {
        faults.push(bound(
            path.into(),
            value,
            format!("a number from {low} to {high}"),
        ));
    }
}

fn name(path: &str, name: &str, faults: &mut Vec<Fault>) {
    let length = name.trim().chars().count();
    if !(1..=100).contains(&length) {
        let value = if length == 0 {
            "empty".to_string()
        } else {
            format!("{length} characters long")
        };
        faults.push(bound(path.into(), value, "1 to 100 characters"));
    }
}

fn list(prefix: &str, species: &[SpeciesCount], faults: &mut Vec<Fault>) {
    if species.len() > MOST_SPECIES {
        faults.push(bound(
            format!("{prefix}.species"),
            format!("{} species", species.len()),
            format!("at most {MOST_SPECIES} species"),
        ));
    }
    let mut names = BTreeSet::new();
    for (i, s) in species.iter().enumerate() {
        let path = format!("{prefix}.species[{i}].name");
        name(&path, &s.name, faults);
        if !names.insert(s.name.trim()) {
            faults.push(bound(
                path,
                format!("{:?}", s.name),
                "a species that is not in this list already",
            ));
        }
    }
}
