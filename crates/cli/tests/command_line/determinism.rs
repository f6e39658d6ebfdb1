//! The same scenario, seed and replicates give the same bytes, whatever the threads.

use crate::support::{BEETLES, MOTHS, demo, run};

fn bytes(arguments: &[&str], name: &str, seed: &str, threads: &str) -> String {
    let file = demo(name);
    let mut all = vec![arguments[0], &file, "--json", "--replicates", "33"];
    all.extend(["--seed", seed, "--threads", threads]);
    all.extend(&arguments[1..]);
    run(&all).answered()
}

#[test]
fn threads_and_repetition_change_no_byte() {
    for (arguments, name) in [
        (&["answer"][..], BEETLES),
        (&["answer"][..], MOTHS),
        (&["curve", "--over", "traps=1..5"][..], BEETLES),
        (&["least"][..], MOTHS),
    ] {
        let one = bytes(arguments, name, "7", "1");
        assert_eq!(one, bytes(arguments, name, "7", "1"), "{arguments:?} twice");
        for threads in ["2", "3"] {
            let many = bytes(arguments, name, "7", threads);
            assert_eq!(one, many, "{arguments:?} on {threads} threads");
        }
    }
}

#[test]
fn another_seed_gives_other_digits() {
    let digest = |seed| {
        let text = bytes(&["answer"], BEETLES, seed, "2");
        let told: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        (
            told["result_digest"].clone(),
            told["scenario_digest"].clone(),
        )
    };
    let (seven, eight) = (digest("7"), digest("8"));
    assert_ne!(seven.0, eight.0);
    assert_eq!(seven.1, eight.1, "the scenario is the same one");
    // The largest seed is a seed like any other.
    assert_ne!(digest("18446744073709551615").0, seven.0);
}

#[test]
fn the_first_replicates_do_not_depend_on_how_many_follow() {
    let file = demo(BEETLES);
    let hits = |replicates: &str| {
        let told = run(&["answer", &file, "--json", "--replicates", replicates]).json();
        let share = |key: &str| {
            let s = &told[key];
            s["estimate"].as_f64().expect("a share") * s["replicates"].as_f64().expect("a count")
        };
        (share("power").round(), share("false_alarm").round())
    };
    let (few, more) = (hits("10"), hits("20"));
    assert!(
        few.0 <= more.0 && more.0 <= few.0 + 10.0,
        "{few:?} {more:?}"
    );
    assert!(
        few.1 <= more.1 && more.1 <= few.1 + 10.0,
        "{few:?} {more:?}"
    );
}
