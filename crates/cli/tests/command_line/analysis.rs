//! The tests an analysis may use, and what ignoring costs.

use crate::support::{BEETLES, Folder, MOTHS, assert_share, demo, number, run};

fn answer(folder: &Folder, test: &str, likelihood: &str, replicates: &str) -> serde_json::Value {
    let path = folder.changed(BEETLES, |s| {
        s["analysis"]["test"] = test.into();
        s["analysis"]["likelihood"] = likelihood.into();
    });
    run(&["answer", &path, "--json", "--replicates", replicates]).json()
}

/// The calibrated test is the default and names its critical value with its interval; each other test is what its
/// line among the comparisons says.
#[test]
fn every_test_gives_its_own_power() {
    let folder = Folder::new("tests");
    let told = run(&["answer", &demo(BEETLES), "--json", "--replicates", "200"]).json();
    assert_eq!(told["test"]["planned"], "calibrated");
    assert_eq!(told["test"]["used"], "calibrated");
    let (c, low, high) = (
        number(&told, "/test/critical"),
        number(&told, "/test/critical_low"),
        number(&told, "/test/critical_high"),
    );
    assert!(low < c && c < high && low > 1.0 && high < 4.0, "{told}");
    assert!((number(&told, "/false_alarm/estimate") - 10.0 / 201.0).abs() < 1e-12);
    for (test, likelihood) in [
        ("t", "restricted"),
        ("z", "restricted"),
        ("satterthwaite", "restricted"),
        ("annual_index", "restricted"),
        ("likelihood_ratio", "maximum"),
    ] {
        let told = answer(&folder, test, likelihood, "200");
        assert_eq!(told["test"]["used"], test);
        assert!(told["test"]["nulls_needed"].is_null());
        let lines = told["comparison"].as_array().expect("comparisons");
        let own = lines.iter().find(|c| c["test"] == test).expect("its own");
        assert_eq!(own["power"], told["power"], "{test}");
        assert_eq!(own["false_alarm"], told["false_alarm"], "{test}");
    }
}

#[test]
fn too_few_nulls_are_said() {
    let told = run(&["answer", &demo(BEETLES), "--json", "--replicates", "199"]).json();
    assert_eq!(
        (&told["test"]["used"], &told["test"]["nulls_needed"]),
        (&"t".into(), &200.into())
    );
    let text = run(&["answer", &demo(BEETLES), "--replicates", "199"]).out;
    assert!(text.contains("needs at least 200 simulated surveys without change; there are 199"));
    // So do the curve and the search, in words and in JSON.
    let folder = Folder::new("few-nulls");
    let path = folder.changed(BEETLES, |s| {
        s["limits"] = serde_json::json!({ "sites": 24, "traps_per_site": 1, "weeks": 1 });
        s["question"]["effect"]["decline"]["change_percent"] = 80.into();
    });
    for command in [&["curve", "--over", "sites=10"][..], &["least"]] {
        let arguments = [command, &[path.as_str(), "--replicates", "30"]].concat();
        let text = run(&arguments).out;
        assert!(text.contains("there are 30. Until then power"), "{text}");
        let told = run(&[&arguments[..], &["--json"]].concat()).json();
        let test = told.pointer("/points/0/test").unwrap_or(&told["test"]);
        assert_eq!(
            (&test["used"], &test["nulls_needed"]),
            (&"t".into(), &200.into())
        );
    }
}

/// A fall of at most the stated size may be claimed if nothing changes, and hardly ever if the fall is just that.
#[test]
fn the_claim_of_no_worse_a_fall() {
    let folder = Folder::new("no-worse");
    let told = answer(&folder, "t", "restricted", "200");
    assert_eq!(told["no_worse"]["margin_percent"], 30.0);
    assert_share(&told["no_worse"]["power"], 200);
    assert!(number(&told, "/no_worse/power/estimate") > 0.5);
    assert!(number(&told, "/no_worse/false_claim/low") < 0.05);
    let shift = run(&["answer", &demo(MOTHS), "--json", "--replicates", "20"]).json();
    assert!(shift["no_worse"].is_null());
}

#[test]
fn what_ignoring_losses_costs_whatever_the_threads() {
    let file = demo(BEETLES);
    let arguments = ["ignoring", &file, "--json", "--replicates", "40"];
    let told = run(&[&arguments[..], &["--threads", "1"]].concat()).json();
    let costs = told["costs"].as_array().expect("costs");
    assert_eq!((costs.len(), &costs[0]["of"]), (1, &"losses".into()));
    for side in ["told", "untold"] {
        assert_share(&costs[0][side]["power"], 40);
        assert_share(&costs[0][side]["false_alarm"], 40);
        // Too few for a value of its own.
        assert!(costs[0][side]["power_at_level"].is_null());
    }
    for threads in ["2", "3", "7"] {
        let other = run(&[&arguments[..], &["--threads", threads]].concat()).json();
        assert_eq!(other, told, "{threads} threads");
    }
    let text = run(&["ignoring", &file, "--replicates", "40"]).out;
    assert!(
        text.contains("An analysis not told of lost trap-weeks"),
        "{text}"
    );
}

#[test]
fn nothing_to_ignore_is_said() {
    let folder = Folder::new("ignore-nothing");
    let path = folder.changed(BEETLES, |s| {
        s["premises"]["trap_loss"] = serde_json::json!({ "value": 0, "source": "guess" });
    });
    let text = run(&["ignoring", &path, "--replicates", "5"]).out;
    assert!(
        text.contains("nothing here of which an analysis could be told"),
        "{text}"
    );
}
