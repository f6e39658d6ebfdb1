//! What would be done, and how far the search may go.

use super::baseline::StopRule;
use super::groups::Groups;
use super::occupancy::Visits;
use super::revisit::Revisit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// Sites: the same ones every year, or with `revisit` the different ones of all years together.
    pub sites: u32,
    /// Traps at each site.
    pub traps_per_site: u32,
    /// First week of the year with open traps.
    pub first_week: u32,
    /// Number of weeks in a row.
    pub weeks: u32,
    /// Days a trap is open in each of these weeks.
    pub exposure_days: f64,
    /// Years, one after the other.
    pub years: u32,
    /// Where the sites stand on the gradient; only with the range-shift question.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transect: Option<Transect>,
    /// Which sites are treated; only with the questions of two groups.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub groups: Option<Groups>,
    /// How sites are visited; only with the question of occupancy.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub visits: Option<Visits>,
    /// When to stop sampling in the field; only with the question of a baseline, and not even there needed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stop_rule: Option<StopRule>,
    /// Whether traps stand at the same points every year.
    #[serde(default, skip_serializing_if = "TrapPoints::is_same")]
    pub trap_points: TrapPoints,
    /// Which sites are visited in which years; every site in every year when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revisit: Option<Revisit>,
    /// Years in which nobody traps, from 2 to the last but one; the first year is 1.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gap_years: Vec<u32>,
}

/// Where a site's traps stand from year to year.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TrapPoints {
    /// At the same points every year: a point's effect belongs to its site and drops out of a trend.
    #[default]
    Same,
    /// At new points every year: their effects are drawn anew and add to the scatter of years.
    NewEachYear,
}

impl TrapPoints {
    /// The same points every year: left out of files.
    pub fn is_same(&self) -> bool {
        *self == Self::Same
    }
}

/// Sites along the gradient.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Transect {
    /// Lowest (southernmost) place of a site.
    pub lowest: f64,
    /// Highest (northernmost) place of a site.
    pub highest: f64,
    /// Where sites stand between the two: evenly when left out.
    #[serde(default, skip_serializing_if = "Placing::is_even")]
    pub placing: Placing,
}

/// Where a transect's sites stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Placing {
    /// At even distances from the lowest to the highest place.
    #[default]
    Even,
    /// At random, every place as likely: one draw, the same for every seed, in which a site keeps its place whatever
    /// the number of sites.
    Random,
    /// Half of the sites evenly where the edge (or optimum) is expected during the survey, one width (or tolerance) to
    /// either side included; the others evenly over the whole transect.
    DenseAtEdge,
}

impl Placing {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Even, Self::Random, Self::DenseAtEdge];

    /// Its key in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Even => "even",
            Self::Random => "random",
            Self::DenseAtEdge => "dense_at_edge",
        }
    }

    /// Even: left out of files.
    pub fn is_even(&self) -> bool {
        *self == Self::Even
    }
}

/// How far the search for the least plan may go. The season's middle and the years stay as in the plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// Most sites.
    pub sites: u32,
    /// Most traps at a site.
    pub traps_per_site: u32,
    /// Most weeks in a row.
    pub weeks: u32,
}
