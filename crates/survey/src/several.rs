//! Several species asked about at once: the scenario as each one's own, and its own random numbers.

use crate::scenario::{Checked, Target};

/// Species that are asked about: the target and the others.
pub fn species(scenario: &Checked) -> u32 {
    1 + scenario.premises.others.len() as u32
}

/// The scenario whose target is species `number`: 0 is the target, i the i-th of the others, whose place the target
/// takes. `None` when there are not so many.
pub fn about(scenario: &Checked, number: u32) -> Option<Checked> {
    if number == 0 {
        return Some(scenario.clone());
    }
    let mut s = scenario.clone().into_inner();
    let other: &mut Target = s.premises.others.get_mut(number as usize - 1)?;
    std::mem::swap(other, &mut s.premises.target);
    // Both are within the same bounds.
    s.check().ok()
}

/// The seed of a species' random numbers, so that species are independent of each other: the scenario's own seed for
/// species 0, whose surveys are then those of the answer for it alone; for the others the seed moved on by a golden
/// ratio of the integers and scrambled (SplitMix64; Steele, Lea & Flood 2014, OOPSLA, 453-472; constants recalled from
/// memory). Species of one list have different seeds, whatever the first.
pub fn seed_of(seed: u64, number: u32) -> u64 {
    if number == 0 {
        return seed;
    }
    let mut z = seed.wrapping_add(u64::from(number).wrapping_mul(0x9e37_79b9_7f4a_7c15));
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::closed_form::{OverPlans, expected_toll};
    use crate::evaluate::Evaluator;
    use crate::frontier::resized;
    use crate::generator::World;
    use crate::scenario::{BeforeAfter, Effect, Groups, Scenario, read};
    use crate::search::week_sets;
    use crate::summary::{Evidence, summarise};
    use std::collections::BTreeSet;

    fn demo(change: impl Fn(&mut Scenario)) -> Checked {
        let text = include_str!("../../../demo-data/meadow-several.json");
        let mut s = read(text).unwrap();
        (s.plan.sites, s.plan.traps_per_site) = (10, 2);
        (s.plan.weeks, s.plan.years) = (3, 6);
        change(&mut s);
        s.check().unwrap()
    }

    fn departing(s: &mut Scenario) {
        let d = &mut s.premises.departures;
        d.site_slope_sd.value = 0.05;
        d.shared_week_sd.value = 0.3;
        d.detection_drift_percent.value = -3.0;
    }

    fn treated(s: &mut Scenario) {
        s.question.effect = Effect::BeforeAfter(BeforeAfter {
            change_percent: -60.0,
        });
        s.plan.groups = Some(Groups {
            treated_share: 0.3,
            paired: false,
            before_years: 2,
        });
    }

    /// By closed form all animals are as many whichever species is looked at, in each of these worlds.
    #[test]
    fn one_toll_whichever_is_looked_at() {
        for change in [|_: &mut Scenario| (), departing, treated] {
            let scenario = demo(change);
            let toll = |number| {
                let about = about(&scenario, number).unwrap();
                expected_toll(&about, &about.plan)
            };
            let first = toll(0);
            for number in 1..species(&scenario) {
                let other = toll(number);
                assert!((other.total() / first.total() - 1.0).abs() < 1e-12);
                // The target took the other's place in the list.
                let place = 1 + number as usize;
                assert!((other.bycatch[place] / first.target - 1.0).abs() < 1e-12);
                assert!((other.target / first.bycatch[place] - 1.0).abs() < 1e-12);
            }
            // The screen of plans tells the same.
            let over = OverPlans::new(&scenario, 10, 2, week_sets(&scenario));
            let plan = resized(&scenario.plan, 7, 2, 2);
            let want = expected_toll(&scenario, &plan);
            let mut got = vec![0.0; 1 + want.bycatch.len()];
            over.at(7).tolls(2, 1, &mut got);
            let got: f64 = got.iter().sum();
            assert!((got / want.total() - 1.0).abs() < 1e-12);
        }
    }

    /// Simulated, they are as many but for Monte Carlo error, with the change and without it.
    #[test]
    fn one_simulated_toll_whichever_is_looked_at() {
        let n = 1500;
        for change in [departing, treated] {
            let scenario = demo(change);
            for number in 0..species(&scenario) {
                let about = about(&scenario, number).unwrap();
                let mut evaluator =
                    Evaluator::new(&about, &about.plan, seed_of(3, number)).unwrap();
                let mut run = |world| -> Vec<_> {
                    (0..n).map(|r| evaluator.run(r, world).unwrap()).collect()
                };
                let (changed, still) = (run(World::Change), run(World::Still));
                let evidence = Evidence::whole(&changed, &still);
                let toll = summarise(&about, &about.plan, &evidence).toll.unwrap();
                let kills = |r: &crate::evaluate::Replicate| -> f64 {
                    r.killed.iter().chain(&r.bycatch).sum()
                };
                let error = |of: &[crate::evaluate::Replicate]| {
                    let mean = of.iter().map(kills).sum::<f64>() / n as f64;
                    let squares = of.iter().map(|r| (kills(r) - mean) * (kills(r) - mean));
                    squares.sum::<f64>().sqrt() / n as f64
                };
                let expected = expected_toll(&scenario, &scenario.plan).total();
                let off = (toll.total.mean - expected) / error(&changed);
                assert!(off.abs() < 4.0, "{number}: {off}");
                // Without the change: that of a scenario of hardly any.
                let mut none = scenario.clone().into_inner();
                match &mut none.question.effect {
                    Effect::Decline(d) => (d.change_percent, d.over_years) = (0.1, 100.0),
                    Effect::BeforeAfter(b) => b.change_percent = 1e-9,
                    other => panic!("{other:?}"),
                }
                let none = none.check().unwrap();
                let expected = expected_toll(&none, &none.plan).total();
                let told = toll.if_nothing_changes.unwrap().total_mean;
                let off = (told - expected) / error(&changed);
                assert!(off.abs() < 5.0, "{number}: {told} {expected}, {off}");
            }
        }
    }

    #[test]
    fn seeds_differ() {
        let mut seen = BTreeSet::new();
        for seed in [0, 1, 2, u64::MAX] {
            assert_eq!(seed_of(seed, 0), seed);
            for number in 0..13 {
                seen.insert(seed_of(seed, number));
            }
        }
        assert_eq!(seen.len(), 4 * 13);
    }
}
