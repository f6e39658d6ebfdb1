//! Surveys in which chance is small beside the effects, and what their samples say.

use leastcatch_tests::scenarios::{checked, set_b};
use survey::generator::{Drawn, Generator, World};
use survey::scenario::{Checked, Plan, Premise, Scenario, Source};

pub fn invented(value: f64) -> Premise {
    Premise::new(value, Source::Invented)
}

/// Four sites, six years, one trap, one week at the season's peak; no spread at all, and so large a catch that the log
/// of a count is known to .01.
pub fn still_world() -> Scenario {
    let mut s = set_b();
    let p = &mut s.plan;
    (p.sites, p.traps_per_site, p.years) = (4, 1, 6);
    (p.first_week, p.weeks) = (20, 1);
    let t = &mut s.premises.target;
    t.catch_per_trap_week = invented(10_000.0);
    t.dispersion_k = invented(100_000.0);
    for sd in [
        &mut t.site_sd,
        &mut t.year_sd,
        &mut t.site_year_sd,
        &mut t.trap_sd,
    ] {
        *sd = invented(0.0);
    }
    s
}

/// Variance of the log of a count of [`still_world`] by chance alone: 1/mean + 1/k.
pub const CHANCE: f64 = 1e-4 + 1e-5;

/// `n` surveys of the world without change, each told by `f`.
pub fn surveys<T>(s: &Checked, n: u64, f: impl Fn(&Generator, &Drawn) -> T) -> Vec<T> {
    let generator = Generator::new(s, &s.plan);
    let mut drawn = Drawn::default();
    (0..n)
        .map(|i| {
            generator.draw(31, i, World::Still, false, &mut drawn);
            f(&generator, &drawn)
        })
        .collect()
}

/// Logs of the counts of `n` surveys, site-year by site-year.
pub fn logs(s: Scenario, n: u64) -> Vec<Vec<f64>> {
    surveys(&checked(s), n, |_, d| {
        d.counts.iter().map(|c| c.ln()).collect()
    })
}

pub fn mean(v: &[f64]) -> f64 {
    v.iter().sum::<f64>() / v.len() as f64
}

pub fn covariance(a: &[f64], b: &[f64]) -> f64 {
    let (ma, mb) = (mean(a), mean(b));
    a.iter()
        .zip(b)
        .map(|(x, y)| (x - ma) * (y - mb))
        .sum::<f64>()
        / a.len() as f64
}

pub fn variance(v: &[f64]) -> f64 {
    covariance(v, v)
}

pub fn correlation(a: &[f64], b: &[f64]) -> f64 {
    covariance(a, b) / (variance(a) * variance(b)).sqrt()
}

/// A sample variance of normal numbers against the true one: its SE is variance sqrt(2/n).
#[track_caller]
pub fn has_variance(what: &str, v: &[f64], want: f64) {
    let se = want * (2.0 / v.len() as f64).sqrt();
    let got = variance(v);
    assert!(
        (got - want).abs() < 4.0 * se,
        "{what}: {got}, {want} +- {se}"
    );
}

/// A sample correlation of normal numbers against the true one: its SE is (1 - r^2)/sqrt(n).
#[track_caller]
pub fn has_correlation(what: &str, a: &[f64], b: &[f64], want: f64) {
    let se = ((1.0 - want * want) / (a.len() as f64).sqrt()).max(1e-3);
    let got = correlation(a, b);
    assert!(
        (got - want).abs() < 4.0 * se,
        "{what}: {got}, {want} +- {se}"
    );
}

/// A sample mean against the true one.
#[track_caller]
pub fn has_mean(what: &str, v: &[f64], want: f64) {
    let se = (variance(v) / v.len() as f64).sqrt();
    let got = mean(v);
    assert!(
        (got - want).abs() < 4.0 * se,
        "{what}: {got}, {want} +- {se}"
    );
}

/// The values at one place of all surveys.
pub fn at(of: &[Vec<f64>], place: usize) -> Vec<f64> {
    of.iter().map(|v| v[place]).collect()
}

/// The same scenario under another plan.
pub fn under(s: &Checked, change: impl FnOnce(&mut Plan)) -> Plan {
    let mut plan = s.plan.clone();
    change(&mut plan);
    plan
}
