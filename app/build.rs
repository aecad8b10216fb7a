//! Compiles the message catalogue: a key that is missing, unused, defined twice
//! or left untranslated stops the build with a sentence.

#[path = "build/catalogue.rs"]
mod catalogue;
#[path = "build/emit.rs"]
mod emit;
#[path = "build/rules.rs"]
mod rules;

use catalogue::{Catalogue, Source};
use std::collections::BTreeSet;
use std::path::Path;
use std::process::ExitCode;
use std::{env, fs, io};

fn main() -> ExitCode {
    // server/src is read too but not watched: a change there would rebuild all
    // screens, and a use that ends there is noticed by the next clean build.
    for path in ["build.rs", "build", "locales", "src"] {
        println!("cargo::rerun-if-changed={path}");
    }
    match compile() {
        Ok(()) => ExitCode::SUCCESS,
        Err(errors) => {
            for error in errors {
                println!("cargo::error={error}");
            }
            ExitCode::FAILURE
        }
    }
}

fn compile() -> Result<(), Vec<String>> {
    let (en, es) = (sources("en")?, sources("es")?);
    let mut errors = same_files(&en, &es);
    let en = keep(catalogue::read("en", &en), &mut errors);
    let es = keep(catalogue::read("es", &es), &mut errors);
    if errors.is_empty() {
        errors = rules::between(&en, &es, &same_in_both()?);
    }
    errors.extend(rules::unused(&en, &named_in_code()?));
    if !errors.is_empty() {
        return Err(errors);
    }
    let (en, es) = (carried(en), carried(es));
    let table = |name, texts| emit::table(name, texts).map_err(|why| vec![why]);
    let tables = table("EN", &en)? + &table("ES", &es)? + &emit::names(&en);
    let out = env::var("OUT_DIR").map_err(|why| vec![why.to_string()])?;
    write(&out, "keys.rs", &emit::keys(&en))?;
    write(&out, "table.rs", &tables)
}

/// The messages this build carries: without its screens the office's words stay out, and those of
/// pages that the server alone writes are carried by no phone.
fn carried(mut catalogue: Catalogue) -> Catalogue {
    for (feature, file) in [
        ("CARGO_FEATURE_OFFICE", "office.ftl"),
        ("CARGO_FEATURE_OFFICE", "bench.ftl"),
        ("CARGO_FEATURE_OFFICE", "sows.ftl"),
        ("CARGO_FEATURE_OFFICE", "laboratory.ftl"),
        ("CARGO_FEATURE_OFFICE", "counting.ftl"),
        ("CARGO_FEATURE_OFFICE", "instruments.ftl"),
        ("CARGO_FEATURE_OFFICE", "care.ftl"),
        ("CARGO_FEATURE_OFFICE", "learn.ftl"),
        ("CARGO_FEATURE_OFFICE", "evidence.ftl"),
        ("CARGO_FEATURE_OFFICE", "watch.ftl"),
        ("CARGO_FEATURE_OFFICE", "climate.ftl"),
        ("CARGO_FEATURE_SSR", "server.ftl"),
    ] {
        if env::var_os(feature).is_none() {
            catalogue.retain(|_, message| message.file != file);
        }
    }
    catalogue
}

fn keep(read: Result<Catalogue, Vec<String>>, errors: &mut Vec<String>) -> Catalogue {
    read.unwrap_or_else(|found| {
        errors.extend(found);
        Catalogue::new()
    })
}

fn sources(lang: &str) -> Result<Vec<Source>, Vec<String>> {
    let dir = format!("locales/{lang}");
    let mut sources = Vec::new();
    for entry in fs::read_dir(&dir).map_err(|why| said(&dir, &why))? {
        let entry = entry.map_err(|why| said(&dir, &why))?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if entry.path().extension().is_some_and(|ext| ext == "ftl") {
            sources.push((name, text(&entry.path())?));
        }
    }
    sources.sort();
    Ok(sources)
}

fn same_files(en: &[Source], es: &[Source]) -> Vec<String> {
    let names = |list: &[Source]| list.iter().map(|(n, _)| n.clone()).collect::<BTreeSet<_>>();
    let (en, es) = (names(en), names(es));
    en.symmetric_difference(&es)
        .map(|name| format!("app/locales: {name} stands in one language only; both need it."))
        .collect()
}

fn same_in_both() -> Result<BTreeSet<String>, Vec<String>> {
    let listed = text(Path::new("locales/same-in-both.txt"))?;
    let lines = listed.lines().map(str::trim);
    Ok(lines
        .filter(|l| !l.is_empty() && !l.starts_with('#'))
        .map(str::to_owned)
        .collect())
}

fn named_in_code() -> Result<BTreeSet<String>, Vec<String>> {
    let mut named = BTreeSet::new();
    for root in ["src", "../server/src"] {
        names_under(Path::new(root), &mut named)?;
    }
    Ok(named)
}

fn names_under(dir: &Path, named: &mut BTreeSet<String>) -> Result<(), Vec<String>> {
    for entry in fs::read_dir(dir).map_err(|why| said(&dir.to_string_lossy(), &why))? {
        let path = entry
            .map_err(|why| said(&dir.to_string_lossy(), &why))?
            .path();
        if path.is_dir() {
            names_under(&path, named)?;
        } else if path.extension().is_some_and(|ext| ext == "rs") && !path.ends_with("tests.rs") {
            named.extend(rules::identifiers(&text(&path)?).map(str::to_owned));
        }
    }
    Ok(())
}

fn text(path: &Path) -> Result<String, Vec<String>> {
    fs::read_to_string(path).map_err(|why| said(&path.to_string_lossy(), &why))
}

fn write(out: &str, name: &str, source: &str) -> Result<(), Vec<String>> {
    fs::write(Path::new(out).join(name), source).map_err(|why| said(name, &why))
}

fn said(path: &str, why: &io::Error) -> Vec<String> {
    vec![format!("app/{path} cannot be read or written: {why}.")]
}
