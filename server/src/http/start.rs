//! The first start: a farm of one's own, or a look around the invented barn.

use super::body::Body;
use super::house::House;
use super::problem::{HAS_FARM, IMPOSSIBLE, MALFORMED, Problem};
use crate::moment::{birth, now_ms, random};
use crate::store::{Home, Saying, Store, StoreError};
use crate::{invented, zone};
use axum::Json;
use axum::extract::State;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Farm;
use pentally_domain::id::{BarnId, Epoch, FarmId};
use pentally_domain::said::Label;
use pentally_domain::sync::PROTOCOL;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// What an app needs to know before it says anything.
#[derive(Debug, Serialize)]
pub(super) struct Hello {
    protocol: u32,
    version: &'static str,
    epoch: Epoch,
    farm: Option<FarmId>,
    barn: Option<BarnId>,
    invented: bool,
    started: bool,
}

/// Who is here.
pub(super) async fn hello(State(house): State<House>) -> Result<Json<Hello>, Problem> {
    let standing = house.with_store(Store::standing).await?;
    Ok(Json(Hello {
        protocol: PROTOCOL,
        version: env!("CARGO_PKG_VERSION"),
        epoch: standing.cursor.epoch,
        farm: standing.home.map(|home| home.farm),
        barn: standing.home.map(|home| home.barn),
        invented: house.is_invented(),
        started: standing.home.is_some(),
    }))
}

/// What to start with; exactly one of the three.
#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
struct Start {
    farm: Option<String>,
    zone: Option<String>,
    invented: bool,
    leave_invented: bool,
}

/// Starts a farm, opens the invented barn, or leaves it.
pub(super) async fn start(State(house): State<House>, body: Body) -> Result<Json<Hello>, Problem> {
    match body.json()? {
        Start {
            farm: None,
            zone: None,
            invented: true,
            leave_invented: false,
        } => {
            let is_used = house.with_own(|own| {
                Ok(own.standing()?.home.is_some() || !own.all_paired()?.is_empty())
            });
            if is_used.await? {
                let says = "there is a farm here, and its phones would write into the invented barn: \
                            start another `pentally --demo` with a --data folder of its own";
                return Err(Problem::new(HAS_FARM, says));
            }
            let data = house.data().to_owned();
            let store = tokio::task::spawn_blocking(move || invented::open(&data)).await??;
            house.look_around(Some(Arc::new(store)));
        }
        Start {
            farm: None,
            zone: None,
            invented: false,
            leave_invented: true,
        } => house.look_around(None),
        Start {
            farm: Some(name),
            zone,
            invented: false,
            leave_invented: false,
        } => {
            let farm = farm(&name, zone.as_deref().unwrap_or("UTC"))?;
            house.with_store(|store| begin(store, farm)).await?;
        }
        _ => {
            let right = r#"{"farm":"name","zone":"Europe/Madrid"}, {"invented":true} or {"leave_invented":true}"#;
            return Err(Problem::new(
                MALFORMED,
                format!("exactly one of these was expected: {right}"),
            ));
        }
    }
    hello(State(house)).await
}

fn farm(name: &str, zone: &str) -> Result<Farm, Problem> {
    let name = Label::parse(name)
        .map_err(|e| Problem::new(IMPOSSIBLE, format!("the farm's name: {e}")))?;
    Ok(Farm {
        name,
        zone: zone::named(zone)?,
        origin: None,
        invented: false,
    })
}

fn begin(store: &Store, farm: Farm) -> Result<(), StoreError> {
    let now_ms = now_ms();
    let now = farm
        .zone
        .stamp(now_ms)
        .map_err(|e| StoreError::Library(e.to_string()))?;
    let saying = Saying {
        fact: Fact::Farm(farm),
        occurred_at: None,
        random: random()?,
    };
    store
        .begin(
            Home::new(now_ms, random()?, random()?),
            &saying,
            now,
            birth()?,
        )
        .map(|_| ())
}
