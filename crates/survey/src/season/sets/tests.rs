use super::*;
use crate::scenario::{Scenario, read};

const DEMOS: [&str; 4] = [
    include_str!("../../../../../demo-data/meadow-beetles.json"),
    include_str!("../../../../../demo-data/orchard-hoverflies.json"),
    include_str!("../../../../../demo-data/mountain-occupancy.json"),
    include_str!("../../../../../demo-data/orchard-baseline.json"),
];

fn demo(text: &str, change: impl Fn(&mut Scenario)) -> Checked {
    let mut s = read(text).unwrap();
    change(&mut s);
    s.check().unwrap()
}

fn weeks(best: &[Best], goal: Goal) -> Vec<u32> {
    let of = best.iter().find(|b| b.goal == goal).unwrap();
    of.set.as_ref().unwrap().weeks.clone()
}

#[test]
fn sets_are_counted_and_listed() {
    for (n, k, want) in [(5, 2, 10), (5, 5, 1), (24, 5, 42_504), (53, 1, 53)] {
        assert_eq!(sets_of(n, k), want);
    }
    assert!(sets_of(53, 26) > 1_000_000_000);
    let all = all_sets(&[3, 4, 7], 2);
    assert_eq!(all, [[3, 4], [3, 7], [4, 7]]);
    assert_eq!(all_sets(&[3, 4, 7], 3).len(), 1);
}

/// Without by-catch and with the peak in the middle of a week, the surest three weeks are it and its neighbours.
#[test]
fn a_symmetric_season_gives_a_symmetric_set() {
    let s = demo(DEMOS[0], |s| {
        s.premises.bycatch.clear();
        s.plan.years = 8;
    });
    for most in [0, 20_000] {
        let best = best_of(&s, 3, &Weights::default(), most);
        assert_eq!(weeks(&best, Goal::LeastVariance), [22, 23, 24]);
        let method = if most == 0 {
            Method::Exchange
        } else {
            Method::Enumeration
        };
        assert!(best.iter().all(|b| b.method == method));
    }
    // Information per animal is the larger the thinner the catch: the season's ends, one as good as the other, so that
    // the earlier weeks stand for both.
    let best = best_of(&s, 2, &Weights::default(), 20_000);
    let thin = weeks(&best, Goal::MostPerAnimal);
    assert!(thin.iter().all(|w| w.abs_diff(23) > 8), "{thin:?}");
}

/// Exchange finds what enumeration finds, for every goal.
#[test]
fn exchange_against_enumeration() {
    for (i, text) in DEMOS.iter().enumerate() {
        let s = demo(text, |s| {
            s.premises.target.season_width_weeks.value = 2.0;
            s.premises.target.season_width_weeks.low = None;
            s.premises.target.season_width_weeks.high = None;
            s.question.wanted_power = 0.3;
        });
        let weights = Weights {
            vertebrate: 20.0,
            protected: 50.0,
            ..Weights::default()
        };
        for number in [2, 3] {
            let all = best_of(&s, number, &weights, 1_000_000);
            let some = best_of(&s, number, &weights, 0);
            for (a, b) in all.iter().zip(&some) {
                assert_eq!(
                    (a.method, b.method),
                    (Method::Enumeration, Method::Exchange)
                );
                let (Some(a), Some(b)) = (&a.set, &b.set) else {
                    assert_eq!(a.set.is_some(), b.set.is_some(), "demo {i}");
                    continue;
                };
                let same = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-6;
                let equal = same(a.information_share, b.information_share)
                    && same(a.toll.weighted, b.toll.weighted);
                assert!(equal, "demo {i}, {number} weeks: {a:?} {b:?}");
            }
        }
    }
}

/// The least toll keeps the wanted power, kills no more than the surest set, and weights move it away from what is
/// weighed.
#[test]
fn the_least_toll_keeps_the_power() {
    let s = demo(DEMOS[0], |s| s.question.wanted_power = 0.6);
    let even = best_sets(&s, 4, &Weights::default());
    let [surest, least, _] = &even[..] else {
        panic!("{even:?}")
    };
    let (surest, least) = (surest.set.as_ref().unwrap(), least.set.as_ref().unwrap());
    assert!(least.power >= 0.6 && least.toll.total < surest.toll.total);
    assert!(least.information_share < surest.information_share);
    let shrews = Weights {
        vertebrate: 1000.0,
        ..Weights::default()
    };
    let spared = best_sets(&s, 4, &shrews)[1].set.clone().unwrap();
    assert!(spared.toll.bycatch.vertebrate < least.toll.bycatch.vertebrate);
    let never = demo(DEMOS[0], |s| s.question.wanted_power = 0.99);
    assert!(best_sets(&never, 2, &Weights::default())[1].set.is_none());
}
