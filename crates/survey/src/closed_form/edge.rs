//! Variance of the move a decade of an edge of a range.
//!
//! By presence: site s shows the target in year y with the chance p = psi d, psi that of being occupied and d that of being
//! found in a year if it is. The analysis puts a logistic curve through it (the one with the least Kullback-Leibler
//! distance, whose even chance moves as the edge does) and takes a site's years to be alike by a common effect. Its
//! coefficients are those of generalised estimating equations: D'W(shown - p) = 0, with D the curve's slopes and W the
//! inverse of that working covariance, so that (D'WD)^-1 is believed and (D'WD)^-1 D'WVWD (D'WD)^-1 true (Liang & Zeger
//! 1986, Biometrika 73:13-22). V is the covariance of what sites show: of a site in two years d d' (min(psi, psi') - psi
//! psi') times the chance that its liking was not drawn anew between them, and of all sites of a year by the year's own
//! effect on d. The move is a ratio of coefficients, by the delta method.
//!
//! By detection: the expected information of occupancy and detection ([`models::occupancy::information`]) is what the
//! analysis believes; since the same sites are seen again, the truth is the sandwich of it about the covariance of the
//! scores.

use super::Variances;
use super::detection::Detection;
use super::scale::truth;
use crate::evaluate::{EDGE_COLUMNS, EDGE_SHIFT, EdgeAxis};
use crate::generator::{EdgeSites, World};
use crate::scenario::{self, Checked, Plan};
use models::occupancy::information::expected_information;
use models::occupancy::precision::SamplingDesign;
use numerics::linalg::cholesky;
use numerics::maths::{exp, pow};

/// Most sites that are worked out one by one; the information of more is that of so many, placed the same way, times
/// their number.
const MOST_SITES: u32 = 64;
/// Step in the log catch by which detection is differentiated.
const STEP: f64 = 0.05;
/// Least share of a site-year's variance that the analysis takes to be its own.
const LEAST_OWN: f64 = 0.05;
/// Steps of Newton's method to the logistic curve.
const NEWTON: usize = 30;

/// Sites and what they show, worked out once for both analyses.
struct Seen {
    axis: EdgeAxis,
    /// Chance of being occupied, `s * years + y`.
    psi: Vec<f64>,
    /// For each year: detection at the catch of that year.
    detection: Vec<Detection>,
    /// For each year: the chance that an occupied site shows itself; by presence where not all its trap-weeks are lost.
    found: Vec<f64>,
    /// For each year: slope of that chance in the log catch.
    slope: Vec<f64>,
    /// Chance that a site's liking is not drawn anew from one year to the next.
    kept: f64,
    sites: usize,
    years: usize,
    /// Sites of the plan for each of these; by presence those of which not the whole year is lost.
    each: f64,
}

impl Seen {
    fn new(scenario: &Checked, plan: &Plan, per_decade: f64) -> Option<Self> {
        let shown = Plan {
            sites: plan.sites.min(MOST_SITES),
            ..plan.clone()
        };
        let edge = EdgeSites::of(scenario, &shown, per_decade)?;
        let (sites, years) = (shown.sites as usize, plan.years as usize);
        let chances = (0..sites).flat_map(|s| (0..years).map(move |y| (s, y)));
        let psi = chances
            .map(|(s, y)| edge.chance(s, y, World::Change))
            .collect();
        let drift = scenario.premises.departures.log_drift();
        let different = if drift == 0.0 { 1 } else { years };
        let at = |log: f64| Detection::scaled(scenario, plan, exp(log));
        let of_year = |y: usize| {
            let log = drift * y as f64;
            let apart = at(log + STEP).of_a_year() - at(log - STEP).of_a_year();
            (at(log), apart / (2.0 * STEP))
        };
        let each: Vec<_> = (0..different).map(of_year).collect();
        let (detection, slope): (Vec<Detection>, Vec<f64>) =
            each.into_iter().cycle().take(years).unzip();
        // By presence a site-year that is lost as a whole is left out. By detection lost visits are visits that show
        // nothing, which is in their chance (see `occupancy`).
        let made = if scenario.by_occupancy() {
            1.0
        } else {
            let trap_weeks = f64::from(plan.traps_per_site * plan.weeks);
            1.0 - pow(scenario.premises.trap_loss.value, trap_weeks)
        };
        Some(Self {
            axis: EdgeAxis::new(scenario, &shown),
            psi,
            found: detection.iter().map(|d| d.of_a_year() / made).collect(),
            detection,
            slope: slope.into_iter().map(|s| s / made).collect(),
            kept: 1.0 - edge.redrawn,
            sites,
            years,
            each: made * f64::from(plan.sites) / f64::from(shown.sites),
        })
    }

    fn row(&self, i: usize) -> &[f64] {
        &self.axis.x[i * EDGE_COLUMNS..(i + 1) * EDGE_COLUMNS]
    }

    /// Covariance of a site's being occupied in two different years.
    fn occupied(&self, i: usize, j: usize) -> f64 {
        let (a, b) = (self.psi[i], self.psi[j]);
        powi(self.kept, i.abs_diff(j)) * (a.min(b) - a * b)
    }

    /// Chance that a site shows itself in a year when it is occupied.
    fn found(&self, i: usize) -> f64 {
        self.found[i % self.years]
    }

    /// Covariance of a site's showing itself in two different years.
    fn shown(&self, i: usize, j: usize) -> f64 {
        self.found(i) * self.found(j) * self.occupied(i, j)
    }

    /// Variance of the move a decade, from the coefficients and their covariance of so many columns.
    fn of_move(&self, beta: &[f64], covariance: &[f64], width: usize) -> f64 {
        let se = EDGE_SHIFT.estimate(beta, covariance, width).se;
        let per_decade = 10.0 * self.axis.scale * se;
        per_decade * per_decade / self.each
    }
}

fn powi(v: f64, n: usize) -> f64 {
    (0..n).fold(1.0, |p, _| p * v)
}

/// The variances when the edge moves by so much a decade.
pub fn variances(scenario: &Checked, plan: &Plan, per_decade: f64) -> Variances {
    let never = Variances::same(f64::INFINITY);
    let Some(seen) = Seen::new(scenario, plan, per_decade) else {
        return never;
    };
    let beta = seen.axis.coefficients(scenario, plan, per_decade);
    let found = if scenario.by_occupancy() {
        let each_year = scenario.analysis.detection != scenario::Detection::Constant;
        by_detection(&seen, &beta, plan.weeks, each_year)
    } else {
        by_presence(&seen, beta, scenario.premises.target.year_sd.value)
    };
    let finite = |v: &Variances| v.truth.is_finite() && v.believed.is_finite();
    found.filter(finite).unwrap_or(never)
}

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

fn by_presence(seen: &Seen, truth: Vec<f64>, year_sd: f64) -> Option<Variances> {
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
        for j in 0..N {
            for l in 0..N {
                for y in 0..years {
                    let i = at + y;
                    sums.taken[j * N + l] += forms[j][y] * slopes[i] * seen.row(i)[l];
                    for z in 0..years {
                        let v = if y == z {
                            p[i] * (1.0 - p[i])
                        } else {
                            covariance(i, at + z)
                        };
                        sums.scores[j * N + l] += forms[j][y] * v * forms[l][z];
                    }
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

fn times(a: &[f64], b: &[f64], n: usize) -> Vec<f64> {
    let cell = |i: usize| (0..n).map(|m| a[i / n * n + m] * b[m * n + i % n]).sum();
    (0..n * n).map(cell).collect()
}

fn by_detection(seen: &Seen, beta: &[f64], weeks: u32, each_year: bool) -> Option<Variances> {
    if weeks < 2 {
        return None;
    }
    let (sites, years) = (seen.sites, seen.years);
    let own = if each_year { years } else { 1 };
    let wide = EDGE_COLUMNS + own;
    let k = f64::from(weeks);
    let column = |y: usize| EDGE_COLUMNS + if each_year { y } else { 0 };
    let (mut information, mut scores) = (vec![0.0; wide * wide], vec![0.0; wide * wide]);
    for s in 0..sites {
        // Change of the mean score of each year by the site's being occupied then.
        let mut shown: Vec<Vec<f64>> = Vec::with_capacity(years);
        for y in 0..years {
            let i = s * years + y;
            let (psi, p) = (seen.psi[i], seen.detection[y].even());
            if psi < 1e-12 {
                // A site that is far off the edge says nothing. One far within it tells detection.
                shown.push(vec![0.0; wide]);
                continue;
            }
            let x = seen.row(i);
            let to = |v: &mut [f64], of_psi: f64, of_p: f64| {
                for (v, x) in v.iter_mut().zip(x) {
                    *v = of_psi * x;
                }
                v[column(y)] = of_p;
            };
            let [a, b, _, c] = expected_information(psi, p, weeks, SamplingDesign::Standard);
            let (by_psi, by_p) = (psi * (1.0 - psi), p * (1.0 - p));
            let (a, b, c) = (a * by_psi * by_psi, b * by_psi * by_p, c * by_p * by_p);
            for j in 0..=EDGE_COLUMNS {
                for l in 0..=EDGE_COLUMNS {
                    let value = match (j < EDGE_COLUMNS, l < EDGE_COLUMNS) {
                        (true, true) => a * x[j] * x[l],
                        (true, false) => b * x[j],
                        (false, true) => b * x[l],
                        (false, false) => c,
                    };
                    let place = |j: usize| if j < EDGE_COLUMNS { j } else { column(y) };
                    information[place(j) * wide + place(l)] += value;
                }
            }
            let missed = pow(1.0 - p, k);
            let found = 1.0 - missed;
            // Chance that a site which showed nothing is occupied.
            let still = if psi < 1.0 {
                psi * missed / (psi * missed + 1.0 - psi)
            } else {
                1.0
            };
            let mut score = vec![0.0; wide];
            to(
                &mut score,
                found * (1.0 - still),
                k * p * (missed * (1.0 - still) + still),
            );
            shown.push(score);
        }
        for y in 0..years {
            for z in (0..years).filter(|z| *z != y) {
                let together = seen.occupied(s * years + y, s * years + z);
                for j in 0..wide {
                    for l in 0..wide {
                        scores[j * wide + l] += together * shown[y][j] * shown[z][l];
                    }
                }
            }
        }
    }
    let believed = inverse(information, wide)?;
    let more = times(&times(&believed, &scores, wide), &believed, wide);
    let truth: Vec<f64> = believed.iter().zip(&more).map(|(b, m)| b + m).collect();
    Some(Variances {
        truth: seen.of_move(beta, &truth, wide),
        believed: seen.of_move(beta, &believed, wide),
        floor: 0.0,
    })
}

fn inverse(mut a: Vec<f64>, n: usize) -> Option<Vec<f64>> {
    if !cholesky::factor(&mut a, n) {
        return None;
    }
    let mut out = vec![0.0; n * n];
    cholesky::inverse(&a, n, &mut out);
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{EdgeBy, Likelihood, Premise, Scenario, Source, read};

    fn demo(change: impl Fn(&mut Scenario)) -> Checked {
        let mut s = read(include_str!("../../../../demo-data/mountain-edge.json")).unwrap();
        change(&mut s);
        s.check().unwrap()
    }

    fn invented(value: f64) -> Premise {
        Premise::new(value, Source::Invented)
    }

    /// One trap for one week, lost in half of the site-years: half as many sites without losses, good and bad years of all
    /// sites among them, which no number of sites makes smaller.
    #[test]
    fn lost_site_years_are_fewer_sites() {
        let plan = |sites: u32, loss: f64| {
            let s = demo(|s| {
                (s.plan.sites, s.limits.sites) = (sites, sites);
                (s.plan.traps_per_site, s.plan.weeks) = (1, 1);
                s.premises.trap_loss = invented(loss);
            });
            let plan = s.plan.clone();
            variances(&s, &plan, 200.0)
        };
        let (lost, fewer) = (plan(256, 0.5), plan(128, 0.0));
        for (a, b) in [
            (lost.truth, fewer.truth),
            (lost.believed, fewer.believed),
            (lost.floor, fewer.floor),
        ] {
            assert!(b > 0.0 && (a / b - 1.0).abs() < 1e-9, "{lost:?} {fewer:?}");
        }
    }

    /// Sites so far within the range that their chance to be occupied is 1 to the last digit tell detection, as those do
    /// of which it is all but 1.
    #[test]
    fn sites_far_within_tell_detection() {
        let s = demo(|s| {
            s.analysis.edge = EdgeBy::Detection;
            s.analysis.likelihood = Likelihood::Restricted;
        });
        let plan = s.plan.clone();
        let of = |inner: f64| {
            let mut seen = Seen::new(&s, &plan, 200.0).unwrap();
            for (i, psi) in seen.psi.iter_mut().enumerate() {
                let at = i / seen.years;
                *psi = if at < 20 { inner } else { psi.min(0.9) };
            }
            let beta = seen.axis.coefficients(&s, &plan, 200.0);
            by_detection(&seen, &beta, plan.weeks, false).unwrap()
        };
        let (sure, all_but, nowhere) = (of(1.0), of(1.0 - 1e-11), of(0.0));
        assert!((sure.believed / all_but.believed - 1.0).abs() < 1e-6);
        assert!((sure.truth / all_but.truth - 1.0).abs() < 1e-6);
        assert!(
            sure.believed < 0.95 * nowhere.believed,
            "{sure:?} {nowhere:?}"
        );
    }
}
