//! Pentally's binary.

use std::process::ExitCode;

fn main() -> ExitCode {
    pentally_server::cli::run()
}
