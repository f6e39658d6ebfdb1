//! `curve`: points along each axis, in line with the answer, and its picture and table as files.

use crate::support::{BEETLES, Folder, MOTHS, assert_share, assert_spread, demo, number, run};
use serde_json::Value;

fn curve(name: &str, over: &str) -> Value {
    let file = demo(name);
    run(&[
        "curve",
        &file,
        "--json",
        "--replicates",
        "20",
        "--over",
        over,
    ])
    .json()
}

fn values(curve: &Value, key: &str) -> Vec<u64> {
    let points = curve["points"].as_array().expect("points");
    points.iter().filter_map(|p| p[key].as_u64()).collect()
}

#[test]
fn each_axis_has_its_own_key_and_whole_points() {
    for (over, key, wanted) in [
        ("sites=10..30:10", "sites", vec![10, 20, 30]),
        ("traps=1,2,4", "traps", vec![1, 2, 4]),
        ("weeks=3,5", "weeks", vec![3, 5]),
        ("years=4..6", "years", vec![4, 5, 6]),
    ] {
        let told = curve(BEETLES, over);
        assert_eq!(told["over"], key);
        assert_eq!(values(&told, key), wanted, "{over}");
        for point in told["points"].as_array().expect("points") {
            assert_share(&point["power"], 20);
            assert_share(&point["false_alarm"], 20);
            assert_spread(&point["toll"]["total"]);
        }
    }
}

#[test]
fn more_years_of_traps_kill_more() {
    let told = curve(BEETLES, "years=5,10,20");
    let points = told["points"].as_array().expect("points");
    let kills: Vec<f64> = points
        .iter()
        .map(|p| number(p, "/toll/total/mean"))
        .collect();
    assert!(kills[0] < kills[1] && kills[1] < kills[2], "{kills:?}");
}

#[test]
fn the_point_at_the_plans_own_number_is_the_answer() {
    for (name, over, key) in [
        (BEETLES, "sites=12,24", "sites"),
        (BEETLES, "traps=2,4", "traps"),
        (BEETLES, "weeks=3,5", "weeks"),
        (BEETLES, "years=7,10", "years"),
        (MOTHS, "sites=12,24", "sites"),
    ] {
        let answer = run(&["answer", &demo(name), "--json", "--replicates", "20"]).json();
        let told = curve(name, over);
        let own = told["points"].as_array().and_then(|p| p.last());
        let own = own.expect("a point");
        for same in ["power", "false_alarm", "toll", "result_digest"] {
            assert_eq!(own[same], answer[same], "{same} over {key} of {name}");
        }
        assert_ne!(told["points"][0]["result_digest"], answer["result_digest"]);
    }
}

#[test]
fn without_an_axis_it_runs_over_sites_and_meets_the_plan() {
    let told = run(&["curve", &demo(BEETLES), "--json", "--replicates", "2"]).json();
    let sites = values(&told, "sites");
    assert!(sites.contains(&24), "{sites:?}");
    assert!(sites.len() > 5 && sites.is_sorted(), "{sites:?}");
}

#[test]
fn picture_and_table_are_written_as_files() {
    let folder = Folder::new("curve-files");
    let (svg, csv) = (folder.path("c.svg"), folder.path("c.csv"));
    let file = demo(BEETLES);
    let text = run(&[
        "curve",
        &file,
        "--replicates",
        "10",
        "--over",
        "traps=1..4",
        "--svg",
        &svg,
        "--csv",
        &csv,
    ])
    .answered();
    let svg = std::fs::read_to_string(svg).expect("a picture");
    assert!(svg.trim_start().starts_with("<svg"), "{svg}");
    assert!(svg.trim_end().ends_with("</svg>"));
    assert!(svg.contains("<title") && svg.contains("<desc"));
    let csv = std::fs::read_to_string(csv).expect("a table");
    let firsts: Vec<&str> = csv.lines().filter_map(|l| l.split(',').next()).collect();
    assert_eq!(firsts, ["traps per site", "1", "2", "3", "4"], "{csv}");
    // Columns are counted where nothing is quoted: below the header.
    let widths: Vec<usize> = csv.lines().map(|l| l.split(',').count()).skip(1).collect();
    assert!(
        widths.iter().all(|w| *w == widths[0] && *w > 10),
        "{widths:?}"
    );
    for group in ["ground beetles", "spiders", "all animals"] {
        assert!(csv.contains(group), "{group} in {csv}");
        // A person reads the same table on the screen.
        assert!(text.contains(group), "{group} in {text}");
    }
}

#[test]
fn a_file_that_cannot_be_written_is_an_error_that_names_it() {
    let folder = Folder::new("curve-nowhere");
    let nowhere = folder.path("no-such-folder/c.csv");
    let file = demo(BEETLES);
    run(&[
        "curve",
        &file,
        "--json",
        "--replicates",
        "2",
        "--over",
        "traps=1,2",
        "--csv",
        &nowhere,
    ])
    .refused(&["no-such-folder/c.csv"]);
}

#[test]
fn a_point_that_is_no_plan_is_refused_by_its_place() {
    let file = demo(BEETLES);
    let over = |over: &str| run(&["curve", &file, "--replicates", "2", "--over", over]);
    over("sites=1,24").refused(&["sites = 1", "2 to 2000"]);
    over("weeks=60").refused(&["weeks = 60"]);
    over("sites=2001").refused(&["sites = 2001"]);
}
