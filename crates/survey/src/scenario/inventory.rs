//! A species inventory: how much of a community is to be recorded, and what a pilot found of it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// That a survey records a wanted share of the community.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Inventory {
    /// The share wanted, 0 to 1.
    pub wanted_share: f64,
    /// What it is a share of.
    pub of: Recorded,
}

/// What the wanted share of an inventory is a share of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Recorded {
    /// Coverage: of all individuals (or of all chances to be in a sample), those whose species is recorded.
    Coverage,
    /// Of all species reckoned to be there.
    Species,
}

/// What a pilot found of the community: abundances by strata, or incidences, or both. The community that is believed
/// in is the pilot's, completed for species not seen; of the abundances where there are any.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Community {
    /// Individuals of each species in each stratum of the pilot.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub strata: Vec<Stratum>,
    /// Samples with each species.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub incidences: Option<Incidences>,
}

/// A part of the pilot: a trap type, a week of the season or the like.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stratum {
    /// Its name.
    pub name: String,
    /// Trap-weeks it was trapped for.
    pub trap_weeks: f64,
    /// Animals of all kinds, inventoried or not, that one trap kills in it in a week.
    pub killed_per_trap_week: f64,
    /// The species found in it.
    pub species: Vec<SpeciesCount>,
}

/// A species with its number.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SpeciesCount {
    /// The species.
    pub name: String,
    /// Individuals, or samples with it; 0 for a species looked for and not found.
    pub count: u32,
}

/// Samples with each species: proof against catches that come in clumps.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Incidences {
    /// Samples taken.
    pub samples: u32,
    /// Trap-weeks of one sample.
    pub trap_weeks_per_sample: f64,
    /// The species found.
    pub species: Vec<SpeciesCount>,
}
