//! Runs tasks of one scenario and seed, keeping the evaluators of the plans it has met.

use crate::task::{Courses, Outcome, Size, Task, Work};
use survey::evaluate::Evaluator;
use survey::futures::lines;
use survey::generator::World;
use survey::scenario::Checked;
use survey::search::{challengers, relaxed, screen};

/// Evaluators kept at most; a curve has no more plans.
const KEPT: usize = 64;

/// Runs tasks.
pub struct Runner {
    scenario: Checked,
    seed: u64,
    evaluators: Vec<(Vec<Size>, Evaluator)>,
}

impl Runner {
    /// A runner for a scenario and seed.
    pub fn new(scenario: Checked, seed: u64) -> Self {
        Self {
            scenario,
            seed,
            evaluators: Vec::new(),
        }
    }

    /// Runs one task.
    ///
    /// # Errors
    /// A message when the plan cannot be analysed at all; checked scenarios never give one.
    pub fn run(&mut self, task: &Task) -> Result<Outcome, String> {
        match &task.work {
            Work::Screen => Ok(Outcome::Screen(screen(&self.scenario))),
            Work::Challengers { below, most } => Ok(Outcome::Challengers(challengers(
                &self.scenario,
                *below,
                *most,
            ))),
            Work::Relax { needed, below } => {
                Ok(Outcome::Relaxed(relaxed(&self.scenario, *needed, *below)))
            }
            Work::Courses { count } => self.courses(*count),
            Work::Simulate {
                sizes,
                world,
                first,
                count,
            } => {
                let kept = self.evaluators.iter().position(|(s, _)| s == sizes);
                let place = match kept {
                    Some(place) => place,
                    None => {
                        let evaluator = self.evaluator(sizes)?;
                        if self.evaluators.len() >= KEPT {
                            self.evaluators.clear();
                        }
                        self.evaluators.push((sizes.clone(), evaluator));
                        self.evaluators.len() - 1
                    }
                };
                let evaluator = &mut self.evaluators[place].1;
                let mut each = vec![Vec::with_capacity(*count as usize); sizes.len()];
                for number in *first..first + count {
                    let run = evaluator
                        .run_each(number, *world)
                        .map_err(|e| e.to_string())?;
                    for (each, replicate) in each.iter_mut().zip(run) {
                        each.push(replicate);
                    }
                }
                Ok(Outcome::Replicates(each))
            }
        }
    }

    fn courses(&self, count: u64) -> Result<Outcome, String> {
        let plan = &self.scenario.plan;
        let mut evaluator = self.evaluator(&[Size::of(plan)])?;
        let mut of = |world| -> Result<Vec<_>, String> {
            let mut all = Vec::new();
            for number in 0..count {
                evaluator.run(number, world).map_err(|e| e.to_string())?;
                all.push(lines(&self.scenario, plan, evaluator.last_drawn()));
            }
            Ok(all)
        };
        Ok(Outcome::Courses(Courses {
            change: of(World::Change)?,
            still: of(World::Still)?,
        }))
    }

    fn evaluator(&self, sizes: &[Size]) -> Result<Evaluator, String> {
        let scenarios: Vec<_> = sizes.iter().map(|s| s.scenario(&self.scenario)).collect();
        let plans: Vec<_> = sizes
            .iter()
            .zip(&scenarios)
            .map(|(size, scenario)| (&**scenario, size.plan.clone()))
            .collect();
        // Different species are never drawn together.
        let seed = sizes.first().map_or(self.seed, |s| s.seed(self.seed));
        Evaluator::together(&plans, seed).map_err(|e| e.to_string())
    }
}
