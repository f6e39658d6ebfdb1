//! One replicate of one plan.

use super::analyser::{Analyser, Finding, Sample};
use crate::generator::{Drawn, Generator, Weekly, World};
use crate::scenario::{Checked, Plan, Rows};
use models::glmm::DataError;
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
    /// What the planned analysis says.
    pub finding: Finding,
    /// Target animals killed each year.
    pub killed: Vec<f64>,
    /// By-catch killed, `group * years + year` (in the world of change; it has no trend; empty otherwise).
    pub bycatch: Vec<f64>,
}

/// The replicate number kept for learning the likelihood's shape; no survey has that many.
pub(super) const LEARNING: u64 = u64::MAX / 2 - 1;

/// Simulates and analyses surveys of one plan.
#[derive(Clone, Debug)]
pub struct Evaluator {
    generator: Generator,
    analyser: Analyser,
    seed: u64,
    weekly: bool,
    drawn: Drawn,
    weeks: Weekly,
}

impl Evaluator {
    /// An evaluator of the scenario under `plan`, for the random numbers of `seed`.
    ///
    /// # Errors
    /// When the plan makes no analysable design (checked scenarios always do).
    pub fn new(scenario: &Checked, plan: &Plan, seed: u64) -> Result<Self, DataError> {
        let generator = Generator::new(scenario, plan);
        let analyser = Analyser::new(scenario, plan, &generator)?;
        let mut evaluator = Self {
            generator,
            analyser,
            seed,
            weekly: scenario.analysis.rows == Rows::Weeks,
            drawn: Drawn::default(),
            weeks: Weekly::default(),
        };
        evaluator.draw(LEARNING, World::Change, false);
        let sample = sample(evaluator.weekly, &evaluator.drawn, &evaluator.weeks);
        evaluator.analyser.learn(sample)?;
        Ok(evaluator)
    }

    fn draw(&mut self, number: u64, world: World, with_bycatch: bool) {
        let (g, seed, drawn) = (&self.generator, self.seed, &mut self.drawn);
        if self.weekly {
            g.draw_weekly(seed, number, world, with_bycatch, drawn, &mut self.weeks);
        } else {
            g.draw(seed, number, world, with_bycatch, drawn);
        }
    }

    /// Runs replicate `number` in a world.
    ///
    /// # Errors
    /// When the counts cannot be analysed at all, which a checked scenario never gives.
    pub fn run(&mut self, number: u64, world: World) -> Result<Replicate, DataError> {
        self.draw(number, world, world == World::Change);
        let sample = sample(self.weekly, &self.drawn, &self.weeks);
        Ok(Replicate {
            finding: self.analyser.analyse(sample, world)?,
            killed: self.drawn.killed.clone(),
            bycatch: self.drawn.bycatch.clone(),
        })
    }
}

fn sample<'a>(weekly: bool, drawn: &'a Drawn, weeks: &'a Weekly) -> Sample<'a> {
    let (counts, effort) = if weekly {
        (&weeks.counts, &weeks.effort)
    } else {
        (&drawn.counts, &drawn.effort)
    };
    Sample {
        counts,
        effort,
        totals: drawn,
    }
}
