//! `season`: tables, JSON, picture, weights, and scenarios with chosen weeks.

use crate::support::{BEETLES, Folder, demo, number, run};
use serde_json::json;

#[test]
fn weeks_as_text() {
    let text = run(&["season", &demo(BEETLES)]).answered();
    for words in [
        "The season by week: ground beetles",
        "open in this plan",
        "This plan's weeks and the best ones",
        "this plan",
        "21 to 25",
        "surest answer",
        "3 weeks earlier in all years",
        "each year by itself, SD 1 weeks",
        "2.3 days a decade earlier",
        "Parmesan & Yohe 2003",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
}

#[test]
fn weeks_as_json_and_files() {
    let folder = Folder::new("season");
    let (svg, csv) = (folder.path("a.svg"), folder.path("a.csv"));
    let file = folder.changed(BEETLES, |s| {
        let given = |v: f64| json!({ "value": v, "source": "invented" });
        s["premises"]["target"]["reproductives"] = json!({
            "share_at_peak": given(0.5), "peak_week": given(21.0), "width_weeks": given(2.0),
        });
        s["plan"]["chosen_weeks"] = json!([21, 22, 23, 25, 27]);
    });
    let told = run(&[
        "season",
        &file,
        "--weeks",
        "3",
        "--weigh",
        "vertebrate=10,reproductive=2",
        "--svg",
        &svg,
        "--csv",
        &csv,
        "--json",
    ])
    .json();
    assert_eq!(told["weeks"].as_array().expect("weeks").len(), 53);
    assert_eq!(told["weeks"][26]["open"], true);
    assert_eq!(told["weeks"][25]["open"], false);
    assert_eq!(told["plan"]["weeks"], json!([21, 22, 23, 25, 27]));
    assert_eq!(told["weights"]["vertebrate"], 10.0);
    assert_eq!(told["best"][0]["goal"], "least_variance");
    assert_eq!(told["best"][0]["method"], "enumeration");
    assert_eq!(
        told["best"][0]["set"]["weeks"]
            .as_array()
            .expect("a set")
            .len(),
        3
    );
    let share = number(&told, "/plan/reproductive_share");
    assert!(share > 0.0 && share < 0.5, "{share}");
    let moves = told["robustness"].as_array().expect("moves");
    assert_eq!(moves[0]["kind"], "all_years");
    assert_eq!(number(&moves[0], "/amount"), 3.0);
    let trend = moves.last().expect("a trend");
    assert!(
        number(trend, "/sets/0/false_trend_percent").abs() > 0.01,
        "{trend}"
    );
    let read = |path: &str| std::fs::read_to_string(path).expect("a file");
    assert!(read(&svg).starts_with("<svg") && read(&svg).contains("fg-mark-fill"));
    assert!(read(&csv).starts_with("week of the year,open in this plan,"));
    // Chosen weeks and reproductives reach the answer.
    let answer = run(&["answer", &file, "--replicates", "20", "--json"]).json();
    assert_eq!(answer["plan"]["chosen_weeks"], json!([21, 22, 23, 25, 27]));
    assert!(number(&answer, "/toll/reproductives/target") > 0.0);
    let text = run(&["answer", &file, "--replicates", "20"]).answered();
    assert!(
        text.contains("Reproductive among those killed, expected"),
        "{text}"
    );
    let plain = run(&["answer", &demo(BEETLES), "--replicates", "20", "--json"]).json();
    assert!(plain["toll"]["reproductives"].is_null());
    let curve = run(&[
        "curve",
        &file,
        "--over",
        "sites=20,24",
        "--replicates",
        "20",
    ])
    .answered();
    assert!(curve.contains("(weeks 21 to 23, 25 and 27)"), "{curve}");
}

#[test]
fn wrong_weeks_and_weights() {
    let folder = Folder::new("season-wrong");
    let file = folder.changed(BEETLES, |s| s["plan"]["chosen_weeks"] = json!([21, 22]));
    run(&["season", &file]).refused(&["plan.chosen_weeks is 2 weeks", "plan.weeks, which is 5"]);
    let file = folder.changed(BEETLES, |s| {
        s["plan"]["chosen_weeks"] = json!([21, 20, 23, 24, 25])
    });
    run(&["season", &file]).refused(&["plan.chosen_weeks[1] is 20", "from 22 to 53"]);
    for (weigh, words) in [
        ("shrews=3", "give one of target"),
        ("vertebrate", "give a kind and its weight"),
        ("vertebrate=-1", "give a number from 0"),
    ] {
        let done = run(&["season", &demo(BEETLES), "--weigh", weigh]);
        assert_eq!(done.code, 2);
        assert!(done.err.contains(words), "{}", done.err);
    }
    assert_eq!(run(&["season", &demo(BEETLES), "--weeks", "54"]).code, 2);
}
