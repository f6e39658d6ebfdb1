//! Planned looks: what lines moved to few years' t by equal tails do to false alarms, and what simulated surveys make of
//! them beside the closed forms.

use engine::{Kind, Report, looks_foreseen};
use leastcatch_tests::runs::report;
use leastcatch_tests::scenarios::{checked, set_b};
use models::sequential::{Boundary, Design, Fractions, Sides, Spending, on_t_scale};
use numerics::random::Stream;
use survey::scenario::{
    Checked, Direction, FutilityRule, LookBoundary, LookFutility, Looks, Scenario, Test,
};
use survey::summary::LooksAnswer;

/// Standard error of a share of `n`.
fn se(p: f64, n: u64) -> f64 {
    (p * (1.0 - p) / n as f64).sqrt()
}

/// t of the slope of the first `years` values.
fn slope_t(values: &[f64]) -> f64 {
    let n = values.len() as f64;
    let (middle, mean) = (0.5 * (n - 1.0), values.iter().sum::<f64>() / n);
    let (mut stt, mut sty, mut syy) = (0.0, 0.0, 0.0);
    for (i, v) in values.iter().enumerate() {
        let t = i as f64 - middle;
        stt += t * t;
        sty += t * v;
        syy += (v - mean) * (v - mean);
    }
    let slope = sty / stt;
    let residual = (syy - slope * sty) / (n - 2.0);
    slope / (residual / stt).sqrt()
}

/// Regressions of normal yearly values on the year, looked at after 4, 6, 8 and 10 of them: shares of 40,000 that
/// raise a false alarm at .05 on two sides, with lines at their place on z and moved to t by equal tails.
fn of_regressions(boundary: Boundary) -> (f64, f64) {
    let years = [4usize, 6, 8, 10];
    let information = |n: usize| (n * (n * n - 1)) as f64;
    let share = |&n: &usize| information(n) / information(10);
    let design = Design {
        fractions: Fractions::new(years.iter().map(share).collect()).unwrap(),
        sides: Sides::Two,
        level: 0.05,
        boundary,
        futility: None,
    };
    let z = design.lines().upper;
    let t: Vec<f64> = years
        .iter()
        .zip(&z)
        .map(|(&n, &z)| on_t_scale(z, n as f64 - 2.0))
        .collect();
    let mut stream = Stream::new(11, 0);
    let (mut by_z, mut by_t, n) = (0u32, 0u32, 40_000);
    for _ in 0..n {
        let values: Vec<f64> = (0..10).map(|_| stream.normal()).collect();
        let all: Vec<f64> = years.iter().map(|&y| slope_t(&values[..y]).abs()).collect();
        let beyond = |lines: &[f64]| all.iter().zip(lines).any(|(s, l)| s > l);
        by_z += u32::from(beyond(&z));
        by_t += u32::from(beyond(&t));
    }
    (
        f64::from(by_z) / f64::from(n),
        f64::from(by_t) / f64::from(n),
    )
}

/// Moved to t by equal tails the lines hold the level within a tenth of it; left on z they raise half as many again and
/// more.
#[test]
fn few_years() {
    for boundary in [
        Boundary::Pocock,
        Boundary::OBrienFleming,
        Boundary::Spend(Spending::OBrienFleming),
        Boundary::Spend(Spending::Pocock),
    ] {
        let (by_z, by_t) = of_regressions(boundary);
        let slack = 3.0 * se(0.05, 40_000);
        assert!((by_t - 0.05).abs() < 0.005 + slack, "{boundary:?}: {by_t}");
        assert!(by_z > 0.075, "{boundary:?}: {by_z}");
    }
}

fn scenario(test: Test, boundary: LookBoundary, futility: Option<LookFutility>) -> Scenario {
    let mut s = set_b();
    (s.plan.sites, s.plan.years) = (12, 8);
    s.analysis.test = test;
    s.plan.looks = Some(Looks {
        after_years: vec![4, 6],
        boundary,
        futility,
    });
    s
}

fn run(scenario: &Checked, replicates: u64) -> LooksAnswer {
    match report(scenario, Kind::Looks, replicates) {
        Report::Looks(told) => *told,
        other => panic!("{other:?}"),
    }
}

/// The regression of yearly means has its t law: simulated false alarms of the lines are the level, those of looking every
/// year are not, and closed forms foresee power, stops and years.
#[test]
fn false_alarms_and_previews_of_surveys() {
    let n = 2000;
    for boundary in [LookBoundary::Pocock, LookBoundary::SpendObrienFleming] {
        let s = checked(scenario(Test::AnnualIndex, boundary, None));
        let a = run(&s, n);
        assert!((a.false_alarm.estimate - 0.05).abs() < 0.005 + 3.0 * se(0.05, n));
        assert_eq!(a.false_alarm, a.false_alarm_as_designed);
        assert!(a.naive.every_year.low > 0.075);
        assert!(a.naive.every_year.estimate >= a.naive.at_looks.estimate);
        let power = a.power.estimate;
        assert!((power - a.preview.change.found).abs() < 0.06);
        assert!(power <= a.fixed.power.estimate + 3.0 * se(0.5, n));
        let years = a.change.expected_years.unwrap();
        assert!(
            (years - a.preview.change.expected_years).abs() < 0.3,
            "{years}"
        );
        let still = a.still.expected_years.unwrap();
        assert!(still > years && still <= 8.0, "{still}");
        let toll = a.change.toll.unwrap();
        assert!(toll.total.spared > 0.0 && toll.total.spared < toll.total.fixed);
        // Stops found add up to the power.
        let found: f64 = a.looks.iter().map(|l| l.change.found.estimate).sum();
        assert!((found - power).abs() < 1e-9);
    }
}

/// Calibrated lines hold the level by construction, futility heeded or not.
#[test]
fn calibrated_lines_and_futility() {
    let n = 1000;
    for binding in [false, true] {
        let futility = Some(LookFutility {
            rule: FutilityRule::ConditionalPower(0.2),
            binding,
        });
        let mut s = scenario(Test::Calibrated, LookBoundary::SpendPocock, futility);
        s.question.direction = Direction::Stated;
        s.analysis.likelihood = survey::scenario::Likelihood::Restricted;
        let a = run(&checked(s), n);
        assert_eq!((a.test, a.nulls_needed), ("calibrated", None));
        let held = a.false_alarm_unheeded.unwrap_or(a.false_alarm);
        assert!((held.estimate - 0.05).abs() < 1e-3, "{held:?}");
        assert_eq!(a.false_alarm_unheeded.is_some(), !binding);
        assert!(a.false_alarm.estimate <= held.estimate + 1e-3);
        // Futility stops most surveys in which nothing changes.
        let futile: f64 = a.looks.iter().map(|l| l.still.futile.estimate).sum();
        assert!(futile > 0.3, "{futile}");
        assert!(a.still.toll.unwrap().total.spared > 0.0);
    }
}

/// Where nothing changes years are alike, and whoever is asked about is spared the same share: that of the years spared.
#[test]
fn species_asked_about_are_spared_as_years_are() {
    let path = leastcatch_tests::project("demo-data/meadow-several.json");
    let text = std::fs::read_to_string(path).unwrap();
    let mut s = survey::scenario::read(&text).unwrap();
    s.plan.looks = Some(Looks {
        after_years: vec![6, 8],
        boundary: LookBoundary::Pocock,
        futility: None,
    });
    let asked: Vec<String> = s.premises.others.iter().map(|o| o.name.clone()).collect();
    assert!(asked.len() > 1);
    let years = f64::from(s.plan.years);
    let a = run(&checked(s), 300);
    let want = 1.0 - a.still.expected_years.unwrap() / years;
    assert!(want > 0.005, "{want}");
    let toll = a.still.toll.unwrap();
    for group in toll.bycatch.iter().filter(|g| asked.contains(&g.group)) {
        let share = group.animals.spared / group.animals.fixed;
        assert!((share / want - 1.0).abs() < 0.07, "{share}, not {want}");
    }
}

/// What is foreseen is what the job says before its first survey, and lines stay where they are but for a calibration.
#[test]
fn foreseen() {
    let s = checked(scenario(Test::T, LookBoundary::ObrienFleming, None));
    let before = looks_foreseen(&s).unwrap();
    let after = run(&s, 5);
    assert_eq!(before.preview, after.preview);
    assert_eq!(before.power.replicates, 0);
    for (b, a) in before.looks.iter().zip(&after.looks) {
        assert_eq!(b.lines, a.lines);
    }
    assert_eq!(after.result_digest.len(), 16);
}
