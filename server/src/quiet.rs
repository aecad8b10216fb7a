//! Work that nobody waits for: a while after the barn opened, one piece at a time, on a thread
//! that gives way to all that somebody does wait for.

use std::time::Duration;
use thread_priority::{ThreadBuilderExt, ThreadPriority, ThreadPriorityValue};
use tokio::sync::{Mutex, oneshot};

/// Whoever opens the barn looks at a page first.
const AFTER_OPENING: Duration = Duration::from_secs(5);
/// Of 99. Not the least: it may hold what a page waits for next.
const URGENCY: u8 = 20;

/// One piece at a time: two of them would keep two processors busy.
static TURN: Mutex<()> = Mutex::const_new(());

/// Why a piece of work has no result: it panicked, or there was no thread for it.
#[derive(Debug, thiserror::Error)]
#[error("it broke off")]
pub struct BrokeOff;

/// Returns when the barn has been open for a while.
pub async fn opened() {
    tokio::time::sleep(AFTER_OPENING).await;
}

/// Does a piece of work when its turn comes.
pub async fn run<T: Send + 'static>(
    work: impl FnOnce() -> T + Send + 'static,
) -> Result<T, BrokeOff> {
    let _turn = TURN.lock().await;
    let (done, result) = oneshot::channel();
    let at_ease = ThreadPriorityValue::try_from(URGENCY).map(ThreadPriority::Crossplatform);
    let thread = std::thread::Builder::new().name("quiet".to_owned());
    let started =
        thread.spawn_with_priority(at_ease.unwrap_or(ThreadPriority::Min), move |eased| {
            if let Err(error) = eased {
                tracing::debug!(%error, "this machine does not let a thread give way");
            }
            // Whoever asked is gone when the barn closes.
            let _ = done.send(work());
        });
    started.map_err(|_| BrokeOff)?;
    result.await.map_err(|_| BrokeOff)
}

#[cfg(test)]
mod tests {
    use super::{BrokeOff, run};
    use std::sync::atomic::{AtomicU32, Ordering};

    #[tokio::test]
    async fn pieces_take_turns_and_give_way() {
        static AT_WORK: AtomicU32 = AtomicU32::new(0);
        let piece = || {
            let before = AT_WORK.fetch_add(1, Ordering::SeqCst);
            std::thread::sleep(std::time::Duration::from_millis(20));
            AT_WORK.fetch_sub(1, Ordering::SeqCst);
            before
        };
        let (a, b) = tokio::join!(run(piece), run(piece));
        assert_eq!((a.unwrap(), b.unwrap()), (0, 0));
    }

    #[tokio::test]
    async fn one_that_panics_is_told_and_lets_the_next_begin() {
        let broke = run(|| std::panic::panic_any("broken")).await;
        assert!(matches!(broke, Err(BrokeOff)));
        assert_eq!(run(|| 7).await.unwrap(), 7);
    }

    #[cfg(target_os = "linux")]
    #[tokio::test]
    async fn its_thread_is_nicer_than_the_others() {
        // The 19th field (proc(5)), counted from the end of the name in brackets.
        let nice = || {
            let stat = std::fs::read_to_string("/proc/thread-self/stat").unwrap();
            let fields = stat.rsplit_once(')').unwrap().1;
            fields
                .split_whitespace()
                .nth(16)
                .unwrap()
                .parse::<i32>()
                .unwrap()
        };
        let there = run(nice).await.unwrap();
        assert!(there > nice(), "{there}");
    }
}
