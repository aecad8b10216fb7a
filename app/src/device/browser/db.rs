//! Databases, transactions and values, a little nearer to what this program says.
//!
//! Between the first request of a transaction and its commit nothing may be awaited but requests
//! of that transaction: the browser would commit it early.

use super::trouble::Trouble;
use indexed_db_futures::KeyRange;
use indexed_db_futures::database::Database;
use indexed_db_futures::internals::SystemRepr;
use indexed_db_futures::object_store::ObjectStore;
use indexed_db_futures::prelude::*;
use indexed_db_futures::transaction::{
    Transaction, TransactionDurability, TransactionMode, TransactionOptions,
};
use pentally_domain::json;
use serde::Serialize;
use serde::de::DeserializeOwned;
use wasm_bindgen::JsValue;

/// Head, cursor, includes, person and milestones of this phone.
pub const META: &str = "meta";
/// Every held entry: key → what [`super::mirror::Held`] says.
pub const ENTRIES: &str = "entries";
/// Copies of the held entries that wait to be sent.
pub const WAITING: &str = "waiting";
/// Why held entries stand aside at the office: key → JSON.
pub const ASIDE: &str = "aside";
/// Pulled ledgers: subject → JSON.
pub const SUMMARIES: &str = "summaries";
/// Personal data: entry → JSON.
pub const BESIDE: &str = "beside";
/// Personal data set here that waits to be sent.
pub const BESIDE_WAITING: &str = "beside_waiting";
/// Unfinished work: key → JSON.
pub const DRAFTS: &str = "drafts";

/// The stores of a farm's database.
pub const STORES: &[&str] = &[
    META,
    ENTRIES,
    WAITING,
    ASIDE,
    SUMMARIES,
    BESIDE,
    BESIDE_WAITING,
    DRAFTS,
];

/// Opens a database, with its stores if it is new.
pub async fn open(name: &str, stores: &'static [&'static str]) -> Result<Database, Trouble> {
    let made = move |_, db: Database| {
        for store in stores {
            db.create_object_store(*store).build()?;
        }
        Ok(())
    };
    Ok(Database::open(name)
        .with_version(1u8)
        .with_on_upgrade_needed(made)
        .await?)
}

/// A transaction that reads.
pub fn reading<'a>(db: &'a Database, stores: &[&str]) -> Result<Transaction<'a>, Trouble> {
    Ok(db
        .transaction(stores)
        .with_mode(TransactionMode::Readonly)
        .build()?)
}

/// A transaction that writes through to the disk. Refused where the browser knows the option
/// and did not take it.
pub fn writing<'a>(db: &'a Database, stores: &[&str]) -> Result<Transaction<'a>, Trouble> {
    let strict = TransactionOptions::new().with_durability(TransactionDurability::Strict);
    let tx = db
        .transaction(stores)
        .with_mode(TransactionMode::Readwrite)
        .with_options(strict)
        .build()?;
    let given = js_sys::Reflect::get(tx.as_sys(), &"durability".into())
        .ok()
        .and_then(|v| v.as_string());
    match given {
        Some(read) if read != "strict" => Err(Trouble::NotStrict { read }),
        _ => Ok(tx),
    }
}

/// Commits, and returns once the browser says it is done.
pub async fn commit(tx: Transaction<'_>) -> Result<(), Trouble> {
    let sys = tx.as_sys().clone();
    tx.commit().await.map_err(|error| match sys.error() {
        // The abort event itself does not say why; the transaction does.
        Some(exception) => Trouble::of_exception(&exception),
        None => error.into(),
    })
}

/// The text under a key.
pub async fn text(store: &ObjectStore<'_>, key: &str) -> Result<Option<String>, Trouble> {
    Ok(store.get::<String, _, _>(key).primitive()?.await?)
}

/// The value whose JSON stands under a key.
pub async fn read<T: DeserializeOwned>(
    store: &ObjectStore<'_>,
    key: &str,
) -> Result<Option<T>, Trouble> {
    let text = text(store, key).await?;
    Ok(text.map(|t| json::read(&t)).transpose()?)
}

/// The value under a key as the browser holds it.
pub async fn raw(store: &ObjectStore<'_>, key: &str) -> Result<Option<JsValue>, Trouble> {
    Ok(store.get::<JsValue, _, _>(key).primitive()?.await?)
}

/// Puts a value as the browser holds it.
pub fn put_raw(store: &ObjectStore<'_>, key: &str, value: JsValue) -> Result<(), Trouble> {
    store
        .put(value)
        .with_key(key)
        .without_key_type()
        .primitive()?;
    Ok(())
}

/// Puts a text.
pub fn put_text(store: &ObjectStore<'_>, key: &str, text: &str) -> Result<(), Trouble> {
    put_raw(store, key, JsValue::from_str(text))
}

/// Puts a value as JSON.
pub fn put<T: Serialize + ?Sized>(
    store: &ObjectStore<'_>,
    key: &str,
    value: &T,
) -> Result<(), Trouble> {
    put_text(store, key, &serde_json::to_string(value)?)
}

/// Deletes a key.
pub fn delete(store: &ObjectStore<'_>, key: &str) -> Result<(), Trouble> {
    store.delete::<&str, _>(key).primitive()?;
    Ok(())
}

/// Keys and values in a range, at most `limit`, by key.
pub async fn pairs(
    store: &ObjectStore<'_>,
    range: KeyRange<String>,
    limit: u32,
) -> Result<Vec<(String, JsValue)>, Trouble> {
    let keys = store
        .get_all_keys::<String>()
        .with_query::<String, _>(range.clone())
        .with_limit(limit)
        .primitive()?;
    let values = store
        .get_all::<JsValue>()
        .with_query::<String, _>(range)
        .with_limit(limit)
        .primitive()?;
    let keys = keys.await?;
    let values = values.await?;
    keys.zip(values)
        .map(|(key, value)| Ok((key?, value?)))
        .collect()
}

/// Keys in a range, at most `limit`.
pub async fn keys(
    store: &ObjectStore<'_>,
    range: KeyRange<String>,
    limit: u32,
) -> Result<Vec<String>, Trouble> {
    let keys = store
        .get_all_keys::<String>()
        .with_query::<String, _>(range)
        .with_limit(limit)
        .primitive()?
        .await?;
    keys.map(|key| key.map_err(Trouble::from)).collect()
}

/// How many keys a store has.
pub async fn count(store: &ObjectStore<'_>) -> Result<u64, Trouble> {
    Ok(u64::from(store.count().primitive()?.await?))
}

/// Every key.
pub fn all() -> KeyRange<String> {
    KeyRange::LowerBound(String::new(), false)
}

/// Every key that begins so.
pub fn beginning(prefix: &str) -> KeyRange<String> {
    KeyRange::Bound(prefix.to_owned(), false, format!("{prefix}\u{ffff}"), true)
}

/// Every key after this one.
pub fn after(key: &str) -> KeyRange<String> {
    KeyRange::LowerBound(key.to_owned(), true)
}

/// No practical limit.
pub const NO_LIMIT: u32 = u32::MAX;
