//! How long the app takes from a cold start without network to its first frame.

use crate::{SLOWER, quantile};
use pentally_tests::browser::{Office, Phone};

const RUNS: usize = 10;

/// Milliseconds from the start of the navigation until the app is mounted, its frame
/// is out and the page takes the next task.
const READY_MS: &str = "new Promise(done => {
    const look = () => performance.getEntriesByName('pentally:started').length
        ? requestAnimationFrame(() => setTimeout(() => done(performance.now())))
        : setTimeout(look, 5);
    look();
})";

/// Starts a killed phone again and again.
pub async fn measure() {
    let mut office = Office::open();
    let mut phone = Phone::new(&office).await;
    phone.open("/").await.kept_for_offline().await;
    office.kill();
    let mut taken_ms = Vec::new();
    for _ in 0..RUNS {
        phone.kill();
        phone.restart().await;
        let page = phone.tab().await;
        page.slow_down(SLOWER).await;
        page.goto("/T/123456").await;
        taken_ms.push(page.eval::<f64>(READY_MS).await);
    }
    taken_ms.sort_by(f64::total_cmp);
    println!(
        "Cold start without network at {SLOWER}× slower, {RUNS} runs: median {:.0} ms, worst {:.0} ms.",
        quantile(&taken_ms, 0.5),
        quantile(&taken_ms, 1.0)
    );
}
