//! The JSON Schema of the scenario file, with the bounds of [`super::fields`].

use super::{Scenario, fields};
use schemars::generate::SchemaSettings;
use serde_json::{Value, json};

/// The schema (draft 2020-12) as JSON.
pub fn schema() -> Value {
    let settings = SchemaSettings::draft2020_12().with(|s| s.inline_subschemas = true);
    let mut schema = settings
        .into_generator()
        .into_root_schema_for::<Scenario>()
        .to_value();
    for field in fields::all() {
        let keys: Vec<&str> = field.path.split('.').collect();
        bound(&mut schema, &keys, field);
    }
    for field in fields::BYCATCH {
        bound(
            &mut schema,
            &["premises", "bycatch", "[]", field.path],
            field,
        );
    }
    for field in fields::TARGET.iter().chain(fields::OTHERS_REPRODUCTIVES) {
        let mut keys = vec!["premises", "others", "[]"];
        keys.extend(field.path.split('.'));
        bound(&mut schema, &keys, field);
    }
    for field in fields::STEPPED {
        let keys = ["premises", "costs", "stepped", "[]", field.path];
        bound(&mut schema, &keys, field);
    }
    for field in fields::TRAP_OPTION {
        let keys = ["premises", "trap_options", "[]", field.path];
        bound(&mut schema, &keys, field);
    }
    for field in fields::CATCH_FACTOR {
        let keys = [
            "premises",
            "trap_options",
            "[]",
            "bycatch",
            "[]",
            field.path,
        ];
        bound(&mut schema, &keys, field);
    }
    schema
}

fn bound<T>(schema: &mut Value, keys: &[&str], field: &fields::Field<T>) {
    let Some(mut place) = step(schema, keys) else {
        return;
    };
    if field.premise.is_some() {
        for end in ["low", "high"] {
            if let Some(p) = step(&mut *place, &[end]) {
                set(p, field);
            }
        }
        let Some(value) = step(place, &["value"]) else {
            return;
        };
        place = value;
    }
    set(place, field);
}

fn set<T>(place: &mut Value, field: &fields::Field<T>) {
    place["minimum"] = json!(field.low);
    place["maximum"] = json!(field.high);
}

fn step<'a>(place: &'a mut Value, keys: &[&str]) -> Option<&'a mut Value> {
    let Some((key, rest)) = keys.split_first() else {
        return Some(place);
    };
    if *key == "[]" {
        return step(place.get_mut("items")?, rest);
    }
    // An optional part is one of (its schema, null); an enum is one of its variants.
    for choice in ["anyOf", "oneOf"] {
        if place.get(choice).is_some() {
            let list = place.get_mut(choice)?.as_array_mut()?;
            return list.iter_mut().find_map(|p| step(p, keys));
        }
    }
    step(place.get_mut("properties")?.get_mut(*key)?, rest)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every field of the list is found in the schema: a renamed key cannot lose its bounds.
    #[test]
    fn every_field_has_its_bounds() {
        let schema = schema();
        for field in fields::all() {
            let mut s = schema.clone();
            let mut keys: Vec<&str> = field.path.split('.').collect();
            if field.premise.is_some() {
                keys.push("value");
            }
            let place = step(&mut s, &keys)
                .unwrap_or_else(|| panic!("{} is not in the schema", field.path));
            assert_eq!(place["minimum"], json!(field.low), "{}", field.path);
            assert_eq!(place["maximum"], json!(field.high), "{}", field.path);
        }
        let group =
            &schema["properties"]["premises"]["properties"]["bycatch"]["items"]["properties"];
        assert_eq!(
            group["dispersion_k"]["properties"]["value"]["minimum"],
            json!(0.01)
        );
        let other =
            &schema["properties"]["premises"]["properties"]["others"]["items"]["properties"];
        assert_eq!(
            other["site_year_sd"]["properties"]["value"]["maximum"],
            json!(3.0)
        );
    }
}
