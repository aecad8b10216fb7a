//! This page's hold on one farm's store.

use super::db::{self, ASIDE, BESIDE_WAITING, META, STORES, WAITING};
use super::mirror::{Held, Mirror};
use super::moment::{sleep, within};
use super::tabs::Tabs;
use super::trouble::Trouble;
use super::{rescue, tabs};
use crate::device::held::HeldKey;
use crate::device::post::Mark;
use crate::device::pulled::Pulled;
use crate::device::show::SetAside;
use crate::feed::{Feed, NotAccepted, Unsettled};
use indexed_db_futures::database::Database;
use leptos::prelude::Update;
use pentally_domain::envelope::Entry;
use pentally_domain::id::{BarnId, DeviceId, FarmId};
use pentally_domain::json;
use pentally_domain::outbox::Outbox;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::sync::Arc;

/// The key of this device's head in [`META`].
pub const HEAD: &str = "head";
/// The key of what was pulled, in [`META`].
pub const PULLED: &str = "pulled";
/// The key of what each boar is expected to give, in [`META`].
pub const OUTLOOK: &str = "outlook";
/// The key of the person picked, in [`META`].
pub const PERSON: &str = "person";
/// The key of the milestones, in [`META`].
pub const MILESTONES: &str = "milestones";

/// See the module's words.
pub struct Phone {
    /// What pages read.
    pub feed: Feed,
    /// Whose log.
    pub farm: FarmId,
    /// Which barn.
    pub barn: BarnId,
    /// What waits, in this page's memory too.
    pub mirror: Mirror,
    /// When to send.
    pub outbox: RefCell<Outbox>,
    /// The other tabs, and who among them sends.
    pub tabs: Tabs,
    /// The office was asked, since it was last out of reach, which farm it holds.
    pub met: Cell<bool>,
    /// The store was deleted under us and must be written again from the mirror.
    pub lost: Cell<bool>,
    /// The service worker went with the store and must be registered again.
    pub unkept: Cell<bool>,
    /// The identity under which this phone was found to be rolled back.
    pub rolled_back: Cell<Option<DeviceId>>,
    /// Counts what changed the mirror here, so that a slow read of the store can tell.
    pub changes: Cell<u64>,
    db: RefCell<Option<Database>>,
}

/// How long the store may take for one piece of work.
const PATIENCE_MS: i32 = 8_000;
/// The pauses before the store is asked again.
const PAUSES_MS: [i32; 3] = [50, 300, 1_000];

thread_local! {
    static PHONE: RefCell<Option<Rc<Phone>>> = const { RefCell::new(None) };
}

/// The farm that is open in this page.
pub fn current() -> Option<Rc<Phone>> {
    PHONE.with_borrow(Clone::clone)
}

/// Opens another farm in this page; the former one's store stays as it is.
pub fn make_current(phone: &Rc<Phone>) {
    let former = PHONE.replace(Some(phone.clone()));
    if let Some(former) = former {
        tabs::leave(&former);
        if let Some(db) = former.db.take() {
            db.close();
        }
    }
}

impl Phone {
    /// A phone whose store is not open yet.
    pub fn new(feed: Feed, farm: FarmId, barn: BarnId) -> Rc<Self> {
        Rc::new(Self {
            feed,
            farm,
            barn,
            mirror: Mirror::default(),
            outbox: RefCell::default(),
            tabs: Tabs::of(farm),
            met: Cell::new(false),
            lost: Cell::new(false),
            unkept: Cell::new(false),
            rolled_back: Cell::new(None),
            changes: Cell::new(0),
            db: RefCell::new(None),
        })
    }

    /// Whether this is still the farm that is open.
    pub fn is_current(&self) -> bool {
        current().is_some_and(|p| p.farm == self.farm)
    }

    /// Does a piece of work with the store. Where the store was closed under it, or does not
    /// answer, opens it again and does the work again, which must bear that.
    pub async fn insist<T>(
        &self,
        mut work: impl AsyncFnMut() -> Result<T, Trouble>,
    ) -> Result<T, Trouble> {
        let mut pauses = PAUSES_MS.into_iter();
        loop {
            let silent = || Err(Trouble::closed("it did not answer"));
            let done = within(PATIENCE_MS, work()).await.unwrap_or_else(silent);
            match (done, pauses.next()) {
                (Err(Trouble::Closed { .. }), Some(pause)) => {
                    self.lose();
                    sleep(pause).await;
                }
                (done, _) => return done,
            }
        }
    }

    /// The open store; opened, and written again from memory where it was deleted.
    pub async fn db(self: &Rc<Self>) -> Result<Database, Trouble> {
        if let Some(db) = self.db.borrow().clone() {
            return Ok(db);
        }
        let db = db::open(&format!("pentally-{}", self.farm), STORES).await?;
        rescue::ensure(self, &db).await?;
        if let Some(first) = self.db.borrow().clone() {
            // Two tasks opened it at once; one connection is enough.
            db.close();
            return Ok(first);
        }
        rescue::watch(self, &db);
        self.db.replace(Some(db.clone()));
        Ok(db)
    }

    /// Gives the connection up; the next use opens another, and writes again from memory what
    /// is not there.
    pub fn lose(&self) {
        self.lost.set(true);
        if let Some(db) = self.db.take() {
            db.close();
        }
    }

    /// What was pulled.
    pub async fn pulled(self: &Rc<Self>) -> Result<Pulled, Trouble> {
        let db = self.db().await?;
        let tx = db::reading(&db, &[META])?;
        Ok(db::read(&tx.object_store(META)?, PULLED)
            .await?
            .unwrap_or_default())
    }

    /// Stores how far the ledgers go, and nothing else.
    pub async fn set_pulled(self: &Rc<Self>, pulled: &Pulled) -> Result<(), Trouble> {
        let db = self.db().await?;
        let tx = db::writing(&db, &[META])?;
        db::put(&tx.object_store(META)?, PULLED, pulled)?;
        db::commit(tx).await
    }

    /// Shows a new entry on every page, and that it waits.
    pub fn show_saved(&self, entry: &Entry) {
        self.mirror.saved(HeldKey::of(entry), &Held::of(entry));
        self.changes.set(self.changes.get() + 1);
        let envelope = entry.envelope();
        self.feed
            .unsettled
            .update(|u| u.saved(envelope.device, envelope.seq));
        self.feed.barn.update(|barn| {
            Arc::make_mut(barn).apply(entry);
        });
        self.feed.link.update(|link| {
            link.unsent += 1;
            let recorded = envelope.recorded_at.ms();
            link.oldest_unsent_ms = Some(
                link.oldest_unsent_ms
                    .map_or(recorded, |oldest| oldest.min(recorded)),
            );
        });
    }

    /// Shows that entries were received, and which of them stand aside.
    pub fn show_received(&self, marks: &[(HeldKey, Mark)], aside: &[(HeldKey, SetAside)]) {
        for (key, _) in marks {
            self.mirror.received(*key);
        }
        self.changes.set(self.changes.get() + 1);
        self.feed.unsettled.update(|u| {
            for (key, _) in marks {
                u.received(key.device, key.seq);
            }
            u.aside
                .extend(aside.iter().map(|(key, _)| (key.device, key.seq)));
        });
        if !aside.is_empty() {
            let news = aside.iter().map(|(_, aside)| NotAccepted::of(aside));
            self.feed.link.update(|link| link.not_accepted.extend(news));
        }
        self.show_waiting();
    }

    /// Reads anew from the store what waits and what stands aside, and shows it.
    pub async fn settle(self: &Rc<Self>) -> Result<(), Trouble> {
        loop {
            let changes = self.changes.get();
            let db = self.db().await?;
            let tx = db::reading(&db, &[WAITING, ASIDE, BESIDE_WAITING])?;
            let waiting = db::pairs(&tx.object_store(WAITING)?, db::all(), db::NO_LIMIT).await?;
            let aside =
                asides(&db::pairs(&tx.object_store(ASIDE)?, db::all(), db::NO_LIMIT).await?)?;
            let beside =
                db::pairs(&tx.object_store(BESIDE_WAITING)?, db::all(), db::NO_LIMIT).await?;
            // What was saved meanwhile may be missing from what was read: read again.
            if self.changes.get() == changes {
                fill(&self.mirror.waiting, waiting);
                fill(&self.mirror.beside, beside);
                self.show_settled(&aside);
                return Ok(());
            }
        }
    }

    fn show_settled(&self, set_aside: &[(HeldKey, SetAside)]) {
        let standing = || set_aside.iter().filter(|(_, a)| a.again.is_none());
        let aside = standing().map(|(key, _)| (key.device, key.seq)).collect();
        let mut unsettled = Unsettled {
            aside,
            ..Unsettled::default()
        };
        self.mirror
            .for_each_key(|key| unsettled.saved(key.device, key.seq));
        let not_accepted = standing().map(|(_, a)| NotAccepted::of(a)).collect();
        self.feed.unsettled.update(|u| *u = unsettled);
        self.feed
            .link
            .update(|link| link.not_accepted = not_accepted);
        self.show_waiting();
    }

    fn show_waiting(&self) {
        let (unsent, oldest) = (self.mirror.waiting.size().into(), self.mirror.oldest_ms());
        self.feed.link.update(|link| {
            link.unsent = unsent;
            link.oldest_unsent_ms = oldest;
        });
    }
}

/// The entries that wait under some keys, such as those another tab saved.
pub async fn waiting_under(phone: &Rc<Phone>, keys: &[String]) -> Result<Vec<Entry>, Trouble> {
    let db = phone.db().await?;
    let tx = db::reading(&db, &[WAITING])?;
    let store = tx.object_store(WAITING)?;
    let mut entries = vec![];
    for key in keys {
        if let Some(value) = db::raw(&store, key).await? {
            entries.push(Held::read(value)?.entry()?);
        }
    }
    Ok(entries)
}

/// Reads the pairs of [`ASIDE`].
pub fn asides(
    pairs: &[(String, wasm_bindgen::JsValue)],
) -> Result<Vec<(HeldKey, SetAside)>, Trouble> {
    let mut read = vec![];
    for (key, value) in pairs {
        if let Some(key) = HeldKey::parse(key) {
            read.push((key, json::read(&value.as_string().unwrap_or_default())?));
        }
    }
    Ok(read)
}

impl NotAccepted {
    fn of(aside: &SetAside) -> Self {
        Self {
            entry: aside.entry,
            reason: aside.why.clone(),
        }
    }
}

fn fill(map: &js_sys::Map, pairs: Vec<(String, wasm_bindgen::JsValue)>) {
    map.clear();
    for (key, value) in pairs {
        map.set(&key.into(), &value);
    }
}
