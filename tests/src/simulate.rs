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

/// `n` replicates of the world of change alone, half on each core.
pub fn of_change(scenario: &Checked, seed: u64, n: u64) -> Vec<Replicate> {
    let run = |numbers: std::ops::Range<u64>| -> Vec<Replicate> {
        let mut e = Evaluator::new(scenario, &scenario.plan, seed).unwrap();
        numbers.map(|i| e.run(i, World::Change).unwrap()).collect()
    };
    std::thread::scope(|s| {
        let later = s.spawn(|| run(n / 2..n));
        let mut all = run(0..n / 2);
        all.extend(later.join().unwrap());
        all
    })
}
