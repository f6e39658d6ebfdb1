//! The study of false alarms: its cells, what is measured in one, and its table.

use crate::scenarios::{checked, set_b};
use models::annual_index::annual_index;
use models::glmm::{Design, Family, Fit, Fitter, Layout, Likelihood, Model, Start, Terms};
use models::wald::{Alternative, WaldTest};
use numerics::maths::ln;
use numerics::special::student;
use std::path::Path;
use survey::generator::{Drawn, Generator, World};
use survey::scenario::{Checked, Scenario};

/// The level of all tests.
pub const LEVEL: f64 = 0.05;
/// Stands for Poisson: the largest dispersion a scenario takes.
pub const POISSON: f64 = 100_000.0;
/// The year SD that the miscalibrated test takes for the truth.
pub const BELIEVED: f64 = 0.2;
const MEAN: f64 = 12.0;

/// One cell of the study.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Sites.
    pub sites: u32,
    /// Years.
    pub years: u32,
    /// Dispersion k of a count; [`POISSON`] stands for Poisson.
    pub k: f64,
    /// SD of shared years.
    pub year_sd: f64,
}

/// Shares of false alarms in one cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The cell.
    pub cell: Cell,
    /// Surveys without a change.
    pub nulls: u64,
    /// By test, in the order of [`TESTS`].
    pub shares: [f64; TESTS.len()],
}

/// The tests, as the table's columns are named.
pub const TESTS: [&str; 9] = [
    "ml_z",
    "ml_t",
    "likelihood_ratio",
    "restricted_z",
    "restricted_t",
    "satterthwaite",
    "annual_index",
    "calibrated",
    "calibrated_at_believed",
];

/// All cells, in groups that differ in the year SD alone.
pub fn cells() -> Vec<Vec<Cell>> {
    let mut groups = Vec::new();
    for k in [0.5, 2.0, POISSON] {
        for sites in [100, 30, 10] {
            for years in [20, 10, 8, 5] {
                let group = [0.0, 0.1, 0.2, 0.4].map(|year_sd| Cell {
                    sites,
                    years,
                    k,
                    year_sd,
                });
                groups.push(group.to_vec());
            }
        }
    }
    groups
}

/// What one null survey says under each test: signed statistics, and Satterthwaite's degrees of freedom.
#[derive(Clone, Copy, Debug)]
struct Null {
    ml: f64,
    root: f64,
    restricted: f64,
    df: f64,
    index: f64,
}

fn scenario(cell: Cell) -> Checked {
    let mut s: Scenario = set_b();
    s.plan.sites = cell.sites;
    s.plan.years = cell.years;
    s.premises.target.catch_per_trap_week.value = MEAN;
    s.premises.target.dispersion_k.value = cell.k;
    s.premises.target.year_sd.value = cell.year_sd;
    checked(s)
}

fn fitter(cell: Cell, likelihood: Likelihood, trend: bool) -> Fitter {
    let (sites, years) = (cell.sites as usize, cell.years as usize);
    let mid = 0.5 * (years as f64 - 1.0);
    let rows = 0..sites * years;
    let x = |i: usize| {
        let t = (i % years) as f64 - mid;
        if trend { vec![1.0, t] } else { vec![1.0] }
    };
    let design = Design {
        site: rows.clone().map(|i| i / years).collect(),
        year: rows.clone().map(|i| i % years).collect(),
        x: rows.clone().flat_map(x).collect(),
        columns: 1 + usize::from(trend),
        offset: vec![0.0; rows.len()],
        trials: Vec::new(),
    };
    let terms = Terms {
        site: true,
        year: true,
        site_year: false,
    };
    let model = Model {
        family: Family::NegativeBinomial,
        terms,
        likelihood,
    };
    let mut fitter = Fitter::new(Layout::new(&design).expect("a design"), model);
    fitter.set_tolerance(1e-7);
    fitter
}

fn start(cell: Cell, trend: bool) -> Start {
    let mut beta = vec![ln(MEAN)];
    if trend {
        beta.push(0.0);
    }
    Start {
        beta,
        site_sd: 0.8,
        year_sd: cell.year_sd.max(0.05),
        site_year_sd: 0.0,
        k: cell.k.min(1e4),
    }
}

fn nulls(cell: Cell, n: u64) -> Vec<Null> {
    let scenario = scenario(cell);
    let generator = Generator::new(&scenario, &scenario.plan);
    let (with, without) = (start(cell, true), start(cell, false));
    let mut ml = fitter(cell, Likelihood::Maximum, true);
    let mut flat = fitter(cell, Likelihood::Maximum, false);
    let mut restricted = fitter(cell, Likelihood::Restricted, true);
    let mut drawn = Drawn::default();
    generator.draw(1, u64::MAX / 2 - 1, World::Still, false, &mut drawn);
    ml.learn(&drawn.counts, &with).expect("counts");
    flat.learn(&drawn.counts, &without).expect("counts");
    restricted.learn(&drawn.counts, &with).expect("counts");
    let offset = vec![0.0; drawn.counts.len()];
    let t = |fit: &Fit| fit.beta[1] / fit.se(1);
    (0..n)
        .map(|i| {
            generator.draw(1, i, World::Still, false, &mut drawn);
            let c = &drawn.counts;
            let m = ml.fit(c, Some(&with)).expect("counts");
            let f = flat.fit(c, Some(&without)).expect("counts");
            let r = restricted.fit(c, Some(&with)).expect("counts");
            let gain = (2.0 * (m.log_likelihood - f.log_likelihood)).max(0.0);
            let index = annual_index(c, &offset, cell.years as usize);
            let conditional = r.conditional.as_ref();
            Null {
                ml: t(&m),
                root: gain.sqrt(),
                restricted: t(&r),
                df: conditional
                    .and_then(|c| c.degrees_of_freedom(&[0.0, 1.0]))
                    .unwrap_or(f64::NAN),
                index: index.map_or(f64::NAN, |i| i.slope / i.se),
            }
        })
        .collect()
}

fn critical(df: f64) -> f64 {
    WaldTest {
        df,
        level: LEVEL,
        alternative: Alternative::TwoSided,
    }
    .critical()
}

/// The size that is exceeded by `LEVEL` of the statistics: the k-th largest of n, with k the whole part of
/// `LEVEL` (n + 1), is exceeded by one more null with chance k/(n + 1).
fn order_statistic(mut sizes: Vec<f64>) -> f64 {
    sizes.sort_by(|a, b| b.total_cmp(a));
    let k = (LEVEL * (sizes.len() as f64 + 1.0)).floor() as usize;
    sizes[k - 1]
}

/// Measures a group of cells that differ in the year SD alone.
pub fn measure(group: &[Cell], n: u64) -> Vec<Row> {
    let all: Vec<Vec<Null>> = group.iter().map(|&cell| nulls(cell, n)).collect();
    let size = |null: &Null| {
        let size = null.restricted.abs();
        if size.is_nan() { 0.0 } else { size }
    };
    let believed = group.iter().position(|c| c.year_sd == BELIEVED);
    let believed = believed.map(|b| order_statistic(all[b].iter().map(size).collect()));
    let mut rows = Vec::new();
    for (&cell, nulls) in group.iter().zip(&all) {
        let share = |found: &dyn Fn(&Null) -> bool| {
            nulls.iter().filter(|null| found(null)).count() as f64 / n as f64
        };
        let (z, t) = (
            critical(f64::INFINITY),
            critical(f64::from(cell.years) - 2.0),
        );
        rows.push(Row {
            cell,
            nulls: n,
            shares: [
                share(&|null| null.ml.abs() > z),
                share(&|null| null.ml.abs() > t),
                share(&|null| null.root > z),
                share(&|null| null.restricted.abs() > z),
                share(&|null| null.restricted.abs() > t),
                share(&|null| 2.0 * student::cdf(-null.restricted.abs(), null.df) < LEVEL),
                share(&|null| null.index.abs() > t),
                calibrated(nulls.iter().map(size).collect()),
                believed.map_or(f64::NAN, |c| share(&|null| size(null) > c)),
            ],
        });
    }
    rows
}

/// Ten times a tenth of the nulls is judged by the critical value of the other nine.
fn calibrated(sizes: Vec<f64>) -> f64 {
    const FOLDS: usize = 10;
    let mut found = 0;
    for fold in 0..FOLDS {
        let own = |i: &usize| i % FOLDS == fold;
        let others = (0..sizes.len()).filter(|i| !own(i)).map(|i| sizes[i]);
        let critical = order_statistic(others.collect());
        found += (0..sizes.len())
            .filter(own)
            .filter(|&i| sizes[i] > critical)
            .count();
    }
    found as f64 / sizes.len() as f64
}

/// Writes the table.
pub fn write(path: &Path, rows: &[Row]) -> std::io::Result<()> {
    let mut text = format!("sites,years,k,year_sd,nulls,{}\n", TESTS.join(","));
    let mut rows = rows.to_vec();
    let key = |r: &Row| {
        (
            r.cell.k,
            f64::from(r.cell.sites),
            f64::from(r.cell.years),
            r.cell.year_sd,
        )
    };
    rows.sort_by(|a, b| {
        key(a)
            .partial_cmp(&key(b))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    for r in rows {
        let k = if r.cell.k == POISSON {
            "Poisson".into()
        } else {
            r.cell.k.to_string()
        };
        let shares = r.shares.map(|s| format!("{s:.4}")).join(",");
        let Cell {
            sites,
            years,
            year_sd,
            ..
        } = r.cell;
        text.push_str(&format!(
            "{sites},{years},{k},{year_sd},{},{shares}\n",
            r.nulls
        ));
    }
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder)?;
    }
    std::fs::write(path, text)
}
