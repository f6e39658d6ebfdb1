//! What would be done, and how far the search may go.

use super::baseline::StopRule;
use super::groups::Groups;
use super::looks::Looks;
use super::occupancy::Visits;
use super::place::Place;
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
    /// Number of weeks with open traps: in a row, unless they are chosen one by one.
    pub weeks: u32,
    /// The weeks of the year with open traps when they are not in a row: rising, as many as `weeks`, the first being
    /// `first_week`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chosen_weeks: Option<Vec<u32>>,
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
    /// Planned looks before the last year; only with questions of a trend or of two groups, and not even there needed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub looks: Option<Looks>,
    /// Whether traps stand at the same points every year.
    #[serde(default, skip_serializing_if = "TrapPoints::is_same")]
    pub trap_points: TrapPoints,
    /// Which sites are visited in which years; every site in every year when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revisit: Option<Revisit>,
    /// Years in which nobody traps, from 2 to the last but one; the first year is 1.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gap_years: Vec<u32>,
    /// Name of the kind of trap that is used, one of `premises.trap_options`; that of the premises when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trap_option: Option<String>,
    /// Fixed places of sites, in the order in which they are taken: the first `sites` of them are used. On a gradient
    /// `transect.placing` is then `listed`. Left out when sites can stand anywhere.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<Place>,
}

impl Plan {
    /// The weeks of the year with open traps, rising: the chosen ones, or as many in a row from the first. A choice
    /// that is not of so many weeks from the first one belongs to another size of the plan and counts for nothing
    /// (a scenario with such a choice is refused).
    pub fn open_weeks(&self) -> Vec<u32> {
        match &self.chosen_weeks {
            Some(chosen) if self.has_chosen(chosen) => chosen.clone(),
            _ => (0..self.weeks).map(|w| self.first_week + w).collect(),
        }
    }

    /// Whether these are as many weeks as the plan has, the first of them its first.
    fn has_chosen(&self, chosen: &[u32]) -> bool {
        chosen.len() == self.weeks as usize && chosen.first() == Some(&self.first_week)
    }

    /// The plan in these weeks, rising: in a row where they are, else chosen one by one. As it is without any.
    pub fn in_weeks(&self, weeks: &[u32]) -> Self {
        let (Some(&first_week), Some(&last)) = (weeks.first(), weeks.last()) else {
            return self.clone();
        };
        let number = weeks.len() as u32;
        Self {
            first_week,
            weeks: number,
            chosen_weeks: (last - first_week + 1 != number).then(|| weeks.to_vec()),
            ..self.clone()
        }
    }
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
    /// At the positions of `plan.places`.
    Listed,
}

impl Placing {
    /// Those that need no list of places.
    pub const ALL: [Self; 3] = [Self::Even, Self::Random, Self::DenseAtEdge];

    /// Its key in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Even => "even",
            Self::Random => "random",
            Self::DenseAtEdge => "dense_at_edge",
            Self::Listed => "listed",
        }
    }

    /// Even: left out of files.
    pub fn is_even(&self) -> bool {
        *self == Self::Even
    }
}
