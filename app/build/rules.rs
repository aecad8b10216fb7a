//! What must hold between the languages, and between the catalogue and the code.

use crate::catalogue::{Catalogue, in_one_line, variables};
use std::collections::BTreeSet;

/// A key as the code names it: `boar-rest-until` is `BOAR_REST_UNTIL`.
pub fn constant(key: &str) -> String {
    key.replace('-', "_").to_uppercase()
}

/// Each way in which two languages do not say the same, as a sentence.
pub fn between(en: &Catalogue, es: &Catalogue, same: &BTreeSet<String>) -> Vec<String> {
    let mut errors = missing(en, es, "es");
    errors.extend(missing(es, en, "en"));
    errors.extend(clashes(en));
    for (key, english) in en {
        let Some(spanish) = es.get(key) else { continue };
        let (ours, theirs) = (variables(&english.parts), variables(&spanish.parts));
        if ours != theirs {
            errors.push(format!(
                "`{key}`: English uses {}, Spanish uses {}; both must use the same variables.",
                list(&ours),
                list(&theirs)
            ));
        }
        let alike = in_one_line(&english.parts) == in_one_line(&spanish.parts);
        if alike && !same.contains(key) {
            errors.push(format!(
                "`{key}`: the Spanish text is the English one; translate it, or name the key in \
                 app/locales/same-in-both.txt if it is right."
            ));
        }
        if !alike && same.contains(key) {
            errors.push(format!(
                "`{key}`: app/locales/same-in-both.txt names it but the texts differ; take the \
                 line out."
            ));
        }
    }
    for key in same.iter().filter(|key| !en.contains_key(*key)) {
        errors.push(format!(
            "app/locales/same-in-both.txt names `{key}`, which is no key."
        ));
    }
    errors
}

/// Keys that no line of code names.
pub fn unused(catalogue: &Catalogue, named: &BTreeSet<String>) -> Vec<String> {
    catalogue
        .iter()
        .filter(|(key, _)| !named.contains(&constant(key)))
        .map(|(key, message)| {
            format!(
                "`{key}` in {}: no line of app/src or server/src names {}; use it or take it out \
                 of both languages.",
                message.file,
                constant(key)
            )
        })
        .collect()
}

/// The identifiers of a Rust source, comment lines left out.
pub fn identifiers(source: &str) -> impl Iterator<Item = &str> {
    source
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .flat_map(|line| line.split(|c: char| !(c.is_alphanumeric() || c == '_')))
        .filter(|word| !word.is_empty())
}

fn missing(from: &Catalogue, to: &Catalogue, lang: &str) -> Vec<String> {
    from.iter()
        .filter(|(key, _)| !to.contains_key(*key))
        .map(|(key, message)| {
            format!(
                "`{key}` in {} is missing in app/locales/{lang}/{}; each key stands in both \
                 languages.",
                message.file, message.file
            )
        })
        .collect()
}

fn clashes(catalogue: &Catalogue) -> Vec<String> {
    let mut seen = BTreeSet::new();
    catalogue
        .keys()
        .filter(|key| !seen.insert(constant(key)))
        .map(|key| {
            format!(
                "`{key}`: another key also becomes {}; rename one.",
                constant(key)
            )
        })
        .collect()
}

fn list(names: &BTreeSet<String>) -> String {
    if names.is_empty() {
        return "none".to_owned();
    }
    let names: Vec<_> = names.iter().map(|name| format!("${name}")).collect();
    names.join(", ")
}
