//! `answer`: the keys that scripts rely on, and what a person reads.

use crate::support::{
    BEETLES, Folder, MOTHS, assert_share, assert_spread, demo, number, run, scenario,
};
use serde_json::Value;

fn answer(name: &str) -> Value {
    run(&["answer", &demo(name), "--json", "--replicates", "40"]).json()
}

#[test]
fn the_answer_has_its_fixed_keys() {
    let told = answer(BEETLES);
    assert_share(&told["power"], 40);
    assert_share(&told["false_alarm"], 40);
    assert!((0.0..=1.0).contains(&number(&told, "/preview/power")));
    assert!(number(&told, "/preview/smallest_change_percent") > 0.0);
    let ended: f64 = ["converged", "singular", "at_bound", "failed"]
        .iter()
        .map(|key| number(&told["fits"], &format!("/{key}")))
        .sum();
    assert_eq!(ended, 80.0, "each world's fits are counted once");
    for key in ["scenario_digest", "result_digest"] {
        let digest = told[key].as_str().expect("a digest");
        assert_eq!(digest.len(), 16);
        assert!(digest.chars().all(|c| c.is_ascii_hexdigit()));
    }
    assert_eq!(told["seed"], 1);
    assert_eq!(told["plan"], scenario(BEETLES)["plan"]);
}

#[test]
fn the_toll_names_each_group_with_its_class_and_adds_up() {
    let toll = &answer(BEETLES)["toll"];
    assert_spread(&toll["target"]);
    assert_spread(&toll["total"]);
    let groups = toll["bycatch"].as_array().expect("groups");
    let names: Vec<_> = groups.iter().map(|g| (&g["group"], &g["class"])).collect();
    let premises = scenario(BEETLES);
    let asked = premises["premises"]["bycatch"].as_array().expect("groups");
    let wanted: Vec<_> = asked.iter().map(|g| (&g["name"], &g["class"])).collect();
    assert_eq!(names, wanted);
    groups.iter().for_each(assert_spread);
    let sum: f64 = groups.iter().map(|g| number(g, "/mean")).sum();
    let total = number(toll, "/total/mean");
    assert!((sum + number(toll, "/target/mean") - total).abs() < 1e-6 * total);
}

#[test]
fn the_toll_of_the_years_is_that_of_the_survey() {
    let toll = &answer(BEETLES)["toll"];
    let years = toll["per_year"].as_array().expect("years");
    assert_eq!(years.len(), 10);
    for (i, year) in years.iter().enumerate() {
        assert_eq!(year["year"], i + 1);
        assert_spread(&year["target"]);
        assert_spread(&year["total"]);
        assert_eq!(year["bycatch"].as_array().map(Vec::len), Some(3));
    }
    let sum: f64 = years.iter().map(|y| number(y, "/total/mean")).sum();
    let total = number(toll, "/total/mean");
    assert!((sum - total).abs() < 1e-6 * total);
}

#[test]
fn the_range_shift_tells_a_distance_and_no_per_cent() {
    let told = answer(MOTHS);
    assert_share(&told["power"], 40);
    assert!(told["preview"]["smallest_change_percent"].is_null());
    assert!(number(&told, "/preview/smallest_shift_per_decade") > 0.0);
    assert_eq!(told["smallest_change"]["unit"], "per_decade");
}

#[test]
fn an_edge_tells_its_placings_and_profile() {
    let folder = Folder::new("an_edge");
    let file = folder.changed("mountain-edge.json", |s| {
        s["analysis"]["test"] = "likelihood_ratio".into();
    });
    let told = run(&["answer", &file, "--json", "--replicates", "20"]).json();
    let shift = &told["range_shift"];
    assert_share(&shift["profile_coverage"], 20);
    assert!(number(shift, "/detection_per_year") > 0.5);
    assert_eq!(shift["placings"].as_array().map(Vec::len), Some(6));
    assert_eq!(shift["best_placing"]["transect"], "edge_only");
    assert!(number(shift, "/best_placing/preview_power") > number(&told, "/preview/power"));
}

#[test]
fn a_person_reads_power_false_alarms_and_every_group() {
    let text = run(&["answer", &demo(BEETLES), "--replicates", "20"]).answered();
    for words in [
        "power ",
        "false alarms ",
        "95 % interval",
        "20 surveys",
        "ground beetles",
        "spiders",
        "great bronze carabid",
        "all animals",
    ] {
        assert!(text.contains(words), "{words:?} in\n{text}");
    }
}

#[test]
fn a_plan_without_by_catch_kills_only_its_target() {
    let folder = crate::support::Folder::new("bare");
    let path = folder.changed(BEETLES, |s| {
        s["premises"]["bycatch"] = serde_json::json!([]);
    });
    let told = run(&["answer", &path, "--json", "--replicates", "5"]).json();
    assert_eq!(told["toll"]["bycatch"], serde_json::json!([]));
    assert_eq!(told["toll"]["total"], told["toll"]["target"]);
}

#[test]
fn the_toll_is_drawn_with_vertebrates_and_protected_animals_apart() {
    let folder = Folder::new("toll");
    let (svg, csv) = (folder.path("toll.svg"), folder.path("toll.csv"));
    let asked = ["answer", &demo(BEETLES), "--replicates", "40"];
    run(&[&asked[..], &["--svg", &svg, "--csv", &csv]].concat()).answered();
    let picture = std::fs::read_to_string(svg).expect("a picture");
    let place = |words: &str| {
        let found = picture.find(&format!(">{words}"));
        found.unwrap_or_else(|| panic!("{words:?} in {picture}"))
    };
    let apart = place("Vertebrates and protected animals, on a scale of their own");
    assert!(place("Target and arthropods") < place("spiders: ") && place("spiders: ") < apart);
    assert!(apart < place("shrews: ") && apart < place("great bronze carabid: "));

    let told = run(&[&asked[..], &["--json"]].concat()).json();
    let table = std::fs::read_to_string(csv).expect("a table");
    assert_eq!(table.lines().count(), 5, "{table}");
    let shrews = table.lines().find(|l| l.starts_with("shrews,"));
    let mean = shrews.expect("shrews").split(',').nth(2).expect("a mean");
    let mean: f64 = mean.parse().expect("a number for machines");
    assert!((mean - number(&told, "/toll/bycatch/1/mean")).abs() < 1e-6);
}

#[test]
fn a_toll_without_by_catch_says_that_none_is_stated() {
    let folder = Folder::new("answer-no-bycatch");
    let alone = folder.changed(BEETLES, |s| {
        s["premises"]["bycatch"] = serde_json::json!([]);
    });
    let said = "animals, by-catch not stated";
    for (path, expected) in [(alone, true), (demo(BEETLES), false)] {
        let done = run(&["answer", &path, "--replicates", "40"]);
        assert_eq!(done.out.contains(said), expected, "{}", done.out);
    }
}
