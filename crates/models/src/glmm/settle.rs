//! What a search leaves open: a standard deviation near 0, or a dispersion near the end of its range.

use super::evaluate::evaluate;
use super::fit::K_RANGE;
use super::search::{Search, metric_at, minimise};
use numerics::maths::ln;
use numerics::optimise::{Ending, Minimum};

/// Standard deviations below this are reported as 0 when 0 fits as well.
const NEAR_ZERO: f64 = 0.02;

/// ln of the dispersion beyond which its end is tried (about 3000).
const LARGE_LN_K: f64 = 8.0;
/// A log likelihood lower by no more than this fits as well.
const AS_GOOD: f64 = 1e-6;

/// Standard deviations near 0: either 0 is the optimum, or the search stopped on the ridge between the two
/// mirror images +s and -s, where the slope is 0 too, and goes on from a step away.
pub(super) fn settle<S: Search>(search: &mut S, found: &mut Minimum) {
    let mut gradient = vec![0.0; found.x.len()];
    settle_dispersion(search, found, &mut gradient);
    for j in search.shape().sds() {
        if found.ending != Ending::Converged || found.x[j].abs() >= NEAR_ZERO {
            continue;
        }
        let mut aside = found.x.clone();
        aside[j] = NEAR_ZERO;
        let value = evaluate(search, &aside, &mut gradient);
        if gradient[j] < 0.0 || value < found.value {
            if gradient[j] < 0.0 {
                aside[j] = 5.0 * NEAR_ZERO;
            }
            let metric = metric_at(search, &aside);
            let again = minimise(search, &aside, &metric);
            if again.ending == Ending::Converged && again.value < found.value {
                *found = again;
                continue;
            }
            // Too flat to tell the two apart: 0 will do, if it fits as well.
        }
        let mut zero = found.x.clone();
        zero[j] = 0.0;
        let value = evaluate(search, &zero, &mut gradient);
        if value <= found.value + AS_GOOD {
            found.x = zero;
            found.value = value;
        }
    }
}

/// A dispersion so large that the end of its range fits as well: the counts are Poisson's as far as they tell,
/// and the search may have stopped anywhere on the level way there.
fn settle_dispersion<S: Search>(search: &mut S, found: &mut Minimum, gradient: &mut [f64]) {
    let end = ln(K_RANGE.1);
    let large = search.shape().dispersion
        && found.ending == Ending::Converged
        && found.x.last().is_some_and(|&v| v > LARGE_LN_K && v < end);
    if !large {
        return;
    }
    let mut there = found.x.clone();
    there[found.x.len() - 1] = end;
    let value = evaluate(search, &there, gradient);
    if value <= found.value + AS_GOOD {
        found.x = there;
        found.value = value;
    }
}
