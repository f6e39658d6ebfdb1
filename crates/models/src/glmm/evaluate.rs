//! The likelihood and its gradient at given outer parameters, for either engine.

use super::mode::{LAST_STEP, LAST_STEP_LOOSE};
use super::search::Search;

/// A tolerance of the search from which on the mode need not be found to the last digit.
const LOOSE: f64 = 1e-8;
/// A move of the mode beyond which a straight line is no guide.
const FAR: f64 = 2.0;

/// Minus the log likelihood at `theta` and its gradient; infinite where the mode cannot be found.
pub(super) fn evaluate<S: Search>(search: &mut S, theta: &[f64], gradient: &mut [f64]) -> f64 {
    let known = match &search.trail().at {
        Some((at, value)) if at == theta => Some(*value),
        _ => None,
    };
    let value = known.unwrap_or_else(|| move_to(search, theta));
    search.put_gradient(gradient);
    value
}

/// Brings the state to `theta`.
fn move_to<S: Search>(search: &mut S, theta: &[f64]) -> f64 {
    search.trail().evaluations += 1;
    if let Some((mut moved, _)) = search.trail().at.take() {
        for (m, t) in moved.iter_mut().zip(theta) {
            *m = t - *m;
        }
        follow(search, &moved);
    }
    search.unpack(theta);
    let last = last_step(search);
    if !search.find_mode(last) {
        // From the beginning once more before giving up: a far step can leave the effects where exp overflows.
        search.clear_mode(false);
        if !search.find_mode(last) {
            search.clear_mode(true);
            return f64::INFINITY;
        }
    }
    let value = search.log_likelihood();
    search.differentiate();
    if !value.is_finite() {
        return f64::INFINITY;
    }
    search.trail().at = Some((theta.to_vec(), -value));
    -value
}

/// The gain below which a step to the mode is the last one in this search.
pub(super) fn last_step<S: Search>(search: &mut S) -> f64 {
    if search.optimiser().tolerance >= LOOSE {
        LAST_STEP_LOOSE
    } else {
        LAST_STEP
    }
}

/// Moves the mode along with the outer parameters.
fn follow<S: Search>(search: &mut S, moved: &[f64]) {
    let mut step = std::mem::take(search.scratch());
    search.mode_along(moved, &mut step);
    search.step_mode(&step, FAR);
    *search.scratch() = step;
}

/// The gradient at `theta`, taking the mode put for the mode there, or for its start if `seek`. False where it is
/// undefined.
pub(super) fn gradient_here<S: Search>(
    search: &mut S,
    theta: &[f64],
    seek: bool,
    gradient: &mut [f64],
) -> bool {
    search.trail().evaluations += 1;
    search.unpack(theta);
    let found = if seek {
        search.find_mode(LAST_STEP)
    } else {
        search.stay()
    };
    if !found {
        return false;
    }
    search.log_sum();
    search.differentiate();
    search.put_gradient(gradient);
    true
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::covariance::hessian;
    use super::super::search::Search;
    use super::super::{Design, Family, Fitter, Layout, Likelihood, Model, Start, Terms};

    use super::evaluate;

    /// `rows` counts in each of 4 sites by 5 years; one row is left out if `ragged`; a covariate of the site, of
    /// the week, or of the year alone.
    fn fitter(rows: usize, ragged: bool, covariate: usize, model: Model) -> Fitter {
        let mut d = Design {
            columns: 2,
            ..Design::default()
        };
        let mut counts = Vec::new();
        for (s, y, r) in (0..20 * rows).map(|i| (i / rows / 5, i / rows % 5, i % rows)) {
            if ragged && (s, y, r) == (2, 3, 0) {
                continue;
            }
            d.site.push(s);
            d.year.push(y);
            d.offset.push(0.1 * r as f64);
            d.x.extend([1.0, [s * s, r * r, y][covariate] as f64 - 1.5]);
            d.trials.push(40.0);
            counts.push(((7 * s + 5 * y * y + 3 * r) % 11) as f64);
        }
        let mut fitter = Fitter::new(Layout::new(&d).unwrap(), model);
        let start = Start {
            beta: vec![1.2, 0.1],
            site_sd: 0.7,
            year_sd: 0.3,
            site_year_sd: 0.4,
            k: 1.7,
        };
        fitter.learn(&counts, &start).unwrap();
        fitter
    }

    fn all_models() -> impl Iterator<Item = Model> {
        let families = [Family::Poisson, Family::NegativeBinomial, Family::Binomial];
        families.into_iter().flat_map(|family| {
            (0..16).map(move |bits| Model {
                family,
                likelihood: if bits & 8 == 0 {
                    Likelihood::Maximum
                } else {
                    Likelihood::Restricted
                },
                terms: Terms {
                    site: bits & 1 == 0,
                    year: bits & 2 == 0,
                    site_year: bits & 4 == 0,
                },
            })
        })
    }

    /// At `at` the gradient is that of the likelihood, and the Hessian that of the gradient.
    pub fn derivatives_match<S: Search>(search: &mut S, at: &[f64], what: &str) {
        const STEP: f64 = 1e-4;
        let n = at.len();
        let (mut g, mut up, mut down) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
        evaluate(search, at, &mut g);
        let hessian = hessian(search, at).unwrap();
        for j in 0..n {
            let mut moved = at.to_vec();
            moved[j] += STEP;
            let high = evaluate(search, &moved, &mut up);
            moved[j] -= 2.0 * STEP;
            let low = evaluate(search, &moved, &mut down);
            let slope = (high - low) / (2.0 * STEP);
            let off = (g[j] - slope).abs() / (1.0 + slope.abs());
            assert!(off < 1e-6, "{what}, parameter {j}: {} {slope}", g[j]);
            for l in 0..n {
                let curve = (up[l] - down[l]) / (2.0 * STEP);
                let got = hessian[j * n + l];
                let off = (got - curve).abs() / (1.0 + curve.abs());
                assert!(off < 1e-4, "{what}, parameters {j}, {l}: {got} {curve}");
            }
        }
    }

    /// In every model and layout: the gradient is the likelihood's, and the Hessian that of the gradient.
    #[test]
    fn derivatives_match_differences() {
        for model in all_models() {
            for (rows, ragged, covariate) in (0..12).map(|i| (1 + i / 6, i / 3 % 2 == 1, i % 3)) {
                if rows == 1 && covariate == 1 {
                    // One week only: the covariate is a second intercept.
                    continue;
                }
                let mut f = fitter(rows, ragged, covariate, model);
                let theta = [1.1, 0.12, 0.6, 0.35, 0.45, 0.4];
                let t = model.terms;
                let sds = [t.site, t.year, t.site_year];
                let mut at = theta[..f.shape().outer_beta()].to_vec();
                at.extend((0..3).filter(|&j| sds[j]).map(|j| theta[2 + j]));
                if model.family == Family::NegativeBinomial {
                    at.push(theta[5]);
                }
                let what = format!("{model:?} {rows} {ragged} {covariate}");
                derivatives_match(&mut f, &at, &what);
            }
        }
    }
}
