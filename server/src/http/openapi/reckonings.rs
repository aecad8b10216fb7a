//! Each reckoning for itself: what it takes and answers, told by examples that are really answered.

use pentally_domain::reckon::answer;
use serde::Deserialize;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// Requests that hold every field there is; a test holds them against the reader.
const TOLD: &str = include_str!("reckonings.json");

#[derive(Deserialize)]
struct Told {
    summary: String,
    examples: Vec<Value>,
}

/// The paths of all reckonings, under the path that takes any; none of one whose example is not answered.
pub(super) fn paths(any: &str, operation: &Value) -> Map<String, Value> {
    let told: BTreeMap<String, Told> = serde_json::from_str(TOLD).unwrap_or_default();
    let one = |(name, told): (String, Told)| {
        let answers: Option<Vec<Value>> =
            told.examples.iter().map(|e| answered(&name, e)).collect();
        let mut operation = operation.clone();
        operation["summary"] = told.summary.into();
        operation["parameters"] = json!([]);
        let content = &mut operation["requestBody"]["content"]["application/json"];
        *content = json!({ "schema": shape(&told.examples), "examples": named(&told.examples) });
        operation["responses"]["200"]["content"]["application/json"] =
            json!({ "schema": shape(&answers?) });
        Some((any.replace("{name}", &name), json!({ "post": operation })))
    };
    told.into_iter().filter_map(one).collect()
}

fn answered(name: &str, example: &Value) -> Option<Value> {
    let answer = answer(name, &serde_json::to_vec(example).ok()?).ok()?;
    serde_json::from_str(&answer).ok()
}

fn named(examples: &[Value]) -> Value {
    let one = |(at, example): (usize, &Value)| (format!("{}", at + 1), json!({ "value": example }));
    examples
        .iter()
        .enumerate()
        .map(one)
        .collect::<Map<_, _>>()
        .into()
}

/// The schema that these values have in common: what stands in one of them may be absent.
fn shape<'a>(values: impl IntoIterator<Item = &'a Value> + Clone) -> Value {
    let (mut fields, mut items) = (BTreeMap::<&str, Vec<&Value>>::new(), vec![]);
    let mut kinds: Vec<&str> = vec![];
    for value in values {
        kinds.push(match value {
            Value::Null => continue,
            Value::Bool(_) => "boolean",
            Value::Number(_) => "number",
            Value::String(_) => "string",
            Value::Array(list) => {
                items.extend(list);
                "array"
            }
            Value::Object(object) => {
                object
                    .iter()
                    .for_each(|(name, value)| fields.entry(name).or_default().push(value));
                "object"
            }
        });
    }
    kinds.sort_unstable();
    kinds.dedup();
    let mut schema = match kinds[..] {
        [] => return json!({}),
        [kind] => json!({ "type": kind }),
        _ => json!({ "type": kinds }),
    };
    if kinds.contains(&"array") {
        schema["items"] = shape(items);
    }
    if kinds.contains(&"object") {
        let properties = fields
            .into_iter()
            .map(|(name, values)| (name.to_owned(), shape(values)));
        schema["properties"] = properties.collect::<Map<_, _>>().into();
    }
    schema
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::reckon::TABLE;
    use std::collections::BTreeSet;

    fn told() -> BTreeMap<String, Told> {
        serde_json::from_str(TOLD).unwrap()
    }

    #[test]
    fn every_reckoning_is_told_and_every_example_answered() {
        let names: BTreeSet<&str> = TABLE.iter().map(|row| row.0).collect();
        let told = told();
        assert_eq!(
            told.keys().map(String::as_str).collect::<BTreeSet<_>>(),
            names
        );
        for (name, told) in &told {
            for example in &told.examples {
                let bytes = serde_json::to_vec(example).unwrap();
                assert!(
                    answer(name, &bytes).is_ok(),
                    "{name}: {:?}",
                    answer(name, &bytes)
                );
            }
        }
        let paths = paths("/api/v1/reckon/{name}", &json!({}));
        assert_eq!(paths.len(), names.len());
        let doses = &paths["/api/v1/reckon/doses"]["post"];
        let asked = &doses["requestBody"]["content"]["application/json"]["schema"]["properties"];
        assert_eq!(
            asked["ejaculates"]["items"]["properties"]["volume_ml"]["type"],
            "number"
        );
        let answered = &doses["responses"]["200"]["content"]["application/json"]["schema"];
        assert_eq!(answered["properties"]["assured"]["type"], "object");
    }

    /// A field that no reader knows is refused with the names of those it does know.
    #[test]
    fn the_examples_hold_every_field_that_is_read() {
        for (name, told) in told() {
            let mut known: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
            let mut held: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
            for example in &told.examples {
                for pointer in objects(example) {
                    let place: String = pointer
                        .split('/')
                        .filter(|p| p.parse::<usize>().is_err())
                        .collect();
                    let object = example.pointer(&pointer).unwrap().as_object().unwrap();
                    held.entry(place.clone())
                        .or_default()
                        .extend(object.keys().cloned());
                    let mut spoilt = example.clone();
                    spoilt.pointer_mut(&pointer).unwrap()["no field"] = json!(1);
                    let error = answer(&name, &serde_json::to_vec(&spoilt).unwrap()).unwrap_err();
                    known
                        .entry(place)
                        .or_default()
                        .extend(expected(&error.to_string()));
                }
            }
            for (place, mut fields) in known {
                // What a doses' reckoning keeps of a herd it answered before is not for hands.
                fields.remove("herd");
                let missing: Vec<_> = fields.difference(&held[&place]).collect();
                assert!(missing.is_empty(), "{name} at '{place}' lacks {missing:?}");
            }
        }
    }

    /// The ways to every object within.
    fn objects(value: &Value) -> Vec<String> {
        let mut ways = vec![];
        let mut waiting = vec![(String::new(), value)];
        while let Some((way, value)) = waiting.pop() {
            match value {
                Value::Object(object) => {
                    waiting.extend(object.iter().map(|(name, v)| (format!("{way}/{name}"), v)));
                    ways.push(way);
                }
                Value::Array(list) => {
                    waiting.extend(
                        list.iter()
                            .enumerate()
                            .map(|(at, v)| (format!("{way}/{at}"), v)),
                    );
                }
                _ => {}
            }
        }
        ways
    }

    fn expected(error: &str) -> Vec<String> {
        let names = error.split("expected").nth(1).unwrap_or_default();
        names
            .split('`')
            .skip(1)
            .step_by(2)
            .map(str::to_owned)
            .collect()
    }
}
