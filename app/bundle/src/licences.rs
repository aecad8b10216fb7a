//! The terms of every library, from `cargo metadata`, against an accepted list.

use crate::command::{self, cargo};
use crate::trouble::Trouble;
use serde::Deserialize;

/// Terms that ask no more than to be named, or (MPL-2.0) to share changes to their own files.
const ACCEPTED: [&str; 13] = [
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MPL-2.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Checks every library; prints how many there are.
pub fn check() -> Result<(), Trouble> {
    let mut metadata = cargo(&["metadata", "--format-version", "1"]);
    let text = command::answer(&mut metadata)?;
    let found: Metadata = serde_json::from_str(&text).map_err(|source| Trouble::Answer {
        line: command::line(&metadata),
        source,
    })?;
    let foreign = found
        .packages
        .iter()
        .filter(|package| package.source.is_some());
    let refused: Vec<String> = foreign.filter_map(Package::complaint).collect();
    if refused.is_empty() {
        println!(
            "{} packages, all under accepted licences.",
            found.packages.len()
        );
        Ok(())
    } else {
        Err(Trouble::Licences {
            list: refused.join("\n"),
        })
    }
}

#[derive(Deserialize)]
struct Metadata {
    packages: Vec<Package>,
}

#[derive(Deserialize)]
struct Package {
    name: String,
    version: String,
    license: Option<String>,
    source: Option<String>,
}

impl Package {
    fn complaint(&self) -> Option<String> {
        let terms = self.license.as_deref().unwrap_or("no licence named");
        (!is_accepted(terms)).then(|| format!("  {} {}: {terms}", self.name, self.version))
    }
}

/// Whether some choice that the SPDX expression leaves is accepted whole. The
/// older `A/B` means `A OR B`. AND binds tighter than OR (SPDX 2.3, annex D).
fn is_accepted(terms: &str) -> bool {
    let spaced = terms
        .replace('/', " OR ")
        .replace('(', " ( ")
        .replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut rest = &words[..];
    either(&mut rest) && rest.is_empty()
}

fn either(rest: &mut &[&str]) -> bool {
    let mut accepted = all(rest);
    while take(rest, "OR") {
        accepted |= all(rest);
    }
    accepted
}

fn all(rest: &mut &[&str]) -> bool {
    let mut accepted = one(rest);
    while take(rest, "AND") {
        accepted &= one(rest);
    }
    accepted
}

fn one(rest: &mut &[&str]) -> bool {
    if take(rest, "(") {
        return either(rest) & take(rest, ")");
    }
    let Some((name, after)) = rest.split_first() else {
        return false;
    };
    *rest = after;
    let mut full = (*name).to_owned();
    if take(rest, "WITH")
        && let Some((exception, after)) = rest.split_first()
    {
        full = format!("{full} WITH {exception}");
        *rest = after;
    }
    ACCEPTED.contains(&full.as_str())
}

fn take(rest: &mut &[&str], word: &str) -> bool {
    let here = rest.first() == Some(&word);
    if here {
        *rest = &rest[1..];
    }
    here
}

#[cfg(test)]
mod tests {
    use super::is_accepted;

    #[test]
    fn a_choice_needs_one_accepted_side_and_a_sum_both() {
        for terms in [
            "MIT",
            "MIT/Apache-2.0",
            "GPL-3.0-only OR MIT",
            "(MIT OR Apache-2.0) AND Unicode-3.0",
            "Apache-2.0 WITH LLVM-exception OR GPL-2.0-only",
            "GPL-3.0-only AND MIT OR ISC",
        ] {
            assert!(is_accepted(terms), "{terms}");
        }
        for terms in [
            "GPL-3.0-only",
            "MIT AND GPL-3.0-only",
            "(MIT OR ISC",
            "",
            "MIT WITH odd-exception",
            "no licence named",
        ] {
            assert!(!is_accepted(terms), "{terms}");
        }
    }
}
