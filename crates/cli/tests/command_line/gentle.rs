//! Lighter samples, kinds of trap, days of exposure, an end of animals.

use crate::support::{BEETLES, Folder, demo, number, run};
use serde_json::{Value, json};

fn guess(value: f64) -> Value {
    json!({ "value": value, "source": "guess" })
}

fn funnel(s: &mut Value) {
    s["premises"]["trap_options"] = json!([{
        "name": "funnel",
        "catch_factor": guess(0.5),
        "bycatch": [
            { "class": "vertebrate", "factor": guess(0.25) },
            { "group": "spiders", "factor": guess(1.0) },
        ],
        "money_per_trap": 4,
    }]);
}

#[test]
fn light_and_heavy_as_text_json_and_files() {
    let folder = Folder::new("gentle");
    let path = folder.changed(BEETLES, |s| {
        funnel(s);
        s["premises"]["local_population"] =
            json!({ "animals": guess(400.0), "recovery": guess(0.5) });
    });
    let (svg, csv) = (folder.path("g.svg"), folder.path("g.csv"));
    let text = run(&["gentle", &path, "--svg", &svg, "--csv", &csv]).answered();
    for words in [
        "times the dispersion k",
        "animals are spared",
        "hours are spared, and no animal",
        "Kinds of trap",
        "all vertebrates × 0.25 (guess)",
        "are caught in the first year",
        "looks like a decline",
        "closed form",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    let svg = std::fs::read_to_string(svg).expect("a picture");
    assert!(svg.contains("<title") && svg.contains("<desc"));
    let rows = std::fs::read_to_string(csv).expect("a table");
    assert_eq!(rows.lines().count(), 6);
    let told = run(&["gentle", &path, "--json"]).json();
    let lighter = told["lighter"].as_array().expect("rows");
    assert_eq!(lighter.len(), 5);
    assert_eq!(lighter[0]["toll"], told["toll"]);
    let sub = told["sub_sampling"].as_array().expect("rows");
    assert!(sub.iter().all(|s| s["toll"] == told["toll"]));
    assert_eq!(told["traps"][1]["option"], "funnel");
    assert!(number(&told, "/traps/1/toll") < number(&told, "/traps/0/toll"));
    assert!(number(&told, "/removed/share_removed") > 0.0);
    // Without options and end: neither is told.
    let plain = run(&["gentle", &demo(BEETLES), "--json"]).json();
    assert_eq!(plain["traps"], json!([]));
    // What the traps take away looks like a decline; without that fewer animals tell less.
    assert!(number(&plain, "/lighter/4/power") < number(&plain, "/power"));
    assert!(plain.get("removed").is_none());
}

/// Choosing an option is giving its premises by hand: the same digits.
#[test]
fn an_option_is_what_it_says() {
    let folder = Folder::new("gentle-option");
    let answer = |path: &str| run(&["answer", path, "--json", "--replicates", "10"]).json();
    let chosen = folder.changed(BEETLES, |s| {
        funnel(s);
        s["plan"]["trap_option"] = "funnel".into();
    });
    let told = answer(&chosen);
    assert_eq!(told["plan"]["trap_option"], "funnel");
    let by_hand = folder.changed(BEETLES, |s| {
        let scale = |p: &mut Value, by: f64| {
            for key in ["value", "low", "high"] {
                if let Some(v) = p.get(key).and_then(Value::as_f64) {
                    p[key] = (v * by).into();
                }
            }
        };
        scale(&mut s["premises"]["target"]["catch_per_trap_week"], 0.5);
        for group in s["premises"]["bycatch"].as_array_mut().expect("groups") {
            if group["class"] == "vertebrate" {
                scale(&mut group["catch_per_trap_week"], 0.25);
            }
        }
    });
    let want = answer(&by_hand);
    assert_eq!(told["result_digest"], want["result_digest"]);
    assert_eq!(told["toll"], want["toll"]);
    // Files are told apart by what they say.
    assert_ne!(told["scenario_digest"], want["scenario_digest"]);
}

#[test]
fn what_does_not_fit_is_refused() {
    let folder = Folder::new("gentle-refused");
    let refused = |change: &dyn Fn(&mut Value), words: &[&str]| {
        let path = folder.changed(BEETLES, |s| {
            funnel(s);
            change(s);
        });
        run(&["gentle", &path]).refused(words);
    };
    refused(
        &|s| s["plan"]["trap_option"] = "bucket".into(),
        &["plan.trap_option", "\"bucket\"", "\"funnel\""],
    );
    refused(
        &|s| s["premises"]["trap_options"][0]["bycatch"][1]["group"] = "voles".into(),
        &["bycatch[1].group", "\"voles\"", "\"spiders\"", "\"shrews\""],
    );
    refused(
        &|s| s["premises"]["trap_options"][0]["catch_factor"] = guess(0.0),
        &[
            "premises.trap_options[0].catch_factor.value is 0",
            "0.001 to 1000",
        ],
    );
    refused(
        &|s| s["premises"]["trap_options"][0]["bycatch"][0] = json!({ "factor": guess(1.0) }),
        &[
            "premises.trap_options[0].bycatch[0]",
            "either group or class",
        ],
    );
    refused(
        &|s| {
            s["premises"]["trap_options"][0]["catch_factor"] = guess(1000.0);
            s["premises"]["target"]["catch_per_trap_week"] = guess(5000.0);
            s["plan"]["trap_option"] = "funnel".into();
        },
        &["catch_per_trap_week", "with plan.trap_option \"funnel\""],
    );
    refused(
        &|s| {
            s["premises"]["local_population"] = json!({ "animals": guess(100.0) });
            s["analysis"]["rows"] = "weeks".into();
        },
        &["premises.local_population", "site_years"],
    );
    let moths = folder.changed("orchard-absence.json", |s| {
        s["premises"]["local_population"] = json!({ "animals": guess(100.0) });
    });
    run(&["gentle", &moths]).refused(&["premises.local_population", "not to absence"]);
}

#[test]
fn a_curve_over_days_of_exposure() {
    let file = demo(BEETLES);
    let curve = |over: &str| {
        run(&[
            "curve",
            &file,
            "--json",
            "--replicates",
            "10",
            "--over",
            over,
        ])
    };
    let told = curve("exposure=1..3").json();
    assert_eq!(told["over"], "exposure");
    let days: Vec<_> = (0..3)
        .map(|i| number(&told["points"][i], "/exposure"))
        .collect();
    assert_eq!(days, [1.0, 2.0, 3.0]);
    let kills: Vec<_> = (0..3)
        .map(|i| number(&told["points"][i], "/toll/total/mean"))
        .collect();
    assert!(kills[0] < kills[1] && kills[1] < kills[2], "{kills:?}");
    // A day of the curve is the plan with that day.
    let folder = Folder::new("exposure");
    let one = folder.changed(BEETLES, |s| s["plan"]["exposure_days"] = 2.into());
    let answer = run(&["answer", &one, "--json", "--replicates", "10"]).json();
    assert_eq!(told["points"][1]["result_digest"], answer["result_digest"]);
    curve("exposure=6..8").refused(&["at exposure = 8", "0.1 to 7"]);
}
