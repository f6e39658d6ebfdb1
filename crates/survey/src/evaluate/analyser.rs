//! The planned analysis of one survey, whatever the question.

use super::counted::Counted;
use super::edge::EdgeByPresence;
use super::mean_catch::MeanCatch;
use super::occupied::OccupiedSites;
use super::replicate::Ending;
use crate::generator::{Drawn, Generator, World};
use crate::scenario::{Checked, Effect, Plan};
use models::glmm::DataError;
use serde::{Deserialize, Serialize};

/// What the analysis of one survey says.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    /// Estimated change: slope a year on the log scale (less the margin of a claim), log ratio, shift in gradient units a
    /// decade, slope of the log odds or difference of shares of occupied sites; of a claim of absence, animals caught; of a
    /// baseline, the mean catch per trap-week; of an inventory, the share truly reached. NaN when failed.
    pub estimate: f64,
    /// Its standard error; of a claim of absence, animals caught on average in such a survey; of an inventory, the share
    /// that the survey itself estimates.
    pub se: f64,
    /// Degrees of freedom by Satterthwaite's approximation, of a baseline sites less 1; NaN when there are none (maximum
    /// likelihood).
    pub df: f64,
    /// Root of twice the gain in log likelihood by the change, with the sign of the estimate; NaN unless the
    /// likelihood-ratio test is planned or occupancy is fitted.
    pub root: f64,
    /// Root of twice what the model with the true value in place of the estimate lacks in log likelihood: the interval by
    /// profile likelihood holds the truth where it is no larger than the normal's quantile. NaN but for range shifts whose
    /// likelihood ratio is taken.
    pub from_truth: f64,
    /// How the fit ended.
    pub ending: Ending,
    /// Slope and standard error by the annual-index regression (trends only; NaN otherwise).
    pub index: (f64, f64),
    /// What a baseline's estimate should be in this survey; NaN with any other question, where all surveys of a world have
    /// the same truth.
    pub truth: f64,
}

impl Finding {
    /// No usable fit.
    pub const FAILED: Self = Self {
        estimate: f64::NAN,
        se: f64::NAN,
        df: f64::NAN,
        root: f64::NAN,
        from_truth: f64::NAN,
        ending: Ending::Failed,
        index: (f64::NAN, f64::NAN),
        truth: f64::NAN,
    };
}

/// One survey as the analysis sees it: a count and the trap-weeks counted for each row, and for each site-year.
#[derive(Clone, Copy, Debug)]
pub struct Sample<'a> {
    /// Count of each row.
    pub counts: &'a [f64],
    /// Trap-weeks counted of each row; 0 when all were lost.
    pub effort: &'a [f64],
    /// The survey by site-years.
    pub totals: &'a Drawn,
}

/// Analyses surveys of one plan.
#[derive(Clone, Debug)]
pub struct Analyser(Kind);

#[derive(Clone, Debug)]
enum Kind {
    Counted(Box<Counted>),
    Occupied(Box<OccupiedSites>),
    Edge(Box<EdgeByPresence>),
    /// Whether anything was caught.
    Caught,
    Mean(MeanCatch),
    /// What share of the community was recorded.
    Recorded,
}

impl Analyser {
    /// The scenario's analysis under `plan`.
    ///
    /// # Errors
    /// When the plan makes no analysable design (checked scenarios always do).
    pub fn new(scenario: &Checked, plan: &Plan, generator: &Generator) -> Result<Self, DataError> {
        Ok(Self(match &scenario.question.effect {
            _ if scenario.by_occupancy() => {
                Kind::Occupied(Box::new(OccupiedSites::new(scenario, plan)))
            }
            _ if scenario.by_presence() => {
                Kind::Edge(Box::new(EdgeByPresence::new(scenario, plan)?))
            }
            Effect::Absence(_) => Kind::Caught,
            Effect::Baseline(_) => Kind::Mean(MeanCatch::new(plan)),
            Effect::Inventory(_) => Kind::Recorded,
            _ => Kind::Counted(Box::new(Counted::new(scenario, plan, generator)?)),
        }))
    }

    /// Learns the likelihood's shape from one survey of the world of change.
    ///
    /// # Errors
    /// When the counts cannot be analysed.
    pub fn learn(&mut self, sample: Sample) -> Result<(), DataError> {
        match &mut self.0 {
            Kind::Counted(c) => c.learn(sample),
            Kind::Edge(e) => e.learn(sample),
            Kind::Occupied(_) | Kind::Caught | Kind::Mean(_) | Kind::Recorded => Ok(()),
        }
    }

    /// Analyses one survey.
    ///
    /// # Errors
    /// When the counts cannot be analysed at all, which a checked scenario never gives.
    pub fn analyse(&mut self, sample: Sample, world: World) -> Result<Finding, DataError> {
        match &mut self.0 {
            Kind::Counted(c) => c.analyse(sample, world),
            Kind::Edge(e) => e.analyse(sample, world),
            Kind::Occupied(o) => Ok(o.analyse(sample, world)),
            Kind::Mean(m) => Ok(m.analyse(sample)),
            Kind::Recorded => Ok(sample.totals.recorded.map_or(Finding::FAILED, |t| Finding {
                estimate: t.reached,
                se: t.claimed,
                ending: Ending::Converged,
                ..Finding::FAILED
            })),
            Kind::Caught => Ok(Finding {
                estimate: sample.totals.counts.iter().sum(),
                se: sample.totals.expected,
                ending: Ending::Converged,
                ..Finding::FAILED
            }),
        }
    }
}
