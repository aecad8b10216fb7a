//! Builds the phone's half and runs the project's errands: `cargo xtask ERRAND`.

mod chromium;
mod command;
mod compress;
mod errands;
mod licences;
mod pages;
mod place;
mod set;
mod tally;
mod trouble;
mod wasm;

use std::process::ExitCode;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match errands::run(&words) {
        Ok(code) => code,
        Err(why) => {
            eprintln!("{why}");
            if why.is_usage() {
                ExitCode::from(2)
            } else {
                ExitCode::FAILURE
            }
        }
    }
}
