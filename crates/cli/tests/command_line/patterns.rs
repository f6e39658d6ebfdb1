//! Revisit patterns, and what does not come back.

use crate::support::{BASELINE, BEETLES, Folder, demo, number, run};
use serde_json::{Value, json};

fn rotating(folder: &Folder) -> String {
    folder.changed(BEETLES, |s| {
        s["plan"]["revisit"] = json!({ "rotating": { "stay": 3 } });
        s["plan"]["sites"] = 36.into();
    })
}

#[test]
fn patterns_as_text_and_json() {
    let folder = Folder::new("patterns");
    let path = rotating(&folder);
    let (svg, csv) = (folder.path("calendar.svg"), folder.path("patterns.csv"));
    let text = run(&["patterns", &path, "--svg", &svg, "--csv", &csv]).answered();
    for words in [
        "sites that come and go, each staying 3 years (this plan)",
        "9 sites in a year, 36 different ones in all, 90 site-years",
        "new sites every year",
        "Urquhart",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    let picture = std::fs::read_to_string(svg).expect("a picture");
    assert!(picture.contains("<title") && picture.contains('●'));
    assert!(
        std::fs::read_to_string(csv)
            .expect("a table")
            .contains("site-years")
    );
    let told = run(&["patterns", &path, "--json"]).json();
    let patterns = told["patterns"].as_array().expect("patterns");
    assert_eq!(patterns.len(), 7);
    assert_eq!(patterns[0]["own"], true);
    assert_eq!(patterns[0]["revisit"], json!({ "rotating": { "stay": 3 } }));
    // The same sites every year take their own level out of a trend: no pattern has a smaller variance.
    let same = patterns.iter().find(|p| p["revisit"].is_null());
    let least = number(same.expect("the same sites"), "/planned/variance");
    for p in patterns.iter().filter(|p| p["site_years"] == 90) {
        assert!(number(p, "/planned/variance") >= least, "{p}");
    }
}

#[test]
fn the_answer_tells_the_pattern() {
    let folder = Folder::new("pattern-answer");
    let path = rotating(&folder);
    let text = run(&["answer", &path, "--replicates", "60"]).answered();
    assert!(
        text.contains("sites that come and go, each staying 3 years"),
        "{text}"
    );
    let curve = [
        "curve",
        &path,
        "--over",
        "years=8,10",
        "--replicates",
        "20",
        "--json",
    ];
    let told = run(&curve).json();
    let points = told["points"].as_array().expect("points");
    // Three sites enter each year, whatever the years: a plan of fewer years stands, and kills fewer.
    let years: Vec<_> = points.iter().map(|p| p["years"].clone()).collect();
    assert_eq!(years, [8, 10]);
    let toll = |p: &Value| p["toll"]["total"]["mean"].as_f64().expect("a toll");
    assert!(toll(&points[0]) < toll(&points[1]));
}

#[test]
fn what_does_not_come_back() {
    let folder = Folder::new("returns");
    let stated = |value: f64| json!({ "value": value, "source": "guess" });
    let path = folder.changed(BEETLES, |s| {
        s["premises"]["attrition"] = stated(0.18);
        s["premises"]["late_share"] = stated(0.1);
        s["premises"]["departures"]["loss_clustering"] = stated(0.3);
    });
    let told = run(&["returns", &path, "--json"]).json();
    let costs = told["costs"].as_array().expect("costs");
    let names: Vec<_> = costs.iter().map(|c| c["missing"].clone()).collect();
    assert_eq!(
        names,
        [
            "nothing",
            "losses",
            "clustered_losses",
            "drop_out",
            "late",
            "all"
        ]
    );
    let power = |i: usize| number(&costs[i], "/power");
    assert!(power(0) > power(1) && power(1) > power(2) && power(2) > power(5));
    // Late samples kill as ever; those who gave up do not.
    let toll = |i: usize| number(&costs[i], "/toll");
    assert!((toll(4) / toll(0) - 1.0).abs() < 1e-12 && toll(3) < toll(0));
    let recruit = &told["recruit"];
    let left = number(recruit, "/left_in_last_year");
    assert!((left - 0.9 * [0.82; 9].iter().product::<f64>()).abs() < 1e-12);
    assert_eq!(number(recruit, "/for_last_year"), (24.0 / left).ceil());
    assert!(number(recruit, "/on_average") < number(recruit, "/for_last_year"));
    let text = run(&["returns", &path]).answered();
    for words in ["with sites that drop out", "recruit", "Bonter"] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    run(&["answer", &path, "--replicates", "20"]).answered();
}

#[test]
fn refused_with_what_to_do() {
    let folder = Folder::new("pattern-refused");
    let path = folder.changed(BEETLES, |s| {
        s["plan"]["revisit"] = json!({ "alternating": { "panels": 5 } });
    });
    run(&["answer", &path]).refused(&["plan.sites is 24", "20 or 25"]);
    let path = folder.changed(BEETLES, |s| s["plan"]["gap_years"] = json!([10]));
    run(&["answer", &path]).refused(&["plan.gap_years[0] is 10", "2 to 9"]);
    let path = folder.changed(BEETLES, |s| {
        s["plan"]["revisit"] = json!("new_each_year");
        s["plan"]["sites"] = 240.into();
        s["analysis"]["test"] = "annual_index".into();
    });
    run(&["answer", &path]).refused(&["analysis.test", "in common"]);
    let path = folder.changed(BASELINE, |s| {
        s["plan"]["revisit"] = json!("new_each_year");
    });
    run(&["answer", &path]).refused(&["plan.revisit", "baseline"]);
    run(&["patterns", &demo(BASELINE)]).refused(&["every visit alike"]);
}
