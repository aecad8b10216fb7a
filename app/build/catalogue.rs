//! Reads one language's Fluent files into the small form the screens carry.
//!
//! Parsing here instead of on the phone saves about 42 KB of compressed wasm and
//! the time to parse at each start. What is read is a strict part of Fluent:
//! texts, variables, terms of the same language, and a choice by number or word.

use fluent_syntax::ast::{
    Entry, Expression, InlineExpression, Pattern, PatternElement, VariantKey,
};
use std::collections::{BTreeMap, BTreeSet};

/// One piece of a message, in reading order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// Words as they stand.
    Text(String),
    /// The value of a variable.
    Var(String),
    /// One of several texts, by the value of a variable.
    Choice {
        /// The variable that decides.
        var: String,
        /// The texts; exactly one is the default.
        variants: Vec<Variant>,
    },
}

/// One text of a choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Variant {
    /// When it is taken.
    pub when: When,
    /// Whether it is taken when no other fits.
    pub default: bool,
    /// Its text.
    pub parts: Vec<Part>,
}

/// The condition of one text of a choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum When {
    /// A whole number.
    Exactly(i64),
    /// A word: a plural category (`one`, `other`) or a value such as `dummy`.
    Word(String),
}

/// A message: where it stands, and what it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    /// The file it was read from.
    pub file: String,
    /// What it says.
    pub parts: Vec<Part>,
}

/// The messages of one language by key.
pub type Catalogue = BTreeMap<String, Message>;

/// A file's name and its Fluent source.
pub type Source = (String, String);

type Terms = BTreeMap<String, Pattern<String>>;

/// Depth at which a term that quotes terms is taken for a circle.
const DEEPEST: u8 = 8;

/// Reads all files of one language; the errors are sentences for the person who
/// wrote the line.
pub fn read(lang: &str, sources: &[Source]) -> Result<Catalogue, Vec<String>> {
    let mut errors = Vec::new();
    let mut terms = Terms::new();
    let mut bare = Vec::new();
    for (file, text) in sources {
        collect(lang, file, text, &mut terms, &mut bare, &mut errors);
    }
    let mut catalogue = Catalogue::new();
    for (file, key, pattern) in bare {
        let place = format!("app/locales/{lang}/{file}, `{key}`");
        if let Some(first) = catalogue.get(&key) {
            errors.push(format!(
                "{place}: this key is already defined in {}; keep one of the two.",
                first.file
            ));
            continue;
        }
        match parts(&pattern, &terms, 0) {
            Ok(parts) => {
                catalogue.insert(key, Message { file, parts });
            }
            Err(why) => errors.push(format!("{place}: {why}")),
        }
    }
    if errors.is_empty() {
        Ok(catalogue)
    } else {
        Err(errors)
    }
}

/// The names of all variables, choices included.
pub fn variables(parts: &[Part]) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for part in parts {
        match part {
            Part::Text(_) => {}
            Part::Var(name) => {
                names.insert(name.clone());
            }
            Part::Choice { var, variants } => {
                names.insert(var.clone());
                names.extend(variants.iter().flat_map(|v| variables(&v.parts)));
            }
        }
    }
    names
}

/// The message as one line for a reader of code: `Rests till {day}`.
pub fn in_one_line(parts: &[Part]) -> String {
    let one = |part: &Part| match part {
        Part::Text(text) => text.replace('\n', " "),
        Part::Var(name) => format!("{{{name}}}"),
        Part::Choice { var, variants } => {
            let texts: Vec<_> = variants.iter().map(|v| in_one_line(&v.parts)).collect();
            format!("{{{var}: {}}}", texts.join(" | "))
        }
    };
    parts.iter().map(one).collect()
}

fn collect(
    lang: &str,
    file: &str,
    text: &str,
    terms: &mut Terms,
    bare: &mut Vec<(String, String, Pattern<String>)>,
    errors: &mut Vec<String>,
) {
    let resource = match fluent_syntax::parser::parse(text.to_owned()) {
        Ok(resource) => resource,
        Err((resource, faults)) => {
            errors.extend(faults.iter().map(|fault| {
                let before = text.bytes().take(fault.pos.start);
                let line = 1 + before.filter(|byte| *byte == b'\n').count();
                format!("app/locales/{lang}/{file}, line {line}: not Fluent ({fault}).")
            }));
            resource
        }
    };
    for entry in resource.body {
        match entry {
            Entry::Message(message) => match message.value {
                Some(value) if message.attributes.is_empty() => {
                    bare.push((file.to_owned(), message.id.name, value));
                }
                _ => errors.push(format!(
                    "app/locales/{lang}/{file}, `{}`: a message needs one text and no attributes; \
                     give each text a key of its own.",
                    message.id.name
                )),
            },
            Entry::Term(term) => {
                terms.insert(term.id.name, term.value);
            }
            _ => {}
        }
    }
}

fn parts(pattern: &Pattern<String>, terms: &Terms, depth: u8) -> Result<Vec<Part>, String> {
    let mut out = Vec::new();
    for element in &pattern.elements {
        match element {
            PatternElement::TextElement { value } => push_text(&mut out, value),
            PatternElement::Placeable { expression } => {
                for part in placeable(expression, terms, depth)? {
                    match part {
                        Part::Text(text) => push_text(&mut out, &text),
                        other => out.push(other),
                    }
                }
            }
        }
    }
    Ok(out)
}

fn push_text(out: &mut Vec<Part>, text: &str) {
    match out.last_mut() {
        Some(Part::Text(last)) => last.push_str(text),
        _ => out.push(Part::Text(text.to_owned())),
    }
}

fn placeable(
    expression: &Expression<String>,
    terms: &Terms,
    depth: u8,
) -> Result<Vec<Part>, String> {
    match expression {
        Expression::Inline(InlineExpression::StringLiteral { value }) => {
            Ok(vec![Part::Text(value.clone())])
        }
        Expression::Inline(InlineExpression::VariableReference { id }) => {
            Ok(vec![Part::Var(id.name.clone())])
        }
        Expression::Inline(InlineExpression::TermReference {
            id,
            arguments: None,
            ..
        }) => quoted(&id.name, terms, depth),
        Expression::Select {
            selector: InlineExpression::VariableReference { id },
            variants,
        } => {
            let variants: Result<_, String> = variants
                .iter()
                .map(|v| {
                    Ok(Variant {
                        when: when(&v.key)?,
                        default: v.default,
                        parts: parts(&v.value, terms, depth)?,
                    })
                })
                .collect();
            Ok(vec![Part::Choice {
                var: id.name.clone(),
                variants: variants?,
            }])
        }
        _ => Err(
            "only a text, a variable { $n }, a term { -boar } or a choice by a variable \
                  can stand in braces here."
                .to_owned(),
        ),
    }
}

fn quoted(name: &str, terms: &Terms, depth: u8) -> Result<Vec<Part>, String> {
    if depth >= DEEPEST {
        return Err(format!("the term -{name} quotes itself in a circle."));
    }
    let term = terms
        .get(name)
        .ok_or_else(|| format!("the term -{name} is not defined in this language."))?;
    parts(term, terms, depth + 1)
}

fn when(key: &VariantKey<String>) -> Result<When, String> {
    match key {
        VariantKey::NumberLiteral { value } => value
            .parse()
            .map(When::Exactly)
            .map_err(|_| format!("[{value}] was read; a choice takes whole numbers or words.")),
        VariantKey::Identifier { name } => match name.as_str() {
            "zero" | "two" | "few" | "many" => Err(format!(
                "[{name}] was read; English and Spanish figures here only use [one] and [other]."
            )),
            _ => Ok(When::Word(name.clone())),
        },
    }
}
