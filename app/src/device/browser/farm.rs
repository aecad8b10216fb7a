//! Which farm this phone worked for last, so that a start without a network knows its store.

use super::db;
use super::trouble::Trouble;
use pentally_domain::id::{BarnId, FarmId};
use serde::{Deserialize, Serialize};

const NAME: &str = "pentally";
const STORE: &str = "current";
const KEY: &str = "farm";

/// A farm and the barn this phone stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Current {
    /// The farm.
    pub farm: FarmId,
    /// The barn.
    pub barn: BarnId,
}

/// The farm of the last time.
pub async fn last() -> Result<Option<Current>, Trouble> {
    let db = db::open(NAME, &[STORE]).await?;
    let tx = db::reading(&db, &[STORE])?;
    let last = db::read(&tx.object_store(STORE)?, KEY).await?;
    drop(tx);
    db.close();
    Ok(last)
}

/// Forgets which farm it was; its store stays as it is.
pub async fn forget() -> Result<(), Trouble> {
    let db = db::open(NAME, &[STORE]).await?;
    let tx = db::writing(&db, &[STORE])?;
    db::delete(&tx.object_store(STORE)?, KEY)?;
    db::commit(tx).await?;
    db.close();
    Ok(())
}

/// Remembers the farm.
pub async fn remember(farm: FarmId, barn: BarnId) -> Result<(), Trouble> {
    let db = db::open(NAME, &[STORE]).await?;
    let tx = db::writing(&db, &[STORE])?;
    db::put(&tx.object_store(STORE)?, KEY, &Current { farm, barn })?;
    db::commit(tx).await?;
    db.close();
    Ok(())
}
