//! What a phone said was saved reaches the office, once, whatever happens to the phone, its
//! store, its tabs or the office meanwhile.

use pentally_tests::browser::hands::{
    add_pen, add_pens_unseen, all_sent, begin, log, mounted, office_has, open_pens, pens, send_now,
    threads,
};
use pentally_tests::browser::{Office, Page, Phone};
use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;
use std::time::Duration;

fn copy(from: &Path, to: &Path) {
    let _ = std::fs::remove_dir_all(to);
    let done = Command::new("cp").arg("-a").arg(from).arg(to).status();
    assert!(
        done.is_ok_and(|s| s.success()),
        "{} can be copied",
        from.display()
    );
}

async fn begun() -> (Office, Phone, Page) {
    let office = Office::open();
    let phone = Phone::new(&office).await;
    let page = phone.open("/").await;
    page.kept_for_offline().await;
    begin(&page).await;
    (office, phone, page)
}

#[tokio::test]
async fn what_is_saved_right_before_the_battery_dies_reaches_the_office_once() {
    let (mut office, mut phone, page) = begun().await;
    office.kill();
    add_pen(&page, "Gate 1").await;
    page.sees("on this phone, oldest").await;
    phone.kill();
    phone.restart().await;
    let again = open_pens(&phone).await;
    again.sees("Gate 1").await;
    again.sees("on this phone, oldest").await;
    office.start();
    send_now(&again).await;
    all_sent(&again).await;
    office_has(&office, &["Gate 1"]).await;
    again.has_no_complaints();
}

#[tokio::test]
async fn two_tabs_that_save_at_once_leave_no_gap_and_no_double() {
    let (office, phone, first) = begun().await;
    let second = open_pens(&phone).await;
    first.goto("/pens").await;
    mounted(&first).await;
    first.sees("New pen").await;
    let names: Vec<String> = (0..12).map(|n| format!("Gate {n:02}")).collect();
    let (odd, even): (Vec<_>, Vec<_>) = names
        .chunks(2)
        .map(|pair| (pair[0].clone(), pair[1].clone()))
        .unzip();
    tokio::join!(
        add_pens_unseen(&first, &odd),
        add_pens_unseen(&second, &even)
    );
    for name in &names {
        first.sees(name).await;
        second.sees(name).await;
    }
    all_sent(&first).await;
    all_sent(&second).await;
    let wanted: Vec<&str> = names.iter().map(String::as_str).collect();
    office_has(&office, &wanted).await;
    for (device, seqs) in threads(&office) {
        let last = u64::try_from(seqs.len()).expect("a small number");
        assert_eq!(
            seqs,
            (1..=last).collect::<Vec<_>>(),
            "the thread of {device}"
        );
    }
}

/// The browser never says of one transaction over entries that it was committed, though it was.
const SILENT_ONCE: &str = "(() => {
    const own = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, 'oncomplete');
    Object.defineProperty(IDBTransaction.prototype, 'oncomplete', { ...own, set(told) {
        if (told && window.silent && this.mode === 'readwrite' && this.objectStoreNames.contains('entries')) {
            window.silent = false;
            return;
        }
        own.set.call(this, told);
    } });
})()";

#[tokio::test]
async fn a_commit_the_browser_kept_quiet_about_is_not_repeated_on_top_of_another_tabs() {
    let (mut office, phone, first) = begun().await;
    office.kill();
    let second = open_pens(&phone).await;
    first.run_on_load(SILENT_ONCE).await;
    first.goto("/pens").await;
    mounted(&first).await;
    first.sees("New pen").await;
    first.eval::<bool>("window.silent = true").await;
    let quiet = ["Gate 1".to_owned()];
    tokio::join!(add_pens_unseen(&first, &quiet), async {
        let taken = "window.silent === false";
        first.comes_true(taken, "it is committed in silence").await;
        add_pens_unseen(&second, &["Gate 2".to_owned()]).await;
    });
    office.start();
    send_now(&second).await;
    send_now(&first).await;
    office_has(&office, &["Gate 1", "Gate 2"]).await;
    all_sent(&first).await;
    all_sent(&second).await;
    for (device, seqs) in threads(&office) {
        let last = u64::try_from(seqs.len()).expect("a small number");
        assert_eq!(
            seqs,
            (1..=last).collect::<Vec<_>>(),
            "the thread of {device}"
        );
    }
    first
        .comes_true(
            "!document.body.textContent.includes('not accepted')",
            "nothing was written twice",
        )
        .await;
}

#[tokio::test]
async fn of_three_tabs_each_is_closed_while_it_may_send_and_another_sends() {
    let (office, phone, first) = begun().await;
    let (second, third) = (open_pens(&phone).await, open_pens(&phone).await);
    first.goto("/pens").await;
    mounted(&first).await;
    first.sees("New pen").await;
    let last = open_pens(&phone).await;
    let names: Vec<String> = (1..=9).map(|n| format!("Gate {n}")).collect();
    let tabs = [third, first, second];
    for (tab, names) in tabs.into_iter().zip(names.chunks(3)) {
        add_pens_unseen(&tab, names).await;
        tab.close().await;
    }
    let wanted: Vec<&str> = names.iter().map(String::as_str).collect();
    office_has(&office, &wanted).await;
    all_sent(&last).await;
    assert!(
        threads(&office)
            .values()
            .all(|seqs| seqs.windows(2).all(|w| w[0] < w[1]))
    );
}

#[tokio::test]
async fn a_store_deleted_under_the_live_page_loses_nothing_that_was_said_to_be_saved() {
    let (mut office, phone, page) = begun().await;
    add_pen(&page, "Gate 1").await;
    all_sent(&page).await;
    office.kill();
    add_pen(&page, "Gate 2").await;
    page.lose_storage().await;
    add_pen(&page, "Gate 3").await;
    page.sees("Gate 2").await;
    office.start();
    send_now(&page).await;
    all_sent(&page).await;
    office_has(&office, &["Gate 1", "Gate 2", "Gate 3"]).await;
    // The server's own entry, the former device's and the new one's.
    assert_eq!(threads(&office).len(), 3);
    // The worker went with the store. The new one may wait for the page's next load.
    page.reload().await;
    mounted(&page).await;
    page.kept_for_offline().await;
    let again = open_pens(&phone).await;
    for name in ["Gate 1", "Gate 2", "Gate 3"] {
        again.sees(name).await;
    }
    again.has_no_complaints();
}

#[tokio::test]
async fn a_phone_that_was_rolled_back_goes_on_as_another_device_and_repeats_nothing() {
    let (mut office, mut phone, page) = begun().await;
    add_pen(&page, "Gate 1").await;
    all_sent(&page).await;
    phone.kill();
    let kept = phone.profile().with_extension("kept");
    copy(&phone.profile(), &kept);
    phone.restart().await;
    let page = open_pens(&phone).await;
    add_pen(&page, "Gate 2").await;
    all_sent(&page).await;
    office_has(&office, &["Gate 1", "Gate 2"]).await;

    phone.kill();
    copy(&kept, &phone.profile());
    office.kill();
    phone.restart().await;
    let page = open_pens(&phone).await;
    page.sees("Gate 1").await;
    add_pen(&page, "Gate 3").await;
    office.start();
    send_now(&page).await;
    all_sent(&page).await;
    office_has(&office, &["Gate 1", "Gate 2", "Gate 3"]).await;
    page.sees("Gate 2").await;
    page.reload().await;
    page.sees("Gate 3").await;
    let shown = "[...document.querySelectorAll('.rows li')].filter(row => row.innerText.includes('Gate 3')).length";
    assert_eq!(page.eval::<usize>(shown).await, 1);
    let codes: BTreeSet<String> = log(&office)
        .into_iter()
        .filter(|e| e.kind == "pen_tag")
        .map(|e| e.body)
        .collect();
    assert_eq!(
        codes.len(),
        3,
        "each pen has its tag, and the new one's names the pen that was written again"
    );
    page.has_no_complaints();
}

/// Whether it comes true within 20 s.
async fn in_time(is: impl Fn() -> bool) -> bool {
    for _ in 0..200 {
        if is() {
            return true;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    false
}

#[tokio::test]
async fn an_office_restored_from_an_older_backup_gets_everything_again() {
    let (mut office, _phone, page) = begun().await;
    add_pen(&page, "Gate 1").await;
    all_sent(&page).await;
    office.kill();
    let kept = office.data().with_extension("kept");
    copy(&office.data(), &kept);
    office.start();
    add_pen(&page, "Gate 2").await;
    page.goto("/people").await;
    mounted(&page).await;
    page.type_into("input", "Ilda").await;
    // Two taps in one place within 400 ms are one tap.
    tokio::time::sleep(Duration::from_millis(450)).await;
    page.tap_words("Add").await;
    page.sees("Ilda").await;
    send_now(&page).await;
    all_sent(&page).await;
    office_has(&office, &["Gate 1", "Gate 2"]).await;
    let knows_her = |office: &Office| {
        let summaries = office.get("/api/v1/summaries?protocol=1");
        summaries.is_some_and(|text| text.contains("Ilda"))
    };
    // What is beside the log may come a moment after it.
    assert!(in_time(|| knows_her(&office)).await);

    office.kill();
    copy(&kept, &office.data());
    office.start();
    assert_eq!(pens(&office), ["Gate 1"]);
    assert!(!knows_her(&office));
    send_now(&page).await;
    office_has(&office, &["Gate 1", "Gate 2"]).await;
    all_sent(&page).await;
    assert!(
        in_time(|| knows_her(&office)).await,
        "a name lies beside the log, and comes again too"
    );
    page.goto("/pens").await;
    page.sees("Gate 2").await;
    page.has_no_complaints();
}

#[tokio::test]
async fn a_full_phone_says_so_and_saves_nothing_until_there_is_room() {
    let (office, mut phone, page) = begun().await;
    add_pen(&page, "Gate 1").await;
    all_sent(&page).await;
    phone.kill();
    phone.restart().await;
    // Before the page is there: Chromium remembers for half a minute how much room it saw last.
    let page = phone.tab().await;
    page.have_room(Some(1_000.0)).await;
    page.goto("/pens").await;
    mounted(&page).await;
    page.sees("Gate 1").await;
    // What the office says does not fit either.
    page.sees("This phone is full").await;
    page.type_into("input", "Gate 2").await;
    page.tap_words("Add the pen").await;
    page.sees("the phone is full").await;
    page.has_no_complaints();
    assert_eq!(pens(&office), ["Gate 1"]);
    page.reload().await;
    mounted(&page).await;
    page.sees("1 pen").await;

    page.have_room(None).await;
    phone.kill();
    phone.restart().await;
    let page = open_pens(&phone).await;
    add_pen(&page, "Gate 3").await;
    office_has(&office, &["Gate 1", "Gate 3"]).await;
    page.comes_true(
        "!document.body.textContent.includes('This phone is full')",
        "the word goes once there is room",
    )
    .await;
}

#[tokio::test]
async fn a_full_office_says_so_on_the_phone_and_takes_it_in_once_there_is_room() {
    let (office, _phone, page) = begun().await;
    add_pen(&page, "Gate 1").await;
    all_sent(&page).await;
    office.disk_is_full(true);
    add_pen(&page, "Gate 2").await;
    send_now(&page).await;
    page.sees("disk is full").await;
    assert_eq!(pens(&office), ["Gate 1"], "what is there can still be read");

    office.disk_is_full(false);
    send_now(&page).await;
    office_has(&office, &["Gate 1", "Gate 2"]).await;
    page.comes_true(
        "!document.body.textContent.includes('disk is full')",
        "the word goes once there is room",
    )
    .await;
    page.has_no_complaints();
}

#[tokio::test]
async fn the_invented_barn_says_so_on_every_screen_and_can_be_left() {
    const SAYS: &str = "Invented barn: nothing here is real";
    let office = Office::open();
    let phone = Phone::new(&office).await;
    let page = phone.open("/").await;
    page.kept_for_offline().await;
    mounted(&page).await;
    page.tap_words("Look around an invented barn").await;
    for path in [
        "/today",
        "/scan",
        "/bench",
        "/boars",
        "/bad-moment",
        "/more",
    ] {
        page.comes_true("location.pathname !== '/'", "the barn opened")
            .await;
        page.goto(path).await;
        mounted(&page).await;
        page.sees(SAYS).await;
    }
    page.tap_words("Leave the invented barn").await;
    page.sees("Start empty").await;
    mounted(&page).await;
    let still = format!("document.body.innerText.includes({SAYS:?})");
    assert!(!page.eval::<bool>(&still).await);
    page.type_into("input", "Lower Hill").await;
    page.tap_words("Start empty").await;
    page.sees("Bench").await;
    assert!(!page.eval::<bool>(&still).await);
    page.has_no_complaints();
}
