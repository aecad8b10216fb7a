//! The invented barn as a file of entries.

use crate::moment::now_ms;
use chrono::{NaiveDate, NaiveTime};
use clap::Args;
use pentally_demo::{Plan, PlanError, TaleError, entries};
use pentally_domain::time::DAY_MS;
use std::fs::File;
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

/// What is to be told.
#[derive(Debug, Args)]
pub(super) struct Words {
    /// The file to write; - for standard output.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// How many boars.
    #[arg(long, value_name = "N", default_value_t = 24)]
    boars: u32,
    /// How many years.
    #[arg(long, value_name = "N", default_value_t = 2)]
    years: u32,
    /// Another seed tells another story.
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// The day before which the story ends, such as 2026-03-01; today without.
    #[arg(long, value_name = "DAY", value_parser = day)]
    until: Option<NaiveDate>,
}

/// Why there is no story.
#[derive(Debug, thiserror::Error)]
pub enum DemoError {
    /// See [`PlanError`].
    #[error(transparent)]
    Plan(#[from] PlanError),
    /// See [`TaleError`].
    #[error("the story is wrong: {0}")]
    Tale(#[from] TaleError),
    /// The file could not be written.
    #[error("{}: {source}", .place.display())]
    File {
        /// Which.
        place: PathBuf,
        /// What the operating system said.
        source: io::Error,
    },
}

impl Words {
    pub(super) fn run(&self) -> Result<(), DemoError> {
        let plan = Plan::new(self.seed, self.boars, self.years, self.until_ms())?;
        let at = |source| DemoError::File {
            place: self.out.clone(),
            source,
        };
        if self.out == Path::new("-") {
            return match write(plan, &mut BufWriter::new(io::stdout().lock()), at) {
                // Whoever reads may have seen enough.
                Err(DemoError::File { source, .. })
                    if source.kind() == io::ErrorKind::BrokenPipe =>
                {
                    Ok(())
                }
                other => other.map(|_| ()),
            };
        }
        let written = write(
            plan,
            &mut BufWriter::new(File::create(&self.out).map_err(at)?),
            at,
        )?;
        println!("{written} entries written to {}.", self.out.display());
        Ok(())
    }

    fn until_ms(&self) -> i64 {
        let midnight = self
            .until
            .map(|day| day.and_time(NaiveTime::MIN).and_utc().timestamp_millis());
        midnight.unwrap_or_else(|| now_ms() / DAY_MS * DAY_MS)
    }
}

fn day(text: &str) -> Result<NaiveDate, String> {
    text.parse()
        .map_err(|_| "a day such as 2026-03-01 was expected".to_owned())
}

fn write(
    plan: Plan,
    file: &mut impl Write,
    at: impl Fn(io::Error) -> DemoError,
) -> Result<u64, DemoError> {
    let mut written = 0;
    for entry in entries(plan) {
        writeln!(file, "{}", entry?.to_line()).map_err(&at)?;
        written += 1;
    }
    file.flush().map_err(&at)?;
    Ok(written)
}
