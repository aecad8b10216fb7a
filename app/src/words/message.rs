//! How a compiled message becomes a sentence.

use super::{Arg, Lang, num};

include!("marks.rs");

/// The messages of a language, one after the other.
pub(super) struct Table {
    pub(super) text: &'static str,
    pub(super) lengths: &'static [u16],
}

impl Table {
    /// One message; nothing for a number that no key has.
    pub(super) fn message(&self, at: usize) -> &'static str {
        let (before, rest) = self.lengths.split_at(at.min(self.lengths.len()));
        let from: usize = before.iter().map(|length| usize::from(*length)).sum();
        let length = rest.first().copied().unwrap_or(0);
        let to = from + usize::from(length);
        self.text.get(from..to).unwrap_or_default()
    }
}

/// One text of a choice.
struct Variant<'a> {
    when: &'a str,
    default: bool,
    text: &'a str,
}

/// Writes a message with the arguments filled in.
pub(super) fn write(out: &mut String, message: &str, args: &[(&'static str, Arg)], lang: Lang) {
    let mut rest = message;
    while let Some(at) = rest.find([VAR, CHOICE]) {
        let (text, marked) = rest.split_at(at);
        out.push_str(text);
        let Some((name, after)) = marked[1..].split_once(NAMED) else {
            return;
        };
        rest = after;
        if marked.starts_with(VAR) {
            write_arg(out, name, args, lang);
        } else {
            let variants = variants(&mut rest);
            if let Some(variant) = choose(&variants, find(name, args), lang) {
                write(out, variant.text, args, lang);
            }
        }
    }
    out.push_str(rest);
}

/// Takes the texts of a choice off what is left of a message. A choice may stand in a choice.
fn variants<'a>(rest: &mut &'a str) -> Vec<Variant<'a>> {
    let mut found = Vec::new();
    let (mut deep, mut from) = (0_usize, None);
    for (at, mark) in rest.char_indices() {
        if deep == 0 && (mark == VARIANT || mark == END) {
            found.extend(from.map(|from| variant(&rest[from..at])));
            from = Some(at + 1);
        }
        match mark {
            CHOICE => deep += 1,
            END if deep == 0 => {
                *rest = &rest[at + 1..];
                break;
            }
            END => deep -= 1,
            _ => {}
        }
    }
    found
}

fn variant(text: &str) -> Variant<'_> {
    let (when, text) = text.split_once(NAMED).unwrap_or(("", text));
    let word = when.strip_prefix(DEFAULT);
    Variant {
        when: word.unwrap_or(when),
        default: word.is_some(),
        text,
    }
}

fn find<'a>(name: &str, args: &'a [(&'static str, Arg)]) -> Option<&'a Arg> {
    args.iter()
        .find(|(given, _)| *given == name)
        .map(|(_, arg)| arg)
}

fn write_arg(out: &mut String, name: &str, args: &[(&'static str, Arg)], lang: Lang) {
    match find(name, args) {
        Some(Arg::Text(text)) => push_text(out, text, lang),
        Some(Arg::Count(count)) => out.push_str(&num(*count as f64, 0, lang)),
        Some(Arg::Figure(value, decimals)) => out.push_str(&num(*value, *decimals, lang)),
        None => {
            out.push('{');
            out.push_str(name);
            out.push('}');
        }
    }
}

/// Spanish draws "de el" and "a el" together.
fn push_text(out: &mut String, text: &str, lang: Lang) {
    let drawn = || {
        let before = out.strip_suffix(' ')?;
        let word = before.rsplit(|c: char| !c.is_alphabetic()).next()?;
        matches!(word, "de" | "De" | "a" | "A").then_some(())?;
        text.strip_prefix('e').filter(|rest| rest.starts_with("l "))
    };
    match drawn().filter(|_| lang == Lang::Es) {
        Some(rest) => {
            out.pop();
            out.push_str(rest);
        }
        None => out.push_str(text),
    }
}

/// A number that is named outright goes before its plural category.
fn choose<'a>(
    variants: &'a [Variant<'a>],
    arg: Option<&Arg>,
    lang: Lang,
) -> Option<&'a Variant<'a>> {
    let named = |word: &str| variants.iter().find(|v| v.when == word);
    let fits = match arg {
        None => None,
        Some(Arg::Text(text)) => named(text),
        Some(Arg::Count(count)) => {
            named(&count.to_string()).or_else(|| named(category(*count as f64, 0, lang)))
        }
        Some(Arg::Figure(value, decimals)) => named(category(*value, *decimals, lang)),
    };
    fits.or_else(|| variants.iter().find(|v| v.default))
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
