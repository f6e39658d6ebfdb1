//! A piece of work small enough to wait for.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use survey::evaluate::Replicate;
use survey::frontier::Screen;
use survey::generator::World;
use survey::ignoring::telling;
use survey::scenario::{Checked, Known, Plan};
use survey::several::{about, seed_of};

/// Something the analysis of a run is told of, or not, whatever the scenario says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Told {
    /// What.
    pub of: Known,
    /// Whether it is told.
    pub told: bool,
}

/// In what runs of one job differ: the plan's numbers, what the analysis knows, and the species that is the target;
/// the transect is the scenario's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Size {
    /// Sites.
    pub sites: u32,
    /// Traps at each site.
    pub traps_per_site: u32,
    /// First week of the run.
    pub first_week: u32,
    /// Weeks in a row.
    pub weeks: u32,
    /// Years.
    pub years: u32,
    /// Days a week that traps are open, as the bits of the number, so that sizes can be compared.
    pub exposure_bits: u64,
    /// What the analysis is told of in place of what the scenario says; `None` for as it says.
    pub told: Option<Told>,
    /// The species that is the target: 0 for the scenario's own, i for the i-th of its others, whose place the target
    /// takes. Each has random numbers of its own.
    pub target: u32,
}

impl Size {
    /// The size of a plan.
    pub fn of(plan: &Plan) -> Self {
        Self {
            sites: plan.sites,
            traps_per_site: plan.traps_per_site,
            first_week: plan.first_week,
            weeks: plan.weeks,
            years: plan.years,
            exposure_bits: plan.exposure_days.to_bits(),
            told: None,
            target: 0,
        }
    }

    /// Site-years of one survey.
    pub(crate) fn site_years(self) -> u64 {
        u64::from(self.sites) * u64::from(self.years)
    }

    /// The scenario whose target is this run's, and whose analysis knows what this run's knows.
    pub fn scenario(self, scenario: &Checked) -> Cow<'_, Checked> {
        // A job begins no run of a species that is not there, nor one whose analysis is refused.
        let about = match self.target {
            0 => None,
            number => about(scenario, number),
        };
        let told = self.told.and_then(|t| {
            let scenario = about.as_ref().unwrap_or(scenario);
            telling(scenario, t.of, t.told).ok()
        });
        told.or(about).map_or(Cow::Borrowed(scenario), Cow::Owned)
    }

    /// The seed of its random numbers, `seed` being the job's.
    pub fn seed(self, seed: u64) -> u64 {
        seed_of(seed, self.target)
    }

    /// `plan` with this size.
    pub fn on(self, plan: &Plan) -> Plan {
        Plan {
            sites: self.sites,
            traps_per_site: self.traps_per_site,
            first_week: self.first_week,
            weeks: self.weeks,
            years: self.years,
            exposure_days: f64::from_bits(self.exposure_bits),
            ..plan.clone()
        }
    }
}

/// What is to be done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Work {
    /// Simulate and analyse replicates `first .. first + count` of plans in a world.
    Simulate {
        /// The plan's size; several where they are drawn together.
        sizes: Vec<Size>,
        /// The world.
        world: World,
        /// First replicate.
        first: u64,
        /// How many.
        count: u64,
    },
    /// Closed forms over all plans within the limits.
    Screen,
    /// The lines of the plan's first surveys in both worlds.
    Courses {
        /// How many in each world.
        count: u64,
    },
}

/// A numbered piece of work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Task {
    /// Number within the job.
    pub id: u64,
    /// The work.
    pub work: Work,
}

/// What came of a task.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// Replicates in order, for each size of the task.
    Replicates(Vec<Vec<Replicate>>),
    /// The screened plans.
    Screen(Screen),
    /// The lines of surveys.
    Courses(Courses),
}

/// The lines of one survey, and of several.
type Lines = Vec<Vec<Option<f64>>>;

/// The lines of the first surveys of both worlds, in the order of their numbers.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Courses {
    /// In the world of change.
    pub change: Vec<Lines>,
    /// In the other.
    pub still: Vec<Lines>,
}
