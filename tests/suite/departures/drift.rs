//! Traps that catch more or less by themselves, and the toll that follows.

use crate::support::{has_mean, invented, mean, still_world, surveys, variance};
use leastcatch_tests::scenarios::{checked, set_b};
use survey::closed_form::expected_toll;
use survey::generator::{Drawn, Generator, World};

#[test]
fn drift_changes_counts_and_kills_where_nothing_changes() {
    for percent in [-6.0, 4.0] {
        let mut s = still_world();
        s.premises.target.catch_per_trap_week = invented(50.0);
        s.premises.departures.detection_drift_percent = invented(percent);
        s.premises.trap_loss = invented(0.3);
        let s = checked(s);
        let all = surveys(&s, 4000, |_, d| {
            let counted: f64 = (0..4).map(|s| d.counts[s * 6 + 5]).sum();
            (counted, d.killed[0], d.killed[5])
        });
        let grown = (1.0f64 + percent / 100.0).powi(5);
        let list = |f: fn(&(f64, f64, f64)) -> f64| all.iter().map(f).collect::<Vec<_>>();
        has_mean("counted", &list(|a| a.0), 4.0 * 0.7 * 50.0 * grown);
        has_mean("killed, first year", &list(|a| a.1), 4.0 * 50.0);
        has_mean("killed, last year", &list(|a| a.2), 4.0 * 50.0 * grown);
    }
}

/// The closed form's toll with every departure that moves it, against drawn kills in the world of change.
#[test]
fn expected_toll_knows_departures() {
    let mut s = set_b();
    (s.plan.sites, s.plan.years) = (6, 8);
    (s.plan.first_week, s.plan.weeks) = (18, 4);
    s.premises.target.site_sd = invented(0.3);
    s.premises.trap_loss = invented(0.2);
    let d = &mut s.premises.departures;
    d.site_slope_sd = invented(0.06);
    d.shared_week_sd = invented(0.4);
    d.detection_drift_percent = invented(3.0);
    d.year_autocorrelation = invented(0.5);
    d.loss_follows_catch = invented(1.0);
    d.correlation_length_km = invented(5.0);
    d.region_km2 = invented(100.0);
    let s = checked(s);
    let generator = Generator::new(&s, &s.plan);
    let mut drawn = Drawn::default();
    let totals: Vec<f64> = (0..20_000)
        .map(|i| {
            generator.draw(6, i, World::Change, false, &mut drawn);
            drawn.killed.iter().sum()
        })
        .collect();
    let want = expected_toll(&s, &s.plan).target;
    let se = (variance(&totals) / totals.len() as f64).sqrt();
    let got = mean(&totals);
    assert!((got - want).abs() < 4.0 * se, "{got}, {want} +- {se}");
}
