//! Weather shared by all traps in a week, and trap points that are new each year.

use crate::support::{
    CHANCE, at, has_correlation, has_mean, has_variance, invented, logs, mean, still_world,
    surveys, variance,
};
use leastcatch_tests::scenarios::checked;
use survey::generator::{Drawn, Generator, Weekly, World};
use survey::scenario::TrapPoints;

#[test]
fn weather_is_shared_by_sites_and_differs_between_weeks_and_years() {
    let mut s = still_world();
    s.plan.weeks = 3;
    s.plan.first_week = 18;
    s.premises.target.season_width_weeks = invented(60.0);
    s.premises.departures.shared_week_sd = invented(0.5);
    let s = checked(s);
    let generator = Generator::new(&s, &s.plan);
    let (mut drawn, mut weekly) = (Drawn::default(), Weekly::default());
    let all: Vec<Vec<f64>> = (0..4000)
        .map(|i| {
            generator.draw_weekly(32, i, World::Still, false, &mut drawn, &mut weekly);
            weekly.counts.iter().map(|c| c.ln()).collect()
        })
        .collect();
    let week = |site: usize, year: usize, week: usize| at(&all, (site * 6 + year) * 3 + week);
    let thin = 0.25 / (0.25 + CHANCE);
    has_variance("week", &week(1, 2, 0), 0.25 + CHANCE);
    has_mean("week", &week(1, 2, 0), 10_000f64.ln());
    has_correlation("other site", &week(0, 2, 1), &week(3, 2, 1), thin);
    has_correlation("other week", &week(0, 2, 1), &week(0, 2, 2), 0.0);
    has_correlation("other year", &week(0, 2, 1), &week(0, 3, 1), 0.0);
}

/// Mean and variance of a site-year's total: rate sum(w) m, and rate^2 sum(w^2)(v + q/(k n)) + mean, with m, v and q
/// the mean, variance and mean square of the weather's lognormal factor and n traps.
#[test]
fn weather_moves_site_years_as_the_lognormal_says() {
    let mut s = still_world();
    (s.plan.first_week, s.plan.weeks, s.plan.traps_per_site) = (18, 4, 3);
    let t = &mut s.premises.target;
    t.catch_per_trap_week = invented(6.0);
    t.dispersion_k = invented(0.7);
    t.season_width_weeks = invented(2.0);
    s.premises.departures.shared_week_sd = invented(0.4);
    let s = checked(s);
    let totals = surveys(&s, 40_000, |g, d| {
        (d.counts[9], g.season_weights().to_vec())
    });
    let w = totals[0].1.clone();
    let totals: Vec<f64> = totals.into_iter().map(|t| t.0).collect();
    let (sum, squares) = (w.iter().sum::<f64>(), w.iter().map(|w| w * w).sum::<f64>());
    let (m, q) = ((0.08f64).exp(), (0.32f64).exp());
    let expected = 18.0 * sum * m;
    has_mean("total", &totals, expected);
    let want = expected + 18.0 * 18.0 * squares * (q - m * m) + 36.0 * 3.0 * squares * q / 0.7;
    let n = totals.len() as f64;
    let centre = mean(&totals);
    let fourth = totals.iter().map(|t| (t - centre).powi(4)).sum::<f64>() / n;
    let got = variance(&totals);
    let se = ((fourth - got * got) / n).sqrt();
    assert!((got - want).abs() < 4.0 * se, "{got}, {want} +- {se}");
}

/// Two traps with SD .5: the same points every year give their site one effect for good, new ones another each year.
#[test]
fn new_points_are_new_each_year() {
    let mut s = still_world();
    s.plan.traps_per_site = 2;
    s.premises.target.trap_sd = invented(0.5);
    let within = |all: &[Vec<f64>]| -> Vec<f64> { all.iter().map(|v| v[3] - v[4]).collect() };
    let same = logs(s.clone(), 3000);
    has_variance("same points", &within(&same), CHANCE);
    s.plan.trap_points = TrapPoints::NewEachYear;
    let new = logs(s.clone(), 3000);
    has_correlation("years", &at(&new, 3), &at(&new, 4), 0.0);
    // The first year of either has the law of one draw of points.
    has_correlation("sites", &at(&new, 3), &at(&new, 9), 0.0);
    let counts = surveys(&checked(s), 20_000, |_, d| d.counts[3]);
    let (m, v) = (0.125f64.exp(), 0.25f64.exp() * 0.25f64.exp_m1());
    has_mean("mean of two lognormal points", &counts, 20_000.0 * m);
    let got = variance(&counts);
    let want = 2e8 * v + 20_000.0 * m;
    // The lognormal's heavy tail: SE from the sample's own fourth moment.
    let centre = mean(&counts);
    let fourth = mean(
        &counts
            .iter()
            .map(|c| (c - centre).powi(4))
            .collect::<Vec<_>>(),
    );
    let se = ((fourth - got * got) / counts.len() as f64).sqrt();
    assert!((got - want).abs() < 4.0 * se, "{got}, {want} +- {se}");
}
