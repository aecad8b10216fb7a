//! What people do on a page, and what the office then holds.

use super::{Office, Page, Phone};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::time::Duration;

/// An entry as the office hands it out; the fields that matter here.
#[derive(Debug, Deserialize)]
pub struct Told {
    /// Which.
    pub id: String,
    /// Who wrote it.
    pub device: String,
    /// Its place in that device's thread.
    pub seq: u64,
    /// What kind of entry.
    pub kind: String,
    /// What it says.
    pub body: String,
}

/// The whole log of the office.
pub fn log(office: &Office) -> Vec<Told> {
    #[derive(Deserialize)]
    struct Entries {
        entries: Vec<Told>,
        next: Option<u64>,
    }
    let (mut all, mut after) = (vec![], Some(0));
    while let Some(from) = after {
        let answer = office
            .get(&format!("/api/v1/entries?after={from}&limit=1000"))
            .expect("the office is open");
        let (_, body) = answer
            .split_once("\r\n\r\n")
            .expect("the answer has a body");
        let page: Entries = serde_json::from_str(body).expect("the log is JSON");
        all.extend(page.entries);
        after = page.next;
    }
    all
}

/// The names of all pens at the office, in order of name.
pub fn pens(office: &Office) -> Vec<String> {
    #[derive(Deserialize)]
    struct Pen {
        name: String,
    }
    let pens = log(office).into_iter().filter(|e| e.kind == "pen");
    let mut names: Vec<_> = pens
        .map(|e| {
            serde_json::from_str::<Pen>(&e.body)
                .expect("a pen has a name")
                .name
        })
        .collect();
    names.sort();
    names
}

/// Per device, its sequences at the office, in order.
pub fn threads(office: &Office) -> BTreeMap<String, Vec<u64>> {
    let mut threads: BTreeMap<String, Vec<u64>> = BTreeMap::new();
    for entry in log(office) {
        threads.entry(entry.device).or_default().push(entry.seq);
    }
    threads.values_mut().for_each(|seqs| seqs.sort_unstable());
    threads
}

/// Waits until the app stands in place of the server's paint: what is typed before is lost.
pub async fn mounted(page: &Page) {
    let mark = "performance.getEntriesByName('pentally:started').length > 0";
    page.comes_true(mark, "the app runs").await;
}

/// Starts the farm as a person does.
pub async fn begin(page: &Page) {
    mounted(page).await;
    page.type_into("input", "Lower Hill").await;
    page.tap_words("Start empty").await;
    page.sees("Bench").await;
}

/// The pens in a new tab.
pub async fn open_pens(phone: &Phone) -> Page {
    let page = phone.open("/pens").await;
    mounted(&page).await;
    page.sees("New pen").await;
    page
}

/// Adds a pen as a person does; it shows once it is saved, which empties the line.
pub async fn add_pen(page: &Page, name: &str) {
    if !page.eval::<bool>("location.pathname === '/pens'").await {
        page.goto("/pens").await;
        mounted(page).await;
    }
    page.type_into("input", name).await;
    // Two taps in one place within 400 ms are one tap, and no person types faster.
    tokio::time::sleep(Duration::from_millis(450)).await;
    page.tap_words("Add the pen").await;
    page.comes_true(
        "document.querySelector('input')?.value === ''",
        "the pen is saved",
    )
    .await;
    page.sees(name).await;
}

/// Adds pens by script: of two tabs only one has the glass for a finger.
pub async fn add_pens_unseen(page: &Page, names: &[String]) {
    let names = serde_json::to_string(names).expect("names are text");
    let script = format!(
        "(async () => {{
            for (const name of {names}) {{
                const line = document.querySelector('input');
                line.value = name;
                line.dispatchEvent(new Event('input', {{ bubbles: true }}));
                document.querySelector('.actions button').click();
                while (line.value) await new Promise(again => setTimeout(again, 1));
            }}
            return true;
        }})()"
    );
    assert!(page.eval::<bool>(&script).await);
}

/// Waits until no record waits on this phone.
pub async fn all_sent(page: &Page) {
    all_sent_in(page, "on this phone").await;
}

/// The same in another language: what stands behind the count of unsent records.
pub async fn all_sent_in(page: &Page, on_this_phone: &str) {
    let none = format!("!/\\d {on_this_phone}/.test(document.body.innerText)");
    page.comes_true(&none, "all is at the office").await;
}

/// What a person does who does not want to wait for the next attempt.
pub async fn send_now(page: &Page) {
    page.eval::<bool>("dispatchEvent(new Event('online'))")
        .await;
}

/// Waits until the office has just these pens.
pub async fn office_has(office: &Office, names: &[&str]) {
    for _ in 0..200 {
        if pens(office) == names {
            return;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    assert_eq!(pens(office), names);
}
