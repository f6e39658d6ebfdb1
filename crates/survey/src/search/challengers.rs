//! Plans off the frontier that may still be the least one: the closed form's error differs between slices.

use super::candidate::Candidate;
use super::screen::{Lattice, Seen};
use crate::scenario::Checked;

/// The surest plan of each slice among those whose weighted toll is below `below`, the surest first, at most `most` of
/// them.
pub fn challengers(scenario: &Checked, below: f64, most: usize) -> Vec<Candidate> {
    let lattice = Lattice::new(scenario);
    let mut best: Vec<Option<Seen>> = vec![None; lattice.slices()];
    lattice.visit(|seen| {
        let best = &mut best[lattice.slice(&seen)];
        // The plan itself kills as many but for rounding.
        if seen.toll < below * (1.0 - 1e-9) && best.is_none_or(|b| seen.margin > b.margin) {
            *best = Some(seen);
        }
    });
    let mut found: Vec<Seen> = best.into_iter().flatten().collect();
    found.sort_by(|a, b| b.margin.total_cmp(&a.margin));
    found.truncate(most);
    found.iter().map(|seen| lattice.candidate(seen)).collect()
}
