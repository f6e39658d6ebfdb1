//! Animals in reach of a site's traps: not without end.

use super::premise::Premise;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The target's animals that one site's traps can reach in a year. Each is caught with chance 1 - exp(-x), where x
/// is what the traps would catch, were there no end of animals, over the animals there are: so that many traps and long
/// seasons bring less and less (the catch equation of removal sampling; Moran 1951, Biometrika 38:307; Zippin 1956,
/// Biometrics 12:163; both recalled from memory).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LocalPopulation {
    /// How many there are at a typical (median) site in a typical year, in the first year; on a gradient, at the optimum.
    /// Sites and years with a larger catch have more of them.
    pub animals: Premise,
    /// Share of what is missing that has come back by the next year (by breeding or from around), 0 to 1; 1 when left
    /// out, that is traps of one year leave no trace in the next: an assumption.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recovery: Option<Premise>,
}

impl LocalPopulation {
    /// The share that has come back: all of it when left out.
    pub fn recovered(&self) -> f64 {
        self.recovery.as_ref().map_or(1.0, |r| r.value)
    }
}
