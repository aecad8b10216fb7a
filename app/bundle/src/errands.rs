//! The errands of `cargo xtask`.

use crate::chromium;
use crate::command::{self, cargo};
use crate::licences;
use crate::place;
use crate::set::{self, Manifest};
use crate::tally::Tally;
use crate::trouble::Trouble;
use crate::wasm::Care;
use std::fs;
use std::process::{Command, ExitCode};

const USAGE: &str = "\
cargo xtask run [--fast] [-- WORDS]   build everything and open the barn; WORDS go to the binary
cargo xtask test [-- WORDS]           every test, browser tests too; WORDS go to cargo test
cargo xtask dist                      one self-contained binary in target/dist
cargo xtask bundle [--fast]           the phone's half alone, into target/bundle
cargo xtask bench                     the measures, from one run
cargo xtask bench watch [PARTS]       of these only what the watch over each boar's output is worth
cargo xtask bench laboratory [PARTS]  of these only what the laboratory's answers are worth
cargo xtask licences                  the terms of every library
--fast builds quickly and large, for trying a change.";

/// The features that the browser tests stand behind.
const BROWSER: [&str; 2] = ["--features", "pentally-tests/browser"];

/// Runs the errand that the words name.
pub fn run(words: &[String]) -> Result<ExitCode, Trouble> {
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words[..] {
        ["run"] => run_barn(Care::Real, &[]),
        ["run", "--fast"] => run_barn(Care::Fast, &[]),
        ["run", "--", ref rest @ ..] => run_barn(Care::Real, rest),
        ["run", "--fast", "--", ref rest @ ..] => run_barn(Care::Fast, rest),
        ["test"] => Ok(test(&[])),
        ["test", "--", ref rest @ ..] => Ok(test(rest)),
        ["bench"] => bench(),
        ["bench", of @ ("watch" | "laboratory"), ref parts @ ..] => bench_alone(of, parts),
        ["dist"] => dist().map(done),
        ["bundle"] => bundle(Care::Real).map(done),
        ["bundle", "--fast"] => bundle(Care::Fast).map(done),
        ["licences"] => licences::check().map(done),
        _ => Err(Trouble::Usage(USAGE)),
    }
}

const fn done((): ()) -> ExitCode {
    ExitCode::SUCCESS
}

fn run_barn(care: Care, words: &[&str]) -> Result<ExitCode, Trouble> {
    set::build(care)?;
    let (flags, profile): (&[&str], _) = if care == Care::Real {
        (&["--release"], "release")
    } else {
        (&[], "debug")
    };
    command::run(cargo(&["build", "-p", "pentally-server"]).args(flags))?;
    let mut barn = Command::new(place::server(profile));
    let status = barn
        .args(words)
        .status()
        .map_err(command::cannot_start(&barn))?;
    let code = status.code().and_then(|code| u8::try_from(code).ok());
    Ok(code.map_or(ExitCode::FAILURE, ExitCode::from))
}

/// The last line is the sum over all test programs, whatever happens: a run that
/// does not get as far as its tests has failed once.
fn test(words: &[&str]) -> ExitCode {
    let tally = tally(words).unwrap_or_else(|why| {
        eprintln!("{why}");
        Tally {
            passed: 0,
            failed: 1,
        }
    });
    println!("{tally}");
    if tally.failed == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

fn tally(words: &[&str]) -> Result<Tally, Trouble> {
    let browser = chromium::find_or_install()?;
    set::build(Care::Real)?;
    let workspace = ["build", "--workspace", "--bin", "pentally"];
    command::run(cargo(&workspace).args(BROWSER))?;
    let mut tests = cargo(&["test", "--workspace", "--no-fail-fast"]);
    tests.args(BROWSER).args(words);
    tests.env(chromium::VARIABLE, browser);
    tests.env("PENTALLY_BINARY", place::server("debug"));
    tests.env("PENTALLY_BUNDLE", place::bundle());
    Tally::of(&mut tests)
}

fn dist() -> Result<(), Trouble> {
    set::build(Care::Real)?;
    command::run(&mut cargo(&["build", "--release", "-p", "pentally-server"]))?;
    let built = place::server("release");
    let dir = place::target().join("dist");
    fs::create_dir_all(&dir).map_err(Trouble::writing(&dir))?;
    let to = dir.join(built.file_name().unwrap_or_default());
    // Under a new name first: the old one may be running.
    let half = to.with_extension("half");
    fs::copy(&built, &half).map_err(Trouble::writing(&half))?;
    fs::rename(&half, &to).map_err(Trouble::writing(&to))?;
    println!("{}", to.display());
    Ok(())
}

fn bundle(care: Care) -> Result<(), Trouble> {
    let manifest = set::build(care)?;
    print_sizes(&manifest);
    Ok(())
}

fn print_sizes(manifest: &Manifest) {
    println!("set {} (bytes: as it is, gzip, brotli)", manifest.set);
    for file in &manifest.files {
        println!(
            "{:>9} {:>8} {:>8}  {}",
            file.raw, file.gz, file.br, file.name
        );
    }
}

/// The measures live in the tests crate, where barns and phones are at hand.
fn bench() -> Result<ExitCode, Trouble> {
    let browser = chromium::find_or_install()?;
    set::build(Care::Real)?;
    command::run(&mut cargo(&["build", "--release", "-p", "pentally-server"]))?;
    let features = ["--features", "browser"];
    let mut bench = cargo(&["bench", "-p", "pentally-tests"]);
    bench.args(features);
    bench.env(chromium::VARIABLE, browser);
    bench.env("PENTALLY_BINARY", place::server("release"));
    bench.env("PENTALLY_BUNDLE", place::bundle());
    command::run(&mut bench)?;
    Ok(ExitCode::SUCCESS)
}

/// Needs no browser and no binary: invented barns, and the arithmetic alone.
fn bench_alone(of: &str, parts: &[&str]) -> Result<ExitCode, Trouble> {
    let bench = ["bench", "-p", "pentally-tests", "--bench", of, "--"];
    command::run(cargo(&bench).args(parts))?;
    Ok(ExitCode::SUCCESS)
}
