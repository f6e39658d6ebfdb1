//! Which species a survey records.
//!
//! The individuals caught are split over the species of the community believed in by its shares (multinomial, one
//! conditional binomial number a species); these are the same at all sites, weeks and years, and individuals are caught
//! apart from each other. Of a community that is told by incidences alone, each sample of the survey holds each species
//! with its chance. Each species has its own place in the random stream, whatever the survey's size.

use super::draw::Drawn;
use super::place;
use crate::inventory::Pilot;
use crate::scenario::{Checked, Effect, Recorded};
use models::inventory::{coverage, richness};
use numerics::draws::binomial;
use numerics::random::Stream;
use serde::{Deserialize, Serialize};

/// What a survey recorded of the community.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Tally {
    /// Individuals, or samples, in which species were looked for.
    pub size: f64,
    /// Species recorded.
    pub species: f64,
    /// The share truly reached, 0 to 1.
    pub reached: f64,
    /// The share that the survey itself estimates: coverage by Chao & Jost (2012), or the species recorded over Chao1's
    /// (Chao2's). 0 of a survey too small to tell.
    pub claimed: f64,
}

/// Draws the species of a catch.
#[derive(Clone, Debug)]
pub(super) struct Community {
    of: Recorded,
    species: Vec<Species>,
    /// Trap-weeks of a sample; `None` where individuals are counted.
    sample: Option<f64>,
}

#[derive(Clone, Copy, Debug)]
struct Species {
    /// What recording it counts for.
    weight: f64,
    /// Its share of what the species from it on have together; or its chance to be in a sample.
    chance: f64,
}

impl Community {
    /// Of the question of an inventory; `None` of others.
    pub fn of(scenario: &Checked) -> Option<Self> {
        let Effect::Inventory(asked) = &scenario.question.effect else {
            return None;
        };
        let pilot = Pilot::of(scenario.premises.community.as_ref()?).ok()?;
        let sample = pilot.trap_weeks_per_sample();
        let species = pilot.species(asked.of);
        let mut left = 0.0;
        let mut from_last: Vec<Species> = species
            .iter()
            .rev()
            .map(|&(p, weight)| {
                // Added up from the end, so that nothing cancels.
                left += p;
                let chance = if sample.is_some() { p } else { p / left };
                Species { weight, chance }
            })
            .collect();
        from_last.reverse();
        Some(Self {
            of: asked.of,
            species: from_last,
            sample,
        })
    }

    /// What the survey drawn recorded.
    pub fn tally(&self, rng: &mut Stream, drawn: &Drawn) -> Tally {
        let size = match self.sample {
            None => drawn.counts.iter().sum::<f64>(),
            Some(trap_weeks) => (drawn.effort.iter().sum::<f64>() / trap_weeks + 1e-9).floor(),
        };
        let mut still = size as u64;
        let (mut total, mut once, mut twice) = (0.0, 0.0, 0.0);
        let mut t = Tally {
            size,
            ..Tally::default()
        };
        for (i, s) in self.species.iter().enumerate() {
            if still == 0 {
                break;
            }
            rng.go_to(place::SPECIES, i as u32, 0);
            let count = binomial(rng, still, s.chance);
            if self.sample.is_none() {
                still -= count;
            }
            if count > 0 {
                total += count as f64;
                t.species += 1.0;
                t.reached += s.weight;
                once += f64::from(u8::from(count == 1));
                twice += f64::from(u8::from(count == 2));
            }
        }
        // From one individual or sample, or none, nothing is claimed.
        if size > 1.0 && t.species > 0.0 {
            t.claimed = match self.of {
                Recorded::Coverage => coverage::from_counts(size, total, once, twice),
                Recorded::Species => {
                    t.species / (t.species + richness::unseen_from_counts(size, once, twice))
                }
            };
        }
        t
    }
}
