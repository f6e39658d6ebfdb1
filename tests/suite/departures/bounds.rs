//! Departures at the ends of their bounds: numbers, no panics.

use crate::support::invented;
use leastcatch_tests::scenarios::checked;
use survey::closed_form::{expected_toll, preview};
use survey::evaluate::Evaluator;
use survey::generator::{Drawn, Generator, Weekly, World};
use survey::scenario::fields::DEPARTURES;
use survey::scenario::{Scenario, read};

fn sound(what: &str, s: Scenario) {
    let s = checked(s);
    let p = preview(&s, &s.plan);
    for share in [p.power, p.false_alarm] {
        assert!((0.0..=1.0).contains(&share), "{what}: {p:?}");
    }
    assert!(expected_toll(&s, &s.plan).total().is_finite(), "{what}");
    let generator = Generator::new(&s, &s.plan);
    let (mut drawn, mut weekly) = (Drawn::default(), Weekly::default());
    for world in [World::Change, World::Still] {
        generator.draw_weekly(5, 0, world, true, &mut drawn, &mut weekly);
        let numbers = [&drawn.counts, &drawn.effort, &drawn.killed, &weekly.counts];
        for n in numbers.into_iter().flatten() {
            assert!(n.is_finite() && *n >= 0.0, "{what}: {n}");
        }
        let r = Evaluator::new(&s, &s.plan, 5)
            .unwrap()
            .run(0, world)
            .unwrap();
        assert!(
            r.finding.se.is_nan() || r.finding.se >= 0.0,
            "{what}: {r:?}"
        );
    }
}

#[test]
fn each_end_is_survived() {
    for text in [
        include_str!("../../../demo-data/meadow-beetles.json"),
        include_str!("../../../demo-data/mountain-moths.json"),
    ] {
        let mut base = read(text).unwrap();
        (base.plan.sites, base.plan.years) = (6, 40);
        for field in DEPARTURES {
            for end in [field.low, field.high] {
                let mut s = base.clone();
                (field.write)(&mut s, end);
                if field.path.ends_with("correlation_length_km") {
                    s.premises.departures.region_km2 = invented(0.0001);
                }
                sound(&format!("{} = {end}", field.path), s);
            }
        }
        let mut s = base.clone();
        for field in DEPARTURES {
            (field.write)(&mut s, field.high);
        }
        sound("all at once", s);
    }
}
