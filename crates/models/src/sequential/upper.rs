//! Upper lines that hold the level.

use super::design::{Boundary, Design};
use super::lines::Lines;
use super::region::Look;
use super::spending::Spending;
use super::walk::Walk;
use numerics::root::bracketed;

/// No line is farther out: a look that may spend nothing has it.
const FARTHEST_LINE: f64 = 12.0;

/// The upper lines of a design whose walks stop at these futility lines.
pub(super) fn lines(design: &Design, futility: &[Option<f64>]) -> Vec<f64> {
    match design.boundary {
        Boundary::Pocock => of_shape(design, futility, |_| 1.0),
        Boundary::OBrienFleming => of_shape(design, futility, |t| 1.0 / t.sqrt()),
        Boundary::Spend(spending) => spent(design, futility, spending),
    }
}

/// Lines C times a shape, C such that the error is the level.
fn of_shape(design: &Design, futility: &[Option<f64>], shape: impl Fn(f64) -> f64) -> Vec<f64> {
    let shapes: Vec<f64> = design.fractions.all().iter().map(|&t| shape(t)).collect();
    let upper = |c: f64| -> Vec<f64> { shapes.iter().map(|s| c * s).collect() };
    let over = |c: f64| {
        let lines = Lines {
            upper: upper(c),
            futility: futility.to_vec(),
        };
        design.outcome(&lines, 0.0).found() - design.level
    };
    upper(bracketed(over, 0.05, FARTHEST_LINE, 1e-10))
}

/// Lines that spend the level as a function says, one after another.
fn spent(design: &Design, futility: &[Option<f64>], spending: Spending) -> Vec<f64> {
    let fractions = design.fractions.all();
    let means = design.fractions.means(0.0);
    let mut walk = Walk::new(fractions, &means, design.sides);
    let (mut gone, mut upper) = (0.0, Vec::with_capacity(fractions.len()));
    for (&t, &futility) in fractions.iter().zip(futility) {
        let due = spending.spent(design.level, design.sides.number(), t);
        let share = due - gone;
        let line = bracketed(|c| walk.beyond(c) - share, 0.0, FARTHEST_LINE, 1e-12);
        // What is truly spent, so that a look too early to spend anything leaves its part to the next.
        gone += walk.beyond(line);
        let look = Look {
            upper: line,
            futility,
        };
        walk.pass(look);
        upper.push(line);
    }
    upper
}
