//! The study of false alarms: its cells, what is measured in one, and its table.

use crate::scenarios::{checked, set_b};
use models::wald::{Alternative, WaldTest};
use numerics::special::student;
use std::path::Path;
use survey::evaluate::Evaluator;
use survey::generator::World;
use survey::scenario::{Likelihood, Test};
use survey::summary::Calibration;

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

/// The cell's world, analysed by a test under a likelihood.
fn evaluator(cell: Cell, likelihood: Likelihood, test: Test) -> Evaluator {
    let mut s = set_b();
    s.plan.sites = cell.sites;
    s.plan.years = cell.years;
    s.premises.target.catch_per_trap_week.value = MEAN;
    s.premises.target.dispersion_k.value = cell.k;
    s.premises.target.year_sd.value = cell.year_sd;
    (s.analysis.likelihood, s.analysis.test) = (likelihood, test);
    let s = checked(s);
    Evaluator::new(&s, &s.plan, 1).expect("a design")
}

fn nulls(cell: Cell, n: u64) -> Vec<Null> {
    let mut ml = evaluator(cell, Likelihood::Maximum, Test::LikelihoodRatio);
    let mut restricted = evaluator(cell, Likelihood::Restricted, Test::T);
    let mut one = |i: u64| {
        let m = ml.run(i, World::Still).expect("counts").finding;
        let r = restricted.run(i, World::Still).expect("counts").finding;
        Null {
            ml: m.estimate / m.se,
            root: m.root,
            restricted: r.estimate / r.se,
            df: r.df,
            index: r.index.0 / r.index.1,
        }
    };
    (0..n).map(&mut one).collect()
}

fn critical(df: f64) -> f64 {
    WaldTest {
        df,
        level: LEVEL,
        alternative: Alternative::TwoSided,
    }
    .critical()
}

/// The critical value that the product takes from nulls.
///
/// # Panics
/// When there are fewer of them than it wants.
fn critical_of(sizes: impl Iterator<Item = f64>) -> f64 {
    let calibration = Calibration::of(sizes, LEVEL);
    calibration
        .expect("nulls enough for a critical value")
        .critical
}

/// Measures a group of cells that differ in the year SD alone.
pub fn measure(group: &[Cell], n: u64) -> Vec<Row> {
    let all: Vec<Vec<Null>> = group.iter().map(|&cell| nulls(cell, n)).collect();
    let size = |null: &Null| null.restricted.abs();
    let believed = group.iter().position(|c| c.year_sd == BELIEVED);
    let believed = believed.map(|b| critical_of(all[b].iter().map(size)));
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
                share(&|null| null.root.abs() > z),
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
        let critical = critical_of(others);
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
