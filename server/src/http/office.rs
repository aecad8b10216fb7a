//! How things stand, for people and for scripts.

use super::body::Asked;
use super::house::House;
use super::problem::{NOT_FOUND, Problem};
use crate::backups;
use crate::moment::now_ms;
use crate::store::{Alarm, Device, LastBackup, Missing, SetAside, Store, StoreError};
use axum::Json;
use axum::body::Body;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use pentally_domain::id::{DeviceId, Epoch};
use pentally_domain::sync::Fate;
use serde::{Deserialize, Serialize};
use tokio_util::io::ReaderStream;

/// What a watchdog asks.
#[derive(Debug, Serialize)]
pub(super) struct Health {
    status: &'static str,
    entries: u64,
    epoch: Epoch,
    version: &'static str,
}

/// Answers as long as the store can be read.
pub(super) async fn health(State(house): State<House>) -> Result<Json<Health>, Problem> {
    let cursor = house.with_store(Store::standing).await?.cursor;
    let version = env!("CARGO_PKG_VERSION");
    Ok(Json(Health {
        status: "ok",
        entries: cursor.n,
        epoch: cursor.epoch,
        version,
    }))
}

#[derive(Debug, Serialize)]
pub(super) struct Known {
    id: DeviceId,
    #[serde(flatten)]
    device: Device,
}

/// The devices heard of, and how far each has arrived.
pub(super) async fn devices(State(house): State<House>) -> Result<Json<Vec<Known>>, Problem> {
    let list = house.with_store(Store::devices).await?;
    Ok(Json(
        list.into_iter()
            .map(|(id, device)| Known { id, device })
            .collect(),
    ))
}

/// What the log speaks of and does not have.
pub(super) async fn missing(State(house): State<House>) -> Result<Json<Missing>, Problem> {
    house.with_store(Store::missing).await.map(Json)
}

/// What a person should look at.
#[derive(Debug, Serialize)]
pub(super) struct Apart {
    aside: Vec<Numbered<SetAside>>,
    alarms: Vec<Numbered<Alarm>>,
    /// What to ask for `after` next; none at the end.
    next: Option<u64>,
    /// The same of the alarms.
    alarms_next: Option<u64>,
}

/// From where on.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct After {
    after: u64,
    alarms_after: u64,
}

#[derive(Debug, Serialize)]
pub(super) struct Numbered<T> {
    n: u64,
    #[serde(flatten)]
    what: T,
}

/// A page of what was set aside, and of what was stored and looks odd.
pub(super) async fn aside(
    State(house): State<House>,
    Asked(from): Asked<After>,
) -> Result<Json<Apart>, Problem> {
    const MOST: usize = 1000;
    let page = move |store: &Store| {
        let alarms = store.alarms(from.alarms_after, MOST)?;
        Ok((store.aside(from.after, MOST)?, alarms))
    };
    let (aside, alarms) = house.with_store(page).await?;
    Ok(Json(Apart {
        next: aside.last().map(|(n, _)| *n),
        alarms_next: alarms.last().map(|(n, _)| *n),
        aside: numbered(aside),
        alarms: numbered(alarms),
    }))
}

/// Makes a backup in the data folder, verifies it, and hands it out. The last few stay there.
pub(super) async fn backup(State(house): State<House>) -> Result<Response, Problem> {
    let place =
        tokio::task::spawn_blocking(move || backups::make(&house, house.backups())).await??;
    let name = place
        .file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned();
    let file = tokio::fs::File::open(&place)
        .await
        .map_err(StoreError::from)?;
    let length = file.metadata().await.map_err(StoreError::from)?.len();
    let headers = [
        (header::CONTENT_TYPE, "application/jsonl".to_owned()),
        (header::CONTENT_LENGTH, length.to_string()),
        (
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"{name}\""),
        ),
    ];
    Ok((headers, Body::from_stream(ReaderStream::new(file))).into_response())
}

/// Which text that stands apart.
#[derive(Debug, Deserialize)]
struct Accepted {
    n: u64,
}

/// Takes into the log what a device brought that had been shut out.
pub(super) async fn accept(
    State(house): State<House>,
    body: super::body::Body,
) -> Result<Json<Fate>, Problem> {
    let Accepted { n } = body.json()?;
    let fate = house
        .with_store(move |store| store.accept(n, now_ms()))
        .await?;
    fate.map(Json).ok_or_else(|| {
        let says = format!(
            "nothing with the number {n} stands apart because of a device that was shut out"
        );
        Problem::new(NOT_FOUND, says)
    })
}

/// The backups made without anybody asking.
#[derive(Debug, Serialize)]
pub(super) struct Backups {
    folder: String,
    last: Option<LastBackup>,
    trouble: Option<String>,
}

/// Where backups lie, when the last was made, and why none can be made, if so.
pub(super) async fn backups(State(house): State<House>) -> Result<Json<Backups>, Problem> {
    let last = house.with_store(Store::standing).await?.backup;
    Ok(Json(Backups {
        folder: house.backups().display().to_string(),
        last,
        trouble: house.backup_trouble(),
    }))
}

fn numbered<T>(list: Vec<(u64, T)>) -> Vec<Numbered<T>> {
    list.into_iter()
        .map(|(n, what)| Numbered { n, what })
        .collect()
}
