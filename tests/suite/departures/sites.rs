//! Sites that change by themselves, and sites that resemble their neighbours.

use crate::support::{
    CHANCE, at, has_correlation, has_mean, has_variance, invented, logs, still_world,
};
use leastcatch_tests::scenarios::checked;
use survey::generator::{Generator, site_places};

#[test]
fn own_slopes_count_from_the_first_year() {
    let mut s = still_world();
    s.premises.departures.site_slope_sd = invented(0.05);
    let all = logs(s, 4000);
    let risen = |site: usize, years: usize| -> Vec<f64> {
        all.iter()
            .map(|v| v[site * 6 + years] - v[site * 6])
            .collect()
    };
    for years in [1, 5] {
        let squared = (0.05 * years as f64) * (0.05 * years as f64);
        has_variance("rise", &risen(1, years), squared + 2.0 * CHANCE);
        has_mean("rise", &risen(1, years), 0.0);
    }
    has_variance("first year", &at(&all, 6), CHANCE);
    has_correlation("other site", &risen(0, 5), &risen(1, 5), 0.0);
    let straight = 0.05 * 0.05 * 2.0 * 5.0 + CHANCE;
    let (two, five) = (
        0.05 * 0.05 * 4.0 + 2.0 * CHANCE,
        0.05 * 0.05 * 25.0 + 2.0 * CHANCE,
    );
    let want = straight / (two * five).sqrt();
    has_correlation("one line", &risen(2, 2), &risen(2, 5), want);
}

/// Sites on a square of 4 x 4 km stand 2 km apart on the grid: 0 and 1 are neighbours, 0 and 3 across.
#[test]
fn correlation_falls_off_with_distance() {
    for which in 0..3 {
        let mut s = still_world();
        let d = &mut s.premises.departures;
        d.correlation_length_km = invented(3.0);
        d.region_km2 = invented(16.0);
        let sd = match which {
            0 => &mut s.premises.target.site_sd,
            1 => &mut s.premises.target.site_year_sd,
            _ => &mut s.premises.departures.site_slope_sd,
        };
        *sd = invented(0.4);
        let all = logs(s, 4000);
        let year = if which == 2 { 1 } else { 0 };
        let site = |s: usize| at(&all, s * 6 + year);
        let thin = 0.16 / (0.16 + CHANCE);
        let what = ["site", "site's own year", "site's own slope"][which];
        for i in 0..4 {
            has_variance(what, &site(i), 0.16 + CHANCE);
        }
        let (near, across) = ((-2.0f64 / 3.0).exp(), (-8f64.sqrt() / 3.0).exp());
        has_correlation(what, &site(0), &site(1), near * thin);
        has_correlation(what, &site(1), &site(3), near * thin);
        has_correlation(what, &site(0), &site(3), across * thin);
        has_correlation(what, &site(1), &site(2), across * thin);
        if which == 1 {
            has_correlation("other year", &site(0), &at(&all, 3), 0.0);
        }
    }
}

#[test]
fn more_sites_stand_closer() {
    let mut s = still_world();
    s.premises.departures.correlation_length_km = invented(3.0);
    s.premises.departures.region_km2 = invented(16.0);
    for (sites, gap) in [(4u32, 2.0), (16, 1.0), (5, 4.0 / 5f64.sqrt())] {
        s.plan.sites = sites;
        let s = checked(s.clone());
        let places = site_places(&s, &s.plan).unwrap();
        assert!((places[1].0 - places[0].0 - gap).abs() < 1e-12);
        let generator = Generator::new(&s, &s.plan);
        let d = generator.site_distances().unwrap();
        assert_eq!(d.len(), (sites * sites) as usize);
        assert!((d[1] - gap).abs() < 1e-12 && d[0] == 0.0);
    }
    s.premises.departures.correlation_length_km = invented(0.0);
    let s = checked(s);
    assert!(Generator::new(&s, &s.plan).site_distances().is_none());
}
