//! Losses that follow the catch.

use crate::support::{has_mean, invented, still_world, surveys};
use leastcatch_tests::scenarios::checked;
use survey::generator::{Drawn, Generator, Weekly, World};

/// Without gamma scatter the odds follow the season: .25 at the peak (loss .2), times weight^power elsewhere.
#[test]
fn odds_follow_the_season() {
    for power in [1.0, 2.0, -0.5] {
        let mut s = still_world();
        (s.plan.first_week, s.plan.weeks, s.plan.traps_per_site) = (18, 5, 2);
        s.premises.target.season_width_weeks = invented(1.5);
        s.premises.trap_loss = invented(0.2);
        s.premises.departures.loss_follows_catch = invented(power);
        let s = checked(s);
        let generator = Generator::new(&s, &s.plan);
        let (mut drawn, mut weekly) = (Drawn::default(), Weekly::default());
        let n = 2000;
        let mut lost = [0.0; 5];
        for i in 0..n {
            generator.draw_weekly(33, i, World::Still, false, &mut drawn, &mut weekly);
            for (row, effort) in weekly.effort.iter().enumerate() {
                lost[row % 5] += generator.weekly_effort() - effort;
            }
        }
        let trials = n as f64 * 24.0 * 2.0;
        for (w, weight) in generator.season_weights().iter().enumerate() {
            let odds = 0.25 * weight.powf(power);
            let want = odds / (1.0 + odds);
            let se = (want * (1.0 - want) / trials).sqrt();
            let got = lost[w] / trials;
            assert!(
                (got - want).abs() < 4.0 * se,
                "week {w}, power {power}: {got}, {want} +- {se}"
            );
        }
    }
}

/// With k = 1 the gamma number is exponential: share lost and mean of what is left by Simpson's rule; kills are whole.
#[test]
fn large_catches_are_lost_more_often() {
    let (power, loss) = (1.5, 0.2);
    let mut s = still_world();
    s.premises.target.catch_per_trap_week = invented(12.0);
    s.premises.target.dispersion_k = invented(1.0);
    s.premises.trap_loss = invented(loss);
    s.premises.departures.loss_follows_catch = invented(power);
    let s = checked(s);
    let share = |g: f64| {
        let odds = loss / (1.0 - loss) * g.powf(power);
        odds / (1.0 + odds)
    };
    let integral = |f: &dyn Fn(f64) -> f64| {
        let (n, h) = (40_000, 0.001);
        let weight = |i: usize| match i {
            0 => 1.0,
            _ if i == n => 1.0,
            _ if i % 2 == 1 => 4.0,
            _ => 2.0,
        };
        (0..=n)
            .map(|i| weight(i) * f(i as f64 * h) * (-(i as f64) * h).exp())
            .sum::<f64>()
            * h
            / 3.0
    };
    let all = surveys(&s, 20_000, |_, d| (d.effort[8], d.counts[8], d.killed[2]));
    let list = |f: fn(&(f64, f64, f64)) -> f64| all.iter().map(f).collect::<Vec<_>>();
    has_mean("left", &list(|a| a.0), 1.0 - integral(&share));
    let counted = 12.0 * integral(&|g| g * (1.0 - share(g)));
    has_mean("counted", &list(|a| a.1), counted);
    has_mean("killed", &list(|a| a.2), 48.0);
    // What is left is a poorer sample than what was set.
    assert!(counted / (1.0 - integral(&share)) < 0.85 * 12.0);
}

/// Odds that do not change are losses at random, one by one: the same mean as in the plain model.
#[test]
fn a_faint_dependence_is_nearly_none() {
    let mut s = still_world();
    s.premises.target.dispersion_k = invented(0.01);
    s.premises.trap_loss = invented(0.3);
    s.premises.departures.loss_follows_catch = invented(1e-9);
    let effort = surveys(&checked(s), 20_000, |_, d| d.effort[3]);
    has_mean("left", &effort, 0.7);
}
