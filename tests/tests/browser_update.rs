//! A newer binary under phones that are open, offline, or both.
//!
//! The newer set is today's under other names: a front between phone and office renames every
//! file, in addresses and in texts, once it is told to. The phone cannot tell it from a new build.

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::{Request, State};
use axum::http::{StatusCode, header::CONTENT_TYPE};
use axum::response::Response;
use pentally_tests::browser::hands::{add_pen, all_sent, begin, mounted, office_has, send_now};
use pentally_tests::browser::{Bundle, Office, Phone};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use tokio::net::TcpListener;

/// What stands between phone and office.
struct Front {
    office: String,
    renamed: Vec<(String, String)>,
    newer: AtomicBool,
}

impl Front {
    async fn before(office: &Office) -> (Arc<Self>, String) {
        let bundle = Bundle::built();
        let hashes = bundle.files.iter().filter_map(|file| {
            let (_, tail) = file.name.rsplit_once('-')?;
            Some(tail.split_once('.')?.0.to_owned())
        });
        let names = hashes.chain([bundle.set.clone()]);
        let front = Arc::new(Self {
            office: office.origin(),
            renamed: names
                .map(|n| (n.clone(), n.chars().rev().collect()))
                .collect(),
            newer: AtomicBool::new(false),
        });
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let origin = format!("http://localhost:{}", listener.local_addr().unwrap().port());
        let router = Router::new()
            .fallback(pass_on)
            .with_state(Arc::clone(&front));
        tokio::spawn(async move { axum::serve(listener, router).await.unwrap() });
        (front, origin)
    }

    fn in_newer(&self, text: &str) -> String {
        let rename = |text: String, (old, new): &(String, String)| text.replace(old, new);
        self.renamed.iter().fold(text.to_owned(), rename)
    }

    fn in_older(&self, text: &str) -> String {
        let rename = |text: String, (old, new): &(String, String)| text.replace(new, old);
        self.renamed.iter().fold(text.to_owned(), rename)
    }
}

async fn pass_on(State(front): State<Arc<Front>>, request: Request) -> Response {
    let newer = front.newer.load(Ordering::SeqCst);
    let (parts, body) = request.into_parts();
    let sent = to_bytes(body, usize::MAX).await.unwrap().to_vec();
    let asked = parts.uri.to_string();
    let path = if newer { front.in_older(&asked) } else { asked };
    let mut onward = ureq::http::Request::builder()
        .method(parts.method.as_str())
        .uri(format!("{}{path}", front.office));
    if let Some(kind) = parts.headers.get(CONTENT_TYPE) {
        onward = onward.header("content-type", kind.to_str().unwrap());
    }
    let onward = onward.body(sent).unwrap();
    let answered = tokio::task::spawn_blocking(move || {
        let config = ureq::Agent::config_builder().http_status_as_error(false);
        let mut answer = config.build().new_agent().run(onward).unwrap();
        let kind = answer.headers().get("content-type").cloned();
        let read = answer.body_mut().with_config().limit(1 << 28);
        let bytes = read.read_to_vec().unwrap();
        (answer.status().as_u16(), kind, bytes)
    });
    let (status, kind, mut bytes) = answered.await.unwrap();
    let kind = kind.map(|k| k.to_str().unwrap().to_owned());
    let is_text = |kind: &str| kind.contains("javascript") || kind.contains("html");
    if newer && kind.as_deref().is_some_and(is_text) {
        bytes = front.in_newer(&String::from_utf8(bytes).unwrap()).into();
    }
    let mut answer = Response::builder().status(StatusCode::from_u16(status).unwrap());
    if let Some(kind) = kind {
        answer = answer.header(CONTENT_TYPE, kind);
    }
    answer.body(Body::from(bytes)).unwrap()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_newer_binary_loses_nothing_and_shows_no_white_page() {
    let office = Office::open();
    let (front, origin) = Front::before(&office).await;
    let phone = Phone::at(origin).await;
    let page = phone.open("/").await;
    mounted(&page).await;
    page.kept_for_offline().await;
    begin(&page).await;
    let set = "document.documentElement.dataset.set";
    let older: String = page.eval(set).await;

    // Saved under the older version, without a network.
    page.be_offline(true).await;
    add_pen(&page, "Gate 1").await;
    front.newer.store(true, Ordering::SeqCst);
    page.be_offline(false).await;
    send_now(&page).await;
    office_has(&office, &["Gate 1"]).await;

    // The older version goes on until somebody takes the newer one.
    page.goto("/pens").await;
    mounted(&page).await;
    page.sees("Gate 1").await;
    assert_eq!(page.eval::<String>(set).await, older);
    add_pen(&page, "Gate 2").await;
    all_sent(&page).await;
    page.goto("/more").await;
    mounted(&page).await;
    page.sees("Take the new version").await;
    page.be_offline(true).await;
    page.goto("/pens").await;
    mounted(&page).await;
    page.sees("Gate 2").await;
    add_pen(&page, "Gate 3").await;
    page.be_offline(false).await;

    // A tab that runs the office's screens takes the new version too.
    page.goto("/log").await;
    mounted(&page).await;
    page.sees("Gate 2").await;
    page.goto("/more").await;
    mounted(&page).await;
    page.tap_words("Take the new version").await;
    let newer = format!("{set} === '{}'", front.in_newer(&older));
    page.comes_true(&newer, "the newer version runs").await;
    page.goto("/pens").await;
    mounted(&page).await;
    page.sees("Gate 3").await;
    send_now(&page).await;
    office_has(&office, &["Gate 1", "Gate 2", "Gate 3"]).await;
    page.has_no_complaints();
}
