//! Closed forms of trends under departures against simulated surveys.

use crate::support::{invented, mean, variance};
use leastcatch_tests::scenarios::{checked, set_b};
use leastcatch_tests::simulate::{of_change, replicates};
use survey::closed_form::{effect_size, preview, variances_at};
use survey::generator::{Drawn, Generator, World};
use survey::index_trend::index_trend;
use survey::scenario::{Checked, Departures, Likelihood, Scenario, TrapPoints};
use survey::summary::{Evidence, summarise};

/// 20 sites, 10 years, two traps, four weeks: catches large enough for the log of a count to be nearly linear.
fn base() -> Scenario {
    let mut s = set_b();
    (s.plan.sites, s.plan.traps_per_site) = (20, 2);
    (s.plan.first_week, s.plan.weeks) = (18, 4);
    let t = &mut s.premises.target;
    t.catch_per_trap_week = invented(15.0);
    t.site_year_sd = invented(0.3);
    t.trap_sd = invented(0.3);
    s.analysis.likelihood = Likelihood::Restricted;
    s
}

type Change = fn(&mut Scenario);

const DEPARTURES: [(&str, Change); 8] = [
    ("none", |_| {}),
    ("correlated years", |s| {
        s.premises.departures.year_autocorrelation = invented(0.5);
    }),
    ("alternating years", |s| {
        s.premises.departures.year_autocorrelation = invented(-0.4);
    }),
    ("own slopes", |s| {
        s.premises.departures.site_slope_sd = invented(0.08);
    }),
    ("correlated sites", |s| {
        let d = &mut s.premises.departures;
        d.correlation_length_km = invented(6.0);
        d.region_km2 = invented(100.0);
        d.site_slope_sd = invented(0.05);
        s.premises.target.site_year_sd = invented(0.5);
    }),
    ("shared weeks", |s| {
        s.premises.departures.shared_week_sd = invented(0.6);
        s.premises.target.year_sd = invented(0.05);
    }),
    ("new trap points", |s| {
        s.plan.trap_points = TrapPoints::NewEachYear;
        s.premises.target.trap_sd = invented(0.9);
        s.premises.target.year_sd = invented(0.1);
    }),
    ("drift", |s| {
        s.premises.departures.detection_drift_percent = invented(3.0);
    }),
];

/// Mean slope, its SD and the root mean square of its standard errors, by the annual-index regression.
fn index_regression(s: &Checked, n: u64) -> (f64, f64, f64) {
    let generator = Generator::new(s, &s.plan);
    let mut drawn = Drawn::default();
    let (mut slopes, mut squares) = (Vec::new(), Vec::new());
    for i in 0..n {
        generator.draw(41, i, World::Change, false, &mut drawn);
        let trend = index_trend(&drawn, generator.years()).unwrap();
        slopes.push(trend.slope);
        squares.push(trend.se * trend.se);
    }
    (
        mean(&slopes),
        variance(&slopes).sqrt(),
        mean(&squares).sqrt(),
    )
}

/// SD of the estimate and standard error within Monte Carlo error (four SE: 4/sqrt(2 n) of an SD, about half as much
/// again of standard errors from 8 df) and 3 % for the delta method.
#[test]
fn slopes_scatter_as_the_closed_form_says() {
    let n = 2000;
    for (name, change) in DEPARTURES {
        let mut s = base();
        change(&mut s);
        let s = checked(s);
        let (slope, sd, se) = index_regression(&s, n);
        let v = variances_at(&s, &s.plan, effect_size(&s));
        let bound = 4.0 / (2.0 * n as f64).sqrt() + 0.03;
        let (truth, believed) = (v.truth.sqrt(), v.believed.sqrt());
        assert!((sd / truth - 1.0).abs() < bound, "{name}: SD {sd} {truth}");
        assert!(
            (se / believed - 1.0).abs() < bound,
            "{name}: SE {se} {believed}"
        );
        let want = -0.04 + s.premises.departures.log_drift();
        let off = (slope - want).abs();
        // ln(count + 1/2) leans by a few thousandths of a standard error.
        assert!(
            off < 4.0 * sd / (n as f64).sqrt() + 5e-4,
            "{name}: slope {slope} {want}"
        );
    }
}

/// Each departure moves the power against the same premises without it, and the right ones raise false alarms.
#[test]
fn departures_move_the_closed_form() {
    for (name, change) in &DEPARTURES[1..] {
        let mut s = base();
        change(&mut s);
        let mut plain = s.clone();
        plain.premises.departures = Departures::default();
        plain.plan.trap_points = TrapPoints::Same;
        let (s, plain) = (checked(s), checked(plain));
        let (after, before) = (preview(&s, &s.plan), preview(&plain, &plain.plan));
        assert_eq!(before.false_alarm, 0.05);
        assert!(
            (after.power - before.power).abs() > 0.02,
            "{name}: {after:?} {before:?}"
        );
        let alarms = [
            "correlated years",
            "own slopes",
            "correlated sites",
            "drift",
        ];
        assert_eq!(
            after.false_alarm > 0.06,
            alarms.contains(name),
            "{name}: {after:?}"
        );
    }
}

/// The planned analysis, which is told of no departure: power and false alarms against the preview, within four
/// Monte Carlo SE and .04.
#[test]
fn previews_foresee_what_an_untold_analysis_does() {
    let n = 500;
    for (name, change) in DEPARTURES {
        let mut s = base();
        change(&mut s);
        let s = checked(s);
        let (change, still) = replicates(&s, 43, n);
        let told = summarise(&s, &s.plan, &Evidence::whole(&change, &still));
        let p = preview(&s, &s.plan);
        for (what, got, want) in [
            ("power", told.power.estimate, p.power),
            ("false alarms", told.false_alarm.estimate, p.false_alarm),
        ] {
            let bound = 4.0 * (want * (1.0 - want) / n as f64).sqrt() + 0.04;
            assert!((got - want).abs() < bound, "{name}, {what}: {got} {want}");
        }
    }
}

fn quantile(values: &[f64], share: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    numerics::quantile::of_sorted(&sorted, share)
}

/// The moths' range shift: SD of the estimates, from their quartiles since a ratio has heavy tails (SE 1.17/sqrt(n) of
/// it), and median standard error, within four SE of the simulation and 8 % for the delta method of a ratio.
#[test]
fn range_shifts_scatter_as_the_closed_form_says() {
    let text = include_str!("../../../demo-data/mountain-moths.json");
    let n = 1000;
    let changes: [(&str, Change); 5] = [
        ("none", |_| {}),
        ("own slopes", |s| {
            s.premises.departures.site_slope_sd = invented(0.15);
        }),
        ("correlated sites", |s| {
            let d = &mut s.premises.departures;
            d.correlation_length_km = invented(10.0);
            d.region_km2 = invented(400.0);
            s.premises.target.site_year_sd = invented(0.6);
        }),
        ("new trap points", |s| {
            s.plan.trap_points = TrapPoints::NewEachYear;
            s.premises.target.trap_sd = invented(0.8);
        }),
        ("drift and correlated years", |s| {
            s.premises.departures.detection_drift_percent = invented(-5.0);
            s.premises.departures.year_autocorrelation = invented(0.6);
        }),
    ];
    for (name, change) in changes {
        let mut s = survey::scenario::read(text).unwrap();
        s.premises.bycatch.clear();
        change(&mut s);
        let s = checked(s);
        let change = of_change(&s, 44, n);
        let good: Vec<_> = change
            .iter()
            .filter(|r| r.finding.estimate.is_finite())
            .collect();
        let estimates: Vec<f64> = good.iter().map(|r| r.finding.estimate).collect();
        let errors: Vec<f64> = good.iter().map(|r| r.finding.se).collect();
        let v = variances_at(&s, &s.plan, effect_size(&s));
        let sd = (quantile(&estimates, 0.75) - quantile(&estimates, 0.25)) / 1.349;
        let se = quantile(&errors, 0.5);
        let (truth, believed) = (v.truth.sqrt(), v.believed.sqrt());
        let bound = 4.0 * 1.17 / (good.len() as f64).sqrt() + 0.08;
        assert!((sd / truth - 1.0).abs() < bound, "{name}: SD {sd} {truth}");
        assert!(
            (se / believed - 1.0).abs() < bound,
            "{name}: SE {se} {believed}"
        );
        let off = (mean(&estimates) - 110.0).abs();
        assert!(
            off < 4.0 * sd / (good.len() as f64).sqrt() + 0.05 * 110.0,
            "{name}: {off}"
        );
    }
}
