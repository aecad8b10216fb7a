//! This phone's side of the log: what is saved here, and how it travels to the office.
//!
//! Everything a screen does here has the same signature in a browser and on the host. On the
//! host, where the server paints pages for reading, every write answers [`SaveError::NotHere`].
//!
//! In a browser an entry is *saved* once one IndexedDB transaction over the head of this
//! device's thread and its entries was committed with strict durability; the functions return
//! after that and never before.

pub mod camera;
pub mod held;
pub mod hold;
pub mod post;
pub mod pulled;
pub mod reissue;
pub mod show;

#[cfg(target_arch = "wasm32")]
mod browser;
#[cfg(not(target_arch = "wasm32"))]
mod host;

#[cfg(target_arch = "wasm32")]
use browser as side;
#[cfg(not(target_arch = "wasm32"))]
use host as side;

use crate::feed::{Feed, Hello};
use pentally_domain::envelope::{Entry, EntryError};
use pentally_domain::fact::{Fact, FactError};
use pentally_domain::id::{DeviceId, EntryId, PersonId};
use pentally_domain::json;
use pentally_domain::time::Stamp;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// A fact to be saved.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// What it says.
    pub fact: Fact,
    /// When it happened; the moment of saving unless given.
    pub occurred_at: Option<Stamp>,
    /// Its identity, when another draft names it.
    pub id: Option<NewId>,
}

/// An identity for a draft that another draft names, such as a boar and his first move. It holds
/// the moment at which it was made, which becomes the entry's: make it when saving.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NewId {
    now_ms: i64,
    random: [u8; 10],
}

/// Why something was not saved. Nothing of it was.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SaveError {
    /// This is the server's paint, or a page on plain http where nothing can be kept safe.
    #[error("nothing can be saved here: open the farm's https address")]
    NotHere,
    /// The phone is full.
    #[error("the phone's storage is full")]
    QuotaFull,
    /// No farm is known yet: the office was never reached, or not started.
    #[error("no farm is known on this phone yet")]
    NoFarm,
    /// The fact says something that cannot be.
    #[error(transparent)]
    Fact(#[from] FactError),
    /// The entry lies outside its bounds.
    #[error(transparent)]
    Entry(#[from] EntryError),
    /// The browser's store failed.
    #[error("the browser's store failed: {detail}")]
    Storage {
        /// What the browser said.
        detail: String,
    },
}

impl Draft {
    /// A fact that happened just now.
    pub const fn of(fact: Fact) -> Self {
        Self {
            fact,
            occurred_at: None,
            id: None,
        }
    }

    /// It happened then.
    #[must_use]
    pub fn at(self, occurred_at: Stamp) -> Self {
        Self {
            occurred_at: Some(occurred_at),
            ..self
        }
    }

    /// Another draft names it.
    #[must_use]
    pub fn with_id(self, id: NewId) -> Self {
        Self {
            id: Some(id),
            ..self
        }
    }
}

impl From<Fact> for Draft {
    fn from(fact: Fact) -> Self {
        Self::of(fact)
    }
}

impl NewId {
    /// The identity the entry will have.
    pub fn id(self) -> EntryId {
        EntryId::v7(self.now_ms, self.random)
    }
}

/// A fresh identity for a draft that another draft names.
pub fn new_id() -> NewId {
    let (now_ms, random) = side::moment();
    NewId { now_ms, random }
}

/// Opens this phone's store, fills the feed and keeps it up to date from then on. Works without
/// a network after one earlier visit. Before the first start of a farm, `link.hello` says so.
pub async fn start(feed: Feed) {
    side::start(feed).await;
}

/// Asks the office again which farm it holds, and opens that farm's store if it is another.
pub async fn hello() -> Option<Hello> {
    side::hello().await
}

/// Forgets which farm this phone worked for, so that the next start asks the office; all that is kept
/// of the farm stays.
pub async fn forget_farm() -> Result<(), SaveError> {
    side::forget_farm().await
}

/// Saves facts as entries, all or none, in one transaction and without a gap. Unfinished work under
/// the key `ends` ends in the same transaction: a battery that dies in between neither loses what
/// it came to nor offers it a second time.
pub async fn save(drafts: Vec<Draft>, ends: Option<&str>) -> Result<Vec<Entry>, SaveError> {
    side::save(drafts, ends).await
}

/// Unfinished work under a key, if there is any.
pub async fn draft_get<T: DeserializeOwned>(key: &str) -> Result<Option<T>, SaveError> {
    let text = side::draft_text(key).await?;
    text.map(|text| json::read(&text).map_err(|e| storage(&e)))
        .transpose()
}

/// Keeps unfinished work under a key, over a reload and a flat battery.
pub async fn draft_put(key: &str, work: &impl Serialize) -> Result<(), SaveError> {
    side::put_draft_text(key, draft_text(work)?).await
}

/// Unfinished work as it is kept.
pub fn draft_text(work: &impl Serialize) -> Result<String, SaveError> {
    serde_json::to_string(work).map_err(|e| storage(&e))
}

/// Keeps the text of unfinished work under a key.
pub async fn draft_put_text(key: &str, text: String) -> Result<(), SaveError> {
    side::put_draft_text(key, text).await
}

/// Ends unfinished work.
pub async fn draft_remove(key: &str) -> Result<(), SaveError> {
    side::remove_draft(key).await
}

/// Sets the personal data of an entry, such as a person's name; none erases it.
pub async fn set_name(entry: EntryId, text: Option<String>) -> Result<(), SaveError> {
    side::set_name(entry, text).await
}

/// Says who works with this phone from now on.
pub async fn pick_person(person: Option<PersonId>) -> Result<(), SaveError> {
    side::pick_person(person).await
}

/// The identity under which this phone writes now; none before its first record.
pub async fn identity() -> Option<DeviceId> {
    side::identity().await
}

/// Sends and fetches now, also after a pause or a refusal.
pub fn wake() {
    side::wake();
}

/// Every entry this phone holds, as JSON Lines.
pub async fn held_lines() -> Result<String, SaveError> {
    side::held_lines().await
}

/// Asks the browser to keep this phone's store; the answer goes to `link.persisted` too.
pub async fn ask_persist() -> Option<bool> {
    side::ask_persist().await
}

/// Whether this page may take entries: on plain http away from localhost nothing can be kept safe.
pub fn entry_allowed() -> bool {
    side::entry_allowed()
}

/// Lets the newer version take over and loads the page again. Not while a form is open.
pub fn take_update() {
    side::take_update();
}

/// Opens an address with the office's screens, which the barn's half leaves out.
pub fn to_office(address: &str) {
    side::to_office(address);
}

/// Whether the office's screens were asked for and did not come.
pub fn office_missing() -> bool {
    side::office_missing()
}

/// Whether this phone trusts the farm's certificate: a warning that was clicked through looks
/// secure and is not. Takes some seconds where it does not.
pub async fn is_trusted() -> bool {
    side::is_trusted().await
}

/// Whether this is an iPhone's or iPad's browser and not the app on its Home Screen, which
/// keeps records and cookies of its own.
pub fn is_beside_home_screen() -> bool {
    side::is_beside_home_screen()
}

/// Loads an address as if it was opened anew; none loads this one again.
pub fn load_page(address: Option<&str>) {
    side::load_page(address);
}

/// Whether this phone can shake at all; iPhones cannot.
pub fn can_shake() -> bool {
    side::can_shake()
}

/// Shakes the phone once, shortly. No sound, no light.
pub fn shake() {
    side::shake();
}

/// Whether the browser has a voice for a language's tag, such as `es`.
#[cfg(feature = "office")]
pub fn has_voice(lang: &str) -> bool {
    side::has_voice(lang)
}

/// Reads a text aloud in place of what is being read; an empty one falls silent.
#[cfg(feature = "office")]
pub fn read_aloud(lang: &str, text: &str) {
    side::read_aloud(lang, text);
}

/// Answers a tap at the microscope: a tone of so many Hz and ms if `aloud`, and a touch where the phone has one.
#[cfg(feature = "office")]
pub fn signal(hz: f64, ms: u32, aloud: bool) {
    side::signal(hz, ms, aloud);
}

/// Keeps the screen lit, or lets it go dark again.
#[cfg(feature = "office")]
pub fn keep_lit(on: bool) {
    side::keep_lit(on);
}

/// Scrolls as little as shows the first element of a selector, if there is one.
pub fn bring_into_view(selector: &str) {
    side::bring_into_view(selector);
}

/// Waits so many ms.
pub async fn pause(ms: i32) {
    side::pause(ms).await;
}

fn storage(error: &dyn std::fmt::Display) -> SaveError {
    SaveError::Storage {
        detail: error.to_string(),
    }
}
