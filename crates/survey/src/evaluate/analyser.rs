//! The planned analysis of one survey.

use super::covariates::Covariates;
use super::replicate::Ending;
use super::start::start;
use crate::generator::{Drawn, Generator, World};
use crate::index_trend::index_trend;
use crate::scenario::{Checked, Counts, Effect, Known, Likelihood, Plan, Rows, Test};
use models::glmm::{
    self, DataError, Design, Family, Fit, Fitter, Layout, Model, Outcome, Start, Terms,
};
use models::wald::ratio_minus_half;
use numerics::maths::ln;
use serde::{Deserialize, Serialize};

/// What the analysis of one survey says.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    /// Estimated change: slope a year on the log scale, or shift in gradient units a decade. NaN when failed.
    pub estimate: f64,
    /// Its standard error.
    pub se: f64,
    /// Degrees of freedom by Satterthwaite's approximation; NaN when there are none (maximum likelihood).
    pub df: f64,
    /// Root of twice the gain in log likelihood by the change, with the sign of the estimate; NaN unless the
    /// likelihood-ratio test is planned.
    pub root: f64,
    /// How the fit ended.
    pub ending: Ending,
    /// Slope and standard error by the annual-index regression (decline only; NaN otherwise).
    pub index: (f64, f64),
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

/// Simulated fits stop when a step promises less log likelihood than this: estimates within .0005 SE.
const TOLERANCE: f64 = 1e-7;

/// The same model without the change, for the likelihood ratio.
#[derive(Clone, Debug)]
struct Unchanged {
    fitter: Fitter,
    start: Start,
}

/// Analyses surveys of one plan.
#[derive(Clone, Debug)]
pub struct Analyser {
    fitter: Fitter,
    unchanged: Option<Unchanged>,
    start: Start,
    still_start: Start,
    covariates: Covariates,
    years: usize,
    gradient: bool,
    /// The annual-index regression is made too.
    indexed: bool,
    /// Log of the trap-weeks set in a row's unit; the offset when the analysis is not told of losses.
    nominal: Option<f64>,
    offset: Vec<f64>,
}

impl Analyser {
    /// The scenario's analysis under `plan`.
    ///
    /// # Errors
    /// When the plan makes no analysable design (checked scenarios always do).
    pub fn new(scenario: &Checked, plan: &Plan, generator: &Generator) -> Result<Self, DataError> {
        let covariates = Covariates::new(scenario, plan);
        let analysis = &scenario.analysis;
        let weekly = analysis.rows == Rows::Weeks;
        let weeks = if weekly { plan.weeks as usize } else { 1 };
        let years = plan.years as usize;
        let rows = plan.sites as usize * years * weeks;
        let effort = ln(generator.effort() / weeks as f64);
        let design = Design {
            site: (0..rows).map(|i| i / weeks / years).collect(),
            year: (0..rows).map(|i| i / weeks % years).collect(),
            x: covariates.x.clone(),
            columns: covariates.columns,
            offset: vec![effort; rows],
            trials: Vec::new(),
        };
        let family = match analysis.counts {
            Counts::NegativeBinomial => Family::NegativeBinomial,
            Counts::Poisson => Family::Poisson,
        };
        let likelihood = match analysis.likelihood {
            Likelihood::Restricted => glmm::Likelihood::Restricted,
            Likelihood::Maximum => glmm::Likelihood::Maximum,
        };
        let terms = Terms {
            site: true,
            year: true,
            site_year: weekly && plan.weeks > 1,
        };
        let model = Model {
            family,
            terms,
            likelihood,
        };
        let fitter = |design: &Design| -> Result<Fitter, DataError> {
            let mut fitter = Fitter::new(Layout::new(design)?, model);
            fitter.set_tolerance(TOLERANCE);
            Ok(fitter)
        };
        let starts = |world| start(scenario, plan, &covariates, world);
        let unchanged = if analysis.test == Test::LikelihoodRatio {
            let mut start = starts(World::Still);
            start.beta.remove(covariates.change);
            let design = Design {
                x: covariates.without_change(),
                columns: covariates.columns - 1,
                ..design.clone()
            };
            Some(Unchanged {
                fitter: fitter(&design)?,
                start,
            })
        } else {
            None
        };
        let gradient = matches!(scenario.question.effect, Effect::RangeShift(_));
        let told = analysis.knows.contains(&Known::Losses);
        Ok(Self {
            fitter: fitter(&design)?,
            unchanged,
            start: starts(World::Change),
            still_start: starts(World::Still),
            covariates,
            years,
            gradient,
            indexed: !gradient && !weekly,
            nominal: (!told).then_some(effort),
            offset: Vec::new(),
        })
    }

    /// Learns the likelihood's shape from one survey of the world of change.
    ///
    /// # Errors
    /// When the counts cannot be analysed.
    pub fn learn(&mut self, sample: Sample) -> Result<(), DataError> {
        self.load_offset(sample.effort)?;
        self.fitter.learn(sample.counts, &self.start)?;
        if let Some(u) = &mut self.unchanged {
            u.fitter.learn(sample.counts, &u.start)?;
        }
        Ok(())
    }

    /// A row whose catch was lost altogether says nothing, whatever the analysis is told.
    fn load_offset(&mut self, effort: &[f64]) -> Result<(), DataError> {
        let nominal = self.nominal;
        self.offset.clear();
        self.offset.extend(effort.iter().map(|&e| {
            if e > 0.0 {
                nominal.unwrap_or_else(|| ln(e))
            } else {
                glmm::MISSING
            }
        }));
        if let Some(u) = &mut self.unchanged {
            u.fitter.set_offset(&self.offset)?;
        }
        self.fitter.set_offset(&self.offset)
    }

    /// Analyses one survey.
    ///
    /// # Errors
    /// When the counts cannot be analysed at all, which a checked scenario never gives.
    pub fn analyse(&mut self, sample: Sample, world: World) -> Result<Finding, DataError> {
        self.load_offset(sample.effort)?;
        let start = if world == World::Change {
            &self.start
        } else {
            &self.still_start
        };
        let fit = self.fitter.fit(sample.counts, Some(start))?;
        let mut finding = self.conclude(&fit);
        if let Some(u) = &mut self.unchanged {
            let flat = u.fitter.fit(sample.counts, Some(&u.start))?;
            if flat.usable() && finding.ending != Ending::Failed {
                let gain = 2.0 * (fit.log_likelihood - flat.log_likelihood);
                finding.root = gain.max(0.0).sqrt().copysign(finding.estimate);
            }
        }
        if self.indexed {
            finding.index = index_trend(sample.totals, self.years)
                .map_or((f64::NAN, f64::NAN), |t| (t.slope, t.se));
        }
        Ok(finding)
    }

    fn conclude(&self, fit: &Fit) -> Finding {
        let failed = Finding {
            estimate: f64::NAN,
            se: f64::NAN,
            df: f64::NAN,
            root: f64::NAN,
            ending: Ending::Failed,
            index: (f64::NAN, f64::NAN),
        };
        let ending = match fit.outcome {
            Outcome::Converged => Ending::Converged,
            Outcome::Singular => Ending::Singular,
            Outcome::AtBound => Ending::AtBound,
            Outcome::Failed(_) => return failed,
        };
        let mut contrast = vec![0.0; fit.beta.len()];
        let (estimate, se) = if self.gradient {
            // Without a bell curve (b_xx not negative) there is no optimum to have moved.
            if fit.beta[2] >= 0.0 {
                return failed;
            }
            let (n, d) = (fit.beta[4], fit.beta[2]);
            let cov = |i: usize, j: usize| fit.covariance[i * fit.beta.len() + j];
            let (shift, se) = ratio_minus_half(n, d, cov(4, 4), cov(2, 2), cov(2, 4));
            // The ratio's slopes in n and d, as the delta method takes them.
            contrast[4] = -0.5 / d;
            contrast[2] = 0.5 * n / (d * d);
            let scale = 10.0 * self.covariates.scale;
            (scale * shift, scale * se)
        } else {
            contrast[1] = 1.0;
            (fit.beta[1], fit.se(1))
        };
        let df = fit
            .conditional
            .as_ref()
            .and_then(|c| c.degrees_of_freedom(&contrast));
        Finding {
            estimate,
            se,
            df: df.unwrap_or(f64::NAN),
            ending,
            ..failed
        }
    }
}
