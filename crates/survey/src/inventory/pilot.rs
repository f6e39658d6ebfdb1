//! A pilot's lists put together, and the community they make one believe in.

use crate::scenario::{Community, Recorded};
use models::inventory::frequencies::{Abundances, Incidences};
use models::inventory::gain::Stratum;
use models::inventory::{Complete, Completed};
use std::collections::BTreeMap;
use thiserror::Error;

/// A pilot's community in numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Pilot {
    /// Individuals of each species of all strata together; `None` without strata.
    pub abundances: Option<Abundances>,
    /// Each stratum's individuals of every species.
    pub strata: Vec<Stratum>,
    /// Samples with each species, and trap-weeks of a sample.
    pub incidences: Option<(Incidences, f64)>,
}

/// Why a pilot tells nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum PilotError {
    /// No catch from which anything follows.
    #[error("the pilot caught fewer than 2 individuals, and no species in 2 samples or more")]
    Nothing,
}

impl Pilot {
    /// The numbers of a community. Names are the same without spaces about them.
    ///
    /// # Errors
    /// When its lists hold too little to tell anything.
    pub fn of(community: &Community) -> Result<Self, PilotError> {
        let mut places = BTreeMap::new();
        let names = community.strata.iter().flat_map(|s| &s.species);
        for s in names {
            let next = places.len();
            places.entry(s.name.trim()).or_insert(next);
        }
        let strata: Vec<Stratum> = community
            .strata
            .iter()
            .map(|s| {
                let mut counts = vec![0; places.len()];
                for species in &s.species {
                    counts[places[species.name.trim()]] += u64::from(species.count);
                }
                Stratum {
                    counts,
                    trap_weeks: s.trap_weeks,
                    killed_per_trap_week: s.killed_per_trap_week,
                }
            })
            .collect();
        let pooled: Vec<u64> = (0..places.len())
            .map(|i| strata.iter().map(|s| s.counts[i]).sum())
            .collect();
        let abundances = Abundances::new(&pooled).ok();
        let abundances = abundances.filter(|a| a.individuals() >= 2.0);
        if !community.strata.is_empty() && abundances.is_none() {
            return Err(PilotError::Nothing);
        }
        let incidences = match &community.incidences {
            None => None,
            Some(i) => {
                let counts: Vec<u64> = i.species.iter().map(|s| u64::from(s.count)).collect();
                let of = Incidences::new(u64::from(i.samples), &counts).ok();
                let of = of.filter(|of| of.samples() >= 2.0);
                Some((of.ok_or(PilotError::Nothing)?, i.trap_weeks_per_sample))
            }
        };
        if abundances.is_none() && incidences.is_none() {
            return Err(PilotError::Nothing);
        }
        Ok(Self {
            abundances,
            strata,
            incidences,
        })
    }

    /// The community believed in: the abundances', where there are any, completed for species not seen.
    pub fn believed(&self) -> Completed {
        match (&self.abundances, &self.incidences) {
            (Some(a), _) => a.completed(),
            (None, Some((i, _))) => i.completed(),
            // `Pilot::of` gives none without either.
            (None, None) => Completed {
                seen: Vec::new(),
                unseen: 0,
                each_unseen: 0.0,
            },
        }
    }

    /// Trap-weeks of a sample, where the community is told by incidences alone.
    pub fn trap_weeks_per_sample(&self) -> Option<f64> {
        let alone = self.abundances.is_none();
        self.incidences.as_ref().filter(|_| alone).map(|i| i.1)
    }

    /// Trap-weeks of all strata.
    pub fn trap_weeks(&self) -> f64 {
        self.strata.iter().map(|s| s.trap_weeks).sum()
    }

    /// Each species of the community believed in: its share of the individuals (or its chance to be in a sample), and
    /// what recording it counts for, which adds up to 1.
    pub(crate) fn species(&self, of: Recorded) -> Vec<(f64, f64)> {
        let all: Vec<f64> = self.believed().all().filter(|&p| p > 0.0).collect();
        let sum: f64 = all.iter().sum();
        let each = 1.0 / all.len() as f64;
        all.into_iter()
            .map(|p| match of {
                Recorded::Coverage => (p, p / sum),
                Recorded::Species => (p, each),
            })
            .collect()
    }
}
