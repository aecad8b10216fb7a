use super::read;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt::Debug;

#[derive(Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Way {
    Alone,
    With(u8),
    Between { low: f64, high: f64 },
    Two(i16, bool),
}

#[derive(Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
struct Number(u64);

#[derive(Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "is", rename_all = "snake_case")]
enum Tagged {
    Boar { number: String },
    Pen,
}

#[derive(Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct All {
    ways: Vec<Way>,
    by_number: BTreeMap<Number, Way>,
    tagged: Vec<Tagged>,
    #[serde(default)]
    maybe: Option<i64>,
    nothing: (),
    pair: (u32, String),
    share: f64,
    sure: bool,
}

fn sample() -> All {
    All {
        ways: vec![
            Way::Alone,
            Way::With(7),
            Way::Between {
                low: -0.5,
                high: 3.0,
            },
            Way::Two(-3, true),
        ],
        by_number: [(Number(12), Way::Alone)].into(),
        tagged: vec![
            Tagged::Boar {
                number: "A1 \u{f1} \"x\"".to_owned(),
            },
            Tagged::Pen,
        ],
        maybe: Some(i64::MIN),
        nothing: (),
        pair: (3, String::new()),
        share: 1e-7,
        sure: false,
    }
}

/// `serde_json`'s own reader is the check from outside.
#[test]
fn reads_what_the_other_reader_reads() {
    let text = serde_json::to_string(&sample()).unwrap();
    assert_eq!(read::<All>(&text).unwrap(), sample());
    assert_eq!(serde_json::from_str::<All>(&text).unwrap(), sample());
}

fn both_refuse<T: Debug + serde::de::DeserializeOwned>(text: &str) -> String {
    assert!(serde_json::from_str::<T>(text).is_err(), "{text}");
    read::<T>(text).unwrap_err().to_string()
}

#[test]
fn refuses_what_the_other_reader_refuses() {
    for text in [
        "",
        "{",
        "nul",
        "[1,]",
        "\"alone",
        "{\"with\":300}",
        "{\"with\":-1}",
        "{\"with\":1.5}",
        "{\"with\":1,\"alone\":null}",
        "\"with\"",
        "\"elsewhere\"",
        "{\"two\":[1]}",
        "{\"two\":[1,true,2]}",
        "{\"between\":{\"low\":1}}",
        "{\"between\":{\"low\":\"1\",\"high\":2}}",
        "7",
        "null",
        "{\"alone\":3}",
        "1e999",
        "NaN",
    ] {
        both_refuse::<Way>(text);
    }
    let more = serde_json::to_string(&sample())
        .unwrap()
        .replacen('{', "{\"more\":1,", 1);
    assert!(both_refuse::<All>(&more).contains("unknown field `more`"));
    both_refuse::<BTreeMap<Number, Way>>("{\"x\":\"alone\"}");
    let twice = both_refuse::<Way>("{\"between\":{\"low\":1,\"low\":2,\"high\":3}}");
    assert!(twice.contains("duplicate field `low`"), "{twice}");
}

/// Where the two part on purpose: our writers never write a struct as an array.
#[test]
fn a_struct_is_an_object_and_nothing_else() {
    assert!(serde_json::from_str::<Tagged>("[\"pen\"]").is_ok());
    assert!(read::<Tagged>("{\"is\":\"pen\"}").is_ok());
    assert!(
        read::<All>("[]")
            .unwrap_err()
            .to_string()
            .contains("expected struct All")
    );
}
