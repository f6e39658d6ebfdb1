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
        words.contains("half the sites (12 sites, 10 years): "),
        "{words}"
    );
    assert!(words.contains("this plan without the fall: "), "{words}");
}
