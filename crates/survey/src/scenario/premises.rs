//! What is believed of the world: catches of target and by-catch, their spread and season, losses, gradient.

use super::costs::Costs;
use super::departures::{Departures, absent, is_absent};
use super::inventory::Community;
use super::local_population::LocalPopulation;
use super::occupancy::Occupancy;
use super::premise::Premise;
use super::range_shift::Gradient;
use super::reproductives::Reproductives;
use super::trap_option::TrapOption;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// All premises.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Premises {
    /// The animals the survey is about.
    pub target: Target,
    /// Other animals the traps kill, in groups.
    #[serde(default)]
    pub bycatch: Vec<Bycatch>,
    /// Other species of which the same is asked; only with `question.several`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub others: Vec<Target>,
    /// Share of trap-weeks whose catch is lost before it can be counted (trampled, flooded, stolen), 0 to 1.
    pub trap_loss: Premise,
    /// The response along a gradient; only with the range-shift question.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gradient: Option<Gradient>,
    /// Share of the variance of sites, and of their own years, that the two sites of a pair have in common, 0 to 1;
    /// only with paired sites.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pair_correlation: Option<Premise>,
    /// Which sites are occupied; only with the question of occupancy.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub occupancy: Option<Occupancy>,
    /// The community to be inventoried; only with the question of an inventory.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub community: Option<Community>,
    /// Animals in reach of a site's traps, where they are not without end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub local_population: Option<LocalPopulation>,
    /// Kinds of trap, or ways to use it, that the plan may choose in place of that of the premises.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub trap_options: Vec<TrapOption>,
    /// What the world may do beyond the plain model; nothing when left out.
    #[serde(default, skip_serializing_if = "Departures::is_empty")]
    pub departures: Departures,
    /// What the survey costs in hours and money; nothing is told of it when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub costs: Option<Costs>,
    /// Share of the sites (volunteers) still trapping that give up for good from one year to the next, counted from each
    /// site's first year, 0 to 1; those that gave up neither count nor kill.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub attrition: Premise,
    /// Share of site-years whose samples come back after the cut-off date, 0 to 1: they kill, but are not in the
    /// analysis.
    #[serde(default = "absent", skip_serializing_if = "is_absent")]
    pub late_share: Premise,
}

/// The target's catch. Counts are NB2: variance mu + mu^2/k, larger k is closer to Poisson.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Target {
    /// What is caught.
    pub name: String,
    /// Catch of one trap in one week at the season's peak, at a typical (median) site and in a typical year, in the
    /// first year; on a gradient, at the optimum, or with the question of an edge at an occupied site.
    pub catch_per_trap_week: Premise,
    /// Dispersion k of one trap-week's count.
    pub dispersion_k: Premise,
    /// SD of sites on the log scale.
    pub site_sd: Premise,
    /// SD of years shared by all sites, on the log scale.
    pub year_sd: Premise,
    /// SD of a site's own year, on the log scale.
    pub site_year_sd: Premise,
    /// SD of trap points within a site, on the log scale.
    pub trap_sd: Premise,
    /// Week of the year of the season's peak.
    pub season_peak_week: Premise,
    /// SD of the season's bell curve in weeks.
    pub season_width_weeks: Premise,
    /// Which share of those caught is reproductive; not told apart when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reproductives: Option<Reproductives>,
}

/// How a by-catch group is shown and limited.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Class {
    /// Insects, spiders and other arthropods.
    Arthropod,
    /// Mammals, amphibians, reptiles, birds.
    Vertebrate,
    /// Protected animals of any kind.
    Protected,
}

impl Class {
    /// The class in words, many of them.
    pub fn words(self) -> &'static str {
        match self {
            Self::Arthropod => "arthropods",
            Self::Vertebrate => "vertebrates",
            Self::Protected => "protected animals",
        }
    }
}

/// A group of other animals the traps kill.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bycatch {
    /// The group's name.
    pub name: String,
    /// Its class.
    pub class: Class,
    /// Catch of one trap in one week at the group's peak, at a typical (median) site and in a typical year.
    pub catch_per_trap_week: Premise,
    /// Dispersion k of one trap-week's count.
    pub dispersion_k: Premise,
    /// SD of sites on the log scale.
    pub site_sd: Premise,
    /// SD of years on the log scale.
    pub year_sd: Premise,
    /// Week of the year of the group's peak.
    pub season_peak_week: Premise,
    /// SD of the group's season in weeks.
    pub season_width_weeks: Premise,
}
