//! What the world may do beyond the plain model. Each is a premise whose value 0 means: it does not.

use super::premise::{Premise, Source};
use numerics::maths::ln_1p;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Departures from the plain count model; a scenario without them is the plain model. They hold in the world of
/// change and in the world without it alike, for the target alone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Departures {
    /// Correlation of one year's shared effect with the next year's (autoregressive of order 1, stationary: every
    /// year has the SD `year_sd`).
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub year_autocorrelation: Premise,
    /// SD of the sites' own changes a year, on the log scale, counted from the first year like the common change.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub site_slope_sd: Premise,
    /// Distance in km over which the correlation of two sites' effects, own years and own changes falls to 37 %:
    /// exp(-distance / length); 0: sites are independent.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub correlation_length_km: Premise,
    /// Area of the region the sites are spread over, in km2: on a square grid in which every site stands for an equal
    /// area, or, on a transect, evenly on a line as long as the region's side. Only with a correlation length.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub region_km2: Premise,
    /// SD of the weather of one week of one year, shared by all traps at all sites, on the log scale.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub shared_week_sd: Premise,
    /// Change of the catch by the same number of animals, per cent a year, as by traps that age: kills and counts
    /// alike, whether or not the animals change.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub detection_drift_percent: Premise,
    /// How loss follows the catch: the odds of losing a trap-week are multiplied by (its own expected catch over the
    /// typical one) to this power; 0: lost at random. The typical catch, at which the share lost is `trap_loss`, is
    /// that of the season's peak at a typical site in a typical year, the first, at the plan's exposure.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub loss_follows_catch: Premise,
    /// SD in weeks by which the whole season, of target and by-catch alike, comes earlier or later in a year.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub season_shift_sd: Premise,
    /// Days a decade by which the whole season, of target and by-catch alike, comes earlier, counted from the first
    /// year; below 0: later.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub season_trend: Premise,
    /// How alike the trap-weeks of a site in a year are in being lost: the intra-class correlation of a beta-binomial law.
    /// Each site-year has a share of losses of its own, a beta number with mean `trap_loss`; 0: each trap-week is lost by
    /// itself, near 1: a site-year is lost as a whole or not at all.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub loss_clustering: Premise,
}

pub(super) fn absent() -> Premise {
    Premise::new(0.0, Source::Guess)
}

pub(super) fn is_absent(premise: &Premise) -> bool {
    *premise == absent()
}

impl Default for Departures {
    fn default() -> Self {
        Self {
            year_autocorrelation: absent(),
            site_slope_sd: absent(),
            correlation_length_km: absent(),
            region_km2: absent(),
            shared_week_sd: absent(),
            detection_drift_percent: absent(),
            loss_follows_catch: absent(),
            season_shift_sd: absent(),
            season_trend: absent(),
            loss_clustering: absent(),
        }
    }
}

impl Departures {
    /// Nothing is stated: the key is left out of the file.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Weeks a year by which the season comes earlier.
    pub fn weeks_earlier(&self) -> f64 {
        self.season_trend.value / 70.0
    }

    /// Whether the season is not the same every year.
    pub fn moves_season(&self) -> bool {
        self.season_shift_sd.value > 0.0 || self.season_trend.value != 0.0
    }

    /// Change of the log catch a year by the traps alone.
    pub fn log_drift(&self) -> f64 {
        ln_1p(self.detection_drift_percent.value / 100.0)
    }
}
