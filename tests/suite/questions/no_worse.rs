//! The claim of no worse a fall.

use leastcatch_tests::small::{answer, by, checked, demo};
use survey::closed_form::{preview, truth};
use survey::scenario::{Direction, Effect, NoWorse, Test};

/// The claim as a question of its own is the one that the answer to a decline makes beside: the same surveys of other
/// random numbers.
#[test]
fn as_beside_a_decline() {
    let mut s = demo("meadow-beetles.json");
    s.plan.years = 8;
    s.plan.sites = 20;
    let Effect::Decline(d) = s.question.effect.clone() else {
        panic!()
    };
    let beside = answer(&checked(s.clone()), 800).no_worse.unwrap();
    s.question.effect = Effect::NoWorse(NoWorse {
        margin_percent: d.change_percent,
        over_years: d.over_years,
        change_percent: 0.0,
    });
    s.question.direction = Direction::Stated;
    let s = checked(s);
    assert!((truth(&s) + d.log_slope()).abs() < 1e-15);
    let own = answer(&s, 800);
    // Three standard errors of two shares with their critical values.
    let (a, b) = (own.power, beside.power);
    let error = 0.5 * (a.high - a.low).hypot(b.high - b.low);
    assert!((a.estimate - b.estimate).abs() < 1.5 * error, "{a:?} {b:?}");
    let p = preview(&s, &s.plan);
    assert!((p.power - a.estimate).abs() < 0.07, "{p:?} {a:?}");
    assert_eq!(own.smallest_change.unwrap().unit, "percent");
    // The smallest margin reaches the wanted power, and the asked one is above it just when its power is.
    let margin = own.smallest_change.unwrap().estimate;
    assert_eq!(
        margin < d.change_percent,
        a.estimate > s.question.wanted_power
    );
}

/// False claims hold their level when the fall is just the margin, whatever the test; and a truth nearer to the margin
/// makes the claim rarer.
#[test]
fn false_claims_hold_their_level() {
    let mut s = demo("meadow-no-worse.json");
    s.analysis.test = Test::T;
    let sure = answer(&checked(s.clone()), 600);
    for test in ["t", "annual_index", "satterthwaite"] {
        let (_, claimed) = by(&sure, test);
        assert!(
            claimed < 0.05 + 3.0 * (0.05f64 * 0.95 / 600.0).sqrt() + 0.01,
            "{test} {claimed}"
        );
    }
    if let Effect::NoWorse(n) = &mut s.question.effect {
        n.change_percent = 20.0;
    }
    let near = answer(&checked(s), 600);
    assert!(near.power.high < sure.power.low, "{near:?}");
}
