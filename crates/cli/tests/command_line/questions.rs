//! Every question: its key, its words, and the keys that answers share.

use crate::support::{assert_share, assert_spread, demo, number, run};

const DEMOS: [(&str, &str, &str, &str); 8] = [
    (
        "meadow-beetles.json",
        "decline",
        "percent",
        "would find the fall",
    ),
    (
        "meadow-no-worse.json",
        "no_worse",
        "percent",
        "could make the claim",
    ),
    (
        "orchard-hoverflies.json",
        "difference",
        "percent",
        "would find the difference",
    ),
    (
        "meadow-mowing.json",
        "before_after",
        "percent",
        "would find the change",
    ),
    (
        "mountain-occupancy.json",
        "occupancy",
        "share",
        "would find the change",
    ),
    (
        "mountain-moths.json",
        "range_shift",
        "per_decade",
        "would find the move",
    ),
    (
        "orchard-absence.json",
        "absence",
        "per_trap_week",
        "would catch at least one",
    ),
    (
        "meadow-inventory.json",
        "inventory",
        "share",
        "would record the wanted share",
    ),
];

#[test]
fn answers_of_every_question_have_the_same_keys() {
    let mut keys = None;
    for (name, question, unit, _) in DEMOS {
        let told = run(&["answer", &demo(name), "--json", "--replicates", "60"]).json();
        assert_eq!(told["question"], question);
        assert_share(&told["power"], 60);
        assert_share(&told["false_alarm"], 60);
        assert_spread(&told["toll"]["total"]);
        assert_eq!(told["preview"]["smallest_change"]["unit"], unit, "{name}");
        assert!(number(&told, "/preview/power") > 0.0);
        let own: Vec<String> = told.as_object().unwrap().keys().cloned().collect();
        assert_eq!(*keys.get_or_insert(own.clone()), own, "{name}");
        assert_eq!(told["occupancy"].is_object(), question == "occupancy");
        assert_eq!(told["no_worse"].is_object(), question == "decline");
        assert_eq!(told["result_digest"].as_str().map(str::len), Some(16));
    }
}

#[test]
fn every_question_speaks_its_own_words() {
    for (name, question, _, words) in DEMOS {
        let told = run(&["answer", &demo(name), "--replicates", "60"]).out;
        assert!(told.contains(words), "{question}: {told}");
        let curve = run(&["curve", &demo(name), "--replicates", "5"]);
        assert_eq!(curve.code, 0, "{question}: {}", curve.err);
    }
}

#[test]
fn closing_sites_spares_lives() {
    let told = run(&[
        "answer",
        &demo("mountain-occupancy.json"),
        "--json",
        "--replicates",
        "40",
    ])
    .json();
    let (all, spared) = (
        number(&told, "/occupancy/toll_of_all_weeks"),
        number(&told, "/occupancy/spared"),
    );
    let killed = number(&told, "/toll/total/mean");
    assert!(
        spared > 0.1 * all && (killed + spared - all).abs() < 0.1 * all,
        "{all} {spared} {killed}"
    );
    let (visit, year) = (
        number(&told, "/occupancy/detection_per_visit"),
        number(&told, "/occupancy/detection_per_year"),
    );
    assert!(visit > 0.0 && visit < year && year < 1.0);
    assert!(
        number(&told, "/occupancy/best_split/preview_power")
            >= number(&told, "/preview/power") - 1e-9
    );
}

#[test]
fn the_least_plan_of_pairs_has_pairs() {
    let done = run(&[
        "least",
        &demo("orchard-hoverflies.json"),
        "--json",
        "--replicates",
        "60",
    ]);
    let told = done.json();
    let sites = number(&told, "/plan/sites");
    assert_eq!(sites % 2.0, 0.0);
    let smaller = told["smaller"].as_array().unwrap();
    assert!(
        smaller
            .iter()
            .all(|p| number(p, "/plan/sites") % 2.0 == 0.0)
    );
}

#[test]
fn futures_of_every_question() {
    for (name, question, _, _) in DEMOS {
        let told = run(&["futures", &demo(name), "--json", "--replicates", "20"]).json();
        for world in ["change", "still"] {
            let surveys = told[world].as_array().expect("surveys");
            assert_eq!(surveys.len(), 20, "{question}");
            let stamps: Vec<_> = surveys.iter().filter_map(|s| s["stamp"].as_str()).collect();
            let known = ["found", "missed", "wrong_way", "false_alarm", "quiet"];
            assert!(
                stamps.iter().all(|s| known.contains(s)),
                "{question}: {stamps:?}"
            );
        }
    }
}

#[test]
fn the_same_surveys_under_several_plans() {
    let demo_name = crate::support::BEETLES;
    let arguments = [
        "futures",
        &demo(demo_name),
        "--beside",
        "--replicates",
        "20",
    ];
    let told = run(&[&arguments[..], &["--json"]].concat()).json();
    let plans = told["plans"].as_array().expect("plans");
    assert_eq!(plans.len(), 3);
    let sites = |i: usize| number(&plans[i], "/plan/sites");
    assert_eq!((sites(1), sites(2)), (sites(0) / 2.0, sites(0) * 2.0));
    assert_eq!(
        (
            &plans[0]["beside"],
            &plans[1]["beside"],
            &plans[2]["beside"]
        ),
        (
            &serde_json::Value::Null,
            &"smaller".into(),
            &"larger".into()
        )
    );
    let toll = |i: usize| number(&plans[i], "/futures/toll");
    assert!(toll(1) < toll(0) && toll(0) < toll(2));
    // The present plan's surveys are those that it has alone.
    let alone = run(&["futures", &demo(demo_name), "--json", "--replicates", "20"]).json();
    assert_eq!(plans[0]["futures"]["change"], alone["change"]);
    let words = run(&arguments).answered();
    assert!(
        words.contains("fewer sites (12 sites, 10 years), with the fall: "),
        "{words}"
    );
    assert!(words.contains("this plan, without the fall: "), "{words}");
}

/// Whatever is told as JSON names the question it belongs to, once.
#[test]
fn every_result_names_its_question() {
    let inventory = demo("meadow-inventory.json");
    let baseline = demo("orchard-baseline.json");
    let beetles = demo(crate::support::BEETLES);
    let small = ["--json", "--replicates", "20"];
    for (words, question) in [
        (
            vec!["answer", &beetles, small[0], small[1], small[2]],
            "decline",
        ),
        (
            vec![
                "curve", &beetles, "--over", "sites=8", small[0], small[1], small[2],
            ],
            "decline",
        ),
        (
            vec!["futures", &beetles, small[0], small[1], small[2]],
            "decline",
        ),
        (vec!["cost", &beetles, "--json"], "decline"),
        (vec!["gentle", &beetles, "--json"], "decline"),
        (vec!["season", &beetles, "--json"], "decline"),
        (vec!["limiting", &beetles, "--json"], "decline"),
        (
            vec![
                "map", &beetles, "--json", "--years", "8,10", "--sites", "24",
            ],
            "decline",
        ),
        (
            vec!["mistakes", &beetles, "--json", "--only", "best_sites"],
            "decline",
        ),
        (vec!["patterns", &beetles, "--json"], "decline"),
        (vec!["returns", &beetles, "--json"], "decline"),
        (vec!["stop-lines", &baseline, "--json"], "baseline"),
        (vec!["inventory", &inventory, "--json"], "inventory"),
    ] {
        let told = run(&words).json();
        assert_eq!(told["question"], question, "{words:?}");
    }
}

#[test]
fn what_may_be_written_is_told_as_json_too() {
    let small = ["--json", "--replicates", "20"];
    let of = |name: &str| run(&[&["answer", &demo(name)][..], &small].concat()).json();
    let absence = of("orchard-absence.json");
    let claim = absence["claim"].as_str().expect("a sentence");
    assert!(
        claim.contains("were caught; with 95.0 % confidence"),
        "{claim}"
    );
    let decline = of(crate::support::BEETLES);
    assert_eq!(decline["claim"], serde_json::Value::Null);
    assert!(
        decline["verdict"]
            .as_str()
            .is_some_and(|v| v.contains("Of 100 surveys"))
    );
}

#[test]
fn a_curve_over_every_part_of_the_plan() {
    let small = ["--json", "--replicates", "20"];
    for (name, over, values) in [
        (crate::support::BEETLES, "first_week=18,22", [18.0, 22.0]),
        ("meadow-mowing.json", "before_years=2,3", [2.0, 3.0]),
        ("mountain-moths.json", "highest=1200,1300", [1200.0, 1300.0]),
    ] {
        let words = ["curve", &demo(name), "--over", over];
        let told = run(&[&words[..], &small].concat()).json();
        let key = over.split_once('=').map(|o| o.0).unwrap_or_default();
        let at = |i: usize| number(&told, &format!("/points/{i}/{key}"));
        assert_eq!([at(0), at(1)], values, "{name}");
    }
    run(&[
        "curve",
        &demo(crate::support::BEETLES),
        "--over",
        "lowest=1,2",
    ])
    .refused(&["--over lowest: the plan has none; it has sites, traps"]);
}
