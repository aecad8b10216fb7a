//! What it costs a phone to hand over a season of unsent records in one go.

use crate::store_hands::{Dice, Phone as Writer, boar, fact};
use pentally_app::device::held::HeldKey;
use pentally_domain::envelope::Entry;
use pentally_server::store::Home;
use pentally_tests::browser::hands::{begin, mounted, send_now, threads};
use pentally_tests::browser::{Office, Page, Phone};
use serde_json::json;
use std::time::{Duration, Instant};

const UNSENT: usize = 7_000;
const BOARS: u64 = 100;

/// How many entries are laid into the phone's store by one script.
const AT_ONCE: usize = 500;

/// Keeps hold of the app's memory, which its loader hides.
const WATCH_MEMORY: &str = "const load = WebAssembly.instantiateStreaming;
    WebAssembly.instantiateStreaming = async (...given) => {
        const made = await load.apply(WebAssembly, given);
        window.appMemory = made.instance.exports.memory;
        return made;
    };";

const MEMORY_BYTES: &str = "window.appMemory.buffer.byteLength";

/// Lays 7,000 collections of 100 boars into the store of a phone, as if they had been tapped
/// without a network, and watches them go.
pub async fn measure() {
    let mut office = Office::open();
    let phone = Phone::new(&office).await;
    let page = phone.open("/").await;
    page.kept_for_offline().await;
    begin(&page).await;
    office.kill();
    let writer = season(home(&page).await);
    plant(&page, &writer).await;

    page.run_on_load(WATCH_MEMORY).await;
    page.goto("/").await;
    mounted(&page).await;
    page.comes_true(
        "/7.?100 on this phone/.test(document.body.innerText)",
        "all wait",
    )
    .await;
    let before: f64 = page.eval(MEMORY_BYTES).await;
    office.start();
    let began = Instant::now();
    send_now(&page).await;
    let device = writer.device().to_string();
    while threads(&office).get(&device).map_or(0, Vec::len) < UNSENT {
        assert!(
            began.elapsed() < Duration::from_secs(600),
            "they do not arrive"
        );
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    let taken = began.elapsed();
    let after: f64 = page.eval(MEMORY_BYTES).await;
    println!(
        "{UNSENT} unsent entries handed over in {taken:.1?}; the app's memory grew by {:.2} MiB from {:.2} MiB.",
        (after - before) / f64::from(1 << 20),
        before / f64::from(1 << 20)
    );
}

/// The farm and barn that the phone works for.
async fn home(page: &Page) -> Home {
    let asked = script(
        "const db = await opened(indexedDB.open('pentally'));
        const found = await opened(db.transaction('current').objectStore('current').get('farm'));
        db.close();
        return found;",
    );
    let text: String = page.eval(&asked).await;
    serde_json::from_str(&text).expect("the phone knows its farm")
}

fn season(home: Home) -> Writer {
    let dice = &mut Dice::new(7);
    let mut writer = Writer::new(home, dice);
    let boars: Vec<_> = (1..=BOARS)
        .map(|number| writer.write(&boar(number), dice).envelope().id.as_boar())
        .collect();
    for id in boars.iter().cycle().take(UNSENT) {
        let volume = 100.0 + dice.below(2_000) as f64 / 10.0;
        let collected = json!({ "collection": {
            "boar": id, "outcome": "collected", "amount": { "volume": volume }, "temper": "calm",
            "sperm_poor_in": { "confirmed": false }, "glove": { "confirmed": "vinyl" },
        } });
        writer.write(&fact(collected), dice);
    }
    writer
}

/// Makes the writer the phone's own thread, and its entries what waits.
async fn plant(page: &Page, writer: &Writer) {
    let farm = writer.head.farm;
    let open = format!("const db = await opened(indexedDB.open('pentally-{farm}'));");
    for some in writer.entries.chunks(AT_ONCE) {
        let held: Vec<_> = some.iter().map(held).collect();
        let held = serde_json::to_string(&held).expect("lines are text");
        let put = format!(
            "{open}
            const tx = db.transaction(['entries', 'waiting'], 'readwrite');
            for (const [key, value] of {held}) {{
                tx.objectStore('entries').put(value, key);
                tx.objectStore('waiting').put(value, key);
            }}
            await new Promise(done => tx.oncomplete = done);
            db.close();
            return true;"
        );
        assert!(page.eval::<bool>(&script(&put)).await);
    }
    let head = serde_json::to_string(&writer.head).expect("a head is JSON");
    let put = format!(
        "{open}
        await opened(db.transaction('meta', 'readwrite').objectStore('meta').put({head:?}, 'head'));
        db.close();
        return true;"
    );
    assert!(page.eval::<bool>(&script(&put)).await);
}

/// Key and value as the phone keeps them: the line, its bytes, and when it was written down.
fn held(entry: &Entry) -> (String, (String, usize, i64)) {
    let line = entry.to_line();
    let bytes = line.len();
    let recorded = entry.envelope().recorded_at.ms();
    (HeldKey::of(entry).to_string(), (line, bytes, recorded))
}

fn script(body: &str) -> String {
    format!(
        "(async () => {{
            const opened = ask => new Promise((done, fail) => {{
                ask.onsuccess = () => done(ask.result);
                ask.onerror = () => fail(ask.error);
            }});
            {body}
        }})()"
    )
}
