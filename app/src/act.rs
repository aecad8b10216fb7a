//! From a tap to the log: what every screen does when something is to be saved.

use crate::device::{self, Draft, SaveError};
use crate::feed::Feed;
use crate::keeping::kept;
use crate::office::OfficeError;
use crate::parts;
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::collecting::Collecting;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::BoarId;
use pentally_domain::training::under_way::UnderWay;

/// The key under which the one open collection of this phone is kept.
pub const COLLECTING: &str = "collecting";
/// The same of the one open visit or session of training.
pub const TRAINING: &str = "training";

/// Saves what is tapped and says it when that fails. Cheap to copy; taken once by a component,
/// since a tap runs outside of every context.
#[derive(Debug, Clone, Copy)]
pub struct Act {
    said: RwSignal<Option<String>>,
    saving: RwSignal<usize>,
    w: Words,
}

/// While it lives, no tap is taken, and the screen says that something is being saved.
#[derive(Debug)]
pub struct Busy {
    saving: RwSignal<usize>,
    _tap: parts::UnderWay,
}

impl Drop for Busy {
    fn drop(&mut self) {
        self.saving.try_update(|n| *n -= 1);
    }
}

impl Act {
    /// Lets all components below save.
    pub fn provide() -> Self {
        let act = Self::new();
        provide_context(act);
        act
    }

    fn new() -> Self {
        Self {
            said: RwSignal::new(None),
            saving: RwSignal::new(0),
            w: use_words(),
        }
    }

    /// Saves facts in one go, then does `then` with the entries; a failure is said in words and
    /// nothing else happens.
    pub fn save(self, drafts: Vec<Draft>, then: impl FnOnce(Vec<Entry>) + 'static) {
        self.begin(drafts, Box::new(then));
    }

    /// Saves one fact and stays on the screen, which follows the barn by itself.
    pub fn save_quietly(self, fact: Fact) {
        self.save(vec![Draft::of(fact)], |_| ());
    }

    fn begin(self, drafts: Vec<Draft>, then: Box<dyn FnOnce(Vec<Entry>)>) {
        let busy = self.busy();
        spawn_local(async move {
            let saved = device::save(drafts, None).await;
            drop(busy);
            self.told(saved, then);
        });
    }

    /// Something begins that the last tap asked for; what it returns is dropped when that is over.
    pub fn busy(self) -> Busy {
        self.saving.update(|n| *n += 1);
        Busy {
            saving: self.saving,
            _tap: parts::UnderWay::begin(),
        }
    }

    /// How much is being saved.
    pub const fn saving(self) -> RwSignal<usize> {
        self.saving
    }

    /// What was said last, for a screen that covers the place where it stands.
    pub const fn said(self) -> RwSignal<Option<String>> {
        self.said
    }

    /// Goes on with what came, or says why it did not.
    pub fn told<T>(self, result: Result<T, SaveError>, then: impl FnOnce(T)) {
        match result {
            Ok(value) => {
                self.said.set(None);
                then(value);
            }
            Err(error) => self.said.set(Some(cannot_save(&self.w, &error))),
        }
    }

    /// Says why the office did not answer.
    pub fn office_failed(self, error: &OfficeError) {
        self.say(office_failed(&self.w, error));
    }

    /// Takes back what was said: it is tried again.
    pub fn hush(self) {
        self.said.set(None);
    }

    /// Says something in the place where failures are said.
    pub fn say(self, words: String) {
        self.said.set(Some(words));
    }
}

/// How this part of the screen saves.
pub fn use_act() -> Act {
    use_context().unwrap_or_else(Act::new)
}

/// The boar whose collection is open on this phone, once the store was asked.
pub fn open_collection() -> RwSignal<Option<BoarId>> {
    let open = RwSignal::new(None);
    Effect::new(move |_| {
        spawn_local(async move {
            if let Ok(Some(work)) = kept::<Collecting>(COLLECTING).await {
                open.set(Some(work.boar));
            }
        });
    });
    open
}

/// The boar whose visit or session of training is open on this phone, once the store was asked.
pub fn open_training() -> RwSignal<Option<BoarId>> {
    let open = RwSignal::new(None);
    Effect::new(move |_| {
        spawn_local(async move {
            if let Ok(Some(work)) = kept::<UnderWay>(TRAINING).await {
                open.set(Some(work.boar));
            }
        });
    });
    open
}

/// Why the office did not answer, in words.
pub fn office_failed(w: &Words, error: &OfficeError) -> String {
    match error {
        OfficeError::NotReached => w.tr(key::OFFICE_NOT_REACHED),
        OfficeError::Refused(problem) => tell::refused(w, problem),
        OfficeError::Says(why) => w.tr_with(key::OFFICE_SAYS, &[("why", why.as_str().into())]),
    }
}

/// Why something was not saved, in words.
pub fn cannot_save(w: &Words, error: &SaveError) -> String {
    let why = match error {
        SaveError::NotHere => w.tr(key::SAVE_NOT_HERE),
        SaveError::QuotaFull => w.tr(key::SAVE_QUOTA_FULL),
        SaveError::NoFarm => w.tr(key::SAVE_NO_FARM),
        SaveError::Fact(error) => error.to_string(),
        SaveError::Entry(error) => error.to_string(),
        SaveError::Storage { detail } => {
            w.tr_with(key::SAVE_STORAGE, &[("detail", detail.as_str().into())])
        }
    };
    w.tr_with(key::CANNOT_SAVE, &[("why", why.into())])
}

/// Begins some work once the barn is there, and only in a browser.
pub fn once_whole(feed: Feed, begin: impl Fn() + 'static) {
    Effect::new(move |begun: Option<bool>| {
        let whole = feed.link.with(|l| l.whole);
        let start = begun != Some(true) && whole;
        if start {
            begin();
        }
        begun == Some(true) || start
    });
}

/// Each question begins at its top, wherever the one before was left.
pub fn each_from_its_top<Q: Send + Sync + 'static>(question: Memo<Q>) {
    Effect::new(move |_| {
        question.track();
        to_top();
        // Once more when the new question stands.
        request_animation_frame(to_top);
    });
}

/// To the top of the page, where a new question begins.
pub fn to_top() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
}

/// Brings the first thing that is wrong into view whenever this says that something is.
pub fn shows_fault(wrong: Signal<Option<String>>) {
    Effect::new(move |_| {
        if wrong.with(Option::is_some) {
            request_animation_frame(to_fault);
        }
    });
}

fn to_fault() {
    device::bring_into_view(".wrong, .said-wrong:not(:empty), .mend");
}
