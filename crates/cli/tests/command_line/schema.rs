//! `schema`: what it prints takes the demos and refuses what the program refuses.

use crate::support::{BEETLES, MOTHS, run, scenario};
use serde_json::{Value, json};

/// The first place at which a value breaks a schema, by the words the schema uses; `None` when it fits.
fn fault(schema: &Value, value: &Value, at: &str) -> Option<String> {
    let words = schema.as_object()?;
    for (word, rule) in words {
        let fits = match word.as_str() {
            "type" => has_type(rule, value),
            "const" => rule == value,
            "enum" => rule.as_array()?.contains(value),
            "minimum" => value
                .as_f64()
                .is_none_or(|v| v >= rule.as_f64().expect("a number")),
            "maximum" => value
                .as_f64()
                .is_none_or(|v| v <= rule.as_f64().expect("a number")),
            "oneOf" => choices(rule, value, at) == 1,
            "anyOf" => choices(rule, value, at) >= 1,
            "required" => value.as_object().is_none_or(|object| {
                let keys = rule.as_array().expect("a list").iter();
                keys.filter_map(Value::as_str)
                    .all(|key| object.contains_key(key))
            }),
            "additionalProperties" => {
                assert_eq!(rule, false, "a rule this check does not know, at {at}");
                value.as_object().is_none_or(|object| {
                    object
                        .keys()
                        .all(|key| schema["properties"].get(key).is_some())
                })
            }
            "properties" => {
                for (key, inner) in rule.as_object().expect("an object") {
                    if let Some(part) = value.get(key)
                        && let Some(found) = fault(inner, part, &format!("{at}.{key}"))
                    {
                        return Some(found);
                    }
                }
                true
            }
            "items" => {
                for (i, part) in value.as_array().into_iter().flatten().enumerate() {
                    if let Some(found) = fault(rule, part, &format!("{at}[{i}]")) {
                        return Some(found);
                    }
                }
                true
            }
            "$schema" | "title" | "description" | "default" | "format" => true,
            other => panic!("the schema uses {other:?} at {at}, which this check does not know"),
        };
        if !fits {
            return Some(format!("{at}: {word}"));
        }
    }
    None
}

fn has_type(rule: &Value, value: &Value) -> bool {
    let one = |name: &str| match name {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "boolean" => value.is_boolean(),
        "null" => value.is_null(),
        "number" => value.is_number(),
        "integer" => value.as_f64().is_some_and(|v| v.fract() == 0.0),
        other => panic!("no type is called {other:?}"),
    };
    match rule {
        Value::Array(names) => names.iter().filter_map(Value::as_str).any(one),
        name => one(name.as_str().expect("a type")),
    }
}

fn choices(rule: &Value, value: &Value, at: &str) -> usize {
    let list = rule.as_array().expect("a list").iter();
    list.filter(|one| fault(one, value, at).is_none()).count()
}

fn schema() -> Value {
    run(&["schema"]).json()
}

#[test]
fn the_demos_fit() {
    let schema = schema();
    for name in [BEETLES, MOTHS] {
        assert_eq!(fault(&schema, &scenario(name), "the file"), None, "{name}");
    }
}

#[test]
fn departures_fit() {
    let mut s = scenario(BEETLES);
    s["plan"]["trap_points"] = "new_each_year".into();
    let stated = |value: f64| json!({ "value": value, "source": "guess" });
    s["premises"]["departures"] = json!({
        "year_autocorrelation": stated(-0.5),
        "site_slope_sd": stated(0.02),
        "correlation_length_km": stated(5.0),
        "region_km2": stated(100.0),
        "shared_week_sd": stated(0.5),
        "detection_drift_percent": stated(-2.0),
        "loss_follows_catch": stated(1.0),
    });
    assert_eq!(fault(&schema(), &s, "the file"), None);
}

/// A change to a scenario, and the place at which the schema must find it.
type Change = (&'static str, fn(&mut Value));

#[test]
fn what_the_program_refuses_does_not_fit() {
    let schema = schema();
    let changes: [Change; 10] = [
        ("the file.plan.sites", |s| s["plan"]["sites"] = 1.into()),
        ("the file.plan.sites", |s| s["plan"]["sites"] = json!(2.5)),
        ("the file.plan.sites", |s| s["plan"]["sites"] = "24".into()),
        ("the file.plan", |s| s["plan"]["colour"] = "green".into()),
        ("the file.plan", |s| {
            s["plan"].as_object_mut().expect("a plan").remove("years");
        }),
        (
            "the file.premises.bycatch[1].catch_per_trap_week.value",
            |s| {
                s["premises"]["bycatch"][1]["catch_per_trap_week"]["value"] = json!(-1);
            },
        ),
        (
            "the file.premises.departures.year_autocorrelation.value",
            |s| {
                s["premises"]["departures"] =
                    json!({ "year_autocorrelation": { "value": 1.0, "source": "guess" } });
            },
        ),
        ("the file.plan.trap_points", |s| {
            s["plan"]["trap_points"] = "moved".into();
        }),
        ("the file.question.effect", |s| {
            s["question"]["effect"]["decline"]["change_percent"] = json!(99.5);
        }),
        ("the file.question.direction", |s| {
            s["question"]["direction"] = "up".into()
        }),
    ];
    for (place, change) in changes {
        let mut changed = scenario(BEETLES);
        change(&mut changed);
        let found = fault(&schema, &changed, "the file").unwrap_or_default();
        assert!(
            found.starts_with(&format!("{place}: ")),
            "{place}, found {found:?}"
        );
    }
}
