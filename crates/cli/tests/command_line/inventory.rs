//! `leastcatch inventory`: what a pilot's species tell, from a scenario or a table.

use crate::support::{Folder, demo, number, run, scenario};
use serde_json::Value;

const DEMO: &str = "meadow-inventory.json";
const TABLE: &str = "meadow-inventory-pilot.csv";

#[test]
fn the_pilot_is_told_in_words_and_numbers() {
    let told = run(&["inventory", &demo(DEMO)]).answered();
    for words in [
        "37 species are recorded, 10 of them seen once and 3 twice",
        "Coverage, the share of individuals",
        "up to triple",
        "10 further trap-weeks",
    ] {
        assert!(told.contains(words), "{words} in {told}");
    }
    let told = run(&["inventory", &demo(DEMO), "--json", "--further", "7"]).json();
    let form = &told["individuals"];
    assert_eq!(number(form, "/species"), 37.0);
    // Chao1 (Chao 1984, Scand. J. Stat. 11:265-270) by hand: n 472, f1 10, f2 3.
    let chao = 37.0 + 471.0 / 472.0 * 100.0 / 6.0;
    assert!((number(form, "/richness/estimate") - chao).abs() < 1e-9);
    assert!(told["incidences"].is_null());
    for a in told["further"].as_array().unwrap() {
        let each = a["trap_weeks"].as_array().unwrap();
        let all: u64 = each.iter().map(|p| p[1].as_u64().unwrap()).sum();
        assert_eq!(all, 7, "{a}");
    }
    let next = told["next_trap_week"].as_array().unwrap();
    let worth: Vec<f64> = next
        .iter()
        .map(|g| number(g, "/species_per_animal"))
        .collect();
    assert!(worth.windows(2).all(|w| w[0] >= w[1]), "{worth:?}");
}

#[test]
fn the_table_of_the_demo_is_its_pilot() {
    let folder = Folder::new("species");
    let bare = folder.changed(DEMO, |s| {
        let strata = s.pointer_mut("/premises/community/strata").unwrap();
        let first = strata[0].clone();
        *strata = Value::Array(vec![first]);
    });
    let told = run(&["inventory", "--into", &bare, "--table", &demo(TABLE)]).answered();
    assert!(told.contains("Put into"), "{told}");
    let text = std::fs::read_to_string(&bare).unwrap();
    let written: Value = serde_json::from_str(&text).unwrap();
    let at = "/premises/community";
    assert_eq!(written.pointer(at), scenario(DEMO).pointer(at));
}

#[test]
fn picture_and_table_are_written() {
    let folder = Folder::new("inventory-files");
    let (svg, csv) = (folder.path("i.svg"), folder.path("i.csv"));
    run(&["inventory", &demo(DEMO), "--svg", &svg, "--csv", &csv]).answered();
    let svg = std::fs::read_to_string(svg).unwrap();
    assert!(svg.starts_with("<svg") && svg.contains("the pilot"));
    let csv = std::fs::read_to_string(csv).unwrap();
    assert!(csv.starts_with("trap-weeks,"), "{csv}");
    assert_eq!(csv.lines().count(), 18);
}

#[test]
fn what_is_refused() {
    run(&["inventory", &demo("meadow-beetles.json")])
        .refused(&["question.effect is decline", "asks for an inventory"]);
    let folder = Folder::new("inventory-refused");
    let table = folder.file("s.csv", "stratum,trap_weeks,species,count\nwide,0,a,1\n");
    run(&["inventory", &demo(DEMO), "--table", &table])
        .refused(&["s.csv, row 2, column trap_weeks", "above 0"]);
    let few = folder.file("f.csv", "stratum,trap_weeks,species,count\nwide,1,a,1\n");
    run(&["inventory", &demo(DEMO), "--table", &few])
        .refused(&["premises.community", "at least 2 individuals"]);
    let done = run(&["inventory", "--table", &table]);
    assert_eq!(done.code, 2, "{}", done.err);
    let done = run(&["inventory", &demo(DEMO), "--further", "0"]);
    assert_eq!(done.code, 2, "{}", done.err);
}
