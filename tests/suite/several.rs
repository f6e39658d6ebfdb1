//! Several species at once: false alarms over a list are what theory says, without control and under each one, for a test
//! with a law of its own and for the calibrated one.

use engine::{Kind, Report};
use leastcatch_tests::runs::report;
use leastcatch_tests::scenarios::{checked, set_b};
use survey::scenario::{Control, Direction, Likelihood, Scenario, Several as Asked, Target, Test};
use survey::summary::{Several, Share, Species};

fn run(scenario: Scenario, replicates: u64) -> Several {
    let scenario = checked(scenario);
    match report(&scenario, Kind::Several, replicates) {
        Report::Several(several) => *several,
        other => panic!("{other:?}"),
    }
}

/// Reference set b with `others` more species, each a little rarer than the one before.
fn list(others: usize, test: Test, control: Control) -> Scenario {
    let mut s = set_b();
    (s.plan.sites, s.plan.years) = (10, 8);
    s.analysis.test = test;
    s.question.significance = 0.1;
    s.question.several = Some(Asked {
        answered_share: 0.5,
        control,
    });
    s.premises.others = (1..=others)
        .map(|i| {
            let mut other = Target {
                name: format!("species {i}"),
                ..s.premises.target.clone()
            };
            other.catch_per_trap_week.value /= 1.0 + i as f64;
            other
        })
        .collect();
    s
}

/// Standard error of a share of `n`.
fn se(p: f64, n: u64) -> f64 {
    (p * (1.0 - p) / n as f64).sqrt()
}

/// The regression of yearly means holds its level whatever the years are like (`tests/reference/size/size.csv`), up to a
/// little; the calibrated test holds it by construction.
#[test]
fn false_alarms_over_the_list() {
    let (n, m, level) = (1000, 5.0, 0.1);
    for test in [Test::AnnualIndex, Test::Calibrated] {
        for control in Control::ALL {
            let told = run(list(4, test, control), n);
            let about = format!("{test:?} {control:?}");
            assert_eq!((told.species.len(), told.needed), (5, 3));
            // Without control: m times the level, and one alarm at least in 1 - (1 - level)^m of surveys.
            let plain = &told.without_control;
            let slack = if test == Test::Calibrated {
                1e-9
            } else {
                3.0 * (m * level * (1.0 - level) / n as f64).sqrt() + 0.01 * m
            };
            let alarms = plain.expected_false_alarms;
            assert!(
                (alarms.estimate - m * level).abs() < slack,
                "{about} {alarms:?}"
            );
            assert!(alarms.low < alarms.estimate && alarms.estimate < alarms.high);
            let any = 1.0 - 0.9f64 * 0.9 * 0.9 * 0.9 * 0.9;
            let found = plain.any_false_alarm.estimate;
            assert!(
                (found - any).abs() < 3.0 * se(any, n) + 0.02,
                "{about} {found}"
            );
            // Under control, when none changes, the chance of even one alarm is at most the level; for independent
            // species it is nearly that.
            let Some(under) = &told.under_control else {
                assert_eq!(control, Control::None);
                assert!(told.species.iter().all(|s| s.power_controlled.is_none()));
                continue;
            };
            let any = under.any_false_alarm.estimate;
            assert!(any < level + 3.0 * se(level, n) + 0.01, "{about} {any}");
            assert!(any > level - 3.0 * se(level, n) - 0.02, "{about} {any}");
            assert!(under.expected_false_alarms.estimate >= any - 1e-12);
            assert!(under.expected_false_alarms.estimate < 1.3 * any);
        }
    }
}

/// The t test of few years raises fewer false alarms than accepted, and so does every control that rests on it.
#[test]
fn controls_of_the_t_test_hold_the_level() {
    for control in [Control::Holm, Control::BenjaminiHochberg] {
        let told = run(list(3, Test::T, control), 400);
        let any = told.under_control.unwrap().any_false_alarm;
        assert!(any.low < 0.1 && any.estimate < 0.13, "{control:?} {any:?}");
        assert_eq!(told.smallest_p_value, None);
    }
}

/// By every test, on one side and both: a p-value is at most the level just where the survey is judged to find something,
/// so that the species found are on average the sum of the powers, and the false alarms that of theirs.
#[test]
fn p_values_judge_as_the_tests_do() {
    for (test, direction) in Test::ALL
        .into_iter()
        .flat_map(|t| [(t, Direction::Either), (t, Direction::Stated)])
    {
        let mut s = list(2, test, Control::None);
        s.question.direction = direction;
        if test == Test::Satterthwaite {
            s.analysis.likelihood = Likelihood::Restricted;
        }
        let told = run(s, 120);
        let about = format!("{test:?} {direction:?}");
        assert_eq!(told.species[0].test.used, test.key(), "{about}");
        let sum = |of: fn(&Species) -> f64| told.species.iter().map(of).sum::<f64>();
        let over = &told.without_control;
        let found = over.expected_found.estimate;
        assert!((found - sum(|s| s.power.estimate)).abs() < 1e-9, "{about}");
        assert!(found > 0.3, "{about} {found}");
        // Ranks among n others count over n, the told rate of a calibrated value over n + 1.
        let slack = if test == Test::Calibrated { 0.01 } else { 1e-9 };
        let alarms = over.expected_false_alarms.estimate;
        let want = sum(|s| s.false_alarm.estimate);
        assert!((alarms - want).abs() < slack, "{about} {alarms} {want}");
    }
}

/// More is found by Holm than by Bonferroni, more yet by Benjamini and Hochberg, most without control; the list is
/// answered as often as independent species of these powers are.
#[test]
fn controls_cost_power_in_their_order() {
    let by = |control| run(list(2, Test::Calibrated, control), 500);
    let power = |s: &Share| s.estimate;
    let [none, bonferroni, holm, bh] = Control::ALL.map(by);
    for i in 0..3 {
        let controlled = |s: &Several| power(s.species[i].power_controlled.as_ref().unwrap());
        let all = [controlled(&bonferroni), controlled(&holm), controlled(&bh)];
        assert!(
            all.is_sorted() && all[2] <= power(&none.species[i].power),
            "{all:?}"
        );
        assert!(all[0] < all[2], "{all:?}");
        // The powers without control do not hang on it.
        assert_eq!(none.species[i].power, bh.species[i].power);
    }
    assert_eq!(none.without_control, bh.without_control);
    let p: Vec<f64> = none.species.iter().map(|s| power(&s.power)).collect();
    let sum: f64 = p.iter().sum();
    let found = none.without_control.expected_found;
    assert!((found.estimate - sum).abs() < 1e-9 && found.low < sum && sum < found.high);
    let (a, b, c) = (p[0], p[1], p[2]);
    let two = a * b * c + a * b * (1.0 - c) + a * (1.0 - b) * c + (1.0 - a) * b * c;
    let answered = none.without_control.answered;
    assert_eq!(none.needed, 2);
    assert!(
        (answered.estimate - two).abs() < 3.0 * se(two, 500),
        "{answered:?} {two}"
    );
}

/// Ranks among few surveys get no smaller than one in so many: below that no control is claimed, and near it that is said.
#[test]
fn no_control_is_claimed_below_the_smallest_p_value() {
    let of = |replicates, level| {
        let mut s = list(12, Test::Calibrated, Control::Holm);
        (s.plan.sites, s.plan.years) = (4, 4);
        s.question.significance = level;
        run(s, replicates)
    };
    // .05/13 = .00385 is below 1/201, and above 1/301.
    let told = of(200, 0.05);
    assert!(told.control_refused && told.under_control.is_none());
    assert!(told.species.iter().all(|s| s.power_controlled.is_none()));
    assert_eq!(told.smallest_p_value, Some(1.0 / 201.0));
    assert_eq!(told.surveys_needed, Some(2600));
    let told = of(300, 0.05);
    assert!(!told.control_refused && told.under_control.is_some());
    assert_eq!(told.surveys_needed, Some(2600));
    // With fewer than the calibrated test needs at all the t test stands in, whose p-values have no end.
    let told = of(50, 0.05);
    assert_eq!((told.smallest_p_value, told.surveys_needed), (None, None));
    assert_eq!(told.species[0].test.used, "t");
}
