//! What must be answered, with its effect, significance level and wanted power.

use super::absence::Absence;
use super::decline::{Decline, NoWorse};
use super::groups::{BeforeAfter, Difference};
use super::inventory::Inventory;
use super::occupancy::OccupancyChange;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The question.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// The change that matters.
    pub effect: Effect,
    /// Whether a change the other way counts as an answer too.
    pub direction: Direction,
    /// Accepted share of false alarms when nothing changes.
    pub significance: f64,
    /// Wanted chance of finding the change when it is there.
    pub wanted_power: f64,
}

/// The change that matters, or the claim that is to be made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Effect {
    /// The catch falls.
    Decline(Decline),
    /// The catch falls by no more than a margin.
    NoWorse(NoWorse),
    /// The catch differs between two groups of sites.
    Difference(Difference),
    /// The catch of treated sites changes against that of control sites.
    BeforeAfter(BeforeAfter),
    /// The share of occupied sites changes.
    Occupancy(OccupancyChange),
    /// The place of the highest catch moves along a gradient.
    RangeShift(RangeShift),
    /// The target is not there.
    Absence(Absence),
    /// A wanted share of the species, or of the individuals' species, is recorded.
    Inventory(Inventory),
}

/// A move of the optimum in gradient units (m of height or km of northing) a decade; positive is up or north.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RangeShift {
    /// Distance moved in ten years.
    pub distance_per_decade: f64,
}

/// Which results count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// A change either way.
    Either,
    /// Only the stated way: a fall, or a move in the stated direction.
    Stated,
}

impl Effect {
    /// The question's key in files.
    pub fn key(&self) -> &'static str {
        match self {
            Self::Decline(_) => "decline",
            Self::NoWorse(_) => "no_worse",
            Self::Difference(_) => "difference",
            Self::BeforeAfter(_) => "before_after",
            Self::Occupancy(_) => "occupancy",
            Self::RangeShift(_) => "range_shift",
            Self::Absence(_) => "absence",
            Self::Inventory(_) => "inventory",
        }
    }

    /// Whether it is answered by the slope of the catch on the years.
    pub fn is_trend(&self) -> bool {
        matches!(self, Self::Decline(_) | Self::NoWorse(_))
    }

    /// Whether it is answered by two groups of sites.
    pub fn has_groups(&self) -> bool {
        matches!(self, Self::Difference(_) | Self::BeforeAfter(_))
    }

    /// Whether it is answered by a mixed model of the counts.
    pub fn counts(&self) -> bool {
        !matches!(
            self,
            Self::Occupancy(_) | Self::Absence(_) | Self::Inventory(_)
        )
    }

    /// Whether a result the other way may count too; a claim has one side only.
    pub fn has_two_sides(&self) -> bool {
        !matches!(
            self,
            Self::NoWorse(_) | Self::Absence(_) | Self::Inventory(_)
        )
    }
}
