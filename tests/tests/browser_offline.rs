//! A phone that was once in the office works in the barn, whatever dies meanwhile.

use pentally_tests::browser::hands::{begin, mounted};
use pentally_tests::browser::{Bundle, Office, Phone};

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
    for file in Bundle::built()
        .files
        .iter()
        .filter(|file| file.name.contains('-') && !file.role.starts_with("office"))
    {
        let asked = format!("fetch('/b/{}').then(a => a.ok)", file.name);
        assert!(page.eval::<bool>(&asked).await, "{} is kept", file.name);
    }
    let caught = "fetch('/api/v1/sync').then(() => 'answered', () => 'no network')";
    assert_eq!(page.eval::<String>(caught).await, "no network");
}

#[tokio::test]
async fn the_office_s_screens_come_with_the_second_start_and_say_so_before() {
    let mut office = Office::open();
    let mut phone = Phone::new(&office).await;
    let first = phone.open("/").await;
    begin(&first).await;
    first.kept_for_offline().await;
    office.kill();
    let log = phone.open("/more").await;
    mounted(&log).await;
    log.tap_words("Log").await;
    log.sees("Not on this phone yet").await;
    assert_eq!(log.eval::<String>("location.pathname").await, "/log");
    log.has_no_complaints();

    office.start();
    phone.kill();
    phone.restart().await;
    let second = phone.open("/today").await;
    mounted(&second).await;
    let kept = "caches.keys().then(([name]) => caches.open(name)).then(c => c.keys())
        .then(all => all.some(kept => kept.url.includes('/office-wasm-')))";
    second
        .comes_true(kept, "the office's screens are kept")
        .await;
    office.kill();
    let people = phone.open("/people").await;
    people.shows("input").await;
    people.has_no_complaints();
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
