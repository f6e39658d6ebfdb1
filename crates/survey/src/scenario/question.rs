//! What must be answered, with its effect, significance level and wanted power.

use super::absence::Absence;
use super::baseline::Baseline;
use super::decline::{Decline, NoWorse};
use super::groups::{BeforeAfter, Difference};
use super::inventory::Inventory;
use super::occupancy::OccupancyChange;
use super::range_shift::RangeShift;
use super::several::Several;
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
    /// Accepted share of false alarms when nothing changes; of intervals that miss the truth (baseline).
    pub significance: f64,
    /// Wanted chance of finding the change when it is there, or of an interval as narrow as is wanted (baseline).
    pub wanted_power: f64,
    /// The same question of several species at once; only with `premises.others`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub several: Option<Several>,
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
    /// The place of the highest catch, or an edge of the range, moves along a gradient.
    RangeShift(RangeShift),
    /// The target is not there.
    Absence(Absence),
    /// The catch is known with a stated precision.
    Baseline(Baseline),
    /// A wanted share of the species, or of the individuals' species, is recorded.
    Inventory(Inventory),
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
            Self::Baseline(_) => "baseline",
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
        match self {
            Self::Occupancy(_) | Self::Absence(_) | Self::Baseline(_) | Self::Inventory(_) => false,
            Self::RangeShift(r) => r.of.is_optimum(),
            _ => true,
        }
    }

    /// Whether it is answered by what a survey is or holds (a catch, a precision, a share recorded) and not by a test of an
    /// estimate: its power is then a chance itself.
    pub fn is_chance(&self) -> bool {
        matches!(
            self,
            Self::Absence(_) | Self::Baseline(_) | Self::Inventory(_)
        )
    }

    /// Whether a result the other way may count too; a claim has one side only.
    pub fn has_two_sides(&self) -> bool {
        !matches!(
            self,
            Self::NoWorse(_) | Self::Absence(_) | Self::Baseline(_) | Self::Inventory(_)
        )
    }
}
