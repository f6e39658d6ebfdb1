//! Likelihood and gradient of every kind of term.

use super::super::evaluate::evaluate;
use super::super::evaluate::tests::derivatives_match;
use super::super::family::{Family, Law};
use super::super::fit::Likelihood;
use super::super::search::Search;
use super::{
    GeneralDesign, GeneralFitter, GeneralStart, Grouping, ar1_loadings, exponential_loadings,
};
use numerics::linalg::cholesky;
use numerics::special::gamma::ln_rising;

const SITES: usize = 5;
const YEARS: usize = 4;
const WEEKS: usize = 3;

fn term(name: &str, level: Vec<usize>) -> Grouping {
    Grouping {
        name: name.to_string(),
        level,
        ..Grouping::default()
    }
}

/// 5 sites by 4 years by 3 weeks, a few rows missing; an intercept and a covariate of the row.
struct Rows {
    site: Vec<usize>,
    year: Vec<usize>,
    week: Vec<usize>,
}

impl Rows {
    fn new() -> Self {
        let cells = (0..SITES * YEARS * WEEKS).filter(|i| i % 11 != 3);
        let (mut site, mut year, mut week) = (Vec::new(), Vec::new(), Vec::new());
        for i in cells {
            site.push(i / YEARS / WEEKS);
            year.push(i / WEEKS % YEARS);
            week.push(i % WEEKS);
        }
        Self { site, year, week }
    }

    fn each(&self, f: impl Fn(usize, usize, usize) -> usize) -> Vec<usize> {
        let rows = self.site.iter().zip(&self.year).zip(&self.week);
        rows.map(|((&s, &y), &w)| f(s, y, w)).collect()
    }

    fn centred_year(&self) -> Vec<f64> {
        self.year.iter().map(|&y| 40.0 * (y as f64 - 1.5)).collect()
    }

    /// Every kind of term by itself.
    fn term(&self, kind: &str) -> Grouping {
        match kind {
            "site" => term(kind, self.site.clone()),
            "year" => term(kind, self.year.clone()),
            "site-year" => term(kind, self.each(|s, y, _| 90 + s * YEARS + y)),
            "visit" => term(kind, self.each(|s, y, w| (s * YEARS + y) * WEEKS + w)),
            "week in year" => term(kind, self.each(|_, y, w| y * WEEKS + w)),
            "trap" => term(kind, self.each(|s, _, w| s * 2 + w % 2)),
            "slope" => Grouping {
                weight: Some(self.centred_year()),
                ..term(kind, self.site.clone())
            },
            "correlated years" => Grouping {
                loadings: ar1_loadings(YEARS + 1, 0.6),
                ..term(kind, self.year.clone())
            },
            _ => Grouping {
                loadings: exponential_loadings(&distances(), 2.0),
                ..term("correlated sites", self.site.clone())
            },
        }
    }

    fn design(&self, kinds: &[&str]) -> GeneralDesign {
        let rows = self.each(|s, y, w| 7 * s + 5 * y + 3 * w);
        GeneralDesign {
            x: rows
                .iter()
                .flat_map(|r| [1.0, (r % 5) as f64 - 2.0])
                .collect(),
            columns: 2,
            offset: rows.iter().map(|r| 0.1 * (r % 3) as f64).collect(),
            trials: vec![20.0; rows.len()],
            groupings: kinds.iter().map(|k| self.term(k)).collect(),
        }
    }

    fn counts(&self) -> Vec<f64> {
        self.each(|s, y, w| (7 * s + 5 * y * y + 3 * w) % 11)
            .iter()
            .map(|&v| v as f64)
            .collect()
    }
}

fn distances() -> Vec<f64> {
    let at = [
        (0.0, 0.0),
        (1.0, 0.5),
        (2.5, 0.2),
        (0.3, 2.0),
        (4.0, 1.0_f64),
    ];
    let between = |a: (f64, f64), b: (f64, f64)| {
        ((a.0 - b.0) * (a.0 - b.0) + (a.1 - b.1) * (a.1 - b.1)).sqrt()
    };
    at.iter().flat_map(|&a| at.map(|b| between(a, b))).collect()
}

const SETS: [&[&str]; 8] = [
    &[],
    &["site", "year"],
    &["site", "slope", "year"],
    &["site", "year", "site-year", "visit"],
    &["trap", "site", "year", "week in year", "site-year"],
    &["correlated years", "site"],
    &["correlated sites", "slope", "year", "week in year"],
    &["correlated sites", "correlated years", "visit"],
];

fn each_model(mut check: impl FnMut(&[&str], Family, Likelihood)) {
    for kinds in SETS {
        for family in [Family::Poisson, Family::NegativeBinomial, Family::Binomial] {
            for likelihood in [Likelihood::Maximum, Likelihood::Restricted] {
                check(kinds, family, likelihood);
            }
        }
    }
}

/// A fitter with counts and a mode from the start, and outer parameters to look at.
fn ready(
    design: &GeneralDesign,
    counts: &[f64],
    family: Family,
    likelihood: Likelihood,
) -> (GeneralFitter, Vec<f64>) {
    let mut fitter = GeneralFitter::new(design, family, likelihood).unwrap();
    let groups = design.groupings.len();
    let start = GeneralStart {
        beta: vec![1.2, 0.1],
        sd: vec![0.5; groups],
        k: 1.7,
    };
    fitter.learn(counts, &start).unwrap();
    let mut theta = if likelihood == Likelihood::Maximum {
        vec![1.1, 0.12]
    } else {
        Vec::new()
    };
    theta.extend((0..groups).map(|g| 0.6 - 0.08 * g as f64));
    if family == Family::NegativeBinomial {
        theta.push(0.4);
    }
    (fitter, theta)
}

/// In every model: the gradient is the likelihood's, and the Hessian that of the gradient.
#[test]
fn derivatives_match_differences() {
    let rows = Rows::new();
    each_model(|kinds, family, likelihood| {
        let design = rows.design(kinds);
        let (mut f, at) = ready(&design, &rows.counts(), family, likelihood);
        let what = format!("{kinds:?} {family:?} {likelihood:?}");
        derivatives_match(&mut f, &at, &what);
    });
}

/// The same likelihood without any structure: spherical effects, loadings multiplied out into a dense G, plain Newton
/// steps on a dense H.
fn dense(
    design: &GeneralDesign,
    counts: &[f64],
    law: Law,
    restricted: bool,
    beta: &[f64],
    sd: &[f64],
) -> f64 {
    let n = counts.len();
    let mut columns: Vec<Vec<f64>> = Vec::new();
    for (g, sd) in design.groupings.iter().zip(sd) {
        let levels = match &g.loadings {
            Some(l) => l.len().isqrt(),
            None => g.level.iter().max().unwrap() + 1,
        };
        for j in 0..levels {
            let entry = |i: usize| {
                let level = g.level[i];
                let loading = match &g.loadings {
                    Some(l) => l[level * levels + j],
                    None => f64::from(u8::from(level == j)),
                };
                sd * g.weight.as_ref().map_or(1.0, |w| w[i]) * loading
            };
            columns.push((0..n).map(entry).collect());
        }
    }
    let spherical = columns.len();
    if restricted {
        let p = design.columns;
        columns.extend((0..p).map(|j| (0..n).map(|i| design.x[i * p + j]).collect()));
    }
    let m = columns.len();
    let mut z = vec![0.0; m];
    let mut mean = vec![0.0; n];
    let mut value = f64::NAN;
    for _ in 0..50 {
        let mut eta = design.offset.clone();
        for (i, eta) in eta.iter_mut().enumerate() {
            if !restricted {
                let x = &design.x[i * beta.len()..];
                *eta += x.iter().zip(beta).map(|(x, b)| x * b).sum::<f64>();
            }
            *eta += columns.iter().zip(&z).map(|(c, z)| c[i] * z).sum::<f64>();
        }
        law.means(&eta, &mut mean);
        let (mut h, mut g) = (vec![0.0; m * m], vec![0.0; m]);
        value = 0.0;
        for i in 0..n {
            let (y, trials) = (counts[i], design.trials[i]);
            let s = law.slopes(y, trials, mean[i]);
            value += law.kernel(y, trials, eta[i], mean[i]) + law.constant(y, trials);
            if law.family == Family::NegativeBinomial {
                value += ln_rising(law.k, y);
            }
            for a in 0..m {
                g[a] += columns[a][i] * s.d1;
                for b in 0..m {
                    h[a * m + b] += columns[a][i] * columns[b][i] * s.w;
                }
            }
        }
        for a in 0..spherical {
            value -= 0.5 * z[a] * z[a];
            g[a] -= z[a];
            h[a * m + a] += 1.0;
        }
        assert!(cholesky::factor(&mut h, m));
        value -= 0.5 * cholesky::ln_det(&h, m);
        value += 0.5 * (m - spherical) as f64 * numerics::maths::ln(2.0 * std::f64::consts::PI);
        cholesky::solve(&h, m, &mut g);
        z.iter_mut().zip(&g).for_each(|(z, s)| *z += s);
    }
    value
}

#[test]
fn the_likelihood_is_that_without_structure() {
    let rows = Rows::new();
    let counts = rows.counts();
    each_model(|kinds, family, likelihood| {
        let design = rows.design(kinds);
        let (mut f, theta) = ready(&design, &counts, family, likelihood);
        let mut gradient = vec![0.0; theta.len()];
        let got = -evaluate(&mut f, &theta, &mut gradient);
        let shape = f.shape();
        let scale = &f.incidence.scale;
        let sd: Vec<f64> = theta[shape.sds()]
            .iter()
            .zip(scale)
            .map(|(s, c)| s / c)
            .collect();
        let want = dense(
            &design,
            &counts,
            f.law(),
            shape.inner_fixed,
            &f.state.beta,
            &sd,
        );
        let what = format!("{kinds:?} {family:?} {likelihood:?}");
        assert!((got - want).abs() < 1e-9, "{what}: {got} {want}");
    });
}
