//! `stop-lines`, and the answer of the question it belongs to.

use crate::support::{BASELINE, BEETLES, assert_share, demo, number, run};

#[test]
fn the_answer_of_a_baseline() {
    let told = run(&["answer", &demo(BASELINE), "--json", "--replicates", "60"]).json();
    assert_share(&told["power"], 60);
    assert_share(&told["false_alarm"], 60);
    assert_eq!(told["question"], "baseline");
    assert_eq!(told["test"]["used"], "interval");
    assert_eq!(told["smallest_change"]["unit"], "percent");
    assert!(number(&told, "/smallest_change/estimate") > 5.0);
    assert!(told["toll"]["if_nothing_changes"].is_null());
    let text = run(&["answer", &demo(BASELINE), "--replicates", "60"]).answered();
    for words in [
        "to within 30 % of it at 95 % confidence",
        "would know the mean as closely as wanted",
        "misses  ",
        "precision reached: ± ",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    assert!(!text.contains("false alarm"), "{text}");
}

#[test]
fn lines_as_text_and_json() {
    let text = run(&["stop-lines", &demo(BASELINE)]).answered();
    for words in [
        "Kuno's line for a precision",
        "with a standard error of about 20 % of it",
        "negative binomial",
        "animals spared",
        "Take the sites in random order",
        "Kuno 1969",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    let told = run(&["stop-lines", &demo(BASELINE), "--json"]).json();
    let rows = told["table"].as_array().expect("rows");
    assert_eq!(number(&rows[0], "/samples"), 27.0);
    assert_eq!(number(rows.last().expect("a row"), "/samples"), 60.0);
    let totals: Vec<f64> = rows.iter().map(|r| number(r, "/at_least")).collect();
    assert!(totals.windows(2).all(|w| w[0] >= w[1]), "{totals:?}");
    let means = told["means"].as_array().expect("means");
    assert!(
        means
            .iter()
            .all(|m| number(m, "/exact/mean_samples") <= 60.0)
    );
    assert_eq!(
        told["scenario_digest"].as_str().expect("a digest").len(),
        16
    );
}

#[test]
fn picture_table_and_card_as_files() {
    let folder = std::env::temp_dir().join(format!("leastcatch-stop-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let file = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let (svg, csv, card) = (file("a.svg"), file("a.csv"), file("a.html"));
    let arguments = ["--svg", &svg, "--csv", &csv, "--card", &card];
    let demo = demo(BASELINE);
    let all: Vec<&str> = ["stop-lines", &demo].into_iter().chain(arguments).collect();
    run(&all).answered();
    let read = |path: &str| std::fs::read_to_string(path).expect("a file");
    assert!(read(&svg).starts_with("<svg") && read(&svg).contains("stop: precise enough"));
    assert!(read(&csv).starts_with("samples,stop_at_or_below,stop_at_or_above\r\n27,,"));
    assert!(read(&card).starts_with("<!doctype html>"));
    assert_eq!(read(&card).matches("☐ stop").count(), 60);
    std::fs::remove_dir_all(&folder).expect("removed");
}

#[test]
fn without_a_rule() {
    run(&["stop-lines", &demo(BEETLES)]).refused(&["plan.stop_rule: missing", BEETLES]);
}
