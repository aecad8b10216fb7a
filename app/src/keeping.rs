//! Unfinished work that is kept on the phone change by change, in the order of the changes.

use crate::act::Act;
use crate::device::{self, Draft, SaveError};
use leptos::task::spawn_local;
use pentally_domain::envelope::Entry;
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::cell::Cell;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Keeps work under one key. While one state is being written, only the latest after it waits: ten
/// taps a second never queue up behind a slow store, and the last is never lost.
#[derive(Debug, Clone)]
pub struct Keeper {
    key: Arc<str>,
    act: Act,
    line: Arc<Mutex<Line>>,
}

#[derive(Debug, Default)]
struct Line {
    next: Option<String>,
    writing: bool,
    /// It is being ended, or was.
    over: bool,
}

/// The pause after which is looked again whether all is written, in ms.
const LOOK_MS: i32 = 10;

thread_local! {
    /// How many are writing.
    static WRITING: Cell<usize> = const { Cell::new(0) };
}

/// Unfinished work under a key as it was tapped last, also on a page that was just left.
pub async fn kept<T: DeserializeOwned>(key: &str) -> Result<Option<T>, SaveError> {
    written().await;
    device::draft_get(key).await
}

async fn written() {
    while WRITING.get() > 0 {
        device::pause(LOOK_MS).await;
    }
}

impl Keeper {
    /// Keeps under this key; failures are said through `act`.
    pub fn new(key: &str, act: Act) -> Self {
        Self {
            key: key.into(),
            act,
            line: Arc::default(),
        }
    }

    /// The key.
    pub fn key(&self) -> &str {
        &self.key
    }

    /// Keeps this state, after those before it. Goes on when the page is left. False once the work
    /// is being ended: what comes then belongs to nothing.
    pub fn keep(&self, work: &impl Serialize) -> bool {
        match device::draft_text(work) {
            Ok(text) => self.keep_text(text),
            Err(error) => {
                self.act.told::<()>(Err(error), |()| ());
                false
            }
        }
    }

    /// Writes what it came to into the log and ends the work, in one transaction, once all before it is
    /// kept. A second time does nothing.
    pub fn finish(&self, drafts: Vec<Draft>, then: impl FnOnce(Vec<Entry>) + 'static) {
        self.end(Some(drafts), Box::new(then));
    }

    /// Ends the work, of which nothing comes into the log.
    pub fn drop_it(&self, then: impl FnOnce() + 'static) {
        self.end(None, Box::new(|_| then()));
    }

    fn end(&self, drafts: Option<Vec<Draft>>, then: Box<dyn FnOnce(Vec<Entry>)>) {
        if std::mem::replace(&mut self.line().over, true) {
            return;
        }
        let (keeper, busy) = (self.clone(), self.act.busy());
        spawn_local(async move {
            // A state that is still being written would outlive the end.
            written().await;
            let ended = match drafts {
                Some(drafts) => device::save(drafts, Some(&keeper.key)).await,
                None => device::draft_remove(&keeper.key).await.map(|()| vec![]),
            };
            drop(busy);
            keeper.line().over = ended.is_ok();
            keeper.act.told(ended, then);
        });
    }

    fn keep_text(&self, text: String) -> bool {
        let mut line = self.line();
        if line.over {
            return false;
        }
        line.next = Some(text);
        if !std::mem::replace(&mut line.writing, true) {
            WRITING.set(WRITING.get() + 1);
            let keeper = self.clone();
            spawn_local(async move {
                keeper.write().await;
                WRITING.set(WRITING.get() - 1);
            });
        }
        true
    }

    async fn write(&self) {
        while let Some(text) = self.take() {
            if let Err(error) = device::draft_put_text(&self.key, text).await {
                self.act.told::<()>(Err(error), |()| ());
            }
        }
    }

    fn take(&self) -> Option<String> {
        let mut line = self.line();
        let next = line.next.take();
        line.writing = next.is_some();
        next
    }

    fn line(&self) -> MutexGuard<'_, Line> {
        self.line.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
