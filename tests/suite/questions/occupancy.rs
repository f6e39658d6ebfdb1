//! Occupied sites, against published power and against simulation.

use leastcatch_tests::small::{answer, by, checked, demo, invented, without_spread};
use models::occupancy::precision::SamplingDesign;
use models::occupancy::trend::{OccupancySeason, SeasonalDetection, trend_variance};
use survey::closed_form::{expected_toll, preview, variances_at};
use survey::scenario::{
    Detection, Effect, OccupancyChange, Scenario, Scheme, Seasons, Test, log_odds, share_of,
};

/// Sites from one share to another in two years that are independent, visited so many weeks with this chance of
/// detection each: one trap, Poisson catches, the same season in all weeks.
fn two_years(from: f64, to: f64, p: f64, visits: u32, sites: u32) -> Scenario {
    let mut s = demo("mountain-occupancy.json");
    without_spread(&mut s);
    s.premises.bycatch.clear();
    s.question.effect = Effect::Occupancy(OccupancyChange {
        to_share: to,
        over_years: 1.0,
    });
    let occupancy = s.premises.occupancy.as_mut().unwrap();
    occupancy.occupied = invented(from);
    // An occupied site is then as likely to be so again as an empty one.
    occupancy.left_each_year = invented(1.0 - to);
    let t = &mut s.premises.target;
    t.catch_per_trap_week = invented(-(1.0 - p).ln());
    t.dispersion_k = invented(1e5);
    // As wide a season as there is, at whose peak the weeks are.
    t.season_width_weeks = invented(60.0);
    s.plan.exposure_days = 7.0;
    (s.plan.sites, s.plan.weeks, s.plan.first_week) = (sites, visits, 29);
    s.plan.visits.as_mut().unwrap().scheme = Scheme::Standard;
    s.analysis.test = Test::Z;
    s
}

/// Power of a Wald test of a difference, level .05, at S = 50, 100 and 200 sites in each year: Guillera-Arroita &
/// Lahoz-Monfort 2012 (Methods Ecol. Evol. 3:860-869). One year in the world without a change has the first share too,
/// so that the standard error is the same; and the same by simulation, where the formula is known to be a little hopeful
/// for few sites.
#[test]
fn published_power() {
    for (from, to, p, visits, at) in [
        (0.8, 0.56, 0.5, 3, [0.501_778, 0.793_320, 0.975_504]),
        (0.8, 0.4, 0.5, 3, [0.922_291, 0.997_606, 0.999_999]),
        (0.6, 0.3, 0.3, 3, [0.340_217, 0.590_386, 0.871_810]),
        (0.6, 0.3, 0.5, 5, [0.861_544, 0.990_601, 0.999_982]),
        (0.4, 0.2, 0.3, 5, [0.438_578, 0.723_394, 0.950_569]),
        (0.2, 0.1, 0.2, 5, [0.145_602, 0.244_400, 0.432_620]),
    ] {
        for (sites, power) in [50, 100, 200].into_iter().zip(at) {
            let s = checked(two_years(from, to, p, visits, sites));
            let told = preview(&s, &s.plan);
            // Weeks beside the peak of so wide a season catch .0001 less.
            assert!(
                (told.power - power).abs() < 4e-4,
                "{from} {to} {sites}: {told:?} {power}"
            );
            if sites != 100 {
                continue;
            }
            let a = answer(&s, 600);
            let (found, _) = by(&a, "z");
            // Without a change years are independent when as many sites are left as are empty.
            let mut still = s.clone().into_inner();
            let occupancy = still.premises.occupancy.as_mut().unwrap();
            occupancy.left_each_year = invented(1.0 - from);
            let a = answer(&checked(still), 600);
            let (_, alarms) = by(&a, "z");
            let error = 3.0 * (power * (1.0 - power) / 600.0f64).sqrt();
            assert!(found < power + error + 0.02, "{from} {to}: {found} {power}");
            assert!(found > power - error - 0.09, "{from} {to}: {found} {power}");
            assert!(alarms < 0.05 + 0.03, "{from} {to}: {alarms}");
            let (_, by_ratio) = by(&a, "likelihood_ratio");
            assert!(by_ratio < 0.05 + 0.03, "{from} {to}: {by_ratio}");
        }
    }
}

/// Sites that stay occupied: the two years' shares go together, which the analysis does not know.
#[test]
fn the_same_sites_again() {
    let mut s = two_years(0.6, 0.4, 0.5, 5, 120);
    s.premises.occupancy.as_mut().unwrap().left_each_year = invented(0.0);
    let s = checked(s);
    let v = variances_at(&s, &s.plan, 0.2);
    assert!(v.truth < 0.7 * v.believed, "{v:?}");
    let (a, p) = (answer(&s, 1000), preview(&s, &s.plan));
    assert!(
        (a.estimate_sd / p.se - 1.0).abs() < 0.08,
        "{} {}",
        a.estimate_sd,
        p.se
    );
    assert!(
        (a.power.estimate - p.power).abs() < 0.06,
        "{} {p:?}",
        a.power.estimate
    );
    assert!(
        a.false_alarm.high < 0.03 && p.false_alarm < 0.03,
        "{:?} {p:?}",
        a.false_alarm
    );
}

/// A trend of the log odds over independent years, against the expected information.
#[test]
fn trend_by_information_and_by_simulation() {
    let (from, to, years) = (0.7, 0.4, 8u32);
    let mut s = two_years(from, to, 0.4, 4, 60);
    s.plan.visits.as_mut().unwrap().seasons = Seasons::EveryYear;
    s.plan.years = years;
    s.question.effect = Effect::Occupancy(OccupancyChange {
        to_share: to,
        over_years: f64::from(years - 1),
    });
    // About independent: the share left is that of the empty sites, in the middle.
    s.premises.occupancy.as_mut().unwrap().left_each_year = invented(0.45);
    let s = checked(s);
    let slope = (log_odds(to) - log_odds(from)) / f64::from(years - 1);
    let season = |y| OccupancySeason {
        psi: share_of(log_odds(from) + slope * f64::from(y)),
        p: 0.4,
        visits: 4,
        sites: 60.0,
    };
    let seasons: Vec<_> = (0..years).map(season).collect();
    let exact = trend_variance(&seasons, SamplingDesign::Standard, SeasonalDetection::Own).unwrap();
    let v = variances_at(&s, &s.plan, slope.abs());
    assert!((v.believed / exact - 1.0).abs() < 2e-3, "{v:?} {exact}");
    let (a, p) = (answer(&s, 600), preview(&s, &s.plan));
    assert!(
        (a.power.estimate - p.power).abs() < 0.08,
        "{} {p:?}",
        a.power.estimate
    );
    assert!(
        (a.estimate_sd / p.se - 1.0).abs() < 0.1,
        "{} {}",
        a.estimate_sd,
        p.se
    );
    assert!(a.fits.failed < 12);
}

/// Every scheme, with all spreads: the toll as expected, closing spares lives, the preview near the simulation.
#[test]
fn schemes_and_what_they_spare() {
    let run = |scheme: Scheme| {
        let mut s = demo("mountain-occupancy.json");
        s.plan.visits.as_mut().unwrap().scheme = scheme;
        s.plan.sites = 150;
        let s = checked(s);
        let (a, p) = (answer(&s, 600), preview(&s, &s.plan));
        let toll = a.toll.as_ref().unwrap();
        let expected = expected_toll(&s, &s.plan);
        for (got, want) in [
            (toll.target.mean, expected.target),
            (toll.bycatch[0].mean, expected.bycatch[0]),
            (toll.bycatch[1].mean, expected.bycatch[1]),
        ] {
            assert!((got / want - 1.0).abs() < 0.03, "{scheme:?}: {got} {want}");
        }
        assert!(
            (a.power.estimate - p.power).abs() < 0.12,
            "{scheme:?}: {} {p:?}",
            a.power.estimate
        );
        let told = a.occupancy.unwrap();
        assert!(told.detection_per_visit < told.detection_per_year);
        assert_eq!(told.spared.is_some(), scheme != Scheme::Standard);
        if let Some(spared) = told.spared {
            let by_toll = told.toll_of_all_weeks - expected.total();
            assert!((spared - by_toll).abs() < 1e-6 * by_toll);
        }
        (expected.total(), a.power.estimate)
    };
    let (standard, removal, conditional) = (
        run(Scheme::Standard),
        run(Scheme::Removal),
        run(Scheme::Conditional),
    );
    assert!(removal.0 < 0.9 * standard.0 && conditional.0 < 0.6 * standard.0);
    assert!(standard.1 > removal.1);
}

/// Detection that varies between sites: the analysis that allows for it finds more sites than one that does not, and each
/// way of taking detection is one of its own.
#[test]
fn detection_that_varies() {
    let run = |detection: Detection| {
        let mut s = demo("mountain-occupancy.json");
        s.premises.target.site_sd = invented(1.2);
        s.plan.visits.as_mut().unwrap().scheme = Scheme::Standard;
        (s.plan.sites, s.plan.weeks) = (150, 8);
        s.analysis.detection = detection;
        answer(&checked(s), 150)
    };
    let each = run(Detection::EachYear);
    let constant = run(Detection::Constant);
    let varying = run(Detection::Varying);
    assert_ne!(each.result_digest, constant.result_digest);
    // A difference of shares that are both seen too small is seen too small.
    assert!(
        varying.bias.abs() < each.bias.abs(),
        "{} {}",
        varying.bias,
        each.bias
    );
    for a in [&each, &constant, &varying] {
        assert!(a.fits.failed < 15, "{:?}", a.fits);
    }
}

/// The smallest change is looked for up to the ends of the range of shares: asked for more, it is the same.
#[test]
fn smallest_change_near_the_end() {
    let smallest = |to: f64| {
        let mut s = two_years(0.4, to, 0.6, 5, 60);
        s.premises.occupancy.as_mut().unwrap().left_each_year = invented(0.7);
        let s = checked(s);
        preview(&s, &s.plan).smallest_change
    };
    let (a, b) = (smallest(0.3), smallest(0.02));
    assert!(a > 0.01 && a < 0.4, "{a}");
    // How far the statistic is from what the test takes it for is that of the stated change.
    assert!((a - b).abs() < 0.01, "{a} {b}");
    // Nothing is ever caught: no change is found, and no number is told that is none.
    let mut s = two_years(0.4, 0.2, 0.5, 3, 60);
    s.plan.first_week = 1;
    s.premises.target.season_width_weeks = invented(0.3);
    let s = checked(s);
    let told = preview(&s, &s.plan);
    assert!(
        told.power.is_finite() && told.smallest_change.is_nan(),
        "{told:?}"
    );
}
