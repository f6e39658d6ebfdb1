//! Scenarios that are refused: code 1, and a message with file, place, value and bound.

use crate::support::{BEETLES, Folder, MOTHS, demo, run};
use serde_json::{Value, json};

/// Checks that a changed demo is refused by every command that runs scenarios, with these words.
#[track_caller]
fn refused(test: &str, name: &str, words: &[&str], change: impl FnOnce(&mut Value)) {
    let folder = Folder::new(test);
    let path = folder.changed(name, change);
    let words: Vec<&str> = words.iter().copied().chain(["changed.json"]).collect();
    for command in ["answer", "curve", "least"] {
        run(&[command, &path, "--replicates", "2"]).refused(&words);
    }
}

#[test]
fn a_number_out_of_its_bounds() {
    let words = ["plan.sites is 1:", "a whole number from 2 to 2000"];
    refused("bound", BEETLES, &words, |s| s["plan"]["sites"] = 1.into());
    let words = [
        "question.effect.decline.change_percent is 99.5:",
        "0.1 to 99 %",
    ];
    refused("fall", BEETLES, &words, |s| {
        s["question"]["effect"]["decline"]["change_percent"] = json!(99.5);
    });
    let words = [
        "premises.bycatch[1].catch_per_trap_week.value is -1:",
        "0 to 100000",
    ];
    refused("group", BEETLES, &words, |s| {
        s["premises"]["bycatch"][1]["catch_per_trap_week"]["value"] = json!(-1.0);
    });
}

#[test]
fn every_fault_is_told_at_once() {
    let folder = Folder::new("two-faults");
    let path = folder.changed(BEETLES, |s| {
        s["plan"]["sites"] = 1.into();
        s["plan"]["years"] = 2.into();
    });
    let done = run(&["answer", &path]);
    assert!(done.err.contains("plan.sites is 1"), "{}", done.err);
    done.refused(&["plan.years is 2:", "at least 3 years"]);
}

#[test]
fn keys_that_are_unknown_or_missing() {
    let words = ["premises.target", "unknown field `colour`"];
    refused("unknown", BEETLES, &words, |s| {
        s["premises"]["target"]["colour"] = "green".into();
    });
    let words = ["plan", "missing field `years`"];
    refused("missing", BEETLES, &words, |s| {
        s["plan"].as_object_mut().expect("a plan").remove("years");
    });
}

#[test]
fn values_of_the_wrong_type() {
    let words = ["plan.sites:", "2.5", "a whole number from 2 to 2000"];
    refused("half", BEETLES, &words, |s| s["plan"]["sites"] = json!(2.5));
    let words = ["plan.sites:", "\"many\"", "a whole number from 2 to 2000"];
    refused("text", BEETLES, &words, |s| {
        s["plan"]["sites"] = "many".into()
    });
    let words = ["premises.trap_loss.value:", "\"0.07\"", "0 to 0.9"];
    refused("quoted", BEETLES, &words, |s| {
        s["premises"]["trap_loss"]["value"] = "0.07".into();
    });
    let words = ["question.direction:", "`up`", "`either`"];
    refused("word", BEETLES, &words, |s| {
        s["question"]["direction"] = "up".into()
    });
}

#[test]
fn bare_words_that_are_no_numbers_are_not_json() {
    for word in ["NaN", "Infinity", "-Infinity"] {
        let folder = Folder::new(&format!("bare{word}"));
        let text = std::fs::read_to_string(demo(BEETLES)).expect("a demo");
        let broken = text.replace(
            "\"wanted_power\": 0.8",
            &format!("\"wanted_power\": {word}"),
        );
        assert_ne!(broken, text);
        let path = folder.file("nan.json", &broken);
        run(&["answer", &path]).refused(&["nan.json", "question.wanted_power:", "0.2 to 0.99"]);
    }
}

#[test]
fn a_number_beyond_what_numbers_hold() {
    let folder = Folder::new("overflow");
    let text = std::fs::read_to_string(demo(BEETLES)).expect("a demo");
    let path = folder.file(
        "big.json",
        &text.replace("\"sites\": 24", "\"sites\": 1e999"),
    );
    run(&["answer", &path]).refused(&["big.json", "plan.sites:"]);
}

#[test]
fn departures_out_of_their_bounds() {
    let words = [
        "premises.departures.year_autocorrelation.value is 1:",
        "a number from -0.95 to 0.95",
    ];
    refused("autocorrelation", BEETLES, &words, |s| {
        s["premises"]["departures"] =
            json!({ "year_autocorrelation": { "value": 1.0, "source": "guess" } });
    });
    let words = [
        "premises.departures.region_km2.value is 0:",
        "an area of at least 0.0001 km²",
    ];
    refused("region", BEETLES, &words, |s| {
        s["premises"]["departures"] =
            json!({ "correlation_length_km": { "value": 5.0, "source": "guess" } });
    });
    let words = ["premises.departures", "unknown field `drift`"];
    refused("drift", BEETLES, &words, |s| {
        s["premises"]["departures"] = json!({ "drift": { "value": 1.0, "source": "guess" } });
    });
    let words = ["plan.trap_points", "`moved`", "`new_each_year`"];
    refused("points", BEETLES, &words, |s| {
        s["plan"]["trap_points"] = "moved".into();
    });
}

#[test]
fn a_survey_that_is_too_large_names_its_size() {
    let words = [
        "24000 site-years",
        "at most 20000",
        "plan.sites or plan.years",
    ];
    refused("large", BEETLES, &words, |s| {
        s["plan"]["sites"] = 600.into();
        s["plan"]["years"] = 40.into();
    });
    let words = [
        "800000 plans within its limits",
        "at most 400000",
        "limits.sites",
    ];
    refused("plans", BEETLES, &words, |s| {
        s["limits"] = json!({ "sites": 800, "traps_per_site": 100, "weeks": 10 });
    });
}

#[test]
fn numbers_that_do_not_fit_each_other() {
    let words = ["plan.weeks is 40:", "at most 33 weeks from week 21"];
    refused("weeks", BEETLES, &words, |s| s["plan"]["weeks"] = 40.into());
    let words = [
        "premises.target.site_sd.low is 0.9:",
        "at most the value 0.6",
    ];
    refused("low", BEETLES, &words, |s| {
        s["premises"]["target"]["site_sd"]["low"] = json!(0.9);
    });
    let words = ["premises.gradient: missing"];
    refused("gradient", MOTHS, &words, |s| {
        s["premises"]
            .as_object_mut()
            .expect("premises")
            .remove("gradient");
    });
    let words = [
        "plan.transect.highest is 500:",
        "above plan.transect.lowest, 500",
    ];
    refused("transect", MOTHS, &words, |s| {
        s["plan"]["transect"]["highest"] = json!(500.0);
    });
    let words = ["premises.target.year_sd.citation: missing"];
    refused("citation", BEETLES, &words, |s| {
        s["premises"]["target"]["year_sd"]["source"] = "published".into();
    });
    let words = ["premises.bycatch[2].name is \"spiders\":", "no other group"];
    refused("twins", BEETLES, &words, |s| {
        s["premises"]["bycatch"][2]["name"] = "spiders".into();
    });
}

#[test]
fn another_version_of_the_format() {
    let words = ["leastcatch is 2:", "the version of the format"];
    refused("version", BEETLES, &words, |s| s["leastcatch"] = 2.into());
}

#[test]
fn files_that_are_no_scenario_at_all() {
    let folder = Folder::new("no-scenario");
    let missing = folder.path("missing.json");
    run(&["answer", &missing]).refused(&["missing.json"]);
    run(&["answer", &folder.path("")]).refused(&["no-scenario"]);
    let empty = folder.file("empty.json", "");
    run(&["answer", &empty]).refused(&["empty.json"]);
    let latin = folder.path("latin.json");
    std::fs::write(&latin, b"{\"title\": \"K\xe4fer\"}").expect("a file");
    run(&["answer", &latin]).refused(&["latin.json", "UTF-8"]);
    let text = std::fs::read_to_string(demo(BEETLES)).expect("a demo");
    let twice = folder.file("twice.json", &format!("{text}{text}"));
    run(&["answer", &twice]).refused(&["twice.json", "trailing"]);
    let cut = folder.file("cut.json", &text[..text.len() / 2]);
    run(&["answer", &cut]).refused(&["cut.json", "EOF"]);
}

#[test]
fn a_byte_order_mark_is_no_fault() {
    let folder = Folder::new("bom");
    let text = std::fs::read_to_string(demo(BEETLES)).expect("a demo");
    let path = folder.file("bom.json", &format!("\u{feff}{text}"));
    run(&["answer", &path, "--replicates", "2"]).answered();
}
