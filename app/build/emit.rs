//! Writes the catalogue as Rust: one constant a key, one table a language.

use crate::catalogue::{Catalogue, Part, Variant, When, in_one_line};
use crate::rules::constant;
use std::fmt::Write;

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

/// The texts of one language in the order of the keys.
pub fn table(name: &str, catalogue: &Catalogue) -> String {
    let mut out = format!(
        "pub(super) static {name}: [&[Part]; {}] = [\n",
        catalogue.len()
    );
    for message in catalogue.values() {
        let _ = writeln!(out, "    {},", parts(&message.parts));
    }
    out.push_str("];\n");
    out
}

fn parts(list: &[Part]) -> String {
    let inner: Vec<_> = list.iter().map(part).collect();
    format!("&[{}]", inner.join(", "))
}

fn part(part: &Part) -> String {
    match part {
        Part::Text(text) => format!("Part::Text({text:?})"),
        Part::Var(name) => format!("Part::Var({name:?})"),
        Part::Choice { var, variants } => {
            let inner: Vec<_> = variants.iter().map(variant).collect();
            format!("Part::Choice({var:?}, &[{}])", inner.join(", "))
        }
    }
}

fn variant(variant: &Variant) -> String {
    let when = match &variant.when {
        When::Exactly(number) => format!("When::Exactly({number})"),
        When::Word(word) => format!("When::Word({word:?})"),
    };
    format!(
        "Variant {{ when: {when}, default: {}, parts: {} }}",
        variant.default,
        parts(&variant.parts)
    )
}
