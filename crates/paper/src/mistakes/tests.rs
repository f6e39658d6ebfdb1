//! Words and pictures of all mistakes.

use super::*;
use survey::mistakes::Base;
use survey::scenario::read;

fn base() -> Base {
    let text = include_str!("../../../../demo-data/meadow-beetles.json");
    Base::of(&read(text).unwrap().check().unwrap())
}

fn told(mistake: Mistake, values: &[(&str, f64)]) -> Vec<String> {
    let base = base();
    let mut knobs = mistake.knobs(&base);
    for (key, value) in values {
        knobs.iter_mut().find(|k| k.key == *key).unwrap().value = *value;
    }
    mistake.settle(&mut knobs);
    sentences(&mistake.shown(&base, &knobs, 1))
}

#[test]
fn well_known_cases_in_words() {
    let traps = told(
        Mistake::TrapsAsSites,
        &[("sites", 6.0), ("traps_per_site", 10.0), ("icc", 0.5)],
    );
    assert_eq!(traps[0], "60 traps count as 11.");
    let best = told(Mistake::BestSites, &[("site_sd", 0.6), ("noise_sd", 0.5)]);
    assert_eq!(best[0], "A stable population would seem to fall by 33 %.");
    let zeros = told(
        Mistake::ZerosDropped,
        &[("catch", 2.0), ("k", 1.0), ("fall_percent", 50.0)],
    );
    assert_eq!(
        zeros[0],
        "Without the empty visits the mean catch is told as 3.0 instead of 2.0: 50 % too much."
    );
    assert!(zeros[1].starts_with("33 % of the visits catch none. A fall of 50 % over ten years would look like a fall of 33 %."), "{}", zeros[1]);
    let species = told(Mistake::ManySpecies, &[("species", 20.0)]);
    assert!(
        species[0].contains("1 false alarm to expect, and at least one with a chance of 64 %"),
        "{}",
        species[0]
    );
    let looks = told(Mistake::RepeatedLooks, &[("looks", 5.0)]);
    assert!(
        looks[0].starts_with("5 looks, each with the usual test: 14 % of surveys"),
        "{}",
        looks[0]
    );
}

#[test]
fn every_mistake_is_told_in_full() {
    let base = base();
    for mistake in Mistake::ALL {
        let knobs = mistake.knobs(&base);
        let shown = mistake.shown(&base, &knobs, 1);
        for text in sentences(&shown) {
            assert!(text.ends_with('.') && !text.contains("NaN"), "{text}");
            assert!(!text.contains("not known"), "{mistake:?}: {text}");
        }
        let figure = figure(&shown);
        assert_eq!(figure.description, first(&shown));
        let svg = figure.svg_unstyled();
        assert!(svg.contains("<path") && !svg.contains("NaN"), "{mistake:?}");
        assert!(figure.table().rows.len() > 3, "{mistake:?}");
        for text in [
            title(mistake),
            why(mistake),
            instead(mistake),
            source(mistake),
        ] {
            assert!(text.len() > 8, "{mistake:?}");
        }
        assert!(knobs.iter().all(|k| knob(k).contains(k.label)));
    }
}
