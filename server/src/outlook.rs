//! Now and then, what each boar is expected to give is fitted anew.

use crate::http::House;
use crate::moment::now_ms;
use crate::quiet;
use crate::store::{OutlookError, Store};
use pentally_domain::time::HOUR_MS;
use std::time::Duration;

/// How often it is looked at whether a fit is due.
const LOOK_EVERY: Duration = Duration::from_secs(60);
/// A fit is made anew when something was written since the last, and that is so old. Phones go on
/// from the last fit by themselves, so nothing waits for it.
const DUE_MS: i64 = HOUR_MS;

/// Fits whenever a fit is due, for as long as the house stands.
pub async fn keep(house: House) {
    quiet::opened().await;
    loop {
        let store = house.store();
        let done = quiet::run(move || if_due(&store)).await;
        match done {
            Ok(Ok(())) => {}
            Ok(Err(error)) => tracing::warn!(why = %error, "no fit was made"),
            Err(broke) => tracing::warn!(why = %broke, "no fit was made"),
        }
        tokio::time::sleep(LOOK_EVERY).await;
    }
}

fn if_due(store: &Store) -> Result<(), OutlookError> {
    let standing = store.standing()?;
    let now_ms = now_ms();
    let is_due = standing.home.is_some()
        && store.outlook_made()?.is_none_or(|last| {
            last.n != standing.cursor.n && !(0..DUE_MS).contains(&(now_ms - last.made_at_ms))
        });
    if is_due {
        let fitted = store.fit_outlook(now_ms)?;
        tracing::info!(
            entries = fitted.n,
            "what boars are expected to give was fitted"
        );
    }
    Ok(())
}
