//! Points and weights of an integral over statistics.

use super::region::FARTHEST;
use numerics::maths::ln;

/// Points are laid out by this many to each of six parts (the r of Jennison & Turnbull 2000, section 19.3).
const PARTS: usize = 24;

/// Points and weights for integrals over the intervals of statistics near `mean`: Jennison & Turnbull's points (2000,
/// equation 19.8: even within 3 of the mean, ever wider beyond), cut at the intervals' ends, with the middles between
/// them, by Simpson's rule. Steps are finer than `width` (standard deviation of what the next look adds) asks for.
pub(super) fn points(intervals: &[(f64, f64)], mean: f64, width: f64) -> Vec<(f64, f64)> {
    let parts = refined(width);
    let mut all = Vec::new();
    for &(low, high) in intervals {
        let (low, high) = (low.max(mean - FARTHEST), high.min(mean + FARTHEST));
        if low < high {
            simpson(low, high, mean, parts, &mut all);
        }
    }
    all
}

fn refined(width: f64) -> usize {
    // Even steps are 3 / (2 parts), middles halve them: at least three steps to a standard deviation of the kernel.
    let wanted = (2.25 / width.max(1e-3)).ceil() as usize;
    PARTS.max(wanted)
}

fn simpson(low: f64, high: f64, mean: f64, parts: usize, all: &mut Vec<(f64, f64)>) {
    let r = parts as f64;
    let place = |i: usize| {
        let x = i as f64;
        mean + if i < parts {
            -3.0 - 4.0 * ln(r / x)
        } else if i <= 5 * parts {
            -3.0 + 3.0 * (x - r) / (2.0 * r)
        } else {
            3.0 + 4.0 * ln(r / (6.0 * r - x))
        }
    };
    let inside = (1..6 * parts).map(place).filter(|&x| x > low && x < high);
    let edges: Vec<f64> = [low].into_iter().chain(inside).chain([high]).collect();
    let mut weight = 0.0;
    for pair in edges.windows(2) {
        let step = pair[1] - pair[0];
        all.push((pair[0], weight + step / 6.0));
        all.push((0.5 * (pair[0] + pair[1]), 4.0 * step / 6.0));
        weight = step / 6.0;
    }
    all.push((high, weight));
}
