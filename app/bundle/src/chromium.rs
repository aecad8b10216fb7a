//! Finding Chromium and what the tests need beside it, or installing Debian's.

use crate::command;
use crate::trouble::Trouble;
use std::path::PathBuf;
use std::process::{Command, Stdio};

/// The variable that names the browser, here and in the tests.
pub const VARIABLE: &str = "PENTALLY_CHROMIUM";

/// Programs that tests call, and Debian's packages that hold them: one lets a browser trust the farm's
/// authority, the others judge its certificates.
const BESIDE: [(&str, &str); 3] = [
    ("certutil", "libnss3-tools"),
    ("openssl", "openssl"),
    ("curl", "curl"),
];

/// A Chromium that answers, with the programs beside it, installed first where that is allowed.
pub fn find_or_install() -> Result<PathBuf, Trouble> {
    let lacks = lacking();
    if !lacks.is_empty() {
        install(&lacks)?;
    }
    find()
        .filter(|_| lacking().is_empty())
        .ok_or(Trouble::Chromium)
}

/// The packages that are missing.
fn lacking() -> Vec<&'static str> {
    let beside = BESIDE
        .iter()
        .filter(|(program, _)| in_path(program).is_none())
        .map(|(_, package)| *package);
    find()
        .is_none()
        .then_some("chromium")
        .into_iter()
        .chain(beside)
        .collect()
}

fn find() -> Option<PathBuf> {
    const NAMES: [&str; 4] = [
        "chromium",
        "chromium-browser",
        "google-chrome-stable",
        "google-chrome",
    ];
    let said = std::env::var_os(VARIABLE).map(PathBuf::from);
    said.into_iter()
        .chain(NAMES.into_iter().filter_map(in_path))
        .find(answers)
}

fn in_path(name: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .map(|dir| dir.join(name))
        .find(|file| file.is_file())
}

fn answers(program: &PathBuf) -> bool {
    quietly(Command::new(program).arg("--version"))
}

/// Debian's package, as root or by a sudo that asks nothing.
fn install(packages: &[&str]) -> Result<(), Trouble> {
    let sudo: &[&str] = if is_root() {
        &[]
    } else if quietly(Command::new("sudo").args(["-n", "true"])) {
        &["sudo", "-n"]
    } else {
        return Err(Trouble::Chromium);
    };
    in_path("apt-get").ok_or(Trouble::Chromium)?;
    eprintln!("Installing Debian's {}.", packages.join(" "));
    let wanted = [&["install", "-y", "--no-install-recommends"], packages].concat();
    for words in [&["update"][..], &wanted] {
        let line = [sudo, &["apt-get"], words].concat();
        let mut apt = Command::new(line[0]);
        apt.args(&line[1..])
            .env("DEBIAN_FRONTEND", "noninteractive")
            .stdin(Stdio::null());
        // Kept off standard output, whose last line is the tests' sum.
        apt.stdout(std::io::stderr());
        command::run(&mut apt).map_err(|_| Trouble::Chromium)?;
    }
    Ok(())
}

fn is_root() -> bool {
    command::answer(Command::new("id").arg("-u")).is_ok_and(|id| id.trim() == "0")
}

fn quietly(command: &mut Command) -> bool {
    let silent = command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    silent.status().is_ok_and(|status| status.success())
}
