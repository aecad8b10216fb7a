//! The invented barn: a store of its own beside the farm's, so that the two never mix.

use crate::carry::settle_in;
use crate::moment::{birth, now_ms};
use crate::store::{Store, StoreError};
use pentally_demo::{Plan, tell};
use std::path::Path;
use std::{fs, io};

/// The file in the data folder.
const FILE: &str = "invented.redb";

/// While it is being filled; one that was left so is begun anew.
const DRAFT: &str = "invented.part.redb";

/// Opens the invented barn, and fills it when it is new.
pub fn open(data: &Path) -> Result<Store, StoreError> {
    let (place, draft) = (data.join(FILE), data.join(DRAFT));
    if !place.exists() {
        match fs::remove_file(&draft) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error.into()),
            _ => fill(&Store::open(&draft, birth()?)?)?,
        }
        fs::rename(&draft, &place)?;
    }
    Store::open(&place, birth()?)
}

/// Tells the story into an empty store, some entries a transaction.
fn fill(store: &Store) -> Result<(), StoreError> {
    const AT_ONCE: usize = 5_000;
    let refused = |why: &dyn std::fmt::Display| StoreError::Library(why.to_string());
    let now_ms = now_ms();
    let mut tale = tell(Plan::modest(now_ms).map_err(|e| refused(&e))?);
    loop {
        let told: Vec<_> = tale
            .by_ref()
            .take(AT_ONCE)
            .collect::<Result<_, _>>()
            .map_err(|e| refused(&e))?;
        if told.is_empty() {
            return Ok(());
        }
        settle_in(store, told.first().map(|told| &told.entry))?;
        let lines: Vec<String> = told.iter().map(|told| told.entry.to_line()).collect();
        store.take_lines(&lines, now_ms)?;
        let beside: Vec<_> = told.into_iter().filter_map(|told| told.beside).collect();
        store.take_beside(&beside, now_ms)?;
    }
}
