//! The rules of the message catalogue, each broken once.

#![allow(clippy::unwrap_used)] // a test may stop where a file is not as it must be

// Each file is shared with the build script, which uses the rest of it.
#[allow(dead_code)]
#[path = "../build/catalogue.rs"]
mod catalogue;
#[allow(dead_code)]
#[path = "../build/rules.rs"]
mod rules;

use catalogue::{Catalogue, Source, in_one_line, read};
use std::collections::BTreeSet;

fn source(text: &str) -> Vec<Source> {
    vec![("barn.ftl".to_owned(), text.to_owned())]
}

fn catalogue(text: &str) -> Catalogue {
    read("en", &source(text)).unwrap()
}

fn between(en: &str, es: &str, same: &[&str]) -> String {
    let same: BTreeSet<_> = same.iter().map(|key| (*key).to_owned()).collect();
    rules::between(&catalogue(en), &catalogue(es), &same).join("\n")
}

fn refused(text: &str) -> String {
    read("en", &source(text)).unwrap_err().join("\n")
}

#[test]
fn two_languages_that_agree_pass() {
    assert_eq!(
        between(
            "a = Boar\nb = { $n } g\n",
            "a = Verraco\nb = { $n } g\n",
            &["b"]
        ),
        ""
    );
}

#[test]
fn a_key_missing_in_either_language_is_named() {
    assert!(
        between("a = Boar\n", "", &[]).contains("`a` in barn.ftl is missing in app/locales/es")
    );
    assert!(between("", "a = Boar\n", &[]).contains("missing in app/locales/en"));
}

#[test]
fn a_key_defined_twice_is_named_with_its_first_file() {
    let twice = [source("a = Boar\n"), source("a = Sow\n")].concat();
    let said = read("en", &twice).unwrap_err().join("\n");
    assert!(
        said.contains("`a`: this key is already defined in barn.ftl"),
        "{said}"
    );
}

#[test]
fn spanish_that_repeats_english_is_refused_unless_listed() {
    assert!(between("a = Gel\n", "a = Gel\n", &[]).contains("the Spanish text is the English one"));
    assert_eq!(between("a = Gel\n", "a = Gel\n", &["a"]), "");
}

#[test]
fn a_line_of_the_list_that_is_not_needed_is_refused() {
    assert!(between("a = Cup\n", "a = Vaso\n", &["a"]).contains("the texts differ"));
    assert!(between("a = Cup\n", "a = Vaso\n", &["b"]).contains("`b`, which is no key"));
}

#[test]
fn variables_must_agree_also_inside_a_choice() {
    let said = between(
        "a = { $n ->\n  [one] { $n } dose\n *[other] { $n } doses of { $boar }\n }\n",
        "a = { $n } dosis\n",
        &[],
    );
    assert!(
        said.contains("English uses $boar, $n, Spanish uses $n"),
        "{said}"
    );
}

#[test]
fn two_keys_that_become_one_constant_are_refused() {
    let text = "a-b = Boar\na_b = Sow\n";
    assert!(between(text, "a-b = Verraco\na_b = Cerda\n", &[]).contains("also becomes A_B"));
}

#[test]
fn a_key_is_used_only_where_its_whole_constant_is_named_outside_comments() {
    let named = |code: &str| {
        rules::identifiers(code)
            .map(str::to_owned)
            .collect::<BTreeSet<_>>()
    };
    let catalogue = catalogue("boar-rest = Rest\n");
    let unused = |code: &str| rules::unused(&catalogue, &named(code)).len();
    assert_eq!(unused("words.tr(key::BOAR_REST)"), 0);
    assert_eq!(unused("words.tr(key::BOAR_REST_UNTIL)"), 1);
    assert_eq!(unused("// words.tr(key::BOAR_REST)"), 1);
}

#[test]
fn what_is_not_fluent_is_named_by_its_line() {
    assert!(refused("a = Boar\n!!\n").contains("barn.ftl, line 2: not Fluent"));
    assert!(refused("a = { $n -> \n [few] x\n *[other] y\n }\n").contains("[few] was read"));
    assert!(refused("a = { NUMBER($n) }\n").contains("can stand in braces"));
    assert!(refused("a =\n .title = Boar\n").contains("no attributes"));
}

#[test]
fn terms_are_quoted_and_circles_are_refused() {
    let said = catalogue("-boar = boar\na = This { -boar }\n");
    assert_eq!(in_one_line(&said["a"].parts), "This boar");
    assert!(refused("-a = { -b }\n-b = { -a }\nc = { -a }\n").contains("in a circle"));
    assert!(refused("a = { -sow }\n").contains("-sow is not defined"));
}
