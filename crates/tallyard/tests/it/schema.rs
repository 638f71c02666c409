//! Holds output against docs/schema.
//!
//! Only the few words of JSON Schema (draft 2020-12) that our schemas use are understood, and any other word fails,
//! so that nothing is passed over. A whole validator would have the typesetter, which shares crates with it, built
//! twice.

use serde_json::Value;

use crate::program::in_repository;

/// Fails unless `value` is as docs/schema/`name`.json says.
pub fn check(name: &str, value: &Value) {
    let found = faults(name, value);
    assert!(
        found.is_empty(),
        "not as docs/schema/{name}.json: {found:#?}"
    );
}

fn faults(name: &str, value: &Value) -> Vec<String> {
    let text = std::fs::read_to_string(in_repository(&format!("docs/schema/{name}.json"))).unwrap();
    let schema: Value = serde_json::from_str(&text).unwrap();
    let mut found = Vec::new();
    hold(&schema, &schema, value, "", &mut found);
    found
}

fn hold(root: &Value, schema: &Value, value: &Value, at: &str, found: &mut Vec<String>) {
    let mut fault = |what: String| found.push(format!("{at}: {what}: {value}"));
    let mut inside: Vec<(Value, &Value, String)> = Vec::new();
    for (word, says) in schema.as_object().expect("a schema is an object") {
        match word.as_str() {
            "$schema" | "$defs" | "title" | "description" => {}
            "$ref" => {
                let pointer = says.as_str().unwrap().trim_start_matches('#');
                let meant = root.pointer(pointer).expect("a $ref points into its file");
                inside.push((meant.clone(), value, at.into()));
            }
            "type" => {
                let one = std::slice::from_ref(says);
                let types = says.as_array().map_or(one, Vec::as_slice);
                if !types.iter().any(|t| is_a(value, t.as_str().unwrap())) {
                    fault(format!("is no {says}"));
                }
            }
            "enum" if says.as_array().unwrap().contains(value) => {}
            "enum" => fault(format!("is none of {says}")),
            "required" => {
                let missing = |key: &&Value| value.get(key.as_str().unwrap()).is_none();
                let keys = says.as_array().unwrap().iter();
                for key in keys.filter(missing).filter(|_| value.is_object()) {
                    fault(format!("has no {key}"));
                }
            }
            "properties" => {
                for (key, value) in value.as_object().into_iter().flatten() {
                    match says.get(key) {
                        Some(schema) => inside.push((schema.clone(), value, format!("{at}/{key}"))),
                        None => fault(format!("{key} is not documented")),
                    }
                }
            }
            // Those that are not named are faults above.
            "additionalProperties" => assert_eq!(says, false),
            "items" => {
                for (i, value) in value.as_array().into_iter().flatten().enumerate() {
                    inside.push((says.clone(), value, format!("{at}/{i}")));
                }
            }
            "minItems"
                if (value.as_array().map_or(0, Vec::len) as u64) < says.as_u64().unwrap() =>
            {
                fault(format!("has fewer than {says}"));
            }
            "minLength"
                if value
                    .as_str()
                    .is_some_and(|text| (text.len() as u64) < says.as_u64().unwrap()) =>
            {
                fault(format!("is shorter than {says}"));
            }
            "minimum" if value.as_f64().is_some_and(|n| n < says.as_f64().unwrap()) => {
                fault(format!("is less than {says}"));
            }
            "maximum" if value.as_f64().is_some_and(|n| n > says.as_f64().unwrap()) => {
                fault(format!("is more than {says}"));
            }
            "minItems" | "minLength" | "minimum" | "maximum" => {}
            other => panic!("this check does not know `{other}`"),
        }
    }
    for (schema, value, at) in inside {
        hold(root, &schema, value, &at, found);
    }
}

fn is_a(value: &Value, name: &str) -> bool {
    match name {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "boolean" => value.is_boolean(),
        "string" => value.is_string(),
        "null" => value.is_null(),
        "number" => value.is_number(),
        "integer" => value.is_i64() || value.is_u64(),
        other => panic!("no type `{other}`"),
    }
}

/// The check itself can fail: each of these breaks one rule of the schema.
#[test]
fn what_breaks_a_schema_is_found() {
    let good =
        serde_json::json!({"papers": [{"paper": "tally-sheet", "file": "a.pdf", "bytes": 9}]});
    check("papers", &good);
    for (at, bad, said) in [
        ("/papers/0/bytes", serde_json::json!("9"), "is no"),
        ("/papers/0/bytes", serde_json::json!(0), "is less than"),
        ("/papers/0/paper", serde_json::json!("napkin"), "is none of"),
        ("/papers/0/file", serde_json::json!(""), "is shorter than"),
        (
            "/papers",
            serde_json::json!([{"paper": "tally-sheet", "file": "a"}]),
            "has no",
        ),
        (
            "/papers",
            serde_json::json!([{"paper": "tally-sheet", "file": "a", "bytes": 1, "ink": 1}]),
            "not documented",
        ),
    ] {
        let mut value = good.clone();
        *value.pointer_mut(at).unwrap() = bad;
        let found = faults("papers", &value);
        assert!(
            found.len() == 1 && found[0].contains(said),
            "{said}: {found:?}"
        );
    }
}

/// Every property says what it is.
#[test]
fn every_field_is_described() {
    fn walk(value: &Value, at: &str) {
        for (name, property) in value
            .get("properties")
            .and_then(Value::as_object)
            .into_iter()
            .flatten()
        {
            assert!(
                property["description"]
                    .as_str()
                    .is_some_and(|d| !d.is_empty()),
                "{at}/{name}"
            );
        }
        for (name, inner) in value.as_object().into_iter().flatten() {
            walk(inner, &format!("{at}/{name}"));
        }
    }
    for file in std::fs::read_dir(in_repository("docs/schema")).unwrap() {
        let path = file.unwrap().path();
        let schema: Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
        assert_eq!(
            schema["$schema"],
            "https://json-schema.org/draft/2020-12/schema"
        );
        walk(&schema, &path.display().to_string());
    }
}
