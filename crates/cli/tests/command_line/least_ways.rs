//! `least`: patterns of revisits and schemes of visits to choose among.

use crate::support::{BEETLES, Folder, MOTHS, OCCUPANCY, number, run};
use serde_json::{Value, json};

/// A fall that few traps show.
fn easy(s: &mut Value) {
    s["limits"] = json!({ "sites": 12, "traps_per_site": 2, "weeks": 2 });
    s["question"]["effect"]["decline"]["change_percent"] = 60.into();
    // Without degrees of freedom few years far apart tell most for their kill.
    s["analysis"]["test"] = "z".into();
    s["premises"]["target"]["year_sd"] = json!({ "value": 0.01, "source": "invented" });
    s["limits"]["revisits"] =
        json!([null, { "alternating": { "panels": 2 } }, { "every_k": { "years": 3 } }]);
}

#[test]
fn patterns_are_chosen_among_and_told() {
    let folder = Folder::new("least-patterns");
    let path = folder.changed(BEETLES, easy);
    let told = run(&["least", &path, "--json", "--replicates", "60"]).json();
    // Sites 2 to 12 of two patterns, 2 to 12 by twos of the third, 2 traps, 2 weeks.
    assert_eq!(told["screened"], (11 + 11 + 6) * 4);
    let frontier = told["frontier"].as_array().expect("a frontier");
    let of = |revisit: &Value| {
        frontier
            .iter()
            .filter(|p| p["plan"]["revisit"] == *revisit)
            .count()
    };
    let every_third = json!({ "every_k": { "years": 3 } });
    assert!(
        of(&every_third) > 0 && of(&every_third) < frontier.len(),
        "{told}"
    );
    let other = |p: &&Value| p["fewer"] == "revisit" || p["fewer"] == "challenger";
    let smaller = told["smaller"].as_array().expect("smaller plans");
    for plan in smaller.iter().filter(other) {
        assert!(number(plan, "/toll/total/mean") < number(&told, "/toll/total/mean"));
    }
    let text = run(&["least", &path, "--replicates", "60"]).out;
    for words in [
        "patterns of revisits: the same sites every year / 2 panels that take turns / the same sites every 3 years",
        "Least plan: ",
    ] {
        assert!(text.contains(words), "{words:?} in\n{text}");
    }
}

#[test]
fn schemes_are_chosen_among_and_told() {
    let folder = Folder::new("least-schemes");
    let path = folder.changed(OCCUPANCY, |s| {
        s["limits"] = json!({ "sites": 200, "traps_per_site": 1, "weeks": 4 });
        s["limits"]["schemes"] = json!(["standard", "removal", "conditional"]);
    });
    let told = run(&["least", &path, "--json", "--replicates", "60"]).json();
    assert_eq!(told["screened"], 3 * 199 * 4);
    // Held against the others, whichever is the least.
    let least = &told["plan"]["visits"]["scheme"];
    let smaller = told["smaller"].as_array().expect("smaller plans");
    let other = |p: &&Value| p["plan"]["visits"]["scheme"] != *least;
    assert!(smaller.iter().filter(other).count() >= 2, "{told}");
    let text = run(&["least", &path, "--replicates", "60"]).out;
    let words = "weeks made: all weeks at all sites / each site until its first catch / all weeks only at sites with a catch in the first";
    assert!(text.contains(words), "{text}");
}

#[test]
fn lists_that_do_not_stand_are_refused() {
    let folder = Folder::new("least-lists");
    let schemes = folder.changed(BEETLES, |s| s["limits"]["schemes"] = json!(["removal"]));
    run(&["least", &schemes]).refused(&["limits.schemes", "occupancy question"]);
    let pattern = folder.changed(OCCUPANCY, |s| {
        // Without degrees of freedom few years far apart tell most for their kill.
        s["analysis"]["test"] = "z".into();
        s["premises"]["target"]["year_sd"] = json!({ "value": 0.01, "source": "invented" });
        s["limits"]["revisits"] = json!([{ "alternating": { "panels": 2 } }]);
    });
    run(&["least", &pattern]).refused(&["limits.revisits[0]", "alternating", "first_and_last"]);
}

/// Fourteen places, more of them low than high.
fn at_places(s: &mut Value) {
    let places: Vec<Value> = (0..14)
        .map(|i| json!({ "name": format!("Light {i}"), "position": 500 + 4 * i * i }))
        .collect();
    s["limits"] = json!({ "sites": 14, "traps_per_site": 2, "weeks": 3 });
    s["limits"]["places"] = places.into();
    s["question"]["effect"]["range_shift"]["distance_per_decade"] = 400.into();
    s["question"]["wanted_power"] = 0.5.into();
}

#[test]
fn sites_at_fixed_places_are_chosen_and_named() {
    let folder = Folder::new("least-places");
    let path = folder.changed(MOTHS, at_places);
    let told = run(&["least", &path, "--json", "--replicates", "60"]).json();
    // 4 to 14 sites, 2 traps, 3 weeks.
    assert_eq!(told["screened"], 11 * 6);
    let plan = &told["plan"];
    assert_eq!(plan["transect"]["placing"], "listed");
    let places = plan["places"].as_array().expect("places");
    assert_eq!(places.len(), 14);
    let sites = plan["sites"].as_u64().expect("sites") as usize;
    let text = run(&["least", &path, "--replicates", "60"]).out;
    assert!(text.contains("sites among 14 listed places"), "{text}");
    let line = text
        .lines()
        .find(|l| l.starts_with("Least plan: "))
        .expect("the plan");
    for (i, place) in places.iter().enumerate() {
        let name = format!("{} (", place["name"].as_str().expect("a name"));
        assert_eq!(line.contains(&name), i < sites, "{name} in {line}");
    }
    // The plan is one that can be asked for by itself, and answers alike.
    let path = folder.changed(MOTHS, |s| {
        at_places(s);
        s["plan"] = plan.clone();
    });
    let answer = run(&["answer", &path, "--json", "--replicates", "60"]).json();
    for key in ["power", "false_alarm", "toll"] {
        assert_eq!(told[key], answer[key], "{key}");
    }
    // No site more than there are places.
    let more = folder.changed(MOTHS, |s| {
        at_places(s);
        s["limits"]["sites"] = 15.into();
    });
    run(&["least", &more]).refused(&["limits.sites is 15", "at most 14", "limits.places"]);
}
