//! By presence: site s shows the target in year y with the chance p = psi d, psi that of being occupied and d that of being
//! found in a year if it is. The analysis puts a logistic curve through it (the one with the least Kullback-Leibler
//! distance, whose even chance moves as the edge does) and takes a site's years to be alike by a common effect. Its
//! coefficients are those of generalised estimating equations: D'W(shown - p) = 0, with D the curve's slopes and W the
//! inverse of that working covariance, so that (D'WD)^-1 is believed and (D'WD)^-1 D'WVWD (D'WD)^-1 true (Liang & Zeger
//! 1986, Biometrika 73:13-22). V is the covariance of what sites show: of a site in two years d d' (min(psi, psi') - psi
//! psi') times the chance that its liking was not drawn anew between them, and of all sites of a year by the year's own
//! effect on d. The move is a ratio of coefficients, by the delta method.

use super::{Seen, Variances, inverse, times};
use crate::closed_form::scale::truth;
use crate::evaluate::EDGE_COLUMNS;
use crate::scenario::{self, Checked, Plan};
use numerics::linalg::cholesky;
use numerics::maths::slices::dot;

/// Least share of a site-year's variance that the analysis takes to be its own.
const LEAST_OWN: f64 = 0.05;
/// Steps of Newton's method to the logistic curve.
const NEWTON: usize = 30;

/// The logistic curve nearest to the chances `p`, from `beta`; `None` when it is a step.
fn nearest(seen: &Seen, p: &[f64], mut beta: Vec<f64>) -> Option<Vec<f64>> {
    const N: usize = EDGE_COLUMNS;
    for _ in 0..NEWTON {
        let (mut score, mut information) = ([0.0; N], vec![0.0; N * N]);
        for (i, p) in p.iter().enumerate() {
            let x = seen.row(i);
            let curve = curve(x, &beta);
            for a in 0..N {
                score[a] += (p - curve) * x[a];
                for b in 0..N {
                    information[a * N + b] += curve * (1.0 - curve) * x[a] * x[b];
                }
            }
        }
        if !cholesky::factor(&mut information, N) {
            return None;
        }
        cholesky::solve(&information, N, &mut score);
        let largest = score.iter().fold(0.0, |m: f64, s| m.max(s.abs()));
        // No coefficient by more than 2 at a time.
        let step = if largest > 2.0 { 2.0 / largest } else { 1.0 };
        beta.iter_mut().zip(score).for_each(|(b, s)| *b += step * s);
        if largest < 1e-9 {
            return Some(beta);
        }
    }
    None
}

fn curve(x: &[f64], beta: &[f64]) -> f64 {
    scenario::share_of(x.iter().zip(beta).map(|(x, b)| x * b).sum())
}

/// Sums over the sites of what the analysis makes of them: with D the curve's slopes, W the inverse of the covariance it
/// takes their years to have, V the true one and Z the years' effects, D'WD, D'WVWD and D'WZ.
struct Sums {
    taken: Vec<f64>,
    scores: Vec<f64>,
    years: Vec<f64>,
}

/// Variance of the sites' effects on the scale of the log odds that makes sites as alike from year to year as they are, on
/// average over all pairs of years.
fn alike(
    seen: &Seen,
    covariance: &dyn Fn(usize, usize) -> f64,
    slope: &dyn Fn(usize) -> f64,
) -> f64 {
    let (mut together, mut slopes) = (0.0, 0.0);
    for s in 0..seen.sites {
        let at = s * seen.years;
        for y in 1..seen.years {
            for z in 0..y {
                together += covariance(at + y, at + z);
                slopes += slope(at + y) * slope(at + z);
            }
        }
    }
    if slopes > 0.0 { together / slopes } else { 0.0 }
}

/// What the analysis by presence makes of it.
struct Taken {
    /// Chance that a site shows the target in a year.
    p: Vec<f64>,
    /// The logistic curve's coefficients.
    beta: Vec<f64>,
    /// Its slope at each site-year.
    slopes: Vec<f64>,
    /// Variance of the sites' effects.
    effects: f64,
}

impl Taken {
    fn new(seen: &Seen, truth: Vec<f64>) -> Option<Self> {
        let rows = 0..seen.sites * seen.years;
        let p: Vec<f64> = rows.clone().map(|i| seen.psi[i] * seen.found(i)).collect();
        let beta = nearest(seen, &p, truth)?;
        let slope = |i: usize| {
            let c = curve(seen.row(i), &beta);
            c * (1.0 - c)
        };
        let slopes: Vec<f64> = rows.map(slope).collect();
        let covariance = |i: usize, j: usize| seen.shown(i, j);
        let effects = alike(seen, &covariance, &|i| slopes[i]);
        Some(Self {
            p,
            beta,
            slopes,
            effects,
        })
    }
}

/// SD of the sites' effects that an analysis by presence finds on average; NaN where there is none.
pub(crate) fn working_site_sd(scenario: &Checked, plan: &Plan) -> f64 {
    let change = truth(scenario);
    let taken = Seen::new(scenario, plan, change).and_then(|seen| {
        let beta = seen.axis.coefficients(scenario, plan, change);
        Taken::new(&seen, beta)
    });
    taken.map_or(f64::NAN, |t| t.effects.max(0.0).sqrt())
}

/// The variances, from the true coefficients and the SD of the years.
pub(super) fn variances(seen: &Seen, truth: Vec<f64>, year_sd: f64) -> Option<Variances> {
    const N: usize = EDGE_COLUMNS;
    let (sites, years) = (seen.sites, seen.years);
    let Taken {
        p,
        beta,
        slopes,
        effects,
    } = Taken::new(seen, truth)?;
    let covariance = |i: usize, j: usize| seen.shown(i, j);
    let mut sums = Sums {
        taken: vec![0.0; N * N],
        scores: vec![0.0; N * N],
        years: vec![0.0; N * years],
    };
    for s in 0..sites {
        let at = s * years;
        // What the analysis takes the site's years to have: a common effect, and what is left of their own variance.
        let mut working = vec![0.0; years * years];
        for y in 0..years {
            for z in 0..years {
                let common = effects * slopes[at + y] * slopes[at + z];
                let all = slopes[at + y];
                working[y * years + z] = if y == z {
                    common + (all - common).max(LEAST_OWN * all)
                } else {
                    common
                };
            }
        }
        if !cholesky::factor(&mut working, years) {
            // A site that is far off the edge says nothing.
            continue;
        }
        // W D, column by column.
        let forms: Vec<Vec<f64>> = (0..N)
            .map(|j| {
                let mut column: Vec<f64> = (at..at + years)
                    .map(|i| slopes[i] * seen.row(i)[j])
                    .collect();
                cholesky::solve(&working, years, &mut column);
                column
            })
            .collect();
        // V W D likewise: the covariance of two years is the same for all columns.
        let mut spread = vec![0.0; years * years];
        for y in 0..years {
            let i = at + y;
            spread[y * years + y] = p[i] * (1.0 - p[i]);
            for z in 0..y {
                let v = covariance(i, at + z);
                spread[y * years + z] = v;
                spread[z * years + y] = v;
            }
        }
        let row = |y: usize| &spread[y * years..(y + 1) * years];
        let spread_forms: Vec<Vec<f64>> = forms
            .iter()
            .map(|form| (0..years).map(|y| dot(row(y), form)).collect())
            .collect();
        for j in 0..N {
            for l in 0..N {
                sums.scores[j * N + l] += dot(&forms[j], &spread_forms[l]);
                for y in 0..years {
                    let i = at + y;
                    sums.taken[j * N + l] += forms[j][y] * slopes[i] * seen.row(i)[l];
                }
            }
            for y in 0..years {
                let effect = seen.psi[at + y] * seen.slope[y] * year_sd;
                sums.years[j * years + y] += forms[j][y] * effect;
            }
        }
    }
    let believed = inverse(sums.taken, N)?;
    let sandwich = |middle: &[f64]| times(&times(&believed, middle, N), &believed, N);
    // Years are shared by all sites of the plan, of which these stand for `each`.
    let shared: Vec<f64> = (0..N * N)
        .map(|i| {
            let row = |j: usize| sums.years[j * years..(j + 1) * years].iter();
            seen.each * row(i / N).zip(row(i % N)).map(|(a, b)| a * b).sum::<f64>()
        })
        .collect();
    let shared = sandwich(&shared);
    let with = |c: &[f64]| -> Vec<f64> { c.iter().zip(&shared).map(|(a, b)| a + b).collect() };
    let of = |c: &[f64]| seen.of_move(&beta, c, N);
    Some(Variances {
        truth: of(&with(&sandwich(&sums.scores))),
        believed: of(&with(&believed)),
        floor: of(&believed),
    })
}
