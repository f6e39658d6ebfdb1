//! Several species at once.

use crate::support::{BEETLES, Folder, assert_share, assert_spread, demo, number, run};

const SEVERAL: &str = "meadow-several.json";

fn small(folder: &Folder, change: impl FnOnce(&mut serde_json::Value)) -> String {
    folder.changed(SEVERAL, |s| {
        s["plan"]["sites"] = 8.into();
        s["plan"]["years"] = 5.into();
        change(s);
    })
}

#[test]
fn a_line_for_each_species_and_the_list() {
    let folder = Folder::new("several");
    let path = small(&folder, |_| ());
    let arguments = ["several", &path, "--json", "--replicates", "200"];
    let told = run(&[&arguments[..], &["--threads", "1"]].concat()).json();
    let species = told["species"].as_array().expect("species");
    let names: Vec<_> = species.iter().map(|s| s["name"].clone()).collect();
    assert_eq!(
        names,
        [
            "meadow runner",
            "pale sun beetle",
            "ditch digger",
            "hay-time beetle"
        ]
    );
    for s in species {
        assert_share(&s["power"], 200);
        assert_share(&s["false_alarm"], 200);
        assert_share(&s["power_controlled"], 200);
        assert_eq!(s["result_digest"].as_str().map(str::len), Some(16));
    }
    assert_eq!(
        (&told["control"], &told["needed"]),
        (&"holm".into(), &3.into())
    );
    for list in ["without_control", "under_control"] {
        assert_share(&told[list]["answered"], 200);
        assert_share(&told[list]["any_false_alarm"], 200);
        assert!(number(&told[list], "/expected_found/estimate") <= 4.0);
    }
    // Ranks: each species raises the accepted share of false alarms.
    let alarms = number(&told, "/without_control/expected_false_alarms/estimate");
    assert!((alarms - 0.2).abs() < 1e-12, "{alarms}");
    assert_eq!(told["surveys_needed"], 800);
    // The toll is that of the answer: all species and the by-catch.
    assert_spread(&told["toll"]["total"]);
    let answer = run(&["answer", &path, "--json", "--replicates", "200"]).json();
    assert_eq!(told["toll"], answer["toll"]);
    assert_eq!(species[0]["result_digest"], answer["result_digest"]);
    let groups = told["toll"]["bycatch"].as_array().expect("groups");
    assert_eq!(
        (groups.len(), &groups[4]["group"]),
        (5, &"hay-time beetle".into())
    );
    for threads in ["2", "3", "7"] {
        let other = run(&[&arguments[..], &["--threads", threads]].concat()).json();
        assert_eq!(other, told, "{threads} threads");
    }
}

#[test]
fn the_list_in_words() {
    let folder = Folder::new("several-words");
    let path = small(&folder, |_| ());
    let text = run(&["several", &path, "--replicates", "200"]).answered();
    for words in [
        "Asked of 4 species at once: meadow runner, pale sun beetle",
        "power under control (Holm)",
        "the chance that at least 75 % of the 4 species (3 of them) are answered is",
        "false alarms are expected over the list",
        "Species are taken as independent of each other",
        "none can be smaller than 0.005",
        "800 surveys would tell them better",
        "One toll is shared by all",
    ] {
        assert!(text.contains(words), "{words:?} is not in {text}");
    }
    let answer = run(&["answer", &path, "--replicates", "5"]).answered();
    assert!(
        answer.contains("one of 4 species that are asked about"),
        "{answer}"
    );
    let refused = folder.changed(SEVERAL, |s| {
        s["plan"]["sites"] = 6.into();
        s["plan"]["years"] = 4.into();
        s["question"]["significance"] = 0.01.into();
        let one = s["premises"]["others"][0].clone();
        let others = (0..12).map(|i| {
            let mut one = one.clone();
            one["name"] = format!("species {i}").into();
            one
        });
        s["premises"]["others"] = others.collect();
    });
    // .01/13 is below 1/1001.
    let text = run(&["several", &refused, "--replicates", "1000"]).answered();
    assert!(
        text.contains("no control is claimed; simulate at least 13000"),
        "{text}"
    );
    assert!(text.contains("not claimed"), "{text}");
}

#[test]
fn one_species_is_refused() {
    run(&["several", &demo(BEETLES), "--replicates", "5"])
        .refused(&["the scenario asks of one species alone", "premises.others"]);
    let folder = Folder::new("several-refused");
    let path = small(&folder, |s| {
        s["question"]["several"]["control"] = "sidak".into();
    });
    run(&["several", &path]).refused(&["question.several.control", "unknown variant"]);
}
