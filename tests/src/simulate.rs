//! Replicates on both cores.

use survey::evaluate::{Evaluator, Replicate};
use survey::generator::World;
use survey::scenario::Checked;

/// `n` replicates of the scenario's own plan in each world.
pub fn replicates(scenario: &Checked, seed: u64, n: u64) -> (Vec<Replicate>, Vec<Replicate>) {
    let run = |world| {
        let mut e = Evaluator::new(scenario, &scenario.plan, seed).unwrap();
        (0..n).map(|i| e.run(i, world).unwrap()).collect()
    };
    std::thread::scope(|s| {
        let still = s.spawn(|| run(World::Still));
        (run(World::Change), still.join().unwrap())
    })
}
