//! One replicate of one plan.

use super::covariates::Covariates;
use crate::generator::{Drawn, Generator, World, positions};
use crate::index_trend::index_trend;
use crate::scenario::{Checked, Counts, Effect, Likelihood, Plan};
use crate::season;
use models::glmm::{
    self, DataError, Design, Family, Fit, Fitter, Layout, Model, Outcome, Start, Terms,
};
use models::wald::ratio_minus_half;
use numerics::maths::{ln, slices};
use serde::{Deserialize, Serialize};

/// How a replicate's fit ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Ending {
    /// An interior optimum.
    Converged,
    /// An SD is 0 at the optimum: used like any other.
    Singular,
    /// Dispersion k at the end of its range (the counts scatter no more than Poisson): used like any other.
    AtBound,
    /// No usable fit: counts as nothing found.
    Failed,
}

/// What is kept of one replicate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Replicate {
    /// Estimated change: slope a year on the log scale, or shift in gradient units a decade. NaN when failed.
    pub estimate: f64,
    /// Its standard error.
    pub se: f64,
    /// How the fit ended.
    pub ending: Ending,
    /// Slope and standard error by the annual-index regression (decline only; NaN otherwise).
    pub index: (f64, f64),
    /// Target animals killed each year.
    pub killed: Vec<f64>,
    /// By-catch killed, `group * years + year` (in the world of change; it has no trend; empty otherwise).
    pub bycatch: Vec<f64>,
}

/// The replicate number kept for learning the likelihood's shape; no survey has that many.
const LEARNING: u64 = u64::MAX / 2 - 1;
/// Simulated fits stop when a step promises less log likelihood than this: estimates within .0005 SE.
const TOLERANCE: f64 = 1e-7;

/// Simulates and analyses surveys of one plan.
#[derive(Clone, Debug)]
pub struct Evaluator {
    generator: Generator,
    fitter: Fitter,
    start: Start,
    still_start: Start,
    seed: u64,
    /// Gradient units a decade of one unit of the ratio; 0 for a decline.
    shift_scale: f64,
    drawn: Drawn,
    offset: Vec<f64>,
}

impl Evaluator {
    /// An evaluator of the scenario under `plan`, for the random numbers of `seed`.
    ///
    /// # Errors
    /// When the plan makes no analysable design (checked scenarios always do).
    pub fn new(scenario: &Checked, plan: &Plan, seed: u64) -> Result<Self, DataError> {
        let generator = Generator::new(scenario, plan);
        let covariates = Covariates::new(scenario, plan);
        let (sites, years) = (plan.sites as usize, plan.years as usize);
        let design = Design {
            site: (0..sites * years).map(|i| i / years).collect(),
            year: (0..sites * years).map(|i| i % years).collect(),
            x: covariates.x.clone(),
            columns: covariates.columns,
            offset: vec![ln(generator.effort()); sites * years],
            trials: Vec::new(),
        };
        let family = match scenario.analysis.counts {
            Counts::NegativeBinomial => Family::NegativeBinomial,
            Counts::Poisson => Family::Poisson,
        };
        let likelihood = match scenario.analysis.likelihood {
            Likelihood::Restricted => glmm::Likelihood::Restricted,
            Likelihood::Maximum => glmm::Likelihood::Maximum,
        };
        let terms = Terms {
            site: true,
            year: true,
            site_year: false,
        };
        let mut fitter = Fitter::new(
            Layout::new(&design)?,
            Model {
                family,
                terms,
                likelihood,
            },
        );
        fitter.set_tolerance(TOLERANCE);
        let gradient = matches!(scenario.question.effect, Effect::RangeShift(_));
        let mut evaluator = Self {
            start: start(scenario, plan, &covariates, World::Change),
            still_start: start(scenario, plan, &covariates, World::Still),
            generator,
            fitter,
            seed,
            shift_scale: if gradient {
                10.0 * covariates.scale
            } else {
                0.0
            },
            drawn: Drawn::default(),
            offset: Vec::new(),
        };
        let mut drawn = Drawn::default();
        evaluator
            .generator
            .draw(seed, LEARNING, World::Change, false, &mut drawn);
        evaluator.load_offset(&drawn)?;
        evaluator.fitter.learn(&drawn.counts, &evaluator.start)?;
        Ok(evaluator)
    }

    fn load_offset(&mut self, drawn: &Drawn) -> Result<(), DataError> {
        self.offset.clear();
        self.offset
            .extend(drawn.effort.iter().map(|&e| if e > 0.0 { e } else { 1.0 }));
        slices::ln(&mut self.offset);
        for (offset, &effort) in self.offset.iter_mut().zip(&drawn.effort) {
            if effort <= 0.0 {
                *offset = glmm::MISSING;
            }
        }
        self.fitter.set_offset(&self.offset)
    }

    /// Runs replicate `number` in a world.
    ///
    /// # Errors
    /// When the counts cannot be analysed at all, which a checked scenario never gives.
    pub fn run(&mut self, number: u64, world: World) -> Result<Replicate, DataError> {
        let mut drawn = std::mem::take(&mut self.drawn);
        self.generator
            .draw(self.seed, number, world, world == World::Change, &mut drawn);
        self.load_offset(&drawn)?;
        let start = if world == World::Change {
            &self.start
        } else {
            &self.still_start
        };
        let fit = self.fitter.fit(&drawn.counts, Some(start))?;
        let (estimate, se, ending) = self.conclude(&fit);
        let index = if self.shift_scale == 0.0 {
            index_trend(&drawn, self.generator.years())
                .map_or((f64::NAN, f64::NAN), |t| (t.slope, t.se))
        } else {
            (f64::NAN, f64::NAN)
        };
        let out = Replicate {
            estimate,
            se,
            ending,
            index,
            killed: drawn.killed.clone(),
            bycatch: drawn.bycatch.clone(),
        };
        self.drawn = drawn;
        Ok(out)
    }

    fn conclude(&self, fit: &Fit) -> (f64, f64, Ending) {
        let ending = match fit.outcome {
            Outcome::Converged => Ending::Converged,
            Outcome::Singular => Ending::Singular,
            Outcome::AtBound => Ending::AtBound,
            Outcome::Failed(_) => return (f64::NAN, f64::NAN, Ending::Failed),
        };
        if self.shift_scale == 0.0 {
            return (fit.beta[1], fit.se(1), ending);
        }
        // Without a bell curve (b_xx not negative) there is no optimum to have moved.
        if fit.beta[2] >= 0.0 {
            return (f64::NAN, f64::NAN, Ending::Failed);
        }
        let cov = |i: usize, j: usize| fit.covariance[i * 5 + j];
        let (shift, se) =
            ratio_minus_half(fit.beta[4], fit.beta[2], cov(4, 4), cov(2, 2), cov(2, 4));
        (self.shift_scale * shift, self.shift_scale * se, ending)
    }
}

/// The truth, as the analysis would see it.
fn start(scenario: &Checked, plan: &Plan, covariates: &Covariates, world: World) -> Start {
    let t = &scenario.premises.target;
    let square = |v: f64| v * v;
    let classes = season::classes(plan, t.season_peak_week.value, t.season_width_weeks.value);
    let traps = f64::from(plan.traps_per_site) * (1.0 - scenario.premises.trap_loss.value);
    let level = ln(t.catch_per_trap_week.value * season::total(&classes) / f64::from(plan.weeks))
        + 0.5 * square(t.trap_sd.value);
    let mid = 0.5 * (f64::from(plan.years) - 1.0);
    let changes = if world == World::Change { 1.0 } else { 0.0 };
    let beta = match (&scenario.question.effect, &scenario.premises.gradient) {
        (Effect::RangeShift(shift), Some(g)) if !positions(plan).is_empty() => {
            let speed = changes * shift.distance_per_decade / 10.0 / covariates.scale;
            let optimum = (g.optimum.value - covariates.centre) / covariates.scale + speed * mid;
            let b_xx = -0.5 * square(covariates.scale / g.tolerance.value);
            // b_xx (x - optimum - speed t)^2 without its t^2 term
            vec![
                level + b_xx * optimum * optimum,
                -2.0 * b_xx * optimum,
                b_xx,
                2.0 * b_xx * optimum * speed,
                -2.0 * b_xx * speed,
            ]
        }
        (Effect::Decline(d), _) => vec![
            level + changes * d.log_slope() * mid,
            changes * d.log_slope(),
        ],
        _ => vec![level; covariates.columns],
    };
    let spread = square(t.site_year_sd.value)
        + 1.0 / (traps * t.dispersion_k.value * season::effective_weeks(&classes));
    Start {
        beta,
        site_sd: (square(t.site_sd.value)
            + square(t.trap_sd.value) / f64::from(plan.traps_per_site))
        .sqrt()
        .max(0.05),
        year_sd: t.year_sd.value.max(0.05),
        site_year_sd: 0.0,
        k: 1.0 / spread,
    }
}
