//! Waiting with a limit.

use std::time::{Duration, Instant};

/// Longer than anything here takes on a busy machine of two cores.
pub const LIMIT: Duration = Duration::from_secs(20);

const BETWEEN_LOOKS: Duration = Duration::from_millis(20);

/// Looks until something is seen; none after [`LIMIT`].
pub async fn until<T>(mut look: impl AsyncFnMut() -> Option<T>) -> Option<T> {
    let end = Instant::now() + LIMIT;
    loop {
        if let Some(seen) = look().await {
            return Some(seen);
        }
        if Instant::now() > end {
            return None;
        }
        tokio::time::sleep(BETWEEN_LOOKS).await;
    }
}

/// The same for what is not async.
pub fn until_now<T>(mut look: impl FnMut() -> Option<T>) -> Option<T> {
    let end = Instant::now() + LIMIT;
    while Instant::now() < end {
        if let Some(seen) = look() {
            return Some(seen);
        }
        std::thread::sleep(BETWEEN_LOOKS);
    }
    None
}
