//! A season that moves under fixed weeks, and weeks that are not in a row: the simulation against hand-worked numbers and
//! the closed forms.

use crate::support::{
    at, has_mean, has_variance, invented, logs, mean, still_world, surveys, variance,
};
use leastcatch_tests::scenarios::{checked, set_b};
use survey::closed_form::{drift_towards, expected_toll, preview};
use survey::evaluate::Evaluator;
use survey::generator::{Drawn, Generator, World};
use survey::scenario::{Bycatch, Class, Scenario, Test};

/// One week at the peak of week 20, width 4: the season 21 days a decade earlier is .3 weeks a year earlier, so that year
/// y catches exp(-(.3 y)^2/32) of the first.
#[test]
fn a_trend_of_the_season_by_hand() {
    let mut s = still_world();
    s.premises.departures.season_trend = invented(21.0);
    let drawn = logs(s, 400);
    for y in 0..6usize {
        let want = 10_000f64.ln() - (0.3 * y as f64).powi(2) / 32.0;
        has_mean(&format!("year {y}"), &at(&drawn, y), want - 0.5e-4 - 0.5e-5);
    }
}

/// A shift of z weeks (SD 1) away from a peak 4 weeks later, width 4: the log catch is -(z - 4)^2/32 or so, with mean
/// -(16 + 1)/32 and variance (4 * 16 + 2)/32^2; sites of a year share it, years do not.
#[test]
fn shifts_from_year_to_year_by_hand() {
    let mut s = still_world();
    s.premises.target.season_peak_week = invented(24.0);
    s.premises.departures.season_shift_sd = invented(1.0);
    let drawn = logs(s, 3000);
    let (first, second) = (at(&drawn, 0), at(&drawn, 1));
    has_mean("mean", &first, 10_000f64.ln() - 17.0 / 32.0);
    let want = 66.0 / 1024.0;
    // Not quite normal (a square), so twice the SE of a normal variance.
    assert!(
        (variance(&first) / want - 1.0).abs() < 0.25,
        "{}",
        variance(&first)
    );
    let apart: Vec<f64> = first
        .iter()
        .zip(at(&drawn, 6))
        .map(|(a, b)| a - b)
        .collect();
    has_variance(
        "two sites of a year",
        &apart,
        2.0 * crate::support::CHANCE * 1.7,
    );
    let years: Vec<f64> = first.iter().zip(&second).map(|(a, b)| a - b).collect();
    assert!((variance(&years) / (2.0 * want) - 1.0).abs() < 0.25);
}

fn trapped_late() -> Scenario {
    let mut s = set_b();
    (s.plan.sites, s.plan.years) = (12, 8);
    s.plan = s.plan.in_weeks(&[20, 21, 24]);
    s.premises.bycatch = vec![Bycatch {
        name: "spiders".into(),
        class: Class::Arthropod,
        catch_per_trap_week: invented(5.0),
        dispersion_k: invented(1.5),
        site_sd: invented(0.2),
        year_sd: invented(0.1),
        season_peak_week: invented(27.0),
        season_width_weeks: invented(5.0),
    }];
    let d = &mut s.premises.departures;
    d.season_trend = invented(14.0);
    d.season_shift_sd = invented(0.8);
    s
}

/// Target and by-catch move together: drawn kills against the closed form's.
#[test]
fn expected_toll_knows_the_season() {
    let s = checked(trapped_late());
    let generator = Generator::new(&s, &s.plan);
    let mut drawn = Drawn::default();
    let (mut target, mut bycatch) = (Vec::new(), Vec::new());
    for i in 0..4000 {
        generator.draw(6, i, World::Change, true, &mut drawn);
        target.push(drawn.killed.iter().sum());
        bycatch.push(drawn.bycatch.iter().sum());
    }
    let want = expected_toll(&s, &s.plan);
    has_mean("target", &target, want.target);
    has_mean("by-catch", &bycatch, want.bycatch[0]);
    // Without the moves it would be another number.
    let mut still = s.clone().into_inner();
    still.premises.departures = Default::default();
    let still = expected_toll(&checked(still), &s.plan);
    assert!(
        (want.target / still.target - 1.0).abs() > 0.05,
        "{want:?} {still:?}"
    );
}

/// The false trend: mean estimate in the world without change, and false alarms of the t test that knows nothing of it,
/// against the closed form.
#[test]
fn a_moving_season_is_a_false_trend() {
    let mut s = trapped_late();
    s.premises.bycatch.clear();
    s.premises.target.year_sd = invented(0.05);
    s.analysis.test = Test::T;
    s.premises.departures.season_trend = invented(40.0);
    s.premises.departures.season_shift_sd = invented(0.3);
    let s = checked(s);
    let n = 400;
    let mut evaluator = Evaluator::new(&s, &s.plan, 17).unwrap();
    let found: Vec<_> = (0..n)
        .map(|i| evaluator.run(i, World::Still).unwrap().finding)
        .filter(|f| f.estimate.is_finite())
        .collect();
    let estimates: Vec<f64> = found.iter().map(|f| f.estimate).collect();
    let want = -drift_towards(&s, &s.plan);
    let got = mean(&estimates);
    assert!(want.abs() > 0.03, "{want}");
    let se = (variance(&estimates) / estimates.len() as f64).sqrt();
    // The counts' weights differ between years: a tenth of it.
    assert!(
        (got - want).abs() < 4.0 * se + 0.1 * want.abs(),
        "{got} {want} +- {se}"
    );
    let p = preview(&s, &s.plan);
    let critical = numerics::special::student::quantile(0.975, 6.0);
    let alarms = found
        .iter()
        .filter(|f| (f.estimate / f.se).abs() > critical)
        .count();
    let alarms = alarms as f64 / found.len() as f64;
    assert!(p.false_alarm > 0.15, "{p:?}");
    assert!((alarms - p.false_alarm).abs() < 0.1, "{alarms} {p:?}");
}

/// Weeks that are not in a row: each catches by its own place in the season, and a run says the same as its weeks.
#[test]
fn chosen_weeks_are_caught_in() {
    let mut s = still_world();
    s.plan = s.plan.in_weeks(&[18, 22, 23]);
    let all = surveys(&checked(s.clone()), 400, |_, d| d.counts[0].ln());
    let weight = |off: f64| (-0.5 * (off / 4.0) * (off / 4.0)).exp();
    let sum = 2.0 * weight(2.0) + weight(3.0);
    has_mean("catch", &all, (10_000.0 * sum).ln() - 0.3e-4);
    s.plan = s.plan.in_weeks(&[18, 19, 20]);
    assert_eq!(
        (s.plan.first_week, s.plan.weeks, &s.plan.chosen_weeks),
        (18, 3, &None)
    );
    let run = checked(s.clone());
    s.plan.chosen_weeks = Some(vec![18, 19, 20]);
    let chosen = checked(s);
    let counts = |s| surveys(s, 3, |_, d: &Drawn| d.counts.clone());
    assert_eq!(counts(&run), counts(&chosen));
}
