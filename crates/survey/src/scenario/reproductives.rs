//! Animals that carry the next generation.

use super::premise::Premise;
use crate::season::weight;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Which share of the animals caught is reproductive, such as females with eggs: a bell over the weeks of the year.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Reproductives {
    /// Share of the animals caught that is reproductive in the week in which it is largest, 0 to 1.
    pub share_at_peak: Premise,
    /// Week of the year in which the share is largest.
    pub peak_week: Premise,
    /// SD in weeks of the bell curve of the share.
    pub width_weeks: Premise,
}

impl Reproductives {
    /// Share of the animals caught in a week of the year.
    pub fn share(&self, week: f64) -> f64 {
        self.share_at_peak.value * weight(week, self.peak_week.value, self.width_weeks.value)
    }
}
