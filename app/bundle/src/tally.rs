//! Counting what cargo's test runs say, so that the last line sums them all.

use crate::command;
use crate::trouble::Trouble;
use std::fmt;
use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

/// How many tests passed and failed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Tests that passed.
    pub passed: u64,
    /// Tests that failed.
    pub failed: u64,
}

impl fmt::Display for Tally {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} passed, {} failed", self.passed, self.failed)
    }
}

impl Tally {
    /// Runs `cargo test`, shows its lines as they come, and sums its results. A run
    /// that fails without a failed test (code that does not compile, a test program
    /// that dies) counts as one failed.
    pub fn of(command: &mut Command) -> Result<Self, Trouble> {
        command.stdout(Stdio::piped());
        let mut child = command.spawn().map_err(command::cannot_start(command))?;
        let mut tally = Self::default();
        if let Some(lines) = child.stdout.take() {
            for line in BufReader::new(lines).lines().map_while(Result::ok) {
                println!("{line}");
                tally.add(&line);
            }
        }
        let status = child.wait().map_err(command::cannot_start(command))?;
        if !status.success() && tally.failed == 0 {
            eprintln!(
                "`{}` failed before or between its tests.",
                command::line(command)
            );
            tally.failed = 1;
        }
        Ok(tally)
    }

    fn add(&mut self, line: &str) {
        let Some(result) = line.strip_prefix("test result: ") else {
            return;
        };
        let counts = result.split_once(". ").map_or("", |(_, counts)| counts);
        for part in counts.split("; ") {
            match part.split_once(' ') {
                Some((count, "passed")) => self.passed += count.parse().unwrap_or(0),
                Some((count, "failed")) => self.failed += count.parse().unwrap_or(0),
                _ => {}
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Tally;

    #[test]
    fn sums_the_result_lines_and_nothing_else() {
        let mut tally = Tally::default();
        for line in [
            "test rest::two_days_are_too_few ... ok",
            "test result: ok. 7 passed; 0 failed; 0 ignored; 0 measured; 3 filtered out",
            "a line that says 5 passed; 5 failed",
            "test result: FAILED. 4 passed; 2 failed; 0 ignored; 0 measured; 0 filtered out",
        ] {
            tally.add(line);
        }
        assert_eq!(tally.to_string(), "11 passed, 2 failed");
    }
}
