//! Years that are correlated with the next.

use crate::support::{
    CHANCE, at, has_correlation, has_variance, invented, logs, still_world, under,
};
use leastcatch_tests::scenarios::checked;
use survey::generator::{Drawn, Generator, World};

#[test]
fn year_effects_are_stationary_and_autoregressive() {
    for r in [0.6, -0.4] {
        let mut s = still_world();
        s.premises.target.year_sd = invented(0.3);
        s.premises.departures.year_autocorrelation = invented(r);
        let all = logs(s, 4000);
        let years: Vec<Vec<f64>> = (0..6).map(|y| at(&all, y)).collect();
        for (y, year) in years.iter().enumerate() {
            has_variance(&format!("year {y}, r {r}"), year, 0.09 + CHANCE);
        }
        // Chance of .01 thins correlations by a thousandth.
        let thin = 0.09 / (0.09 + CHANCE);
        for y in 0..5 {
            has_correlation("next year", &years[y], &years[y + 1], r * thin);
        }
        has_correlation("two years on", &years[1], &years[3], r * r * thin);
        // Shared by all sites.
        has_correlation("other site", &years[4], &at(&all, 6 + 4), thin);
    }
}

/// A survey of fewer sites and years, weeks around the same middle, is part of the longer one.
#[test]
fn smaller_plans_are_part_of_larger_ones() {
    let mut s = still_world();
    let t = &mut s.premises.target;
    t.year_sd = invented(0.2);
    t.site_sd = invented(0.5);
    t.trap_sd = invented(0.3);
    t.catch_per_trap_week = invented(5.0);
    t.dispersion_k = invented(1.0);
    s.plan.trap_points = survey::scenario::TrapPoints::NewEachYear;
    let d = &mut s.premises.departures;
    d.year_autocorrelation = invented(0.5);
    d.site_slope_sd = invented(0.05);
    d.shared_week_sd = invented(0.4);
    d.detection_drift_percent = invented(2.0);
    d.loss_follows_catch = invented(1.0);
    s.premises.trap_loss = invented(0.2);
    let s = checked(s);
    let larger = under(&s, |p| (p.sites, p.years) = (7, 9));
    let (small, large) = (Generator::new(&s, &s.plan), Generator::new(&s, &larger));
    let (mut a, mut b) = (Drawn::default(), Drawn::default());
    for i in 0..50 {
        small.draw(9, i, World::Change, false, &mut a);
        large.draw(9, i, World::Change, false, &mut b);
        for site in 0..4 {
            for year in 0..6 {
                assert_eq!(a.counts[site * 6 + year], b.counts[site * 9 + year]);
            }
        }
    }
}
