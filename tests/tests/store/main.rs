//! The store's own stories: what arrives is judged, kept, folded, handed out, checked, backed up.

#[path = "../store_hands/mod.rs"]
mod store_hands;

mod apart;
mod arriving;
mod damage;
mod keeping;
mod outlook;
mod pulling;

use pentally_domain::sync::{Fate, Push};
use pentally_domain::time::DAY_MS;
use pentally_server::store::Store;
use std::fs;
use std::path::PathBuf;
use store_hands::START_MS;

const LATER_MS: i64 = START_MS + 90 * DAY_MS;

fn fates(store: &Store, push: &Push) -> Vec<Fate> {
    store.push(push, LATER_MS).unwrap().fates
}

/// A folder of its own, emptied before and after.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let place =
            std::env::temp_dir().join(format!("pentally-store-{}-{name}", std::process::id()));
        let _ = fs::remove_dir_all(&place);
        fs::create_dir_all(&place).unwrap();
        Self(place)
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}
