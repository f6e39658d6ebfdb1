//! Every question, every analysis and every other choice of the scenario format, as small scenarios.
//!
//! The choices are read from the format's own schema, so that a new variant is tested without anybody remembering it;
//! a new question, which needs numbers of its own, stops the tests until it has an example here.

use serde_json::{Value, json};
use std::collections::BTreeSet;
use survey::scenario::{Checked, Costs, Known, Rows, Stepped, read, schema};

/// A demonstration scenario for each question, by the question's key in the file.
const EXAMPLES: &[(&str, &str)] = &[
    (
        "decline",
        include_str!("../../demo-data/meadow-beetles.json"),
    ),
    (
        "no_worse",
        include_str!("../../demo-data/meadow-no-worse.json"),
    ),
    (
        "difference",
        include_str!("../../demo-data/orchard-hoverflies.json"),
    ),
    (
        "before_after",
        include_str!("../../demo-data/meadow-mowing.json"),
    ),
    (
        "occupancy",
        include_str!("../../demo-data/mountain-occupancy.json"),
    ),
    (
        "range_shift",
        include_str!("../../demo-data/mountain-moths.json"),
    ),
    (
        "absence",
        include_str!("../../demo-data/orchard-absence.json"),
    ),
    (
        "baseline",
        include_str!("../../demo-data/orchard-baseline.json"),
    ),
    (
        "inventory",
        include_str!("../../demo-data/meadow-inventory.json"),
    ),
];

/// Further examples of questions, for what an example of the question alone does not reach.
const MORE: &[(&str, &str)] = &[(
    "range_shift of an edge",
    include_str!("../../demo-data/mountain-edge.json"),
)];

/// A scenario with what it varies.
pub struct Variant {
    /// What it varies, for messages.
    pub name: String,
    /// The scenario.
    pub scenario: Checked,
}

/// The example of each question of the format, small enough to be simulated in no time.
///
/// # Panics
/// When a question has no example.
pub fn questions() -> Vec<(String, Value)> {
    let schema = schema();
    let effects = &schema["properties"]["question"]["properties"]["effect"]["oneOf"];
    let effects = effects.as_array().expect("the format has questions");
    let named = |effect: &Value| {
        let key = effect["required"][0].as_str().expect("a key").to_string();
        let found = EXAMPLES.iter().find(|(name, _)| *name == key);
        let (_, text) = found.unwrap_or_else(|| panic!("the question {key:?} has no example"));
        (key, *text)
    };
    let more = MORE.iter().map(|(name, text)| ((*name).to_string(), *text));
    let example = |(key, text): (String, &str)| {
        let mut scenario: Value = serde_json::from_str(text).expect("JSON");
        for (path, value) in [
            ("/plan/sites", 8),
            ("/plan/traps_per_site", 2),
            ("/plan/weeks", 2),
            ("/plan/years", 5),
            ("/limits/sites", 8),
            ("/limits/traps_per_site", 2),
            ("/limits/weeks", 2),
        ] {
            *scenario.pointer_mut(path).expect("a number of the plan") = value.into();
        }
        if scenario["plan"]["visits"]["seasons"] == "first_and_last" {
            scenario["plan"]["years"] = 2.into();
        }
        (key, scenario)
    };
    effects.iter().map(named).chain(more).map(example).collect()
}

/// Each choice of the analysis with its variants.
pub fn analyses() -> Vec<(String, Vec<Value>)> {
    let schema = schema();
    let properties = schema["properties"]["analysis"]["properties"].as_object();
    let properties = properties.expect("the format has an analysis").iter();
    let choice = |(key, of): (&String, &Value)| (key.clone(), variants(of));
    properties
        .map(choice)
        .filter(|(_, v)| !v.is_empty())
        .collect()
}

/// The variants of a choice; none for a number or a text.
fn variants(of: &Value) -> Vec<Value> {
    if let Some(value) = of.get("const") {
        return vec![value.clone()];
    }
    if let Some(values) = of.get("enum").and_then(Value::as_array) {
        return values.clone();
    }
    if of["type"] == "boolean" {
        return vec![false.into(), true.into()];
    }
    let nested = ["oneOf", "anyOf"].iter().filter_map(|k| of.get(k));
    nested
        .filter_map(Value::as_array)
        .flatten()
        .flat_map(variants)
        .collect()
}

/// Every question with every combination of the analysis' variants that the format accepts.
///
/// # Panics
/// When a variant is accepted with no question at all.
pub fn analysed() -> Vec<Variant> {
    let analyses = analyses();
    let mut combinations: Vec<Vec<(String, Value)>> = vec![vec![]];
    for (key, values) in &analyses {
        let with = |c: &Vec<(String, Value)>, v: &Value| {
            let mut c = c.clone();
            c.push((key.clone(), v.clone()));
            c
        };
        combinations = combinations
            .iter()
            .flat_map(|c| values.iter().map(|v| with(c, v)))
            .collect();
    }
    let mut all = Vec::new();
    let mut accepted: Vec<(String, Value)> = Vec::new();
    for (question, example) in questions() {
        for combination in &combinations {
            let mut scenario = example.clone();
            for (key, value) in combination {
                scenario["analysis"][key] = value.clone();
            }
            let words = combination.iter().map(|(_, v)| v.to_string());
            let name = format!("{question} {}", words.collect::<Vec<_>>().join(" "));
            if let Some(scenario) = checked(&scenario) {
                accepted.extend(combination.iter().cloned());
                all.push(Variant { name, scenario });
            }
        }
    }
    for (key, values) in &analyses {
        for value in values {
            let pair = (key.clone(), value.clone());
            assert!(
                accepted.contains(&pair),
                "{key} = {value} is never accepted"
            );
        }
    }
    all
}

/// Every question with every other choice and number that may be left out of a file: the direction, how traps stand
/// from year to year, and each departure from the plain model by itself and all of them together.
///
/// # Panics
/// When a departure is accepted neither by itself nor together with the others.
pub fn departing() -> Vec<Variant> {
    let schema = schema();
    let mut all = Vec::new();
    for (question, example) in questions() {
        for path in [
            "/question/direction",
            "/question/effect/range_shift/of",
            "/plan/trap_points",
            "/plan/transect/placing",
            "/plan/visits/scheme",
            "/plan/visits/seasons",
        ] {
            let values = variants(property(&schema, path));
            assert!(!values.is_empty(), "{path} is no choice");
            let mut accepted = 0;
            for value in values {
                let mut scenario = example.clone();
                let (part, key) = path.rsplit_once('/').expect("a part and a key");
                let Some(part) = scenario.pointer_mut(part).filter(|p| p.is_object()) else {
                    // Not every question has visits, or a range.
                    accepted += 1;
                    continue;
                };
                part[key] = value.clone();
                if path == "/plan/visits/seasons" {
                    let years = if value == "first_and_last" { 2 } else { 5 };
                    scenario["plan"]["years"] = years.into();
                }
                // A claim has one side only.
                let Some(scenario) = checked(&scenario) else {
                    continue;
                };
                accepted += 1;
                let name = format!("{question} {path} {value}");
                all.push(Variant { name, scenario });
            }
            assert!(accepted > 0, "{question} accepts no {path}");
        }
        all.extend(unpaired(&question, &example));
        all.extend(revisiting(&question, &example));
        all.extend(at_places(&question, &example));
        all.extend(with_others(&question, &example));
        all.push(with_costs(&question, &example));
        all.extend(in_chosen_weeks(&question, &example));
        all.extend(gentle(&question, &example));
        let departures = &schema["properties"]["premises"]["properties"]["departures"];
        let departures = departures["properties"].as_object();
        let keys: Vec<&String> = departures
            .expect("the format has departures")
            .keys()
            .collect();
        let little = |keys: &[&String]| {
            let mut scenario = example.clone();
            for key in keys {
                scenario["premises"]["departures"][key.as_str()] =
                    json!({ "value": 0.1, "source": "invented" });
            }
            checked(&scenario)
        };
        let together = little(&keys).expect("all departures together are accepted");
        for variant in knowing(&question, &together) {
            all.push(variant);
        }
        for key in &keys {
            // One that only counts beside another is tested with all of them.
            if let Some(scenario) = little(&[*key]) {
                let name = format!("{question} {key}");
                all.push(Variant { name, scenario });
            }
        }
        let name = format!("{question} all departures");
        let scenario = together;
        all.push(Variant { name, scenario });
    }
    all
}

/// A kind of trap that is not the premises', and an end of animals that do not all come back; where the question takes them.
fn gentle(question: &str, example: &Value) -> Vec<Variant> {
    let guess = |value: f64| json!({ "value": value, "source": "guess" });
    let mut option = example.clone();
    option["premises"]["trap_options"] = json!([
        { "name": "unused", "catch_factor": guess(3.0) },
        {
            "name": "funnel",
            "catch_factor": guess(0.7),
            "k_factor": guess(1.5),
            "bycatch": [{ "class": "vertebrate", "factor": guess(0.3) }],
        },
    ]);
    option["plan"]["trap_option"] = "funnel".into();
    let mut end = example.clone();
    end["premises"]["local_population"] = json!({ "animals": guess(60.0), "recovery": guess(0.6) });
    let each = [("a kind of trap", option), ("an end of animals", end)];
    let named = |(what, s): (&str, Value)| {
        let name = format!("{question} {what}");
        checked(&s).map(|scenario| Variant { name, scenario })
    };
    each.into_iter().filter_map(named).collect()
}

/// Every pattern of revisits, a gap, drop-out and late samples, where the question takes them.
fn revisiting(question: &str, example: &Value) -> Vec<Variant> {
    let stated = |value: f64| json!({ "value": value, "source": "invented" });
    let patterns = [
        json!({ "every_k": { "years": 2 } }),
        json!({ "alternating": { "panels": 2 } }),
        json!({ "augmented": { "always": 4, "panels": 2 } }),
        json!({ "rotating": { "stay": 4 } }),
        json!({ "split": { "always": 4 } }),
        json!("new_each_year"),
    ];
    // So many sites that each pattern divides them over five years.
    let sites = [8, 8, 8, 16, 14, 20];
    let mut all: Vec<(String, Value)> = Vec::new();
    for (pattern, sites) in patterns.into_iter().zip(sites) {
        let mut scenario = example.clone();
        scenario["plan"]["revisit"] = pattern.clone();
        scenario["plan"]["sites"] = sites.into();
        scenario["limits"]["sites"] = sites.into();
        all.push((pattern.to_string(), scenario));
    }
    let mut gap = example.clone();
    gap["plan"]["gap_years"] = json!([3]);
    all.push(("gap".into(), gap));
    for key in ["attrition", "late_share"] {
        let mut scenario = example.clone();
        scenario["premises"][key] = stated(0.2);
        all.push((key.into(), scenario));
    }
    let found = all.into_iter().filter_map(|(name, scenario)| {
        let name = format!("{question} {name}");
        checked(&scenario).map(|scenario| Variant { name, scenario })
    });
    let found: Vec<Variant> = found.collect();
    // Trends take all of them.
    assert!(question != "decline" || found.len() == 9, "{}", found.len());
    found
}

/// Ten places, closer together low on a gradient.
fn places(example: &Value) -> Value {
    let transect = &example["plan"]["transect"];
    let ends = transect["lowest"]
        .as_f64()
        .zip(transect["highest"].as_f64());
    let place = |i: u32| {
        let name = format!("place {i}");
        match ends {
            Some((low, high)) => {
                let position = low + (high - low) * f64::from(i * i) / 81.0;
                json!({ "name": name, "position": position })
            }
            None => json!({ "name": name }),
        }
    };
    (0..10).map(place).collect()
}

/// Sites at fixed places, where the question takes them.
fn at_places(question: &str, example: &Value) -> Option<Variant> {
    let mut s = example.clone();
    s["plan"]["places"] = places(example);
    if s["plan"]["transect"].is_object() {
        s["plan"]["transect"]["placing"] = "listed".into();
    }
    let found = checked(&s);
    assert!(
        found.is_some() || s["plan"]["groups"].is_object(),
        "{question}"
    );
    found.map(|scenario| Variant {
        name: format!("{question} fixed places"),
        scenario,
    })
}

/// Searches that may choose among patterns of revisits, schemes of visits or sites at fixed places, where the question
/// takes them.
pub fn choosing() -> Vec<Variant> {
    let mut all = Vec::new();
    for (question, example) in questions() {
        for (key, list) in [
            (
                "revisits",
                json!([null, { "alternating": { "panels": 2 } }]),
            ),
            ("schemes", json!(["standard", "removal", "conditional"])),
            ("places", places(&example)),
        ] {
            let mut s = example.clone();
            s["limits"][key] = list;
            let name = format!("{question} {key}");
            all.extend(checked(&s).map(|scenario| Variant { name, scenario }));
        }
    }
    all
}

/// The schema of a part of the file.
fn property<'a>(schema: &'a Value, path: &str) -> &'a Value {
    let mut at = schema;
    for key in path.split('/').skip(1) {
        // A part that may be left out is one of (its schema, null).
        if let Some(choices) = at.get("anyOf").and_then(Value::as_array) {
            at = choices
                .iter()
                .find(|c| c.get("properties").is_some())
                .expect("a part with keys");
        }
        // An enum is one of its variants, each with a key of its own.
        if let Some(choices) = at.get("oneOf").and_then(Value::as_array) {
            let has = |c: &&Value| c["properties"].get(key).is_some();
            at = choices.iter().find(has).expect("a variant with the key");
        }
        at = &at["properties"][key];
    }
    at
}

/// The same with groups that are no pairs and not alike, where sites are in pairs; with pairs, where they are not.
fn unpaired(question: &str, example: &Value) -> Option<Variant> {
    let mut scenario = example.clone();
    let groups = scenario["plan"]["groups"].as_object_mut()?;
    let paired = groups.get("paired").is_some_and(|p| p == true);
    groups.insert("paired".into(), (!paired).into());
    groups.insert(
        "treated_share".into(),
        json!(if paired { 0.3 } else { 0.5 }),
    );
    let premises = scenario["premises"].as_object_mut()?;
    if paired {
        premises.remove("pair_correlation");
    } else {
        let common = json!({ "value": 0.4, "source": "invented" });
        premises.insert("pair_correlation".into(), common);
    }
    let scenario = checked(&scenario).expect("pairs or no pairs");
    let name = format!("{question} paired {}", !paired);
    Some(Variant { name, scenario })
}

/// The same in two weeks that are not in a row, with the reproductive share told apart.
fn in_chosen_weeks(question: &str, example: &Value) -> Option<Variant> {
    let mut scenario = example.clone();
    let first = example["plan"]["first_week"].as_u64()?;
    scenario["plan"]["chosen_weeks"] = json!([first, first + 2]);
    let given = |value: f64| json!({ "value": value, "source": "invented" });
    scenario["premises"]["target"]["reproductives"] = json!({
        "share_at_peak": given(0.5), "peak_week": given(first as f64), "width_weeks": given(2.0),
    });
    let scenario = checked(&scenario).expect("chosen weeks");
    let name = format!("{question} in chosen weeks");
    Some(Variant { name, scenario })
}

/// The same asked of two more species, which are killed with the target; where a question asks of several.
fn with_others(question: &str, example: &Value) -> Option<Variant> {
    let mut scenario = example.clone();
    let target = &example["premises"]["target"];
    let other = |name: &str, catch: f64| {
        let mut other = target.clone();
        other["name"] = name.into();
        other["catch_per_trap_week"] = json!({ "value": catch, "source": "invented" });
        other
    };
    scenario["premises"]["others"] = json!([other("a rare one", 0.6), other("a common one", 20.0)]);
    scenario["question"]["several"] = json!({ "answered_share": 0.6, "control": "holm" });
    let scenario = checked(&scenario)?;
    let name = format!("{question} of several species");
    Some(Variant { name, scenario })
}

/// The same with costs of every kind.
fn with_costs(question: &str, example: &Value) -> Variant {
    let mut scenario = example.clone();
    let mut costs = Costs::usual();
    costs.stepped = vec![Stepped::usual()];
    costs.laboratory_lag_weeks.value = 40.0;
    costs.laboratory_staff_hours.value = 10.0;
    scenario["premises"]["costs"] = json!(costs);
    let scenario = checked(&scenario).expect("any question may state costs");
    let name = format!("{question} with costs");
    Variant { name, scenario }
}

/// Each question that may be asked of several species, asked of three, under each control that the format names.
///
/// # Panics
/// When no question is.
pub fn several() -> Vec<Variant> {
    let schema = schema();
    let controls = variants(property(&schema, "/question/several/control"));
    let mut all = Vec::new();
    for (question, example) in questions() {
        let Some(Variant { name, scenario }) = with_others(&question, &example) else {
            continue;
        };
        let scenario = serde_json::to_value(scenario.into_inner()).expect("JSON");
        for control in &controls {
            let mut scenario = scenario.clone();
            scenario["question"]["several"]["control"] = control.clone();
            all.push(Variant {
                name: format!("{name} {control}"),
                scenario: checked(&scenario).expect("a control is accepted"),
            });
        }
    }
    assert!(all.len() >= 4, "no question is asked of several species");
    all
}

/// Each question that allows planned looks, with each line and rule of futility that the format names.
///
/// # Panics
/// When the format names none, or no question allows looks.
pub fn looking() -> Vec<Variant> {
    let schema = schema();
    let boundaries = variants(property(&schema, "/plan/looks/boundary"));
    let rules = [
        Value::Null,
        json!({ "rule": { "spend_beta": 0.1 }, "binding": false }),
        json!({ "rule": { "conditional_power": 0.2 }, "binding": true }),
    ];
    assert!(boundaries.len() >= 5, "{boundaries:?}");
    let mut all = Vec::new();
    for (question, example) in questions() {
        for (i, boundary) in boundaries.iter().enumerate() {
            let mut scenario = example.clone();
            let rule = &rules[i % rules.len()];
            scenario["plan"]["looks"] = json!({ "after_years": [4], "boundary": boundary });
            if !rule.is_null() {
                scenario["plan"]["looks"]["futility"] = rule.clone();
            }
            // Not every question allows looks.
            let Some(scenario) = checked(&scenario) else {
                continue;
            };
            let name = format!("{question} looked at, {boundary} {rule}");
            all.push(Variant { name, scenario });
        }
    }
    assert!(all.len() >= 4 * boundaries.len(), "{}", all.len());
    all
}

/// The scenario, weekly, with an analysis that is told of each thing it may be told of, of all, and of none.
fn knowing(question: &str, scenario: &Checked) -> Vec<Variant> {
    if !scenario.question.effect.counts() {
        return Vec::new();
    }
    let one = |k: &Known| BTreeSet::from([*k]);
    let each = Known::ALL.iter().map(one);
    let more = [Known::ALL.into(), BTreeSet::new()];
    let variant = |knows: BTreeSet<Known>| {
        let mut scenario = scenario.clone().into_inner();
        scenario.analysis.rows = Rows::Weeks;
        let name = format!("{question} all departures, told of {knows:?}");
        scenario.analysis.knows = knows;
        let scenario = scenario.check().unwrap_or_else(|f| panic!("{name}: {f:?}"));
        Variant { name, scenario }
    };
    each.chain(more).map(variant).collect()
}

fn checked(scenario: &Value) -> Option<Checked> {
    let scenario = read(&scenario.to_string()).unwrap_or_else(|e| panic!("{e}: {scenario}"));
    scenario.check().ok()
}
