//! What limits a plan, and the map of years and sites.

use crate::support::{BASELINE, BEETLES, Folder, demo, number, run};
use serde_json::{Value, json};

#[test]
fn parts_as_text_picture_and_json() {
    let folder = Folder::new("limiting");
    let path = folder.changed(BEETLES, |s| {
        s["premises"]["target"]["year_sd"] = json!({ "value": 0.3, "source": "guess" });
    });
    let (svg, csv) = (folder.path("limiting.svg"), folder.path("limiting.csv"));
    let text = run(&["limiting", &path, "--svg", &svg, "--csv", &csv]).answered();
    for words in [
        "differences between years that all sites share: more traps or sites cannot lower that; more years can",
        "No number of traps and sites finds a fall of less than",
        "the 96 traps count as",
        "Kish 1965",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    let picture = std::fs::read_to_string(svg).expect("a picture");
    assert!(picture.contains("<title") && picture.contains("<desc"));
    let table = std::fs::read_to_string(csv).expect("a table");
    assert!(table.contains("what lowers it"), "{table}");

    let told = run(&["limiting", &path, "--json"]).json();
    let parts = told["parts"].as_array().expect("parts");
    assert_eq!(parts[0]["source"], "years");
    let sum: f64 = parts.iter().map(|p| number(p, "/share")).sum();
    assert!((sum - number(&told, "/sum")).abs() < 1e-12);
    assert_eq!(told["additive"], true);
    assert!(number(&told, "/floor/smallest") < number(&told, "/unlimited_traps"));
    assert!(number(&told, "/unlimited_traps") < number(&told, "/smallest"));
    // 24 sites of 4 traps: between the sites and the traps.
    let effective = number(&told, "/clustering/level/effective");
    assert!(effective > 24.0 && effective < 96.0, "{effective}");
    let icc = number(&told, "/clustering/level/icc");
    assert!((effective * (1.0 + 3.0 * icc) - 96.0).abs() < 1e-9);
}

#[test]
fn questions_without_a_floor_or_without_bars() {
    let told = run(&["limiting", &demo(BASELINE), "--json"]).json();
    assert_eq!(told["no_floor"], "of_these_years");
    assert_eq!(told["floor"], Value::Null);
    run(&["limiting", &demo("meadow-inventory.json")]).refused(&["inventory", "no variance tells"]);
}

#[test]
fn a_map_as_text_picture_and_json() {
    let folder = Folder::new("map");
    let (svg, csv) = (folder.path("map.svg"), folder.path("map.csv"));
    let path = demo(BEETLES);
    let text = run(&[
        "map",
        &path,
        "--years",
        "2,5,10,15",
        "--sites",
        "6..60:18",
        "--svg",
        &svg,
        "--csv",
        &csv,
    ])
    .answered();
    for words in [
        "This plan, 10 years, 24 sites: smallest fall",
        "no such plan: plan.years is 2",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    assert!(
        std::fs::read_to_string(svg)
            .expect("a picture")
            .contains("fg-contour")
    );
    assert!(
        std::fs::read_to_string(csv)
            .expect("a table")
            .starts_with("sites \\ years,2,5,10,15")
    );
    let told = run(&["map", &path, "--json"]).json();
    let (years, sites) = (&told["years"], &told["sites"]);
    let place = |list: &Value, own: u64| {
        let list = list.as_array().expect("numbers");
        list.iter().position(|v| *v == own).expect("the plan's own")
    };
    let cell = place(sites, 24) * years.as_array().expect("years").len() + place(years, 10);
    let own = number(&told, &format!("/cells/{cell}/found/smallest"));
    let limits = run(&["limiting", &path, "--json"]).json();
    assert!((own - number(&limits, "/smallest")).abs() < 1e-9);
}

#[test]
fn maps_that_cannot_be_read() {
    let path = demo(BEETLES);
    for (flag, value, words) in [
        ("--years", "ten", "not a whole number"),
        ("--sites", "5..1", "is empty"),
        ("--sites", "1..100000", "more than 60"),
    ] {
        let done = run(&["map", &path, flag, value]);
        assert_ne!(done.code, 0);
        assert!(
            done.err.contains(words) && done.err.contains(flag),
            "{}",
            done.err
        );
    }
}
