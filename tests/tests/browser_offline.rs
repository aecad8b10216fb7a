//! A phone that was once in the office works in the barn, whatever dies meanwhile.

use pentally_tests::browser::hands::{all_sent, begin, log, mounted, send_now};
use pentally_tests::browser::{Bundle, Office, Page, Phone};
use std::time::Duration;

#[tokio::test]
async fn a_page_never_visited_opens_after_the_office_died() {
    let mut office = Office::open();
    let mut phone = Phone::new(&office).await;
    let first = phone.open("/").await;
    begin(&first).await;
    first.kept_for_offline().await;

    office.kill();
    let tag = phone.open("/T/123456").await;
    tag.sees("123456").await;
    tag.has_no_complaints();

    phone.kill();
    phone.restart().await;
    let again = phone.open("/T/654321").await;
    again.sees("654321").await;
    again.has_no_complaints();
}

#[tokio::test]
async fn every_file_of_the_set_is_kept_and_nothing_of_the_interface() {
    let mut office = Office::open();
    let phone = Phone::new(&office).await;
    let page = phone.open("/").await;
    page.kept_for_offline().await;
    let _: bool = page.eval("fetch('/api/v1/sync').then(() => true)").await;

    office.kill();
    let files = Bundle::built().files;
    for file in files.iter().filter(|file| file.name.contains('-')) {
        let asked = format!("fetch('/b/{}').then(a => a.ok)", file.name);
        assert!(page.eval::<bool>(&asked).await, "{} is kept", file.name);
    }
    let caught = "fetch('/api/v1/sync').then(() => 'answered', () => 'no network')";
    assert_eq!(page.eval::<String>(caught).await, "no network");
}

#[tokio::test]
async fn screens_that_did_not_come_say_so_and_come_with_the_next_start() {
    let mut office = Office::open();
    let mut phone = Phone::new(&office).await;
    let first = phone.open("/").await;
    begin(&first).await;
    first.kept_for_offline().await;
    // As if the phone had left before they had come.
    let lost = "caches.keys().then(([name]) => caches.open(name)).then(async c => {
        for (const kept of await c.keys()) if (kept.url.includes('/office-')) await c.delete(kept);
        return true;
    })";
    office.kill();
    let log = phone.open("/more").await;
    mounted(&log).await;
    assert!(log.eval::<bool>(lost).await);
    log.forget_what_was_fetched().await;
    log.tap_words("Log").await;
    log.sees("Not on this phone yet").await;
    assert_eq!(log.eval::<String>("location.pathname").await, "/log");
    log.has_no_complaints();

    office.start();
    phone.kill();
    phone.restart().await;
    let second = phone.open("/today").await;
    mounted(&second).await;
    second.kept_for_offline().await;
    office.kill();
    let people = phone.open("/people").await;
    people.shows("input").await;
    people.has_no_complaints();
}

/// A finger that waits: two taps in one place within 400 ms are one.
async fn tap(page: &Page, words: &str) {
    page.sees(words).await;
    page.tap_words(words).await;
    tokio::time::sleep(Duration::from_millis(450)).await;
}

/// A browser in a test has no voice; this one notes what it would say.
const A_VOICE: &str = "(() => {
    window.said = [];
    window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
    speechSynthesis.getVoices = () => [{ lang: 'en-GB', localService: true }];
    speechSynthesis.speak = (utterance) => window.said.push(utterance.text);
    return true;
})()";

#[tokio::test]
async fn the_work_is_learnt_and_practised_without_a_network_and_nothing_is_written() {
    let mut office = Office::open();
    let phone = Phone::new(&office).await;
    let first = phone.open("/").await;
    begin(&first).await;
    first.kept_for_offline().await;
    let before = log(&office).len();
    office.kill();

    let page = phone.open("/learn").await;
    page.be_sized(360, 640, true).await;
    page.shows("a[href='/learn/collection']").await;
    assert!(page.eval::<bool>(A_VOICE).await);
    tap(&page, "Collecting, step by step").await;
    for step in 1..=15 {
        page.sees(&format!("Step {step} of 15")).await;
        if step == 2 {
            // Silent until somebody asks.
            assert_eq!(page.eval::<usize>("said.length").await, 0);
            tap(&page, "Read aloud").await;
            assert!(page.eval::<bool>("said[0].startsWith('Two gloves')").await);
        }
        if step == 7 {
            page.sees("Before the hand goes in").await;
        }
        tap(&page, "Next").await;
    }
    assert_eq!(page.eval::<usize>("said.length").await, 1);
    tap(&page, "Practise on the screens").await;
    page.sees("Nothing of this goes into the log").await;
    for words in [
        "Vinyl",
        "Go: write it down afterwards",
        "Cup is safe",
        "Not measured",
        "Save",
    ] {
        tap(&page, words).await;
    }
    page.sees("Practice is over").await;
    page.has_no_complaints();

    office.start();
    send_now(&page).await;
    all_sent(&page).await;
    assert_eq!(log(&office).len(), before);
}

#[tokio::test]
async fn a_tab_cut_off_knows_it_and_comes_back() {
    let office = Office::open();
    let phone = Phone::new(&office).await;
    let page = phone.open("/").await;
    page.kept_for_offline().await;
    let answered = "fetch('/api/v1/entries').then(() => true, () => false)";
    page.be_offline(true).await;
    page.comes_true("!navigator.onLine", "the page knows that it is cut off")
        .await;
    assert!(!page.eval::<bool>(answered).await);
    page.be_offline(false).await;
    page.comes_true("navigator.onLine", "the page knows that it is back")
        .await;
    assert!(page.eval::<bool>(answered).await);
}

#[tokio::test]
async fn storage_lost_under_the_page_is_gone_and_the_next_visit_heals() {
    let office = Office::open();
    let phone = Phone::new(&office).await;
    let page = phone.open("/").await;
    page.kept_for_offline().await;
    let kept = "caches.keys().then(names => names.length)";
    assert_eq!(page.eval::<usize>(kept).await, 1);
    page.lose_storage().await;
    page.comes_true(
        "caches.keys().then(names => names.length === 0)",
        "the cache is gone",
    )
    .await;
    let again = phone.open("/T/123456").await;
    again.kept_for_offline().await;
    assert_eq!(again.eval::<usize>(kept).await, 1);
}
