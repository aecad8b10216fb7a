//! What whoever is not known yet can cost, and what browsers are told about what they are given.

#[path = "store_hands/office.rs"]
mod office;
mod store_hands;

use office::{NAME, Office, agent};
use pentally_server::http::steps;
use pentally_server::http::table::{May, TABLE};
use pentally_server::network::{Network, Said};
use serde_json::{Value, json};
use std::fs;

const PASSPHRASE: &str = "four calm grey boars";

/// A farm on its network.
fn online() -> Office {
    let (office, _) = Office::started();
    let asked = json!({ "name": NAME, "passphrase": PASSPHRASE });
    assert_eq!(
        office.post("/api/v1/network", &asked.to_string()).status,
        200
    );
    office
}

/// The whole cookie that a browser is given that knows the passphrase.
fn given(office: &Office) -> String {
    let body = json!({ "passphrase": PASSPHRASE, "name": "Laptop" }).to_string();
    let request = ureq::http::Request::post(format!("http://{}/api/v1/login", office.network))
        .header("host", NAME)
        .body(body)
        .unwrap();
    let answer = agent().run(request).unwrap();
    answer.headers()["set-cookie"].to_str().unwrap().to_owned()
}

// draft-ietf-httpbis-rfc6265bis: "The __Host- Prefix" (Secure, Path=/, no Domain), "HttpOnly" and
// "SameSite"; from memory.
#[test]
fn the_cookie_stays_with_this_server_and_out_of_scripts() {
    let cookie = given(&online());
    let (pair, attributes) = cookie.split_once("; ").unwrap();
    let (name, token) = pair.split_once('=').unwrap();
    assert_eq!((name, token.len()), ("__Host-pentally", 64));
    let mut attributes: Vec<_> = attributes.split("; ").collect();
    attributes.sort_unstable();
    assert_eq!(
        attributes,
        [
            "HttpOnly",
            "Max-Age=34560000",
            "Path=/",
            "SameSite=Lax",
            "Secure"
        ]
    );
}

#[test]
fn before_anybody_is_known_a_few_words_are_taken_and_no_more() {
    let office = online();
    let open = TABLE
        .iter()
        .filter(|r| r.may == May::Anyone && r.body.is_some());
    let open: Vec<_> = open.map(|route| route.path).collect();
    assert_eq!(
        open,
        ["/api/v1/pair", "/api/v1/pair/finish", "/api/v1/login"]
    );
    for path in open {
        let words = |n: usize| json!({ "passphrase": "x".repeat(n), "name": "x", "claim": "x" });
        let ask = |n| office.ask("POST", path, &words(n).to_string(), None).0;
        ask(4_096).is_problem(413);
        assert_ne!(ask(200).status, 413, "{path}");
    }
}

#[test]
fn the_document_says_how_much_each_route_takes() {
    let office = Office::new();
    let document = office.get("/api/v1/openapi.json").json();
    for route in TABLE {
        let told = &document["paths"][route.path][route.method]["requestBody"]["x-max-bytes"];
        let most = route.body.map_or(Value::Null, |(_, most)| json!(most));
        assert_eq!(told, &most, "{}", route.path);
    }
    let too_much = " ".repeat(5_000);
    office
        .post("/api/v1/aside/accept", &too_much)
        .is_problem(413);
}

#[test]
fn an_office_that_is_let_in_guesses_the_passphrase_no_more_often_than_others() {
    let office = online();
    let cookie = given(&office);
    let cookie = cookie.split(';').next().unwrap();
    let asked = |passphrase: &str| json!({ "name": NAME, "passphrase": passphrase }).to_string();
    let guess = |n: u32| {
        let body = asked(&format!("wrong wrong wrong {n}"));
        let answer = office.ask("POST", "/api/v1/network", &body, Some(cookie));
        answer.0.status
    };
    let statuses: Vec<u16> = (0..12).map(guess).collect();
    assert_eq!(statuses[..7], [422; 7]);
    assert_eq!(statuses[9..], [429; 3]);
    // Whoever sits at the machine is not kept waiting for that.
    for n in 0..10 {
        let body = asked(&format!("wrong wrong wrong {n}"));
        office.post("/api/v1/network", &body).is_problem(422);
    }
    assert_eq!(
        office.post("/api/v1/network", &asked(PASSPHRASE)).status,
        200
    );
}

#[test]
fn the_page_of_steps_says_what_browsers_may_do_with_it() {
    let folder = std::env::temp_dir().join(format!("pentally-steps-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let network = Network::of(&folder, Said::default()).unwrap();
    network.choose(NAME.to_owned()).unwrap();
    let runtime = tokio::runtime::Runtime::new().unwrap();
    let listener = runtime.block_on(tokio::net::TcpListener::bind(("127.0.0.1", 0)));
    let listener = listener.unwrap();
    let address = listener.local_addr().unwrap();
    runtime.spawn(async move { axum::serve(listener, steps::router(network)).await });
    for path in ["/", "/authority.crt", "/elsewhere"] {
        let answer = agent().get(format!("http://{address}{path}")).call();
        let answer = answer.unwrap();
        let header = |name: &str| answer.headers()[name].to_str().unwrap().to_owned();
        let policy = header("content-security-policy");
        assert!(policy.contains("default-src 'none'"), "{policy}");
        assert!(policy.contains("frame-ancestors 'none'"), "{policy}");
        assert!(!policy.contains("script-src"), "{policy}");
        assert_eq!(header("x-content-type-options"), "nosniff");
        assert_eq!(header("x-frame-options"), "DENY");
    }
    fs::remove_dir_all(&folder).unwrap();
}
