//! A piece of work small enough to wait for.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use survey::evaluate::Replicate;
use survey::generator::World;
use survey::ignoring::telling;
use survey::scenario::{Checked, Known, Plan};
use survey::search::{Candidate, Relaxed, Screen, scenario_of};
use survey::several::{about, seed_of};

/// Something the analysis of a run is told of, or not, whatever the scenario says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Told {
    /// What.
    pub of: Known,
    /// Whether it is told.
    pub told: bool,
}

/// In what runs of one job differ: the plan, what the analysis knows, and the species that is the target.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Size {
    /// The plan; as JSON in messages, since plans have optional parts, which only JSON carries.
    #[serde(with = "as_text")]
    pub plan: Plan,
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
            plan: plan.clone(),
            told: None,
            target: 0,
        }
    }

    /// Site-years of one survey.
    pub(crate) fn site_years(&self) -> u64 {
        u64::from(self.plan.sites) * u64::from(self.plan.years)
    }

    /// The scenario whose target is this run's, and whose analysis knows what this run's knows.
    pub fn scenario<'a>(&self, scenario: &'a Checked) -> Cow<'a, Checked> {
        // The premises are those of the plan's kind of trap.
        let scenario = scenario_of(scenario, &self.plan);
        // A job begins no run of a species that is not there, nor one whose analysis is refused.
        let about = match self.target {
            0 => None,
            number => about(&scenario, number),
        };
        let told = self.told.and_then(|t| {
            let scenario = about.as_ref().unwrap_or(&scenario);
            telling(scenario, t.of, t.told).ok()
        });
        told.or(about).map_or(scenario, Cow::Owned)
    }

    /// The seed of its random numbers, `seed` being the job's.
    pub fn seed(&self, seed: u64) -> u64 {
        seed_of(seed, self.target)
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
    /// The surest plans of other years and exposures that kill less than the plan found.
    Challengers {
        /// Its weighted toll.
        below: f64,
        /// How many at most.
        most: usize,
    },
    /// Which limits bind.
    Relax {
        /// The margin that a plan needs.
        needed: f64,
        /// The weighted toll of the plan found; infinite when none answers.
        below: f64,
    },
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
    /// Plans that may still be the least.
    Challengers(Vec<Candidate>),
    /// The limits that bind.
    Relaxed(Vec<Relaxed>),
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

/// A plan as the text of its JSON.
mod as_text {
    use serde::de::Error as _;
    use serde::ser::Error as _;
    use serde::{Deserialize, Deserializer, Serializer};
    use survey::scenario::Plan;

    pub fn serialize<S: Serializer>(plan: &Plan, to: S) -> Result<S::Ok, S::Error> {
        let text = serde_json::to_string(plan).map_err(S::Error::custom)?;
        to.serialize_str(&text)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Plan, D::Error> {
        let text = String::deserialize(from)?;
        serde_json::from_str(&text).map_err(D::Error::custom)
    }
}
