//! The JSON, held against its published schema by jsonschema (PyPI, draft 2020-12).

use claim::received_json;
use serde_json::Value;

use crate::peers::python;
use crate::received_job::{awkward, demo, ninety_seven, only};

const SCHEMA: &str = include_str!("../../../../docs/schema/received.json");

/// Prints what the schema has against each document; the schema comes first, all are parted by a zero byte.
const AGAINST_THE_SCHEMA: &str = r#"
import json, sys
from jsonschema import Draft202012Validator
schema, *documents = [json.loads(text) for text in sys.stdin.buffer.read().split(b"\0")]
Draft202012Validator.check_schema(schema)
check = Draft202012Validator(schema)
for document in documents:
    print("; ".join(e.message for e in check.iter_errors(document)).replace("\n", " ") or "fits")
"#;

#[test]
fn it_is_as_its_schema_says() {
    let good = [demo().received(), awkward(), only(vec![ninety_seven()])];
    let good: Vec<String> = good
        .iter()
        .map(|r| received_json::write(r).unwrap())
        .collect();
    // The check can fail.
    let broken = |pointer: &str, value: Value| {
        let mut document: Value = serde_json::from_str(&good[0]).unwrap();
        *document.pointer_mut(pointer).unwrap() = value;
        document.to_string()
    };
    let bad = [
        broken("/marks/0/short", Value::from(-1)),
        broken("/marks/0/received", Value::from("13")),
        broken("/document", Value::from("")),
        broken("/shipments/0", serde_json::json!({"name": "Load 1"})),
        broken("/notes", serde_json::json!([])),
    ];
    let mut all = vec![SCHEMA.to_owned()];
    all.extend(good.iter().chain(&bad).cloned());
    let Some(said) = python(AGAINST_THE_SCHEMA, all.join("\0").as_bytes()) else {
        return;
    };
    let said: Vec<&str> = said.lines().collect();
    assert_eq!(said.len(), good.len() + bad.len());
    for (i, line) in said.iter().enumerate() {
        assert_eq!(*line == "fits", i < good.len(), "document {i}: {line}");
    }
}

#[test]
fn a_count_that_nobody_made_is_null() {
    let document: Value =
        serde_json::from_str(&received_json::write(&demo().received()).unwrap()).unwrap();
    let marks = document["marks"].as_array().unwrap();
    let mark = |name: &str| marks.iter().find(|m| m["mark"] == name).unwrap();
    assert_eq!(mark("F1")["received"], Value::Null);
    assert_eq!(mark("F1")["coming"], 1);
    assert_eq!(mark("R1")["received"], 13);
    assert_eq!(mark("R1")["short"], 2);
    assert_eq!(mark("R1")["rows"][0]["code"], "RT-126S");
    assert_eq!(document["written"], "2026-03-06T14:05:09");
}
