//! One replicate of one plan, or of several whose surveys are part of one.

use super::analyser::{Analyser, Finding, Sample};
use crate::generator::{Drawn, Extent, Generator, Weekly, World};
use crate::scenario::{Checked, Effect, Placing, Plan, Rows};
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
    /// By-catch and other species killed, `group * years + year` (in the world of change; empty otherwise).
    pub bycatch: Vec<f64>,
}

/// The replicate number kept for learning the likelihood's shape; no survey has that many.
pub(super) const LEARNING: u64 = u64::MAX / 2 - 1;

/// Simulates surveys of one plan, or of several whose surveys are part of one, and analyses them.
#[derive(Clone, Debug)]
pub struct Evaluator {
    generator: Generator,
    extents: Vec<Extent>,
    analysers: Vec<Analyser>,
    seed: u64,
    weekly: bool,
    drawn: Vec<Drawn>,
    weeks: Vec<Weekly>,
}

/// Whether one evaluator can hold two plans of a scenario: all of one's survey is in the other's, draw for draw, or
/// both are in that of a third one.
pub fn drawn_together(scenario: &Checked, a: &Plan, b: &Plan) -> bool {
    let free = Plan {
        sites: a.sites,
        years: a.years,
        // Looks hang on the years, surveys not on looks.
        looks: a.looks.clone(),
        ..b.clone()
    };
    let placed = scenario.premises.departures.correlation_length_km.value > 0.0
        || matches!(scenario.question.effect, Effect::RangeShift(_));
    // Dense places follow the edge to the last year.
    let followed = a
        .transect
        .as_ref()
        .is_some_and(|t| t.placing == Placing::DenseAtEdge);
    let pattern = !a.all_every_year() || !b.all_every_year();
    if pattern {
        return a == b;
    }
    free == *a && (a.sites == b.sites || !placed) && (a.years == b.years || !followed)
}

fn extent(plan: &Plan) -> Extent {
    Extent {
        sites: plan.sites as usize,
        years: plan.years as usize,
    }
}

impl Evaluator {
    /// An evaluator of the scenario under `plan`, for the random numbers of `seed`.
    ///
    /// # Errors
    /// When the plan makes no analysable design (checked scenarios always do).
    pub fn new(scenario: &Checked, plan: &Plan, seed: u64) -> Result<Self, DataError> {
        Self::together(&[(scenario, plan.clone())], seed)
    }

    /// An evaluator of several plans, whose surveys are drawn once for all of them. Any two of them must be
    /// [drawn together](drawn_together); their scenarios may differ in what the analysis knows, and in nothing else.
    ///
    /// # Errors
    /// When a plan makes no analysable design (checked scenarios always do).
    ///
    /// # Panics
    /// Without plans, or when they are not parts of one survey.
    pub fn together(plans: &[(&Checked, Plan)], seed: u64) -> Result<Self, DataError> {
        let extents: Vec<Extent> = plans.iter().map(|(_, plan)| extent(plan)).collect();
        let whole = extents.iter().fold(extents[0], |all, e| all.with(*e));
        let (scenario, first) = &plans[0];
        let largest = Plan {
            sites: whole.sites as u32,
            years: whole.years as u32,
            ..first.clone()
        };
        let generator = Generator::new(scenario, &largest);
        assert!(
            extents.iter().all(|e| generator.holds(*e)),
            "plans that are not parts of one survey"
        );
        let analysers = plans.iter().map(|(scenario, plan)| {
            // Where sites stand and what their surveys are like is the plan's own.
            Analyser::new(scenario, plan, &Generator::new(scenario, plan))
        });
        let mut evaluator = Self {
            analysers: analysers.collect::<Result<_, _>>()?,
            generator,
            seed,
            weekly: scenario.analysis.rows == Rows::Weeks || scenario.by_occupancy(),
            drawn: vec![Drawn::default(); extents.len()],
            weeks: vec![Weekly::default(); extents.len()],
            extents,
        };
        evaluator.draw(LEARNING, World::Change, false);
        let (weekly, drawn) = (evaluator.weekly, evaluator.drawn.iter());
        let surveys = evaluator
            .analysers
            .iter_mut()
            .zip(drawn.zip(&evaluator.weeks));
        for (analyser, (drawn, weeks)) in surveys {
            analyser.learn(sample(weekly, drawn, weeks))?;
        }
        Ok(evaluator)
    }

    fn draw(&mut self, number: u64, world: World, with_bycatch: bool) {
        let (g, seed, parts, drawn) = (&self.generator, self.seed, &self.extents, &mut self.drawn);
        let weeks = self.weekly.then_some(&mut self.weeks[..]);
        g.draw_parts(seed, number, world, with_bycatch, parts, drawn, weeks);
    }

    /// Runs replicate `number` in a world: what came of it for each plan, in their order.
    ///
    /// # Errors
    /// When the counts cannot be analysed at all, which a checked scenario never gives.
    pub fn run_each(&mut self, number: u64, world: World) -> Result<Vec<Replicate>, DataError> {
        self.draw(number, world, world == World::Change);
        let surveys = self.drawn.iter().zip(&self.weeks);
        let each = self.analysers.iter_mut().zip(surveys);
        each.map(|(analyser, (drawn, weeks))| {
            Ok(Replicate {
                finding: analyser.analyse(sample(self.weekly, drawn, weeks), world)?,
                killed: drawn.killed.clone(),
                bycatch: drawn.bycatch.clone(),
            })
        })
        .collect()
    }

    /// The survey that was drawn last, for the first plan.
    pub fn last_drawn(&self) -> &Drawn {
        &self.drawn[0]
    }

    /// Runs replicate `number` of the only plan, or the first one, in a world.
    ///
    /// # Errors
    /// When the counts cannot be analysed at all, which a checked scenario never gives.
    pub fn run(&mut self, number: u64, world: World) -> Result<Replicate, DataError> {
        self.run_each(number, world)
            .map(|mut each| each.swap_remove(0))
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
