//! What differs between two stands of the page, by place in the file.

use super::Stand;
use engine::scenario::write;
use serde_json::{Value, json};

/// One place that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Keys joined by dots, list entries as `[0]`.
    pub path: String,
    /// What stood there; nothing where there was none.
    pub from: Option<Value>,
    /// What stands there now.
    pub to: Option<Value>,
}

impl Change {
    /// Whether one number, word or switch took the place of another.
    pub fn is_plain(&self) -> bool {
        let plain = |v: &Option<Value>| v.as_ref().is_some_and(|v| !v.is_object() && !v.is_array());
        plain(&self.from) && plain(&self.to)
    }
}

/// All places that differ: the scenario's, and `seed`, `replicates` and `axis`.
pub fn between(a: &Stand, b: &Stand) -> Vec<Change> {
    let mut found = Vec::new();
    if a.scenario != b.scenario {
        // By way of the file's text, which the page writes anyway: turning it into values directly is code of its own.
        let value = |s| serde_json::from_str::<Value>(&write(s)).unwrap_or_default();
        compare("", &value(&a.scenario), &value(&b.scenario), &mut found);
    }
    let settings =
        |s: &Stand| json!({"seed": s.seed, "replicates": s.replicates, "axis": s.axis.key()});
    compare("", &settings(a), &settings(b), &mut found);
    found
}

fn compare(path: &str, a: &Value, b: &Value, found: &mut Vec<Change>) {
    if a == b {
        return;
    }
    let mut one = |path: String, from: Option<&Value>, to: Option<&Value>| match (from, to) {
        (Some(x), Some(y)) => compare(&path, x, y, found),
        _ => found.push(Change {
            path,
            from: from.cloned(),
            to: to.cloned(),
        }),
    };
    match (a, b) {
        (Value::Object(x), Value::Object(y)) => {
            let gone = y.keys().filter(|k| !x.contains_key(*k));
            for key in x.keys().chain(gone) {
                let path = if path.is_empty() {
                    key.clone()
                } else {
                    format!("{path}.{key}")
                };
                one(path, x.get(key), y.get(key));
            }
        }
        (Value::Array(x), Value::Array(y)) => {
            for i in 0..x.len().max(y.len()) {
                one(format!("{path}[{i}]"), x.get(i), y.get(i));
            }
        }
        _ => found.push(Change {
            path: path.to_owned(),
            from: Some(a.clone()),
            to: Some(b.clone()),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(a: Value, b: Value) -> Vec<(String, bool)> {
        let mut found = Vec::new();
        compare("", &a, &b, &mut found);
        found
            .iter()
            .map(|c| (c.path.clone(), c.is_plain()))
            .collect()
    }

    #[test]
    fn places_are_named_as_in_the_file() {
        let a = json!({"plan": {"sites": 1, "weeks": 2}, "list": [{"x": 1}]});
        let b =
            json!({"plan": {"sites": 3, "weeks": 2, "looks": {}}, "list": [{"x": 2}, {"x": 1}]});
        let want = [
            ("list[0].x", true),
            ("list[1]", false),
            ("plan.sites", true),
            ("plan.looks", false),
        ];
        let mut got = found(a.clone(), b);
        got.sort();
        let mut want: Vec<_> = want.map(|(p, plain)| (p.to_string(), plain)).into();
        want.sort();
        assert_eq!(got, want);
        assert_eq!(found(a.clone(), a), []);
    }
}
