//! Writes the catalogue as Rust: one constant a key, one table a language.

use crate::catalogue::{Catalogue, Part, Variant, When, in_one_line};
use crate::rules::constant;
use std::fmt::Write;

include!("../src/words/marks.rs");

/// One documented constant a key, numbered in the order of the keys.
pub fn keys(english: &Catalogue) -> String {
    let mut out = String::new();
    for (index, (key, message)) in english.iter().enumerate() {
        let said = in_one_line(&message.parts).replace('`', "'");
        let _ = writeln!(
            out,
            "/// `{said}`\npub const {}: Key = Key({index});",
            constant(key)
        );
    }
    out
}

/// The keys by name in the same order, for the tests.
pub fn names(english: &Catalogue) -> String {
    let names: Vec<_> = english.keys().collect();
    format!(
        "#[cfg(test)]\npub(super) static NAMES: [&str; {}] = {names:?};\n",
        names.len()
    )
}

/// The texts of one language in the order of the keys, one after the other, and how long each is.
/// Many small pieces that point at each other would weigh more than the words themselves.
pub fn table(name: &str, catalogue: &Catalogue) -> Result<String, String> {
    let mut text = String::new();
    let mut lengths = Vec::new();
    for message in catalogue.values() {
        let before = text.len();
        parts(&mut text, &message.parts);
        let length = u16::try_from(text.len() - before);
        lengths.push(length.map_err(|_| format!("app/locales: a text of {name} passes 64 KB."))?);
    }
    Ok(format!(
        "pub(super) static {name}: Table = Table {{ text: {text:?}, lengths: &{lengths:?} }};\n"
    ))
}

fn parts(out: &mut String, list: &[Part]) {
    for part in list {
        match part {
            Part::Text(text) => out.push_str(text),
            Part::Var(name) => *out += &format!("{VAR}{name}{NAMED}"),
            Part::Choice { var, variants } => {
                *out += &format!("{CHOICE}{var}{NAMED}");
                variants.iter().for_each(|v| variant(out, v));
                out.push(END);
            }
        }
    }
}

fn variant(out: &mut String, variant: &Variant) {
    out.push(VARIANT);
    if variant.default {
        out.push(DEFAULT);
    }
    match &variant.when {
        When::Exactly(number) => out.push_str(&number.to_string()),
        When::Word(word) => out.push_str(word),
    }
    out.push(NAMED);
    parts(out, &variant.parts);
}
