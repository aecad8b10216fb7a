//! How a compiled message becomes a sentence.

use super::{Arg, Lang, num};

/// One piece of a message.
pub(super) enum Part {
    Text(&'static str),
    Var(&'static str),
    Choice(&'static str, &'static [Variant]),
}

/// One text of a choice.
pub(super) struct Variant {
    pub(super) when: When,
    pub(super) default: bool,
    pub(super) parts: &'static [Part],
}

/// The condition of one text of a choice.
pub(super) enum When {
    Exactly(i64),
    Word(&'static str),
}

/// Writes the parts with the arguments filled in.
pub(super) fn write(out: &mut String, parts: &[Part], args: &[(&'static str, Arg)], lang: Lang) {
    for part in parts {
        match part {
            Part::Text(text) => out.push_str(text),
            Part::Var(name) => write_arg(out, name, args, lang),
            Part::Choice(name, variants) => {
                if let Some(variant) = choose(variants, find(name, args), lang) {
                    write(out, variant.parts, args, lang);
                }
            }
        }
    }
}

fn find<'a>(name: &str, args: &'a [(&'static str, Arg)]) -> Option<&'a Arg> {
    args.iter()
        .find(|(given, _)| *given == name)
        .map(|(_, arg)| arg)
}

fn write_arg(out: &mut String, name: &str, args: &[(&'static str, Arg)], lang: Lang) {
    match find(name, args) {
        Some(Arg::Text(text)) => out.push_str(text),
        Some(Arg::Count(count)) => out.push_str(&num(*count as f64, 0, lang)),
        Some(Arg::Figure(value, decimals)) => out.push_str(&num(*value, *decimals, lang)),
        None => {
            out.push('{');
            out.push_str(name);
            out.push('}');
        }
    }
}

/// A number that is named outright goes before its plural category.
fn choose<'a>(variants: &'a [Variant], arg: Option<&Arg>, lang: Lang) -> Option<&'a Variant> {
    let exact = variants.iter().find(|v| match (&v.when, arg) {
        (When::Exactly(number), Some(Arg::Count(count))) => number == count,
        _ => false,
    });
    let word = || {
        let word = match arg? {
            Arg::Text(text) => text.as_str(),
            Arg::Count(count) => category(*count as f64, 0, lang),
            Arg::Figure(value, decimals) => category(*value, *decimals, lang),
        };
        variants
            .iter()
            .find(|v| matches!(v.when, When::Word(w) if w == word))
    };
    exact
        .or_else(word)
        .or_else(|| variants.iter().find(|v| v.default))
}

/// The plural category. Source: Unicode CLDR 48, cardinal rules: English `one` is
/// i = 1 and v = 0, Spanish `one` is n = 1. Spanish `many` (whole millions) is
/// left to `other`; the build refuses texts that would need it.
#[allow(clippy::float_cmp)] // the rules speak of the exact number one
fn category(value: f64, decimals: u8, lang: Lang) -> &'static str {
    match lang {
        Lang::En if value == 1.0 && decimals == 0 => "one",
        Lang::Es if value == 1.0 => "one",
        _ => "other",
    }
}
