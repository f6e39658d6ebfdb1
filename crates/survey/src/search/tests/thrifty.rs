//! Plans that answer for less money.

use super::*;
use crate::scenario::{Direction, Effect, Plan, Test};

/// Every plan of the lattice that has the wanted power by closed form, worked out by itself.
fn every_plan_that_answers(s: &Checked) -> Vec<Candidate> {
    let mut all = Vec::new();
    for sites in (s.fewest_sites()..=s.limits.sites).filter(|&n| s.fits_sites(n)) {
        for traps in 1..=s.limits.traps_per_site {
            for set in week_sets(s) {
                let c = Candidate::alone(s, &set.on(&s.plan, sites, traps));
                if c.preview >= s.question.wanted_power {
                    all.push(c);
                }
            }
        }
    }
    all.sort_by(|a, b| a.weighted_toll.total_cmp(&b.weighted_toll));
    all
}

fn money(c: &Candidate) -> f64 {
    c.cost.unwrap().money
}

/// Holds those listed against all plans: what counts is the power that is told, not how a t test would rank. No plan that
/// answers kills less and costs less than one that is listed, and none that is missing kills less than all that cost no
/// more.
fn none_beats_those_listed(s: &Checked) {
    let listed = screen(s).thrifty;
    let mut cheapest = f64::INFINITY;
    let mut want = Vec::new();
    for c in every_plan_that_answers(s) {
        if money(&c) < cheapest * (1.0 - 1e-9) {
            cheapest = money(&c);
            want.push(c.plan);
        }
    }
    assert!(want.len() > 1, "{want:?}");
    let got: Vec<Plan> = listed.iter().map(|c| c.plan.clone()).collect();
    assert_eq!(got, want);
    assert!(listed.iter().all(|c| c.preview >= s.question.wanted_power));
}

#[test]
fn of_a_calibrated_test() {
    let text = include_str!("../../../../../demo-data/meadow-beetles.json");
    let s = read(text).unwrap().check().unwrap();
    assert_eq!(s.analysis.test, Test::Calibrated);
    none_beats_those_listed(&s);
}

/// Standard errors that know nothing of sites' own slopes are the further off the more traps there are.
#[test]
fn of_a_test_that_is_not_told_of_slopes() {
    let text = include_str!("../../../../../demo-data/meadow-beetles.json");
    let mut s = read(text).unwrap();
    let Effect::Decline(fall) = &mut s.question.effect else {
        panic!("{:?}", s.question.effect);
    };
    fall.change_percent = 60.0;
    s.analysis.test = Test::T;
    s.premises.departures.site_slope_sd.value = 0.12;
    (s.limits.traps_per_site, s.limits.weeks) = (4, 5);
    none_beats_those_listed(&s.check().unwrap());
}

/// Where traps catch more each year and the test is not told, plans that a t test would take for good enough do not answer.
#[test]
fn none_is_listed_where_none_answers() {
    let text = include_str!("../../../../../demo-data/meadow-beetles.json");
    let mut s = read(text).unwrap();
    let Effect::Decline(fall) = &mut s.question.effect else {
        panic!("{:?}", s.question.effect);
    };
    fall.change_percent = 45.0;
    s.question.direction = Direction::Either;
    s.analysis.test = Test::T;
    s.premises.departures.detection_drift_percent.value = 3.0;
    (s.limits.sites, s.limits.traps_per_site, s.limits.weeks) = (30, 3, 3);
    let s = s.check().unwrap();
    assert_eq!(every_plan_that_answers(&s), []);
    let told = screen(&s);
    assert!(told.frontier.last().unwrap().margin >= 1.0);
    assert_eq!(told.thrifty, []);
}
