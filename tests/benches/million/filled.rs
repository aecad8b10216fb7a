//! A barn with so many entries of the invented story.

use crate::store_hands::{Dice, START_MS};
use pentally_demo::{Plan, entries};
use pentally_domain::envelope::Entry;
use pentally_domain::id::BoarId;
use pentally_server::store::{Birth, Home, Store};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// Now, for the store: after all of the story.
pub const LATER_MS: i64 = START_MS + 400 * 86_400_000;

/// A filled barn.
pub struct Barn {
    pub place: PathBuf,
    pub home: Home,
    pub boars: Vec<BoarId>,
    pub entries: u64,
}

impl Barn {
    /// The invented story of so many boars, cut after so many entries.
    pub fn fill(place: &Path, boars: u32, length: usize) -> Self {
        let began = Instant::now();
        let store = Store::open(place, birth()).unwrap();
        let plan = Plan::new(1, boars, 30, LATER_MS).unwrap();
        let mut story = entries(plan).map(Result::unwrap).take(length).peekable();
        let first = story.peek().unwrap().envelope().clone();
        let home = Home {
            farm: first.farm,
            barn: first.barn,
        };
        store.adopt(home, birth()).unwrap();
        let mut boars = vec![];
        loop {
            let some: Vec<Entry> = story.by_ref().take(20_000).collect();
            if some.is_empty() {
                break;
            }
            boars.extend(
                some.iter()
                    .filter(|e| e.envelope().kind == "boar")
                    .map(|e| e.envelope().id.as_boar()),
            );
            store
                .take_lines(
                    &some.iter().map(Entry::to_line).collect::<Vec<_>>(),
                    LATER_MS,
                )
                .unwrap();
        }
        let entries = store.standing().unwrap().cursor.n;
        drop(store);
        let bytes = fs::metadata(place).unwrap().len();
        println!(
            "{entries} entries filled in {:.1?}, {} bytes each on disk",
            began.elapsed(),
            bytes / entries
        );
        Self {
            place: place.to_owned(),
            home,
            boars,
            entries,
        }
    }

    pub fn store(&self) -> Store {
        Store::open(&self.place, birth()).unwrap()
    }
}

fn birth() -> Birth {
    Dice::new(5).birth()
}
