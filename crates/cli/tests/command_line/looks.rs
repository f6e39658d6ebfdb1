//! Planned looks.

use crate::support::{BEETLES, Folder, assert_share, demo, number, run};
use serde_json::json;

fn small(folder: &Folder, change: impl FnOnce(&mut serde_json::Value)) -> String {
    folder.changed(BEETLES, |s| {
        s["plan"]["sites"] = 8.into();
        s["plan"]["years"] = 6.into();
        s["plan"]["looks"] = json!({
            "after_years": [4],
            "boundary": "spend_obrien_fleming",
            "futility": { "rule": { "conditional_power": 0.2 }, "binding": false }
        });
        change(s);
    })
}

#[test]
fn looks_as_json_in_every_number_of_threads() {
    let folder = Folder::new("looks");
    let path = small(&folder, |_| ());
    let arguments = ["looks", &path, "--json", "--replicates", "200"];
    let told = run(&[&arguments[..], &["--threads", "1"]].concat()).json();
    for share in ["power", "false_alarm_unheeded", "wrong_way"] {
        assert_share(&told[share], 200);
    }
    assert_eq!(told["looks"].as_array().map(Vec::len), Some(2));
    assert_eq!(
        (&told["looks"][0]["year"], &told["looks"][1]["year"]),
        (&4.into(), &6.into())
    );
    assert_eq!(told["looks"][1]["information"], 1.0);
    assert!(number(&told, "/looks/0/t") > number(&told, "/looks/0/z"));
    assert!(number(&told, "/change/expected_years") <= 6.0);
    for of in ["money", "hours"] {
        let told = |key: &str| number(&told, &format!("/change/cost/{of}/{key}"));
        let (fixed, with, spared) = (told("fixed"), told("with_looks"), told("spared"));
        assert!(with > 0.0 && with < fixed, "{of}: {with} of {fixed}");
        assert!((fixed - with - spared).abs() < 1e-9 * fixed, "{of}");
    }
    assert_eq!(told["result_digest"].as_str().map(str::len), Some(16));
    let other = run(&[&arguments[..], &["--threads", "3"]].concat()).json();
    assert_eq!(other, told);
}

#[test]
fn looks_in_words_and_files() {
    let folder = Folder::new("looks-words");
    let path = small(&folder, |_| ());
    let (svg, csv) = (folder.path("a.svg"), folder.path("a.csv"));
    let arguments = [
        "looks",
        &path,
        "--replicates",
        "20",
        "--svg",
        &svg,
        "--csv",
        &csv,
    ];
    let told = run(&arguments).answered();
    for words in [
        "Looks after 4 and 6 years",
        "After year 4, stop: found if",
        "After year 6, the last",
        "would raise false alarms in",
        "Animals spared",
        "Expected costs over all years",
        "money (crowns)",
        "Write down years, lines and who looks",
        "until then they stand as designed",
    ] {
        assert!(told.contains(words), "{words} in {told}");
    }
    let svg = std::fs::read_to_string(svg).expect("a picture");
    assert!(svg.contains("<title") && !svg.contains("NaN"));
    let csv = std::fs::read_to_string(csv).expect("a table");
    assert!(csv.starts_with("year,information,line_z,nominal_p,") && csv.lines().count() == 3);
}

#[test]
fn looks_that_cannot_be() {
    let folder = Folder::new("looks-refused");
    run(&["looks", &demo(BEETLES)]).refused(&["plan.looks: missing", BEETLES]);
    let with =
        |years: serde_json::Value| small(&folder, |s| s["plan"]["looks"]["after_years"] = years);
    for (years, words) in [
        (
            json!([]),
            "plan.looks.after_years is []: give at least one year before the last, 6",
        ),
        (json!([6]), "give at least one year before the last, 6"),
        (
            json!([2]),
            "plan.looks.after_years[0] is 2: give a whole number of years from 3",
        ),
        (
            json!([4, 4]),
            "plan.looks.after_years[1] is 4: give more years than the look before, 4",
        ),
        (json!([4, 9]), "plan.looks.after_years[1] is 9"),
    ] {
        run(&["looks", &with(years)]).refused(&[words]);
    }
    let beta = small(&folder, |s| {
        s["plan"]["looks"]["futility"]["rule"] = json!({ "spend_beta": 0.9 });
    });
    run(&["looks", &beta]).refused(&["plan.looks.futility.rule.spend_beta is 0.9: give"]);
    let moths = folder.changed(crate::support::MOTHS, |s| {
        s["plan"]["looks"] = json!({ "after_years": [4], "boundary": "pocock" });
    });
    run(&["answer", &moths])
        .refused(&["plan.looks: planned looks belong to the questions of a decline"]);
}
