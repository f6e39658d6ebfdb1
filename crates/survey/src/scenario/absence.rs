//! The claim that the target is not there.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// That the target is not present at a density or above it: were it there at just this density, a survey that finds
/// none would be as rare as the wanted power says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Absence {
    /// The density as the catch of one trap in one week at the season's peak, mean over sites, years and trap points.
    pub catch_per_trap_week: f64,
}
