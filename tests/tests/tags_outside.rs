//! Tags as two independent decoders read them, and the sheet they are printed on.
//!
//! `tests/tags/decode.py` made `decoded.json` with zbarimg and zxing-cpp (their versions are in
//! it) from pictures that `examples/tag_pictures.rs` wrote.

// A helper of a test fails with it.
#![allow(clippy::unwrap_used, clippy::panic)]

use pentally_domain::code::Code;
use pentally_server::tags::{Origin, Paper, PenTag, Sheet, SheetLabels, sheet, svg};
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::path::Path;

const INPUTS: &str = include_str!("../tags/inputs.csv");
const DECODED: &str = include_str!("../tags/decoded.json");

/// Name, origin and code of each picture that was given to the decoders.
fn inputs() -> impl Iterator<Item = (&'static str, Origin, Code)> {
    INPUTS.lines().skip(1).map(|line| {
        let [name, origin, number] = line.split(',').collect::<Vec<_>>()[..] else {
            panic!("{line}")
        };
        (
            name,
            Origin::parse(origin).unwrap(),
            Code::from_number(number.parse().unwrap()).unwrap(),
        )
    })
}

fn decoded() -> Value {
    serde_json::from_str(DECODED).unwrap()
}

#[test]
fn the_pictures_that_were_decoded_are_those_printed_today() {
    let decoded = decoded();
    let pictures = decoded["pictures"].as_array().unwrap();
    assert_eq!(pictures.len(), inputs().count());
    for ((name, origin, code), picture) in inputs().zip(pictures) {
        let printed = svg(&origin, code).unwrap();
        let file = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("tags")
            .join(name)
            .with_extension("svg");
        assert!(
            std::fs::read_to_string(file).unwrap() == printed,
            "{name}.svg is not what is printed"
        );
        let digest = hex(&Sha256::digest(&printed));
        assert_eq!(
            (&picture["name"], &picture["sha256"]),
            (&name.into(), &digest.into())
        );
    }
}

fn hex(bytes: &[u8]) -> String {
    bytes
        .iter()
        .fold(String::new(), |text, byte| format!("{text}{byte:02x}"))
}

/// All of them sharp and at a blur of 0.3 modules; beyond that, nothing or the right text.
#[test]
fn both_decoders_read_what_was_meant() {
    for ((name, origin, code), picture) in inputs().zip(decoded()["pictures"].as_array().unwrap()) {
        let right = Value::from(vec![origin.url(code)]);
        let looks = picture["looks"].as_array().unwrap();
        assert_eq!(looks.len(), 6, "{name}");
        for look in looks {
            let is_clear = look["blur_modules"].as_f64().unwrap() <= 0.3;
            for tool in ["zbar", "zxing"] {
                let nothing = look[tool].as_array().unwrap().is_empty();
                assert!(
                    look[tool] == right || !is_clear && nothing,
                    "{name}: {tool} {look}"
                );
            }
        }
    }
}

#[test]
fn two_symbols_outlive_dirt_more_often_than_one() {
    for dirt in decoded()["dirt"].as_array().unwrap() {
        for tool in ["zbar", "zxing"] {
            let of = |symbols: &str| dirt[symbols][tool].as_u64().unwrap();
            assert!(of("two") > of("one"), "{tool} {dirt}");
        }
    }
}

fn labels() -> SheetLabels {
    let word = |text: &str| text.to_owned();
    SheetLabels {
        lang: word("en"),
        title: word("Tags \"A\" & 'B'"),
        pen: word("<Pen>"),
        trial: word("TRIAL"),
        trial_why: word("No address yet"),
        how: word("At 100 %"),
        ruler: word("100 mm"),
    }
}

fn tag(pen: &str, number: u32) -> PenTag {
    PenTag {
        pen: pen.to_owned(),
        code: Code::from_number(number).unwrap(),
    }
}

#[test]
fn a_sheet_has_each_tag_with_two_symbols_and_a_ruler_a_page() {
    let origin = Origin::parse("https://barn.example:8420").unwrap();
    let tags = [
        tag("B1", 12_345),
        tag("<script>'&\"", 7),
        tag("Corral ñ", 99_999),
    ];
    let of = |is_chosen, paper| {
        let labels = &labels();
        sheet(&Sheet {
            origin: &origin,
            is_chosen,
            paper,
            tags: &tags,
            labels,
        })
        .unwrap()
    };
    let trial = of(false, Paper::A4);
    for one in &tags {
        assert_eq!(trial.matches(&svg(&origin, one.code).unwrap()).count(), 2);
        assert_eq!(
            trial.matches(&format!("<span>{}</span>", one.code)).count(),
            2
        );
    }
    assert_eq!(
        trial.matches("width=\"100mm\"").count(),
        2,
        "three tags fill two pages"
    );
    assert_eq!(trial.matches("TRIAL").count(), 3);
    assert!(trial.contains("No address yet") && trial.contains("@page { size: A4;"));
    assert!(trial.contains("&lt;script&gt;&#39;&amp;&quot;") && trial.contains("Corral ñ"));
    assert!(trial.contains("<title>Tags &quot;A&quot; &amp; &#39;B&#39;</title>"));
    assert!(!trial.contains("<script") && !trial.contains("<Pen>"));
    let chosen = of(true, Paper::Letter);
    assert!(!chosen.contains("TRIAL") && !chosen.contains("No address yet"));
    assert!(chosen.contains("@page { size: letter;"));
}
