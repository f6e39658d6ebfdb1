//! The scenario: what is asked, what is believed, what would be done.
//!
//! One versioned JSON format is shared by the page, the command line and files. [`read`] takes text apart, naming
//! path, value and bound of whatever is wrong; [`Checked`] is a scenario whose every field lies in its bounds, and
//! only checked scenarios run.

mod absence;
mod analysis;
mod baseline;
mod check;
mod check_analysis;
mod check_community;
mod check_costs;
mod check_gentle;
mod check_limits;
mod check_looks;
mod check_question;
mod check_revisit;
mod check_season;
mod check_several;
mod check_ways;
mod costs;
mod decline;
mod defaults;
mod departures;
mod digest;
pub mod fields;
mod groups;
mod inventory;
mod killed;
mod limits;
mod local_population;
mod looks;
mod occupancy;
mod own;
mod place;
mod plan;
mod premise;
mod premises;
mod question;
mod range_shift;
mod read;
mod reproductives;
mod revisit;
mod schema;
mod several;
#[cfg(test)]
mod tests;
mod trap_option;
mod trap_presets;

pub use absence::Absence;
pub use analysis::{Analysis, Counts, Detection, EdgeBy, Known, Likelihood, Rows, Test};
pub use baseline::{Baseline, GreenRule, KunoRule, RatioRule, StopRule};
pub use check::{Checked, Fault, MOST_CORRELATED_SITES, MOST_SITE_YEARS};
pub use check_analysis::MOST_CORRELATED_TOLD;
pub use check_community::{MOST_SPECIES, MOST_STRATA, MOST_UNSEEN};
pub use check_gentle::MOST_TRAP_OPTIONS;
pub use check_limits::MOST_PLANS;
pub use check_several::MOST_OTHERS;
pub use costs::{CURRENCY_LENGTH, Costs, MOST_STEPPED, Paid, Sample, Stepped, SteppedBy};
pub use decline::{Decline, NoWorse, percent_fall};
pub use defaults::{common_practice, edge_placeholder, gradient_placeholder};
pub use departures::Departures;
pub use groups::{BeforeAfter, Difference, Groups, percent_change};
pub use inventory::{Community, Incidences, Inventory, Recorded, SpeciesCount, Stratum};
pub use killed::Killed;
pub use limits::{Limits, TollLimit, TollWeight, WeekChoice, group_or_class};
pub use local_population::LocalPopulation;
pub use looks::{FutilityRule, LookBoundary, LookFutility, Looks};
pub use occupancy::{Occupancy, OccupancyChange, Scheme, Seasons, Visits, log_odds, share_of};
pub use own::Own;
pub use place::{MOST_PLACES, Place};
pub use plan::{Placing, Plan, Transect, TrapPoints};
pub use premise::{Premise, Source};
pub use premises::{Bycatch, Class, Premises, Target};
pub use question::{Direction, Effect, Question};
pub use range_shift::{Edge, Gradient, GradientUnit, Moving, RangePart, RangeShift};
pub use read::{read, reread, write};
pub use reproductives::Reproductives;
pub use revisit::Revisit;
pub use schema::schema;
pub use several::{Control, Several};
pub use trap_option::{CatchFactor, TrapOption};
pub use trap_presets::trap_presets;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The version of the format this build reads and writes.
pub const FORMAT: u32 = 1;

/// A whole scenario as it stands in a file; not yet checked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Scenario {
    /// Version of the file format: 1.
    pub leastcatch: u32,
    /// A short name.
    pub title: String,
    /// Where it comes from and what to know about it; demo scenarios say here that they are invented.
    #[serde(default)]
    pub notes: String,
    /// What must be answered.
    pub question: Question,
    /// What is believed of the world.
    pub premises: Premises,
    /// What would be done.
    pub plan: Plan,
    /// How far the search for the least plan may go.
    pub limits: Limits,
    /// How the catches will be analysed.
    pub analysis: Analysis,
}
