//! The work at hand where a file is taken in: the file, what was answered about it, what would become
//! of it, and what was written. Lists of boars and files of loggers are taken in alike.

use super::answer::path;
use crate::act::Act;
use crate::device;
use crate::office::{self, Body, OfficeError};
use leptos::prelude::*;
use leptos::task::spawn_local;
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::sync::Arc;

/// See the module's words: choices `C`, a preview `P`, and what was written `W`. Cheap to copy.
#[derive(Debug)]
pub struct Desk<C: 'static, P: 'static, W: 'static> {
    /// Where the office takes such files.
    at: &'static str,
    act: Act,
    pub file: RwSignal<Option<Arc<Vec<u8>>>>,
    pub choices: RwSignal<C>,
    pub preview: RwSignal<Option<P>>,
    pub written: RwSignal<Option<W>>,
    pub busy: RwSignal<bool>,
}

impl<C, P, W> Clone for Desk<C, P, W> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<C, P, W> Copy for Desk<C, P, W> {}

impl<C, P, W> Desk<C, P, W>
where
    C: Default + Serialize + Send + Sync + 'static,
    P: DeserializeOwned + Send + Sync + 'static,
    W: DeserializeOwned + Send + Sync + 'static,
{
    /// An empty desk before the office's address `at`.
    pub fn new(act: Act, at: &'static str) -> Self {
        Self {
            at,
            act,
            file: RwSignal::new(None),
            choices: RwSignal::default(),
            preview: RwSignal::new(None),
            written: RwSignal::new(None),
            busy: RwSignal::new(false),
        }
    }

    /// Another file: nothing of the one before holds for it.
    pub fn open(self, bytes: Vec<u8>) {
        self.file.set(Some(Arc::new(bytes)));
        self.choices.set(C::default());
        self.written.set(None);
        self.look();
    }

    /// Notes an answer and looks again.
    pub fn choose(self, answer: impl FnOnce(&mut C)) {
        self.choices.update(answer);
        self.look();
    }

    /// Asks what would become of it.
    pub fn look(self) {
        self.ask("preview", None, move |preview| {
            self.preview.set(Some(preview));
        });
    }

    /// Has it taken in; `decision` is what was decided besides.
    pub fn commit(self, decision: Option<(&'static str, String)>) {
        self.ask("commit", decision, move |written| {
            self.preview.set(None);
            self.file.set(None);
            self.written.set(Some(written));
            device::wake();
        });
    }

    fn ask<T: DeserializeOwned>(
        self,
        what: &'static str,
        decision: Option<(&'static str, String)>,
        then: impl FnOnce(T) + 'static,
    ) {
        let Some(file) = self.file.get_untracked() else {
            return;
        };
        let choices = self.choices.with_untracked(serde_json::to_string);
        let choices = ("choices", choices.unwrap_or_default());
        let query: Vec<_> = std::iter::once(choices).chain(decision).collect();
        let address = path(&format!("{}/{what}", self.at), &query);
        self.busy.set(true);
        spawn_local(async move {
            let answer = office::ask("POST", &address, Some(Body::File(file.to_vec()))).await;
            self.busy.set(false);
            let read = answer.and_then(|text| {
                serde_json::from_str(&text).map_err(|e| OfficeError::Says(e.to_string()))
            });
            match read {
                Ok(read) => then(read),
                Err(error) => self.act.office_failed(&error),
            }
        });
    }
}
