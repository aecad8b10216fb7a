//! The browser's side; see [`super`] for what each function promises.

mod db;
mod driver;
mod farm;
mod load;
mod mirror;
mod moment;
mod net;
mod page;
mod phone;
mod pull;
mod push;
mod rescue;
mod save;
mod tabs;
mod trouble;

use super::SaveError;
use crate::feed::{Feed, Hello};
use js_sys::{Array, JsString};
use leptos::prelude::Update;
use pentally_domain::id::DeviceId;
use pentally_domain::writer::Head;
use phone::current;
use std::cell::Cell;
use trouble::Trouble;

pub(super) use moment::sleep as pause;
pub(super) use page::{
    bring_into_view, can_shake, is_beside_home_screen, is_secure as entry_allowed, is_trusted,
    load_page, office_missing, shake, take_update, to_office,
};
#[cfg(feature = "office")]
pub(super) use page::{has_voice, keep_lit, read_aloud, signal};
pub(super) use save::{pick_person, save, set_name};

thread_local! {
    static FEED: Cell<Option<Feed>> = const { Cell::new(None) };
}

pub(super) fn moment() -> (i64, [u8; 10]) {
    (moment::now_ms(), moment::random())
}

pub(super) async fn start(feed: Feed) {
    FEED.set(Some(feed));
    page::listen(feed);
    match farm::last().await {
        Ok(Some(last)) => driver::open_farm(feed, last.farm, last.barn, false).await,
        Ok(None) => drop(hello().await),
        Err(trouble) => leptos::logging::error!("this browser's store does not open: {trouble}"),
    }
    let persisted = page::persisted().await;
    feed.link.update(|link| link.persisted = persisted);
}

pub(super) async fn hello() -> Option<Hello> {
    let feed = FEED.get()?;
    let hello = driver::ask(feed).await?;
    driver::follow(feed, &hello).await;
    Some(hello)
}

pub(super) async fn forget_farm() -> Result<(), SaveError> {
    Ok(farm::forget().await?)
}

pub(super) async fn draft_text(key: &str) -> Result<Option<String>, SaveError> {
    let phone = current().ok_or(SaveError::NoFarm)?;
    let read = async {
        let db = phone.db().await?;
        let tx = db::reading(&db, &[db::DRAFTS])?;
        db::text(&tx.object_store(db::DRAFTS)?, key).await
    };
    let text: Option<String> = read.await?;
    if let Some(text) = &text {
        phone.mirror.drafts.set(&key.into(), &text.into());
    }
    Ok(text)
}

pub(super) async fn put_draft_text(key: &str, text: String) -> Result<(), SaveError> {
    save::put_draft(key, Some(text)).await
}

pub(super) async fn remove_draft(key: &str) -> Result<(), SaveError> {
    save::put_draft(key, None).await
}

pub(super) async fn identity() -> Option<DeviceId> {
    let phone = current()?;
    let db = phone.db().await.ok()?;
    let tx = db::reading(&db, &[db::META]).ok()?;
    let head: Option<Head> = db::read(&tx.object_store(db::META).ok()?, phone::HEAD)
        .await
        .ok()?;
    head.map(|head| head.device)
}

pub(super) fn wake() {
    current().inspect(driver::wake);
}

pub(super) async fn held_lines() -> Result<String, SaveError> {
    let phone = current().ok_or(SaveError::NoFarm)?;
    let read = async {
        let db = phone.db().await?;
        let tx = db::reading(&db, &[db::ENTRIES])?;
        let pairs = db::pairs(&tx.object_store(db::ENTRIES)?, db::all(), db::NO_LIMIT).await?;
        let lines = pairs
            .into_iter()
            .map(|(_, value)| Ok(mirror::Held::read(value)?.line()));
        let lines: Array = lines
            .collect::<Result<Vec<JsString>, Trouble>>()?
            .into_iter()
            .collect();
        Ok::<_, Trouble>(String::from(lines.join("\n")))
    };
    let mut lines = read.await?;
    if !lines.is_empty() {
        lines.push('\n');
    }
    Ok(lines)
}

pub(super) async fn ask_persist() -> Option<bool> {
    page::ask_persist(FEED.get()?).await
}
