//! Entries to and from files: JSON Lines, one entry a line, as `Entry::to_line` writes them.

use crate::moment::{birth, now_ms};
use crate::store::{Home, Store, StoreError};
use pentally_domain::envelope::Entry;
use pentally_domain::sync::Fate;
use std::fmt;
use std::io::{self, BufRead, Write};

/// How many lines go into one transaction.
const AT_ONCE: usize = 20_000;
/// The longest line taken, in bytes: the largest body, with every character escaped, fits.
const LINE_MAX_BYTES: u64 = 1024 * 1024;

/// What became of the lines of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// In the log now.
    pub stored: u64,
    /// Were in the log.
    pub duplicates: u64,
    /// Same identity or sequence, other bytes.
    pub conflicts: u64,
    /// Kept apart.
    pub set_aside: u64,
}

/// Why a file could not be carried.
#[derive(Debug, thiserror::Error)]
pub enum CarryError {
    /// The store said no.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The file did.
    #[error("the file could not be read or written: {0}")]
    File(#[from] io::Error),
    /// A line longer than any entry.
    #[error(
        "line {line} is longer than {LINE_MAX_BYTES} bytes: this is no file of entries; nothing from it on was taken"
    )]
    LongLine {
        /// Counted from 1.
        line: u64,
    },
}

impl Counts {
    const fn add(&mut self, fate: &Fate) {
        match fate {
            Fate::Stored => self.stored += 1,
            Fate::Duplicate => self.duplicates += 1,
            Fate::Conflict { .. } => self.conflicts += 1,
            Fate::SetAside { .. } => self.set_aside += 1,
        }
    }
}

impl fmt::Display for Counts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            stored,
            duplicates,
            conflicts,
            set_aside,
        } = self;
        write!(
            f,
            "{stored} stored, {duplicates} duplicate, {conflicts} in conflict, {set_aside} set aside"
        )
    }
}

/// Takes in a file of entries. Into an empty store it brings its farm along: that of the first
/// line that is an entry. Blank lines are skipped; lines that are no entries are set aside whole.
pub fn import(store: &Store, file: &mut impl BufRead) -> Result<Counts, CarryError> {
    let mut counts = Counts::default();
    let mut line = 0;
    loop {
        let lines = some_lines(file, &mut line)?;
        if lines.is_empty() {
            return Ok(counts);
        }
        settle_in(
            store,
            lines
                .iter()
                .find_map(|line| Entry::from_line(line).ok())
                .as_ref(),
        )?;
        store
            .take_lines(&lines, now_ms())?
            .iter()
            .for_each(|fate| counts.add(fate));
    }
}

/// Writes every entry, in the order of the log.
pub fn export(store: &Store, file: &mut impl Write) -> Result<u64, CarryError> {
    const PAGE: usize = 1000;
    let mut after = 0;
    loop {
        let page = store.log(after, PAGE)?;
        let Some((last, _)) = page.last() else { break };
        after = *last;
        for (_, entry) in &page {
            writeln!(file, "{}", entry.to_line())?;
        }
    }
    file.flush()?;
    Ok(after)
}

/// Gives an empty store the farm of an entry that comes from elsewhere.
pub fn settle_in(store: &Store, entry: Option<&Entry>) -> Result<(), StoreError> {
    match (store.standing()?.home, entry) {
        (Some(_), _) => Ok(()),
        (None, Some(entry)) => {
            let home = Home {
                farm: entry.envelope().farm,
                barn: entry.envelope().barn,
            };
            store.adopt(home, birth()?)
        }
        (None, None) => Err(StoreError::NoFarm),
    }
}

fn some_lines(file: &mut impl BufRead, line: &mut u64) -> Result<Vec<String>, CarryError> {
    let mut lines = vec![];
    while lines.len() < AT_ONCE {
        let mut bytes = vec![];
        *line += 1;
        if io::Read::take(&mut *file, LINE_MAX_BYTES).read_until(b'\n', &mut bytes)? == 0 {
            break;
        }
        if bytes.len() as u64 == LINE_MAX_BYTES && bytes.last() != Some(&b'\n') {
            return Err(CarryError::LongLine { line: *line });
        }
        // What is not UTF-8 is no entry; it is set aside as far as it can be shown.
        let text = String::from_utf8_lossy(&bytes);
        let text = text.trim().trim_start_matches('\u{feff}');
        if !text.is_empty() {
            lines.push(text.to_owned());
        }
    }
    Ok(lines)
}
