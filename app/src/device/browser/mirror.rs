//! What this page said was saved and the office does not have yet, kept in the page's memory
//! too: when the browser deletes the store under a live page, it is written again from here.
//!
//! Lines stay the browser's own strings; they cross into this program's memory only one at a
//! time, so that thousands of waiting entries do not make it grow.

use super::trouble::Trouble;
use crate::device::held::HeldKey;
use js_sys::{Array, JsString, Map};
use pentally_domain::envelope::Entry;
use wasm_bindgen::{JsCast, JsValue};

/// One held entry: its JSON line, the line's size in bytes, and when it was written down (ms since 1970).
#[derive(Debug, Clone)]
pub struct Held(Array);

/// See the module's words.
#[derive(Debug, Default)]
pub struct Mirror {
    /// Key → held entry.
    pub waiting: Map,
    /// Key → JSON of unfinished work.
    pub drafts: Map,
    /// Entry → JSON of personal data that waits.
    pub beside: Map,
}

impl Held {
    /// Of a new entry.
    pub fn of(entry: &Entry) -> Self {
        let line = entry.to_line();
        let bytes = u32::try_from(line.len()).unwrap_or(u32::MAX);
        let recorded = entry.envelope().recorded_at.ms() as f64;
        Self(Array::of3(&line.into(), &bytes.into(), &recorded.into()))
    }

    /// As it was stored.
    pub fn read(value: JsValue) -> Result<Self, Trouble> {
        value
            .dyn_into()
            .map(Self)
            .map_err(|_| Trouble::other(&"a held entry is not in its stored form"))
    }

    /// To be stored.
    pub fn stored(&self) -> JsValue {
        self.0.clone().into()
    }

    /// Its line, as the browser's string.
    pub fn line(&self) -> JsString {
        self.0.get(0).unchecked_into()
    }

    /// The entry itself.
    pub fn entry(&self) -> Result<Entry, Trouble> {
        Ok(Entry::from_line(&String::from(self.line()))?)
    }

    /// The line's size.
    pub fn bytes(&self) -> usize {
        whole(&self.0.get(1)).try_into().unwrap_or(usize::MAX)
    }

    /// When it was written down (ms since 1970).
    pub fn recorded_ms(&self) -> i64 {
        whole(&self.0.get(2))
    }
}

impl Mirror {
    /// An entry was saved and waits.
    pub fn saved(&self, key: HeldKey, held: &Held) {
        self.waiting.set(&key.to_string().into(), &held.stored());
    }

    /// The office has it.
    pub fn received(&self, key: HeldKey) {
        self.waiting.delete(&key.to_string().into());
    }

    /// The keys of what waits.
    pub fn for_each_key(&self, mut take: impl FnMut(HeldKey)) {
        self.waiting.for_each(&mut |_, key| {
            if let Some(key) = key.as_string().and_then(|key| HeldKey::parse(&key)) {
                take(key);
            }
        });
    }

    /// What waits, one entry at a time.
    pub fn for_each_entry(&self, mut take: impl FnMut(Entry)) {
        self.waiting.for_each(&mut |value, _| {
            if let Ok(entry) = Held::read(value).and_then(|held| held.entry()) {
                take(entry);
            }
        });
    }

    /// When the oldest of what waits was written down (ms since 1970).
    pub fn oldest_ms(&self) -> Option<i64> {
        let mut oldest: Option<i64> = None;
        self.waiting.for_each(&mut |value, _| {
            if let Ok(recorded) = Held::read(value).map(|held| held.recorded_ms()) {
                oldest = Some(oldest.map_or(recorded, |o| o.min(recorded)));
            }
        });
        oldest
    }

    /// How many names wait.
    pub fn beside_count(&self) -> u64 {
        self.beside.size().into()
    }
}

/// A map's pairs whose keys are text.
pub fn texts_and_values(map: &Map) -> Vec<(String, JsValue)> {
    let mut pairs = vec![];
    map.for_each(&mut |value, key| {
        if let Some(key) = key.as_string() {
            pairs.push((key, value));
        }
    });
    pairs
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "sizes and times lie far within what both hold exactly"
)]
fn whole(value: &JsValue) -> i64 {
    value.as_f64().unwrap_or_default() as i64
}
