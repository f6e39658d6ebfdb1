//! `least`: the least plan beside smaller ones, and why there is none.

use crate::support::{
    BEETLES, Folder, MOTHS, assert_share, assert_spread, demo, number, run, scenario,
};
use serde_json::Value;

/// Limits within which no plan answers.
fn low_limits(s: &mut Value) {
    s["limits"] = serde_json::json!({ "sites": 6, "traps_per_site": 2, "weeks": 3 });
}

#[test]
fn the_least_plan_answers_within_the_limits_and_smaller_ones_do_not() {
    for name in [BEETLES, MOTHS] {
        let told = run(&["least", &demo(name), "--json", "--replicates", "60"]).json();
        let asked = scenario(name);
        for key in ["sites", "traps_per_site", "weeks"] {
            assert!(told["plan"][key].as_u64() <= asked["limits"][key].as_u64());
        }
        for key in ["years", "exposure_days"] {
            assert_eq!(told["plan"][key], asked["plan"][key]);
        }
        assert_share(&told["power"], 60);
        assert_share(&told["false_alarm"], 60);
        assert_spread(&told["toll"]["total"]);
        let wanted = number(&asked, "/question/wanted_power");
        assert!(number(&told, "/power/estimate") >= wanted);
        let smaller = told["smaller"].as_array().expect("smaller plans");
        assert!(!smaller.is_empty());
        for plan in smaller {
            assert!(plan["plan"]["sites"].is_u64());
            // One that was stopped early says so, and after how many surveys.
            let after = plan["stopped"]["after"].as_u64();
            assert_share(&plan["power"], after.unwrap_or(60));
            assert!(number(plan, "/power/estimate") < wanted, "{plan}");
            assert!(
                number(plan, "/toll/total/mean") < number(&told, "/toll/total/mean"),
                "{plan}"
            );
        }
    }
}

#[test]
fn its_numbers_are_those_of_an_answer_for_that_plan() {
    let told = run(&["least", &demo(MOTHS), "--json", "--replicates", "30"]).json();
    let folder = Folder::new("least-answer");
    let path = folder.changed(MOTHS, |s| s["plan"] = told["plan"].clone());
    let answer = run(&["answer", &path, "--json", "--replicates", "30"]).json();
    for key in ["plan", "power", "false_alarm", "toll", "fits"] {
        assert_eq!(told[key], answer[key], "{key}");
    }
}

#[test]
fn when_no_plan_answers_the_code_is_3_and_the_reason_names_what_binds() {
    let folder = Folder::new("least-none");
    let path = folder.changed(BEETLES, low_limits);
    let done = run(&["least", &path, "--json", "--replicates", "30"]);
    assert_eq!((done.code, done.err.as_str()), (3, ""));
    let told: Value = serde_json::from_str(&done.out).expect("JSON");
    assert!(told["plan"].is_null() && told["power"].is_null());
    let short = &told["shortfall"];
    let reason = short["reason"].as_str().expect("a reason");
    assert!(reason.contains("the limit on sites"), "{reason}");
    let binding = short["binding"].as_array().expect("limits");
    assert!(binding.contains(&"limits.sites".into()), "{binding:?}");
    let help = short["would_help"].as_array().expect("help");
    assert!(
        help.iter()
            .any(|h| h.as_str().is_some_and(|h| h.contains("sites with")))
    );
    // The plan that comes closest is told with its power.
    assert_share(&short["surest"]["power"], 30);
    assert!(number(short, "/surest/power/estimate") < 0.8);
}

#[test]
fn a_person_reads_the_reason_too() {
    let folder = Folder::new("least-none-text");
    let path = folder.changed(BEETLES, low_limits);
    let done = run(&["least", &path, "--replicates", "20"]);
    assert_eq!(done.code, 3);
    for words in [
        "No plan within the limits",
        "the limit on sites",
        "What would help",
    ] {
        assert!(done.out.contains(words), "{words:?} in\n{}", done.out);
    }
}

#[test]
fn when_no_limit_binds_the_floor_of_the_years_is_named() {
    let folder = Folder::new("least-floor");
    // Years so unlike each other that no number of traps sees a fall of 30 %.
    let path = folder.changed(BEETLES, |s| {
        low_limits(s);
        s["premises"]["target"]["year_sd"] = serde_json::json!({ "value": 3.0, "source": "guess" });
        s["question"]["effect"]["decline"]["change_percent"] = 5.into();
    });
    let done = run(&["least", &path, "--json", "--replicates", "10"]);
    assert_eq!(done.code, 3, "{}", done.out);
    let told: Value = serde_json::from_str(&done.out).expect("JSON");
    assert_eq!(told["shortfall"]["binding"], serde_json::json!([]));
    let reason = told["shortfall"]["reason"].as_str().expect("a reason");
    assert!(reason.contains("SD 3"), "{reason}");
}

/// With limits of a few plans and a change that is hard to see, the search passes plans that are far too weak.
#[test]
fn plans_stopped_early_are_told_with_their_side_and_the_error_rate() {
    let folder = Folder::new("least-stopped");
    let path = folder.changed(BEETLES, |s| {
        s["limits"] = serde_json::json!({ "sites": 40, "traps_per_site": 1, "weeks": 1 });
        s["question"]["effect"]["decline"]["change_percent"] = 60.into();
        s["premises"]["target"]["year_sd"]["value"] = 0.05.into();
        s["premises"]["target"]["year_sd"]["low"] = 0.0.into();
        // A critical value from so few nulls leaves too much open to stop early.
        s["analysis"]["test"] = "t".into();
    });
    let arguments = ["least", &path, "--replicates", "400"];
    let told = run(&[&arguments[..], &["--json"]].concat()).json();
    let smaller = told["smaller"].as_array().expect("smaller plans");
    let stopped: Vec<_> = smaller.iter().filter(|p| !p["stopped"].is_null()).collect();
    assert!(!stopped.is_empty(), "{told}");
    for plan in &stopped {
        let s = &plan["stopped"];
        assert_eq!((&s["side"], &s["of"]), (&"below".into(), &400.into()));
        assert_eq!(s["error_rate"], 0.001);
        assert_eq!(s["after"], plan["power"]["replicates"]);
        assert!(number(plan, "/power/high") < 0.8);
    }
    assert!(told["stopped"].as_u64() >= Some(stopped.len() as u64));
    assert!(told["surveys"].as_u64() < told["simulated"].as_u64().map(|n| n * 800));
    assert_eq!(told["power"]["replicates"], 400);
    let done = run(&arguments);
    for words in [
        "falls short, stopped after ",
        " of 400 surveys",
        "wrongly in at most 1 of 1000 plans",
    ] {
        assert!(done.out.contains(words), "{words:?} in\n{}", done.out);
    }
}
