//! Sites at fixed places.

use super::*;
use crate::closed_form::plan_delta;
use crate::generator::positions;
use crate::scenario::{Place, Placing, Plan};

fn place(name: &str, position: f64) -> Place {
    Place {
        name: name.into(),
        position: Some(position),
    }
}

/// The move of a moth's optimum, 880 m at first, with ten places from 500 to 1300 m that lie close together below.
fn moths() -> Scenario {
    let mut s = read(include_str!("../../../../../demo-data/mountain-moths.json")).unwrap();
    s.limits.places = [
        500.0, 520.0, 540.0, 560.0, 640.0, 760.0, 880.0, 1010.0, 1190.0, 1290.0,
    ]
    .iter()
    .enumerate()
    .map(|(i, at)| place(&format!("site {i}"), *at))
    .collect();
    s.limits.sites = 10;
    (s.limits.traps_per_site, s.limits.weeks) = (2, 2);
    s
}

/// Every plan of the frontier carries the places, its closed forms are those of the plan alone, and the generator puts
/// its sites there.
#[test]
fn plans_stand_at_the_places_there_are() {
    let s = moths().check().unwrap();
    let order = order_of_places(&s);
    let found = screen(&s);
    // Sites 4 to 10, 2 numbers of traps, 2 of weeks.
    assert_eq!(found.plans, 7 * 4);
    for c in &found.frontier {
        assert_eq!(c.plan.places, order);
        let used = c.plan.places_used();
        assert_eq!(used.len(), c.plan.sites as usize);
        let stand: Vec<f64> = used.iter().map(|p| p.position.unwrap()).collect();
        assert_eq!(positions(&s, &c.plan), stand);
        near(c.margin, Candidate::alone(&s, &c.plan).margin);
        let mut other = s.as_written().clone();
        other.limits.clear_lists();
        other.plan = c.plan.clone();
        assert!(other.check().is_ok());
    }
    // One site fewer is the one taken last.
    let plan = &found.frontier.last().unwrap().plan;
    let near = neighbours(&s, plan);
    let fewer = near.iter().find(|n| n.fewer == "sites").unwrap();
    assert!(fewer.within_limits);
    assert_eq!(fewer.plan.places_used(), &order[..plan.sites as usize - 1]);
}

/// Against every choice of so many of the places: sites that leave one by one are nearly the surest choice.
#[test]
fn the_places_taken_are_nearly_the_best_choice() {
    for name in ["moths", "edge"] {
        let mut s = moths();
        if name == "edge" {
            let text = include_str!("../../../../../demo-data/mountain-edge.json");
            let edge = read(text).unwrap();
            let t = edge.plan.transect.clone().unwrap();
            let share = |i: usize| (i as f64 / 9.0) * (i as f64 / 9.0);
            let at = |i: usize| t.lowest + (t.highest - t.lowest) * share(i);
            let places = (0..10).map(|i| place(&format!("site {i}"), at(i)));
            s = Scenario {
                limits: crate::scenario::Limits {
                    places: places.collect(),
                    ..s.limits
                },
                ..edge
            };
        }
        let s = s.check().unwrap();
        let delta = |places: &[Place]| {
            let mut plan = s.plan.clone();
            plan.sites = places.len() as u32;
            plan_delta(&s, &plan.at_places(places)).abs()
        };
        let order = order_of_places(&s);
        let all = &s.limits.places;
        for n in [5usize, 8] {
            let mut best = 0.0f64;
            for mask in (0u32..1024).filter(|m| m.count_ones() as usize == n) {
                let chosen = (0..10).filter(|i| mask >> i & 1 == 1);
                let chosen: Vec<Place> = chosen.map(|i| all[i].clone()).collect();
                best = best.max(delta(&chosen));
            }
            let (got, first) = (delta(&order[..n]), delta(&all[..n]));
            assert!(got > 0.97 * best, "{name} {n}: {got} of {best}");
            assert!(
                got > first,
                "{name} {n}: {got}, the first of the list {first}"
            );
        }
    }
}

/// Where a place matters to no question, the list is taken as it stands, and names the sites.
#[test]
fn names_alone_without_a_gradient() {
    let mut s = meadow(None, 20);
    let names = ["Aldermoor", "Birks", "Cold Ash", "Dunmead"];
    s.limits.places = names
        .iter()
        .map(|n| Place {
            name: (*n).into(),
            position: None,
        })
        .collect();
    s.limits.sites = 4;
    let s = s.check().unwrap();
    let found = screen(&s);
    assert_eq!(found.plans, 3 * 6);
    let plan = &found.frontier.last().unwrap().plan;
    assert_eq!(plan.places_used()[0].name, "Aldermoor");
    assert_eq!(plan.places_used().len(), plan.sites as usize);
}

#[test]
fn places_that_do_not_stand_are_refused() {
    for (wanted, change) in [
        (
            "limits.sites is 11: give at most 10, as many as limits.places has places",
            &(|s: &mut Scenario| s.limits.sites = 11) as &dyn Fn(&mut Scenario),
        ),
        ("limits.places[2].position: missing", &|s| {
            s.limits.places[2].position = None;
        }),
        ("limits.places[1].position is 1301", &|s| {
            s.limits.places[1].position = Some(1301.0);
        }),
        ("limits.places[3].name is site 0", &|s| {
            s.limits.places[3].name = "site 0".into();
        }),
        ("limits.places is 61 places: give at most 60", &|s| {
            s.limits.places = (0..61).map(|i| place(&i.to_string(), 900.0)).collect();
        }),
        ("plan.places: missing", &|s| {
            s.plan.transect.as_mut().unwrap().placing = Placing::Listed;
        }),
        ("plan.transect.placing is even: give listed", &|s| {
            s.plan.places = s.limits.places.clone();
            s.plan.sites = 10;
        }),
        ("plan.sites is 12: give at most 10", &|s| {
            s.plan = Plan {
                sites: 12,
                ..s.plan.at_places(&s.limits.places)
            };
        }),
        ("limits.places: remove it: with premises.departures", &|s| {
            s.premises.departures.correlation_length_km.value = 1.0;
            s.premises.departures.region_km2.value = 100.0;
        }),
    ] {
        let mut s = moths();
        change(&mut s);
        let faults = s.check().unwrap_err();
        let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert!(
            told.iter().any(|t| t.starts_with(wanted)),
            "{wanted}: {told:?}"
        );
    }
}
