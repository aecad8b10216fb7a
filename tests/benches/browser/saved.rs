//! How long a tap waits until the page says that the record is saved.

use crate::{SLOWER, quantile};
use pentally_tests::browser::hands::{begin, mounted};
use pentally_tests::browser::{Office, Page, Phone};

const TAPS: usize = 100;

/// Adds pens without a network; each is saved when the line is empty and the frame is out.
pub async fn measure() {
    let mut office = Office::open();
    let phone = Phone::new(&office).await;
    let page = phone.open("/").await;
    page.kept_for_offline().await;
    begin(&page).await;
    page.goto("/pens").await;
    mounted(&page).await;
    page.sees("New pen").await;
    office.kill();
    for slower in [1.0, SLOWER] {
        page.slow_down(slower).await;
        let mut taken_ms = taps(&page, &format!("{slower}")).await;
        taken_ms.sort_by(f64::total_cmp);
        println!(
            "From tap to saved at {slower}× slower, {TAPS} taps: median {:.0} ms, p95 {:.0} ms, worst {:.0} ms.",
            quantile(&taken_ms, 0.5),
            quantile(&taken_ms, 0.95),
            quantile(&taken_ms, 1.0)
        );
    }
}

async fn taps(page: &Page, run: &str) -> Vec<f64> {
    let script = |turn: usize| {
        format!(
            "(async () => {{
                const line = document.querySelector('input');
                line.value = 'Run {run} pen {turn}';
                line.dispatchEvent(new Event('input', {{ bubbles: true }}));
                // Two taps within 400 ms are one tap.
                await new Promise(go => setTimeout(go, 450));
                const tapped = performance.now();
                document.querySelector('.actions button').click();
                while (line.value) await new Promise(look => setTimeout(look));
                await new Promise(frame => requestAnimationFrame(frame));
                return performance.now() - tapped;
            }})()"
        )
    };
    let mut taken_ms = vec![];
    for turn in 0..TAPS {
        taken_ms.push(page.eval(&script(turn)).await);
    }
    taken_ms
}
