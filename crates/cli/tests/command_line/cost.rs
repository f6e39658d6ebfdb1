//! `cost`, and what the other commands tell of costs.

use crate::support::{BEETLES, demo, number, run};

const WITHOUT: &str = "meadow-no-worse.json";

#[test]
fn by_month_and_by_year() {
    let text = run(&["cost", &demo(BEETLES)]).answered();
    for words in [
        " crowns over all years; hours: ",
        "Hours by month of year 1, the busiest",
        "Money and hours by year",
        "all money, crowns",
        "laboratory staff",
        "vehicle: 1 needed, 24,000 crowns in all years",
        "week w lies in month",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    let told = run(&["cost", &demo(BEETLES), "--json"]).json();
    assert_eq!(told["currency"], "crowns");
    let years = told["years"].as_array().expect("years");
    assert_eq!(years.len(), 10);
    let sum: f64 = years.iter().map(|y| number(y, "/all_money")).sum();
    let all = number(&told, "/total/money");
    assert!((sum / all - 1.0).abs() < 1e-12, "{sum} {all}");
    // 24 sites at 8 a day are 3 days; once before the season and in each of 5 weeks, 10 years: 180 days.
    assert_eq!(number(&told, "/total/travel_days"), 180.0);
}

#[test]
fn picture_and_months_as_files() {
    let folder = std::env::temp_dir().join(format!("leastcatch-cost-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let path = |name: &str| folder.join(name).display().to_string();
    let (svg, csv) = (path("cost.svg"), path("cost.csv"));
    run(&["cost", &demo(BEETLES), "--svg", &svg, "--csv", &csv]).answered();
    let svg = std::fs::read_to_string(svg).expect("a picture");
    assert!(svg.starts_with("<svg") && svg.contains("person-hours"));
    let csv = std::fs::read_to_string(csv).expect("a table");
    let mut lines = csv.lines();
    assert_eq!(
        lines.next(),
        Some("year,month,travel,field,sorting,identification,curation,all hours,travel days")
    );
    // Weeks 21 to 25 are May and June; four weeks later the laboratory works in June and July.
    let months: Vec<&str> = lines
        .filter_map(|l| l.strip_prefix("1,")?.split(',').next())
        .collect();
    assert_eq!(months, ["5", "6", "7"]);
    std::fs::remove_dir_all(folder).expect("tidied up");
}

#[test]
fn without_costs() {
    run(&["cost", &demo(WITHOUT)]).refused(&[WITHOUT, "premises.costs is missing"]);
    let few = ["--replicates", "30"];
    let told = run(&["answer", &demo(WITHOUT), few[0], few[1], "--json"]).json();
    assert!(told["cost"].is_null());
    let text = run(&["answer", &demo(WITHOUT), few[0], few[1]]).answered();
    assert!(!text.contains("cost, all years"), "{text}");
}

/// The answer, a curve and the futures tell the same cost of the same plan.
#[test]
fn every_answer_tells_it() {
    let cost = run(&["cost", &demo(BEETLES), "--json"]).json();
    let with = |command: &str, more: &[&str]| {
        let mut arguments = vec![command];
        let path = demo(BEETLES);
        arguments.push(&path);
        arguments.extend(["--replicates", "20", "--json"]);
        arguments.extend(more);
        run(&arguments).json()
    };
    assert_eq!(with("answer", &[])["cost"]["total"], cost["total"]);
    assert_eq!(with("answer", &[])["cost"]["years"], cost["years"]);
    assert_eq!(with("futures", &[])["cost"], cost["total"]);
    let curve = with("curve", &["--over", "sites=12,24"]);
    assert_eq!(curve["points"][1]["cost"], cost["total"]);
    let (few, many) = (
        number(&curve["points"][0], "/cost/money"),
        number(&curve["points"][1], "/cost/money"),
    );
    assert!(few < many, "{few} {many}");
    let path = demo(BEETLES);
    let text = run(&["answer", &path, "--replicates", "20"]).answered();
    assert!(text.contains("cost, all years  "), "{text}");
    let over = [
        "curve",
        &path,
        "--replicates",
        "20",
        "--over",
        "sites=12,24",
    ];
    let text = run(&over).answered();
    assert!(
        text.contains("sites   12: ") && text.contains(" crowns"),
        "{text}"
    );
}
