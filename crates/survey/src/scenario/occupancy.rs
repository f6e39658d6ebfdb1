//! Occupied sites: a change of their share, what is believed of them, and how they are visited.
//!
//! A visit is one week of trapping at a site with all its traps; the target is detected when at least one animal is
//! caught. How likely that is at an occupied site follows from the premises of the catch.

use super::premise::Premise;
use numerics::maths::{exp, ln};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A change of the share of occupied sites.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OccupancyChange {
    /// Share of sites that is occupied at the end, 0 to 1; the share at the beginning is a premise.
    pub to_share: f64,
    /// Years between beginning and end.
    pub over_years: f64,
}

/// What is believed of the sites.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Occupancy {
    /// Share of sites occupied in the first year, 0 to 1.
    pub occupied: Premise,
    /// Share of the occupied sites that are left empty from one year to the next; others are occupied instead. A
    /// change of occupancy may need more of it than is stated here. Where it is 1 less the share that is occupied,
    /// years are independent.
    pub left_each_year: Premise,
}

/// How sites are visited in a year.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Visits {
    /// Which visits are made.
    pub scheme: Scheme,
    /// Which years.
    pub seasons: Seasons,
}

/// Which of a year's visits (weeks) are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Scheme {
    /// All weeks at all sites.
    Standard,
    /// A site is closed for the year after the first week in which the target is caught there.
    Removal,
    /// Sites where the target is not caught in the first week are closed for the year.
    Conditional,
}

impl Scheme {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Standard, Self::Removal, Self::Conditional];

    /// Its key in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Standard => "standard",
            Self::Removal => "removal",
            Self::Conditional => "conditional",
        }
    }
}

/// Which years have visits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Seasons {
    /// Years in a row; the change is a trend of the log odds of occupancy.
    EveryYear,
    /// Two years, at the beginning and at the end of the change, which is the difference between them.
    FirstAndLast,
}

/// Log odds of a share.
pub fn log_odds(share: f64) -> f64 {
    ln(share / (1.0 - share))
}

/// The share with these log odds.
pub fn share_of(log_odds: f64) -> f64 {
    1.0 / (1.0 + exp(-log_odds))
}

impl OccupancyChange {
    /// Change a year of the log odds of occupancy from the share `from`.
    pub fn slope(&self, from: f64) -> f64 {
        (log_odds(self.to_share) - log_odds(from)) / self.over_years
    }
}
