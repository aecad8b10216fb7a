//! Over https on the farm's own network: a phone that does not trust the farm is refused, one that
//! does is let in, works without a network, and is shut out again.

use pentally_tests::browser::hands::{add_pen, all_sent, log, mounted, open_pens, send_now};
use pentally_tests::browser::{Office, Page, Phone};
use serde_json::Value;
use std::io::{Read, Write};
use std::process::{Command, Stdio};
use std::time::Duration;

const PASSPHRASE: &str = "four calm grey boars";

/// The office shows a door: the path behind the address in its symbol, and its number.
fn offer(office: &Office) -> (String, u64) {
    let offer: Value = serde_json::from_str(&office.post("/api/v1/pairings", r#"{"role":"barn"}"#))
        .expect("an offer is JSON");
    let address = offer["address"].as_str().expect("an address");
    let path = address
        .strip_prefix(&office.network_origin())
        .expect("the address is the tags'");
    (path.to_owned(), offer["n"].as_u64().expect("a number"))
}

/// A phone asks to come in as a person does, and the office says yes.
async fn pair(office: &Office, page: &Page, name: &str) {
    let (path, n) = offer(office);
    page.goto(&path).await;
    mounted(page).await;
    page.kept_for_offline().await;
    page.comes_true(
        "!!document.querySelector('input')",
        "the phone's name can be typed",
    )
    .await;
    page.eval::<bool>("(document.querySelector('input').value = '', true)")
        .await;
    page.type_into("input", name).await;
    page.tap_words("Ask to come in").await;
    page.sees("say yes at the office").await;
    let standing: Value = serde_json::from_str(&asked(office, "/api/v1/pairings")).expect("JSON");
    assert_eq!(standing[0]["name"], name);
    office.post(
        "/api/v1/pairings/answer",
        &format!(r#"{{"n":{n},"yes":true}}"#),
    );
    page.tap_words("To the barn").await;
}

fn asked(office: &Office, path: &str) -> String {
    let answer = office.get(path).expect("the office is open");
    answer.split_once("\r\n\r\n").expect("a body").1.to_owned()
}

#[tokio::test]
async fn a_phone_that_does_not_trust_the_farm_is_refused_and_shown_the_steps() {
    let office = Office::on_network(PASSPHRASE);
    let phone = Phone::on_network(&office, false).await;
    let page = phone.tab().await;
    let address = format!("{}/pair", office.network_origin());
    let why = page.is_refused(&address).await;
    assert_eq!(why.as_deref(), Some("net::ERR_CERT_AUTHORITY_INVALID"));
    let steps = format!("http://{}/", office.steps_address());
    assert_eq!(page.is_refused(&steps).await, None);
    page.sees("Full trust".to_lowercase().as_str()).await;
    page.shows("a[href='/authority.crt']").await;
    page.picture("steps", true).await;
}

#[tokio::test]
async fn a_trusted_phone_is_let_in_works_without_a_network_and_is_shut_out() {
    let mut office = Office::on_network(PASSPHRASE);
    let mut phone = Phone::on_network(&office, true).await;
    let page = phone.tab().await;
    page.goto("/T/123455").await;
    mounted(&page).await;
    page.comes_true(
        "location.pathname === '/pair'",
        "a stranger is led to the pairing",
    )
    .await;
    pair(&office, &page, "Barn 1").await;
    page.comes_true("location.pathname !== '/pair'", "the barn opens")
        .await;
    mounted(&page).await;

    // The whole offline story, over https: the office and then the phone die.
    phone.switch_off().await;
    phone.restart().await;
    let page = open_pens(&phone).await;
    page.kept_for_offline().await;
    office.kill();
    add_pen(&page, "Gate 1").await;
    page.sees("on this phone, oldest").await;
    phone.kill();
    phone.restart().await;
    let page = open_pens(&phone).await;
    page.sees("Gate 1").await;
    office.start();
    send_now(&page).await;
    all_sent(&page).await;
    let arrived = || {
        log(&office)
            .iter()
            .filter(|e| e.body.contains("Gate 1"))
            .count()
    };
    assert_eq!(arrived(), 1);
    page.has_no_complaints();

    // Shut out: what it still sends is kept whole, apart.
    office.post("/api/v1/paired/revoke", r#"{"n":1}"#);
    add_pen(&page, "Gate 2").await;
    // A phone that was refused asks again only when a person does.
    send_now(&page).await;
    let apart = || asked(&office, "/api/v1/aside").contains("Gate 2");
    for _ in 0..200 {
        if apart() {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    assert!(
        apart(),
        "what a phone that was shut out brings stands apart"
    );
    assert!(!log(&office).iter().any(|e| e.body.contains("Gate 2")));
}

#[test]
fn who_is_in_is_answered_before_the_barn_closes() {
    let office = Office::on_network(PASSPHRASE);
    let origin = office.network_origin();
    let (_, host) = origin.split_once("//").expect("an origin");
    let (_, port) = host.split_once(':').expect("a port");
    let mut client = Command::new("openssl")
        .args(["s_client", "-quiet", "-servername", "barn.local", "-CAfile"])
        .arg(office.data().join("tls/authority.pem"))
        .args(["-connect", &format!("127.0.0.2:{port}")])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("openssl speaks to the barn: install Debian's package openssl");
    let mut says = client.stdin.take().expect("its input");
    let body = r#"{"secret":"x"}"#;
    let head = format!(
        "POST /api/v1/pair HTTP/1.1\r\nHost: {host}\r\nOrigin: {origin}\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    let (begun, rest) = body.split_at(5);
    write!(says, "{head}{begun}").expect("the barn listens");
    std::thread::sleep(Duration::from_secs(1));
    let id = office.process_id().expect("it runs").to_string();
    let asked = Command::new("kill").args(["-TERM", &id]).status();
    assert!(asked.is_ok_and(|done| done.success()));
    std::thread::sleep(Duration::from_millis(500));
    write!(says, "{rest}").expect("the barn still listens to who is in");
    let mut answer = String::new();
    let heard = client
        .stdout
        .take()
        .expect("its output")
        .read_to_string(&mut answer);
    heard.expect("an answer is text");
    assert!(answer.starts_with("HTTP/1.1 400 "), "{answer}");
    drop(says);
    client.wait().expect("openssl ends");
}
