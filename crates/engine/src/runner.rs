//! Runs tasks of one scenario and seed, keeping the evaluators of the plans it has met.

use crate::task::{Outcome, Size, Task, Work};
use std::collections::BTreeMap;
use survey::evaluate::Evaluator;
use survey::frontier::screen;
use survey::scenario::Checked;

/// Evaluators kept at most; a curve has fewer plans.
const KEPT: usize = 64;

/// Runs tasks.
pub struct Runner {
    scenario: Checked,
    seed: u64,
    evaluators: BTreeMap<Size, Evaluator>,
}

impl Runner {
    /// A runner for a scenario and seed.
    pub fn new(scenario: Checked, seed: u64) -> Self {
        Self {
            scenario,
            seed,
            evaluators: BTreeMap::new(),
        }
    }

    /// Runs one task.
    ///
    /// # Errors
    /// A message when the plan cannot be analysed at all; checked scenarios never give one.
    pub fn run(&mut self, task: &Task) -> Result<Outcome, String> {
        match task.work {
            Work::Screen => Ok(Outcome::Screen(screen(&self.scenario))),
            Work::Simulate {
                size,
                world,
                first,
                count,
            } => {
                let evaluator = match self.evaluators.remove(&size) {
                    Some(e) => e,
                    None => {
                        let scenario = size.scenario(&self.scenario);
                        Evaluator::new(&scenario, &size.on(&scenario.plan), self.seed)
                            .map_err(|e| e.to_string())?
                    }
                };
                if self.evaluators.len() >= KEPT {
                    self.evaluators.clear();
                }
                let evaluator = self.evaluators.entry(size).or_insert(evaluator);
                let run = (first..first + count).map(|i| evaluator.run(i, world));
                run.collect::<Result<_, _>>()
                    .map(Outcome::Replicates)
                    .map_err(|e| e.to_string())
            }
        }
    }
}
