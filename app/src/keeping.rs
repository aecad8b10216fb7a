//! Unfinished work that is kept on the phone change by change, in the order of the changes.

use crate::act::Act;
use crate::device;
use leptos::task::spawn_local;
use serde::Serialize;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Keeps work under one key. While one state is being written, only the latest after it waits: ten
/// taps a second never queue up behind a slow store, and the last is never lost.
#[derive(Debug)]
pub struct Keeper<T> {
    key: Arc<str>,
    act: Act,
    line: Arc<Mutex<Line<T>>>,
}

#[derive(Debug)]
struct Line<T> {
    next: Option<T>,
    writing: bool,
}

impl<T> Clone for Keeper<T> {
    fn clone(&self) -> Self {
        Self {
            key: self.key.clone(),
            act: self.act,
            line: self.line.clone(),
        }
    }
}

impl<T: Serialize + 'static> Keeper<T> {
    /// Keeps under this key; failures are said through `act`.
    pub fn new(key: &str, act: Act) -> Self {
        let line = Line {
            next: None,
            writing: false,
        };
        Self {
            key: key.into(),
            act,
            line: Arc::new(Mutex::new(line)),
        }
    }

    /// The key.
    pub fn key(&self) -> &str {
        &self.key
    }

    /// Keeps this state, after those before it. Goes on when the page is left.
    pub fn keep(&self, work: T) {
        let mut line = self.line();
        line.next = Some(work);
        if line.writing {
            return;
        }
        line.writing = true;
        drop(line);
        let keeper = self.clone();
        spawn_local(async move { keeper.write().await });
    }

    /// Forgets what waits to be written: the work is over.
    pub fn forget(&self) {
        self.line().next = None;
    }

    async fn write(self) {
        loop {
            let Some(work) = self.take() else { return };
            let kept = device::draft_put(&self.key, &work).await;
            if let Err(error) = kept {
                self.act.told::<()>(Err(error), |()| ());
            }
        }
    }

    fn take(&self) -> Option<T> {
        let mut line = self.line();
        let next = line.next.take();
        line.writing = next.is_some();
        next
    }

    fn line(&self) -> MutexGuard<'_, Line<T>> {
        self.line.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
