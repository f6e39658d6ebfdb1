//! How the catches will be analysed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// How the catches will be analysed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Analysis {
    /// Law of a count.
    pub counts: Counts,
    /// Likelihood of the mixed model.
    pub likelihood: Likelihood,
    /// The test of the change. (Older files call it `reference`.)
    #[serde(alias = "reference")]
    pub test: Test,
    /// What one row of the analysis is.
    #[serde(default, skip_serializing_if = "Rows::is_usual")]
    pub rows: Rows,
    /// What the edge of a range is seen by (the question of an edge only).
    #[serde(default, skip_serializing_if = "EdgeBy::is_usual")]
    pub edge: EdgeBy,
    /// How the analysis takes detection to vary (occupancy, and the question of an edge by detection).
    #[serde(default, skip_serializing_if = "Detection::is_usual")]
    pub detection: Detection,
    /// What the analysis is told of the world; what it is not told of, it takes to be absent.
    #[serde(default = "Known::usual", skip_serializing_if = "Known::is_usual")]
    pub knows: BTreeSet<Known>,
}

/// Law of a count in the analysis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Counts {
    /// NB2, variance mu + mu^2/k.
    NegativeBinomial,
    /// Poisson.
    Poisson,
}

/// Likelihood of the mixed model.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Likelihood {
    /// Fixed effects integrated out; does not shrink the year SD when years are few.
    Restricted,
    /// Maximum likelihood.
    Maximum,
}

/// The test of the change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Test {
    /// The mixed model's estimate over its standard error, against the value that only the accepted share of
    /// simulated surveys without any change exceeds, under this plan and these premises.
    Calibrated,
    /// The same statistic against Student's t. Decline, and edge of a range by presence: years less 2 degrees of freedom.
    /// Optimum of a range: (sites - 1)(years - 1) - 1, because it is seen within every year. Difference: sites less 2, or
    /// pairs less 1. Before and after: (sites - 1)(years - 1) - 1, or pairs (years - 1) - 1.
    T,
    /// Against Student's t with degrees of freedom by Satterthwaite's approximation, survey by survey (restricted
    /// likelihood).
    Satterthwaite,
    /// Against the normal distribution: too many false alarms when years are few; for comparison.
    Z,
    /// Twice the gain in log likelihood over the model without the change, against chi-square with 1 degree of
    /// freedom (maximum likelihood).
    LikelihoodRatio,
    /// No mixed model: yearly means of site-corrected log counts, regressed on the years; Student's t with years - 2
    /// degrees of freedom (decline only).
    AnnualIndex,
}

/// What one row of the analysis is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Rows {
    /// The total of a site in a year.
    #[default]
    SiteYears,
    /// The total of a site in a week of a year, with the season as a bell curve of the week and a random effect for
    /// each site-year.
    Weeks,
}

/// What the edge of a range is seen by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EdgeBy {
    /// Whether a site shows the target at all in a year: a mixed model of yes and no on place and year, with sites and
    /// years as random effects. Where an occupied site may show none its edge lies inside the true one.
    #[default]
    Presence,
    /// Weeks with and without a catch: occupancy on place and year, and the chance of detection, fitted together.
    Detection,
}

impl EdgeBy {
    fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

/// How the analysis of occupancy takes the chance of detection at an occupied site in a week to vary.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Detection {
    /// One chance for each year.
    #[default]
    EachYear,
    /// The same in all years.
    Constant,
    /// One chance for each year, which varies between sites by a beta law.
    Varying,
}

impl Detection {
    fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

/// Something the analysis may be told of.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Known {
    /// Trap-weeks whose catch was lost: the offset holds the trap-weeks counted, not those set.
    Losses,
    /// Sites' own trends: a random slope of each site on the year.
    SiteSlopes,
    /// The correlation of neighbouring years' effects, at the premise's value.
    YearAutocorrelation,
    /// The correlation of sites by distance, at the premise's value.
    SiteCorrelation,
    /// Weather shared by all sites in a week: a random effect for each week of each year (needs rows of weeks).
    SharedWeeks,
    /// The yearly drift of the traps' catchability: taken off in the offset, at the premise's value.
    DetectionDrift,
}

impl Rows {
    fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

impl Known {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Losses,
        Self::SiteSlopes,
        Self::YearAutocorrelation,
        Self::SiteCorrelation,
        Self::SharedWeeks,
        Self::DetectionDrift,
    ];

    /// What an analysis is told of unless the file says otherwise: losses, which the field sheets show.
    pub fn usual() -> BTreeSet<Self> {
        [Self::Losses].into()
    }

    fn is_usual(known: &BTreeSet<Self>) -> bool {
        *known == Self::usual()
    }
}

impl Test {
    /// All of them, the default first.
    pub const ALL: [Self; 6] = [
        Self::Calibrated,
        Self::T,
        Self::Satterthwaite,
        Self::Z,
        Self::LikelihoodRatio,
        Self::AnnualIndex,
    ];

    /// Its key in files and results.
    pub fn key(self) -> &'static str {
        match self {
            Self::Calibrated => "calibrated",
            Self::T => "t",
            Self::Satterthwaite => "satterthwaite",
            Self::Z => "z",
            Self::LikelihoodRatio => "likelihood_ratio",
            Self::AnnualIndex => "annual_index",
        }
    }
}

impl Default for Analysis {
    fn default() -> Self {
        Self {
            counts: Counts::NegativeBinomial,
            likelihood: Likelihood::Restricted,
            test: Test::Calibrated,
            rows: Rows::SiteYears,
            edge: EdgeBy::Presence,
            detection: Detection::EachYear,
            knows: Known::usual(),
        }
    }
}
