//! Putting the barn on the farm's network.

use super::body::Body;
use super::house::House;
use super::pairing::is_owner;
use super::problem::{Code, HAS_NETWORK, IMPOSSIBLE, Problem};
use crate::access::{Who, hashed};
use crate::moment::{now_ms, random};
use crate::store::{Saying, Store, StoreError};
use crate::tags::Origin;
use crate::tls::NameError;
use axum::extract::{ConnectInfo, State};
use axum::{Extension, Json};
use pentally_domain::amend::Correction;
use pentally_domain::fact::Fact;
use pentally_domain::pairing::{Network, NetworkAsked};
use std::net::SocketAddr;
use tracing::info;

/// Where the barn is on the network.
pub(super) async fn standing(State(house): State<House>) -> Result<Json<Network>, Problem> {
    let has_owner = house.with_own(Store::owner).await?.is_some();
    let network = house.network().clone();
    let told = tokio::task::spawn_blocking(move || network.told(has_owner, now_ms())).await?;
    Ok(Json(told))
}

/// Opens it there under a name, which stands on every tag from now on.
pub(super) async fn open(
    State(house): State<House>,
    Extension(who): Extension<Who>,
    ConnectInfo(from): ConnectInfo<SocketAddr>,
    body: Body,
) -> Result<Json<Network>, Problem> {
    let asked: NetworkAsked = body.json()?;
    let network = house.network().clone();
    let wanted = asked.name;
    let named = tokio::task::spawn_blocking(move || network.named(&wanted)).await?;
    let name = named.map_err(|error| {
        let problem = Problem::new(IMPOSSIBLE, error.to_string());
        match error {
            NameError::NotLocal { .. } => problem.coded(Code::NotALocalName),
            NameError::NotBorne { .. } | NameError::Unread { .. } => problem,
        }
    })?;
    let before = house.network().chosen();
    let is_other = before.as_ref().is_some_and(|before| before.name != name);
    if is_other && !asked.tags_will_be_printed_again {
        let says = "a name was chosen before, and every tag that was printed leads to it: say \
                    tags_will_be_printed_again to choose another all the same";
        return Err(Problem::new(HAS_NETWORK, says));
    }
    // Before the name is kept: what does not fit on a tag is no name for it.
    let port = house.network().https_at(crate::network::HTTPS_PORT).port();
    let origin = format!("https://{name}:{port}");
    Origin::parse(&origin)
        .map_err(|e| Problem::new(IMPOSSIBLE, e.to_string()).coded(Code::NameTooLong))?;
    // Whoever sits at the machine could set another passphrase anyway, and is never kept waiting.
    let guesses = (who != Who::Machine).then_some(from);
    own(&house, guesses, asked.passphrase).await?;
    let said = origin.clone();
    house
        .with_own(move |store| say_origin(store, &said))
        .await?;
    let (network, chosen) = (house.network().clone(), origin);
    tokio::task::spawn_blocking(move || network.choose(name)).await??;
    info!(
        origin = chosen,
        "the barn has an address on the farm's network"
    );
    standing(State(house)).await
}

/// Sets the owner's passphrase if there is none, or asks for the one that stands. Wrong ones from
/// `guesses` are counted.
async fn own(
    house: &House,
    guesses: Option<SocketAddr>,
    passphrase: String,
) -> Result<(), Problem> {
    if house.with_own(Store::owner).await?.is_some() {
        return is_owner(house, guesses, passphrase).await;
    }
    let hash = tokio::task::spawn_blocking(move || hashed(&passphrase))
        .await?
        .map_err(|e| Problem::new(IMPOSSIBLE, e.to_string()))?;
    house.with_own(move |store| store.set_owner(&hash)).await
}

/// Writes the address of the tags into the log, where every phone and every sheet reads it.
fn say_origin(store: &Store, origin: &str) -> Result<(), StoreError> {
    let barn = store.barn_for(&[])?;
    let seen = barn.farm().ok_or(StoreError::NoFarm)?;
    if seen.fact.origin.as_deref() == Some(origin) {
        return Ok(());
    }
    let mut after = seen.fact.clone();
    after.origin = Some(origin.to_owned());
    let now_ms = now_ms();
    let now = barn
        .zone_at(now_ms)
        .stamp(now_ms)
        .map_err(|e| StoreError::Library(e.to_string()))?;
    let correction = Correction::of(seen.order, &Fact::Farm(seen.fact), Fact::Farm(after));
    let saying = Saying {
        fact: Fact::Correction(correction),
        occurred_at: None,
        random: random()?,
    };
    store.say(&[saying], now).map(|_| ())
}
