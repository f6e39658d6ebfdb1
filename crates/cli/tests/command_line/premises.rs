//! `premises`: what a pilot's table tells, and putting it into a scenario.

use crate::support::{BEETLES, Folder, PILOT, demo, number, run, scenario};
use serde_json::Value;

const TARGET: [&str; 5] = [
    "catch_per_trap_week",
    "dispersion_k",
    "site_sd",
    "year_sd",
    "site_year_sd",
];

#[test]
fn each_premise_has_value_error_range_and_source() {
    let told = run(&["premises", &demo(PILOT), "--json"]).json();
    assert_eq!(told["target"]["name"], "ground beetles");
    for key in TARGET {
        let estimate = &told["target"][key];
        let value = number(estimate, "/value");
        assert!(number(estimate, "/se") > 0.0, "{key}");
        assert!(number(estimate, "/low") < value, "{key}");
        assert!(value < number(estimate, "/high"), "{key}");
        assert_eq!(estimate["source"], "pilot", "{key}");
    }
    let groups = told["bycatch"].as_array().expect("groups");
    let names: Vec<_> = groups.iter().filter_map(|g| g["name"].as_str()).collect();
    assert_eq!(names, ["shrews", "spiders"]);
    for group in groups {
        assert!(number(group, "/catch_per_trap_week/value") > 0.0);
        assert!(group["dispersion_k"]["source"].is_string());
    }
    let notes = told["notes"].as_array().expect("notes");
    let noted = |words: &str| {
        notes
            .iter()
            .any(|n| n.as_str().is_some_and(|n| n.contains(words)))
    };
    assert!(noted("4 rows without a count"));
    assert!(noted("only 2 years"));
}

#[test]
fn another_target_can_be_chosen() {
    let file = demo(PILOT);
    let told = run(&["premises", &file, "--json", "--target", "spiders"]).json();
    assert_eq!(told["target"]["name"], "spiders");
    let groups = told["bycatch"].as_array().expect("groups");
    assert!(groups.iter().any(|g| g["name"] == "ground beetles"));
    run(&["premises", &file, "--target", "dragons"]).refused(&["dragons"]);
}

#[test]
fn columns_can_be_named() {
    let folder = Folder::new("columns");
    let text = std::fs::read_to_string(demo(PILOT)).expect("the pilot");
    let text = text.replace(
        "site,trap,set,collected,taxon,count",
        "Ort,Falle,auf,zu,Gruppe,n",
    );
    let path = folder.file("named.csv", &text);
    let names = [
        "site=Ort",
        "trap=Falle",
        "set=auf",
        "collected=zu",
        "taxon=Gruppe",
        "count=n",
    ];
    let mut arguments = vec!["premises", &path, "--json"];
    names.iter().for_each(|n| arguments.extend(["--column", n]));
    let mine = run(&arguments).json();
    let theirs = run(&["premises", &demo(PILOT), "--json"]).json();
    assert_eq!(mine["target"], theirs["target"]);
    assert_eq!(mine["bycatch"], theirs["bycatch"]);
}

#[test]
fn into_puts_them_into_the_scenario_and_nothing_else() {
    let folder = Folder::new("into");
    let path = folder.changed(BEETLES, |_| {});
    let told = run(&["premises", &demo(PILOT), "--json", "--into", &path]).json();
    let text = std::fs::read_to_string(&path).expect("the scenario");
    let after: Value = serde_json::from_str(&text).expect("JSON");
    let before = scenario(BEETLES);
    for key in TARGET {
        let premise = &after["premises"]["target"][key];
        assert_eq!(premise["value"], told["target"][key]["value"], "{key}");
        assert_eq!(premise["source"], "pilot", "{key}");
    }
    for key in ["title", "question", "plan", "limits", "analysis"] {
        assert_eq!(after[key], before[key], "{key}");
    }
    let group = |s: &Value, name: &str| {
        let groups = s["premises"]["bycatch"].as_array().expect("groups");
        groups
            .iter()
            .find(|g| g["name"] == name)
            .cloned()
            .expect("the group")
    };
    assert_eq!(
        group(&after, "spiders")["catch_per_trap_week"]["source"],
        "pilot"
    );
    assert_eq!(
        group(&after, "shrews")["class"],
        "vertebrate",
        "a class set by hand stays"
    );
    let unseen = "great bronze carabid";
    assert_eq!(group(&after, unseen), group(&before, unseen));
    // The scenario runs, and by other premises it answers otherwise.
    let own = run(&["answer", &path, "--json", "--replicates", "5"]).json();
    let demo = run(&["answer", &demo(BEETLES), "--json", "--replicates", "5"]).json();
    assert_ne!(own["result_digest"], demo["result_digest"]);
}

#[test]
fn a_refused_pilot_or_scenario_leaves_the_file_untouched() {
    let folder = Folder::new("into-refused");
    let path = folder.changed(BEETLES, |s| s["plan"]["sites"] = 1.into());
    let before = std::fs::read_to_string(&path).expect("the scenario");
    run(&["premises", &demo(PILOT), "--into", &path]).refused(&["plan.sites is 1", "changed.json"]);
    assert_eq!(
        std::fs::read_to_string(&path).expect("the scenario"),
        before
    );

    let bad = folder.file("bad.csv", "site,trap,year,week,count\nA,1,2024,20,many\n");
    run(&["premises", &bad, "--into", &path]).refused(&["bad.csv"]);
    assert_eq!(
        std::fs::read_to_string(&path).expect("the scenario"),
        before
    );
    assert!(!std::path::Path::new(&folder.path("changed.json.part")).exists());
}

#[test]
fn a_person_reads_each_group_with_its_sources() {
    let text = run(&["premises", &demo(PILOT)]).answered();
    for words in [
        "ground beetles (target",
        "spiders (by-catch",
        "[pilot]",
        "[common practice]",
    ] {
        assert!(text.contains(words), "{words:?} in\n{text}");
    }
}
