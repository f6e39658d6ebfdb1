//! `mistakes`: text, JSON, one alone, picture; and what is refused.

use crate::support::{BEETLES, Folder, demo, number, run};

#[test]
fn mistakes_as_text() {
    let text = run(&["mistakes", &demo(BEETLES)]).answered();
    for words in [
        "Traps counted as sites (traps_as_sites)",
        "96 traps count as ",
        "sites: 24 (from the scenario)",
        "With good and bad years left out of the analysis",
        "turns the sign of the change in",
        "A stable population would seem to fall by",
        "Without the empty visits the mean catch is told as",
        "days a decade (an example)",
        "still leaves a fall of up to",
        "half of the significant surveys tell one of",
        "looks, each with the usual test",
        "20 species, none of which changes: 1 false alarm to expect",
        "Instead: ",
        "Kish 1965",
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
}

#[test]
fn one_mistake_as_json_and_files() {
    let folder = Folder::new("mistakes");
    let (svg, csv) = (folder.path("a.svg"), folder.path("a.csv"));
    let file = folder.changed(BEETLES, |s| {
        s["premises"]["target"]["site_sd"]["value"] = 0.6.into();
        s["plan"]["sites"] = 6.into();
        s["plan"]["traps_per_site"] = 10.into();
    });
    let one = |more: &[&str]| {
        let mut arguments = vec!["mistakes", file.as_str(), "--only", "traps_as_sites"];
        arguments.extend(more);
        run(&arguments)
    };
    let told = one(&["--json", "--svg", &svg, "--csv", &csv]).json();
    let all = told["mistakes"].as_array().expect("a list");
    assert_eq!(all.len(), 1);
    assert_eq!(all[0]["mistake"], "traps_as_sites");
    assert_eq!(all[0]["knobs"][1]["value"], 10.0);
    let result = &all[0]["result"];
    let (icc, count_as) = (number(result, "/icc"), number(result, "/count_as"));
    // Kish's design effect.
    assert!(
        (count_as - 60.0 / (1.0 + 9.0 * icc)).abs() < 1e-9,
        "{result}"
    );
    assert!(number(result, "/naive_false_alarm") > 0.2, "{result}");
    let read = |path: &str| std::fs::read_to_string(path).expect("a file");
    assert!(read(&svg).starts_with("<svg") && read(&svg).contains("Traps counted as sites"));
    assert!(read(&csv).starts_with("traps at each site,count as so many,"));
    assert!(one(&[]).answered().contains("traps at each site"));
}

#[test]
fn drawn_histories_depend_on_the_seed_alone() {
    let file = demo(BEETLES);
    let told = |seed: &str| {
        let arguments = [
            "mistakes",
            &file,
            "--only",
            "baseline_chosen",
            "--seed",
            seed,
            "--json",
        ];
        run(&arguments).json()["mistakes"][0]["result"].clone()
    };
    let (a, b) = (told("1"), told("2"));
    assert_eq!(a, told("1"));
    assert_ne!(a["history"], b["history"]);
    assert_eq!(a["flip_chance"], b["flip_chance"]);
    // Four standard errors of a thousand histories.
    let drawn = number(&a, "/flipped") / number(&a, "/histories");
    assert!((drawn - number(&a, "/flip_chance")).abs() < 0.065, "{a}");
}

#[test]
fn unknown_mistakes_and_pictures_of_all() {
    let done = run(&["mistakes", &demo(BEETLES), "--only", "hurry"]);
    assert_eq!(done.code, 2);
    assert!(
        done.err.contains("\"hurry\"") && done.err.contains("best_sites"),
        "{}",
        done.err
    );
    let done = run(&["mistakes", &demo(BEETLES), "--svg", "nowhere.svg"]);
    assert_eq!(done.code, 2);
    assert!(done.err.contains("--only"), "{}", done.err);
}
