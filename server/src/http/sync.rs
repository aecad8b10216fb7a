//! The conversation with devices, and the log for scripts.

use super::body::{Asked, Body};
use super::gate::Token;
use super::house::House;
use super::problem::{MALFORMED, PROTOCOL as OTHER_PROTOCOL, Problem};
use crate::access::Who;
use crate::moment::now_ms;
use axum::extract::State;
use axum::{Extension, Json};
use pentally_domain::envelope::Hash;
use pentally_domain::id::Epoch;
use pentally_domain::pairing::Role;
use pentally_domain::sync::{Cursor, PAGE_MAX_BYTES, PROTOCOL, Page, Push, Receipt};
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

/// Takes in what a device hands over.
pub(super) async fn push(
    State(house): State<House>,
    Extension(who): Extension<Who>,
    token: Option<Extension<Token>>,
    body: Body,
) -> Result<Json<Receipt>, Problem> {
    #[derive(Deserialize)]
    struct Greeting {
        protocol: u32,
    }
    speaks(body.json::<Greeting>()?.protocol)?;
    let push: Push = body.json()?;
    match (who, token) {
        (Who::Revoked(_), Some(Extension(Token(token)))) => {
            let apart = house.with_own(move |store| store.push_apart(&token, &push, now_ms()));
            return apart.await.map(Json);
        }
        (Who::Paired(paired), Some(Extension(Token(token))))
            if paired.device != Some(push.device) =>
        {
            let device = push.device;
            house
                .with_own(move |store| store.sends_as(&token, device))
                .await?;
        }
        _ => {}
    }
    house
        .with_store(move |store| store.push(&push, now_ms()))
        .await
        .map(Json)
}

/// Two cursors in a query; of each all three of its parts or none.
#[derive(Debug, Deserialize)]
pub(super) struct After {
    protocol: Option<u32>,
    epoch: Option<Epoch>,
    n: Option<u64>,
    hash: Option<Hash>,
    seen_epoch: Option<Epoch>,
    seen_n: Option<u64>,
    seen_hash: Option<Hash>,
    /// When the outlook was made that the asker has.
    outlook: Option<i64>,
}

/// The ledgers that changed after a cursor.
pub(super) async fn summaries(
    State(house): State<House>,
    Extension(who): Extension<Who>,
    Asked(after): Asked<After>,
) -> Result<Json<Page>, Problem> {
    // The table lets nobody in here who has no part.
    let role = who.role().unwrap_or(Role::Barn);
    speaks(after.protocol.unwrap_or(PROTOCOL))?;
    let cursor = cursor(after.epoch, after.n, after.hash)?;
    let seen = self::cursor(after.seen_epoch, after.seen_n, after.seen_hash)?;
    house
        .with_store(move |store| {
            let mut page = store.pull(role, cursor, seen, PAGE_MAX_BYTES, now_ms())?;
            if !page.more {
                let made = store.outlook_made()?.map(|made| made.made_at_ms);
                if made.is_some() && made != after.outlook {
                    page.outlook = store.outlook_text()?;
                }
            }
            Ok(page)
        })
        .await
        .map(Json)
}

fn cursor(
    epoch: Option<Epoch>,
    n: Option<u64>,
    hash: Option<Hash>,
) -> Result<Option<Cursor>, Problem> {
    match (epoch, n, hash) {
        (Some(epoch), Some(n), Some(hash)) => Ok(Some(Cursor { epoch, n, hash })),
        (None, None, None) => Ok(None),
        _ => Err(Problem::new(
            MALFORMED,
            "epoch, n and hash belong together: all three or none",
        )),
    }
}

/// A place in the log and how much of it.
#[derive(Debug, Deserialize)]
pub(super) struct Range {
    #[serde(default)]
    after: u64,
    #[serde(default = "hundred")]
    limit: usize,
}

const fn hundred() -> usize {
    100
}

/// Entries as they are exported.
#[derive(Debug, Serialize)]
pub(super) struct Entries {
    entries: Vec<Box<RawValue>>,
    /// What to ask for `after` next; none at the log's end.
    next: Option<u64>,
}

/// The log for scripts, oldest first.
pub(super) async fn entries(
    State(house): State<House>,
    Asked(range): Asked<Range>,
) -> Result<Json<Entries>, Problem> {
    const MOST: usize = 1000;
    if !(1..=MOST).contains(&range.limit) {
        return Err(Problem::new(
            MALFORMED,
            format!("limit is {}; it must be from 1 to {MOST}", range.limit),
        ));
    }
    let list = house
        .with_store(move |store| store.log(range.after, range.limit))
        .await?;
    let next = list.last().map(|(n, _)| *n);
    let entries = list
        .iter()
        .filter_map(|(_, entry)| RawValue::from_string(entry.to_line()).ok())
        .collect();
    Ok(Json(Entries { entries, next }))
}

fn speaks(protocol: u32) -> Result<(), Problem> {
    if protocol == PROTOCOL {
        return Ok(());
    }
    let detail = format!(
        "this server speaks protocol {PROTOCOL}, the request said {protocol}: load the app anew"
    );
    Err(Problem::new(OTHER_PROTOCOL, detail))
}
