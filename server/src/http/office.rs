//! How things stand, for people and for scripts.

use super::house::House;
use super::problem::Problem;
use crate::store::{Alarm, Device, SetAside};
use axum::Json;
use axum::extract::State;
use pentally_domain::id::{DeviceId, Epoch};
use serde::Serialize;

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
    let cursor = house.with_store(|store| store.standing()).await?.cursor;
    let version = env!("CARGO_PKG_VERSION");
    Ok(Json(Health { status: "ok", entries: cursor.n, epoch: cursor.epoch, version }))
}

#[derive(Debug, Serialize)]
pub(super) struct Known {
    id: DeviceId,
    #[serde(flatten)]
    device: Device,
}

/// The devices heard of, and how far each has arrived.
pub(super) async fn devices(State(house): State<House>) -> Result<Json<Vec<Known>>, Problem> {
    let list = house.with_store(|store| store.devices()).await?;
    Ok(Json(list.into_iter().map(|(id, device)| Known { id, device }).collect()))
}

/// What a person should look at.
#[derive(Debug, Serialize)]
pub(super) struct Apart {
    aside: Vec<Numbered<SetAside>>,
    alarms: Vec<Numbered<Alarm>>,
}

#[derive(Debug, Serialize)]
pub(super) struct Numbered<T> {
    n: u64,
    #[serde(flatten)]
    what: T,
}

/// What was set aside, the first thousand, and what was stored and looks odd.
pub(super) async fn aside(State(house): State<House>) -> Result<Json<Apart>, Problem> {
    const MOST: usize = 1000;
    let (aside, alarms) = house.with_store(|store| Ok((store.aside(0, MOST)?, store.alarms()?))).await?;
    Ok(Json(Apart { aside: numbered(aside), alarms: numbered(alarms) }))
}

fn numbered<T>(list: Vec<(u64, T)>) -> Vec<Numbered<T>> {
    list.into_iter().map(|(n, what)| Numbered { n, what }).collect()
}
