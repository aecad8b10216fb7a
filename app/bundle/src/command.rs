//! Other programs: cargo without what the outer cargo left in the environment.

use crate::place;
use crate::trouble::Trouble;
use std::process::Command;

/// A nested `cargo` whose build settings are its own. Kept are the variables that say where
/// packages come from, how many jobs may run, and what a build may leave out.
pub fn cargo(words: &[&str]) -> Command {
    let mut command = Command::new("cargo");
    for (name, _) in std::env::vars_os() {
        if name.to_str().is_some_and(is_left_by_cargo) {
            command.env_remove(name);
        }
    }
    command.args(words).current_dir(place::root());
    command
}

/// Runs to the end with the person watching; a refusal is an error.
pub fn run(command: &mut Command) -> Result<(), Trouble> {
    let status = command.status().map_err(cannot_start(command))?;
    if status.success() {
        Ok(())
    } else {
        Err(Trouble::Failed {
            line: line(command),
        })
    }
}

/// Runs to the end and hands back what it printed.
pub fn answer(command: &mut Command) -> Result<String, Trouble> {
    let output = command
        .stderr(std::process::Stdio::inherit())
        .output()
        .map_err(cannot_start(command))?;
    if output.status.success() {
        Ok(String::from_utf8_lossy(&output.stdout).into_owned())
    } else {
        Err(Trouble::Failed {
            line: line(command),
        })
    }
}

/// The command line as a person would type it.
pub fn line(command: &Command) -> String {
    let mut words = vec![command.get_program().to_string_lossy()];
    words.extend(command.get_args().map(std::ffi::OsStr::to_string_lossy));
    words.join(" ")
}

/// The error for a program that would not start.
pub fn cannot_start(command: &Command) -> impl FnOnce(std::io::Error) -> Trouble + use<> {
    let program = command.get_program().to_string_lossy().into_owned();
    move |source| Trouble::Start { program, source }
}

fn is_left_by_cargo(name: &str) -> bool {
    const KEPT: [&str; 10] = [
        "CARGO_HOME",
        "CARGO_BUILD_JOBS",
        "CARGO_HTTP_",
        "CARGO_INCREMENTAL",
        "CARGO_NET_",
        "CARGO_PROFILE_DEV_DEBUG",
        "CARGO_PROFILE_TEST_DEBUG",
        "CARGO_REGISTR",
        "CARGO_SOURCE_",
        "CARGO_TARGET_DIR",
    ];
    let is_cargo = name == "CARGO" || name.starts_with("CARGO_");
    let is_flags = matches!(name, "RUSTFLAGS" | "RUSTDOCFLAGS" | "RUSTC_WRAPPER");
    is_flags || is_cargo && !KEPT.iter().any(|kept| name.starts_with(kept))
}

#[cfg(test)]
mod tests {
    use super::is_left_by_cargo;

    #[test]
    fn settings_of_the_outer_build_do_not_reach_the_nested_one() {
        for name in [
            "CARGO",
            "CARGO_MANIFEST_DIR",
            "CARGO_ENCODED_RUSTFLAGS",
            "RUSTFLAGS",
        ] {
            assert!(is_left_by_cargo(name), "{name}");
        }
        for name in [
            "CARGO_HOME",
            "CARGO_NET_OFFLINE",
            "RUSTUP_TOOLCHAIN",
            "PATH",
        ] {
            assert!(!is_left_by_cargo(name), "{name}");
        }
    }
}
