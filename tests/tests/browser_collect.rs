//! An open collection under hard hands: taps quicker than the phone writes, a reload, a dead battery,
//! another pen's tag in between, a night.

use pentally_tests::browser::hands::{all_sent, log, mounted};
use pentally_tests::browser::{Office, Page, Phone, Standing, invented_barn};
use serde_json::Value;
use std::time::Duration;

const DAY_MS: i64 = 86_400_000;
/// Two taps in one place within 400 ms are one.
const NOT_A_REPEAT: Duration = Duration::from_millis(450);

/// Keeps the phone's store of unfinished work busy for so many ms, so that all that is written waits.
fn slow(ms: u32) -> String {
    format!(
        "(async () => {{
            const all = await indexedDB.databases();
            const {{ name }} = all.find(d => d.name.startsWith('pentally-'));
            const db = await new Promise(then => {{
                const asked = indexedDB.open(name);
                asked.onsuccess = () => then(asked.result);
            }});
            const store = db.transaction(['drafts'], 'readwrite').objectStore('drafts');
            const till = performance.now() + {ms};
            const again = () => performance.now() < till
                ? store.get('nothing').onsuccess = again : db.close();
            again();
            return true;
        }})()"
    )
}

/// The page of what is asked before this boar is collected.
async fn at_the_pen(phone: &Phone, standing: &Standing) -> Page {
    let page = phone
        .open(&format!("/boar/{}/collect", standing.boar))
        .await;
    mounted(&page).await;
    page.sees("Vinyl").await;
    page
}

async fn go(page: &Page, how: &str) {
    tap(page, "Vinyl").await;
    go_on(page, how).await;
}

/// The same where the glove was said.
async fn go_on(page: &Page, how: &str) {
    if page
        .eval::<bool>("document.body.innerText.includes('Why against the advice?')")
        .await
    {
        tap(page, "Sows wait").await;
    }
    tap(page, how).await;
}

async fn tap(page: &Page, words: &str) {
    page.tap_words(words).await;
    tokio::time::sleep(NOT_A_REPEAT).await;
}

/// What the office has of the collections that came after so many entries.
fn collections(office: &Office, after: usize) -> Vec<Value> {
    log(office)
        .into_iter()
        .skip(after)
        .filter(|e| e.kind == "collection")
        .map(|e| serde_json::from_str(&e.body).expect("a collection is JSON"))
        .collect()
}

#[tokio::test]
async fn taps_quicker_than_the_phone_writes_are_all_kept_and_saved_once() {
    let (office, standing) = invented_barn();
    let before = log(&office).len();
    let phone = Phone::new(&office).await;
    let page = at_the_pen(&phone, &standing).await;
    page.eval::<bool>(&slow(2_500)).await;
    page.tap_words("Vinyl").await;
    tokio::time::sleep(NOT_A_REPEAT).await;
    page.tap_words("Filter on").await;
    tokio::time::sleep(NOT_A_REPEAT).await;
    page.tap_words("Board in reach").await;
    let ticked = "[...document.querySelectorAll('.chip')].filter(c => c.ariaPressed === 'true' \
        || c.ariaChecked === 'true').map(c => c.innerText.trim()).join()";
    let all = format!("{ticked} === 'Vinyl,Filter on,Board in reach'");
    page.comes_true(&all, "all three show at once").await;
    tokio::time::sleep(Duration::from_millis(3_000)).await;
    page.reload().await;
    mounted(&page).await;
    page.comes_true(&all, "all three were kept").await;

    go_on(&page, "Go: write it down afterwards").await;
    tap(&page, "Cup is safe").await;
    tap(&page, "Not measured").await;
    page.eval::<bool>(&slow(3_500)).await;
    page.tap_words("Calm").await;
    tokio::time::sleep(NOT_A_REPEAT).await;
    page.tap_words("Noise").await;
    let save = "[...document.querySelectorAll('.action')].find(b => b.innerText.trim() === 'Save').click()";
    page.eval::<()>(&format!("({save}, null)")).await;
    page.sees("Being saved: wait").await;
    let said = "document.body.innerText.includes('Saved on this phone')";
    assert!(!page.eval::<bool>(said).await, "nothing is written yet");
    page.eval::<()>(&format!("({save}, null)")).await;
    page.sees("Saved on this phone").await;
    page.shows_no(".saving").await;
    all_sent(&page).await;
    let saved = collections(&office, before);
    assert_eq!(saved.len(), 1, "{saved:#?}");
    assert_eq!(saved[0]["temper"], "calm");
    assert_eq!(saved[0]["trouble"], serde_json::json!(["noise"]));
    page.has_no_complaints();
}

#[tokio::test]
async fn a_second_tap_on_save_while_the_phone_writes_saves_nothing_twice() {
    let (office, standing) = invented_barn();
    let before = log(&office).len();
    let phone = Phone::new(&office).await;
    let page = phone.open(&format!("/boar/{}/note", standing.boar)).await;
    mounted(&page).await;
    page.type_into("textarea", "Shy of the new gate").await;
    page.eval::<bool>(&slow(3_000)).await;
    for _ in 0..3 {
        tap(&page, "Save").await;
    }
    page.sees("Being saved: wait").await;
    page.comes_true("!location.pathname.endsWith('/note')", "it is saved")
        .await;
    all_sent(&page).await;
    let notes = log(&office).into_iter().skip(before);
    assert_eq!(notes.filter(|e| e.kind == "note").count(), 1);
    page.has_no_complaints();
}

#[tokio::test]
async fn an_open_collection_is_found_where_it_was_whatever_came_between() {
    let (office, standing) = invented_barn();
    let before = log(&office).len();
    let other = log(&office)
        .into_iter()
        .filter(|e| e.kind == "pen_tag")
        .map(|e| serde_json::from_str::<Value>(&e.body).expect("a tag is JSON")["code"].to_string())
        .map(|code| code.trim_matches('"').to_owned())
        .find(|code| standing.code.path() != format!("/T/{code}"))
        .expect("the invented barn has more than one pen");
    let mut phone = Phone::new(&office).await;
    let page = at_the_pen(&phone, &standing).await;
    page.kept_for_offline().await;
    go(&page, "Go: a helper taps").await;
    tap(&page, "Mounts").await;
    page.sees("Undo Mounts").await;

    page.reload().await;
    mounted(&page).await;
    page.sees("Undo Mounts").await;

    // The card for the bad moment is one tap away, and so is the way back.
    let size =
        "(r => [r.width, r.height])(document.querySelector('a.bad').getBoundingClientRect())";
    let (wide, high): (f64, f64) = page.eval(size).await;
    assert!(wide >= 64.0 && high >= 64.0, "{wide} × {high} px");
    page.tap("a.bad").await;
    page.sees("He charges").await;
    tokio::time::sleep(NOT_A_REPEAT).await;
    tap(&page, "Go on with the collection").await;
    page.sees("Undo Mounts").await;
    tap(&page, "Lock-on").await;
    page.sees("since lock-on").await;

    phone.kill();
    phone.restart().await;
    let page = phone.open(&format!("/T/{other}")).await;
    mounted(&page).await;
    page.comes_true(
        "location.pathname === '/today' || !!document.querySelector('.band')",
        "another pen",
    )
    .await;
    page.goto(&standing.code.path()).await;
    mounted(&page).await;
    tap(&page, "Go on with the collection").await;
    page.sees("Undo Lock-on").await;
    page.sees("since lock-on").await;
    tap(&page, "Sperm-rich").await;
    tap(&page, "End").await;
    tap(&page, "Not measured").await;
    tap(&page, "Save").await;
    page.sees("Saved on this phone").await;
    all_sent(&page).await;
    let saved = collections(&office, before);
    assert_eq!(saved.len(), 1, "{saved:#?}");
    let steps: Vec<_> = saved[0]["steps"]
        .as_array()
        .expect("steps are a list")
        .iter()
        .map(|s| (s["step"].as_str().unwrap_or_default(), s["at"].is_null()))
        .collect();
    let timed = ["mounts", "lock_on", "sperm_rich", "end"].map(|step| (step, false));
    assert_eq!(steps, timed);
    page.has_no_complaints();
}

/// Opens a page with the clock so many ms from the truth.
async fn at_clock(page: &Page, path: &str, by_ms: i64) {
    let script = format!(
        "(() => {{ const real = Date.real ?? Date.now; Date.real = real;
          Date.now = () => real.call(Date) + ({by_ms}); }})()"
    );
    page.run_on_load(&script).await;
    page.goto(path).await;
    mounted(page).await;
}

#[tokio::test]
async fn a_collection_left_open_overnight_brings_no_glove_of_yesterday() {
    let (office, standing) = invented_barn();
    let phone = Phone::new(&office).await;
    let page = phone.tab().await;
    let path = format!("/boar/{}/collect", standing.boar);
    let chosen = "document.querySelectorAll('.chip[aria-checked=true]').length";
    at_clock(&page, &path, -DAY_MS).await;
    tap(&page, "Vinyl").await;
    at_clock(&page, &path, -DAY_MS).await;
    page.comes_true(&format!("{chosen} === 1"), "the same day keeps it")
        .await;

    // Nobody had gone in: it begins anew.
    at_clock(&page, &path, 0).await;
    page.sees("Vinyl").await;
    assert_eq!(page.eval::<u32>(chosen).await, 0);

    // Somebody had: which day it is about is asked.
    at_clock(&page, &path, -DAY_MS).await;
    page.sees("Vinyl").await;
    go(&page, "Go: write it down afterwards").await;
    page.sees("Cup is safe").await;
    at_clock(&page, &path, 0).await;
    page.sees("This collection was begun yesterday").await;
    tap(&page, "It is about that day").await;
    page.sees("Cup is safe").await;
    at_clock(&page, &path, 0).await;
    page.sees("This collection was begun yesterday").await;
    tap(&page, "I collect him now").await;
    tap(&page, "Tap again").await;
    page.sees("Vinyl").await;
    assert_eq!(page.eval::<u32>(chosen).await, 0);
    at_clock(&page, &path, 0).await;
    page.sees("Vinyl").await;
    page.has_no_complaints();
}
