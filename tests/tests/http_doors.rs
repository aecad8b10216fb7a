//! The doors: who is let in over the farm's network, what each may, and what a page of elsewhere,
//! a guesser and a phone that was shut out can do.

#[path = "store_hands/office.rs"]
mod office;
mod store_hands;

use office::{Office, agent, lines, push_text};
use pentally_domain::pairing::{Finished, Knocked, Offer, PairedDevice, Standing};
use pentally_domain::sync::{Aside, Fate, Receipt};
use pentally_server::http::table::TABLE;
use serde_json::json;
use store_hands::{Dice, Phone, boar};

const PASSPHRASE: &str = "four calm grey boars";

/// A farm on its network.
fn online() -> (Office, pentally_server::store::Home) {
    let (office, home) = Office::started();
    let asked = json!({ "name": "barn.local", "passphrase": PASSPHRASE });
    let told = office.post("/api/v1/network", &asked.to_string()).json();
    assert_eq!(told["origin"], "https://barn.local:8443");
    (office, home)
}

fn offer(office: &Office, role: &str) -> Offer {
    let answer = office.post("/api/v1/pairings", &json!({ "role": role }).to_string());
    serde_json::from_str(&answer.body).unwrap()
}

fn secret(offer: &Offer) -> &str {
    offer.address.split_once('#').unwrap().1
}

/// Lets a device in as people do, and says its cookie.
fn pair(office: &Office, role: &str, name: &str) -> String {
    let offer = offer(office, role);
    let knock = json!({ "secret": secret(&offer), "name": name }).to_string();
    let (knocked, _) = office.ask("POST", "/api/v1/pair", &knock, None);
    let knocked: Knocked = serde_json::from_str(&knocked.body).unwrap();
    let finish = json!({ "claim": knocked.claim }).to_string();
    let asks = || office.ask("POST", "/api/v1/pair/finish", &finish, None);
    let (waits, none) = asks();
    assert_eq!((waits.json(), none), (json!({ "state": "waiting" }), None));
    let standing: Vec<Standing> =
        serde_json::from_str(&office.get("/api/v1/pairings").body).unwrap();
    let shown = standing.iter().find(|s| s.n == offer.n).unwrap();
    assert_eq!(shown.name.as_ref().unwrap().as_str(), name);
    let yes = json!({ "n": offer.n, "yes": true }).to_string();
    assert_eq!(office.post("/api/v1/pairings/answer", &yes).status, 200);
    let (paired, cookie) = asks();
    assert_eq!(paired.json(), json!({ "state": "paired", "role": role }));
    // The answer may get lost: the same device, not a second one.
    assert_eq!(asks().1, cookie);
    cookie.unwrap()
}

/// Who may ask for what: kept apart from the table under test.
fn least(method: &str, path: &str) -> &'static str {
    match (method, path) {
        ("get", "/health" | "/api/v1/hello" | "/t/{code}" | "/api/v1/openapi.json") => "anyone",
        ("post", "/api/v1/pair" | "/api/v1/pair/finish" | "/api/v1/login") => "anyone",
        ("post", "/api/v1/sync") => "bring",
        ("get", "/api/v1/summaries" | "/T/{code}" | "/tags/{file}") => "barn",
        ("post", "/api/v1/reckon/{name}") => "barn",
        (
            "get",
            "/api/v1/entries" | "/api/v1/devices" | "/api/v1/missing" | "/api/v1/aside"
            | "/api/v1/pairings" | "/api/v1/paired" | "/api/v1/network" | "/api/v1/backups"
            | "/tags" | "/calendar.ics",
        ) => "office",
        (
            "post",
            "/api/v1/start"
            | "/api/v1/backup"
            | "/api/v1/import/preview"
            | "/api/v1/import/commit"
            | "/api/v1/climate/preview"
            | "/api/v1/climate/commit"
            | "/api/v1/aside/accept"
            | "/api/v1/pairings"
            | "/api/v1/pairings/answer"
            | "/api/v1/paired/revoke"
            | "/api/v1/network",
        ) => "office",
        other => panic!("{other:?} is new: say here who may ask for it"),
    }
}

#[test]
fn every_route_admits_whom_it_should_and_nobody_else() {
    let (office, _) = online();
    let shut_out = pair(&office, "office", "Shut out");
    let n = paired(&office).last().unwrap().n;
    let done = office.post("/api/v1/paired/revoke", &json!({ "n": n }).to_string());
    assert_eq!(done.status, 200);
    let asking = [
        (None, 0),
        (Some(shut_out), 1),
        (Some(pair(&office, "barn", "Barn 1")), 2),
        (Some(pair(&office, "laboratory", "Bench")), 3),
        (Some(pair(&office, "office", "Desk")), 4),
        (Some(format!("__Host-pentally={}", "0".repeat(64))), 0),
    ];
    let mut looked_at = 0;
    for route in TABLE {
        let path = route
            .path
            .replace("{code}", "123455")
            .replace("{file}", "x.svg")
            .replace("{name}", "none");
        let needs = match least(route.method, route.path) {
            "anyone" => 0,
            "bring" => 1,
            "barn" => 2,
            "office" => 4,
            other => panic!("{other}"),
        };
        for (cookie, has) in &asking {
            for method in ["GET", "POST", "PUT", "DELETE", "PATCH"] {
                let (answer, _) = office.ask(method, &path, "{", cookie.as_deref());
                looked_at += 1;
                let own = method.eq_ignore_ascii_case(route.method);
                let refused = matches!(answer.status, 401 | 403);
                let known = TABLE
                    .iter()
                    .any(|r| r.path == route.path && r.method.eq_ignore_ascii_case(method));
                let says = format!(
                    "{method} {path} by {has}: {} {}",
                    answer.status, answer.body
                );
                if own {
                    assert_eq!(refused, *has < needs, "{says}");
                } else if !known {
                    assert!(refused || answer.status == 405, "{says}");
                }
                assert!(answer.status != 500, "{says}");
            }
        }
    }
    println!("{looked_at} requests: every route, who asks, and method");
}

#[test]
fn what_is_not_in_the_table_is_a_page_or_nothing() {
    let (office, _) = online();
    for path in ["/api/v1/secrets", "/api/", "/api/v2/entries"] {
        office.ask("GET", path, "", None).0.is_problem(404);
    }
    for path in [
        "/",
        "/boar/x",
        "/log",
        "/people",
        "/network",
        "/T/123455",
        "/B/123450",
        "/anything",
    ] {
        let answer = page(&office, path, None);
        assert_eq!(answer.0, 303, "{path}");
        assert_eq!(answer.1, format!("/pair?to={path}"));
    }
    let shown = office.ask("GET", "/pair", "", None).0;
    // Built without its pages, the program says so.
    assert!(matches!(shown.status, 200 | 503), "{}", shown.body);
    assert!(
        !shown.body.contains("Hill"),
        "the farm's name is not for strangers"
    );
    office.ask("POST", "/nowhere", "", None).0.is_problem(405);
}

#[test]
fn only_requests_meant_for_this_server_and_from_its_own_pages_are_answered() {
    let (office, _) = online();
    let ask = |name: &str, value: &str, host: &str| {
        let request = ureq::http::Request::post(format!("http://{}/api/v1/start", office.address))
            .header("host", host)
            .header(name, value)
            .body("{}".to_owned())
            .unwrap();
        agent().run(request).unwrap().status().as_u16()
    };
    assert_eq!(
        ask("x", "y", "localhost"),
        400,
        "no browser: the body is looked at"
    );
    assert_eq!(ask("origin", "http://localhost", "localhost"), 400);
    assert_eq!(ask("origin", "http://evil.example", "localhost"), 403);
    assert_eq!(ask("sec-fetch-site", "cross-site", "localhost"), 403);
    assert_eq!(
        ask("x", "y", "evil.example"),
        421,
        "a name made to lead here"
    );
    assert_eq!(
        ask("x", "y", "barn.local"),
        421,
        "that is the other door's name"
    );
}

#[test]
fn every_answer_carries_the_rules_for_browsers() {
    let (office, _) = online();
    for path in ["/health", "/", "/tags", "/api/v1/nothing", "/T/1"] {
        let answer = agent()
            .get(format!("http://{}{path}", office.address))
            .call()
            .unwrap();
        let header = |name: &str| answer.headers()[name].to_str().unwrap().to_owned();
        let policy = header("content-security-policy");
        for part in [
            "default-src 'none'",
            "script-src 'self' 'wasm-unsafe-eval'",
            "frame-ancestors 'none'",
        ] {
            assert!(policy.contains(part), "{path}: {policy}");
        }
        assert!(!policy.contains("'unsafe-eval'"), "{policy}");
        assert_eq!(header("x-content-type-options"), "nosniff");
        assert_eq!(header("referrer-policy"), "same-origin");
    }
}

#[test]
fn what_a_shut_out_phone_brings_is_kept_whole_for_the_office_to_judge() {
    let (office, home) = online();
    let cookie = pair(&office, "barn", "Barn 1");
    let dice = &mut Dice::new(4);
    let mut phone = Phone::new(home, dice);
    for number in 1..=4 {
        phone.write(&boar(number), dice);
    }
    let all = lines(&phone.entries);
    let push = |some: &[String]| {
        let (answer, _) = office.ask(
            "POST",
            "/api/v1/sync",
            &push_text(&phone, some),
            Some(&cookie),
        );
        assert_eq!(answer.status, 200, "{}", answer.body);
        serde_json::from_str::<Receipt>(&answer.body).unwrap()
    };
    assert_eq!(push(&all[..2]).fates, [Fate::Stored, Fate::Stored]);
    let known = paired(&office);
    assert_eq!(known[0].device, Some(phone.device()));
    assert!(known[0].last_seen_ms.is_some());
    office.post(
        "/api/v1/paired/revoke",
        &json!({ "n": known[0].n }).to_string(),
    );

    let before = office.entries();
    let receipt = push(&all[1..4]);
    let apart = Fate::SetAside {
        reason: Aside::ShutOut,
    };
    assert_eq!(receipt.fates, [Fate::Duplicate, apart.clone(), apart]);
    assert_eq!(
        receipt.contiguous[&phone.device()],
        4,
        "all of it counts as received"
    );
    assert_eq!(office.entries(), before);
    let (pull, _) = office.ask("GET", "/api/v1/summaries", "", Some(&cookie));
    pull.is_problem(401);
    let aside = office.get("/api/v1/aside").json();
    let stands = aside["aside"].as_array().unwrap();
    let texts: Vec<_> = stands.iter().map(|s| s["text"].as_str().unwrap()).collect();
    assert_eq!(texts, [all[2].as_str(), all[3].as_str()]);

    let accept =
        |n: &serde_json::Value| office.post("/api/v1/aside/accept", &json!({ "n": n }).to_string());
    assert_eq!(
        accept(&stands[0]["n"]).json(),
        json!({ "result": "stored" })
    );
    accept(&stands[0]["n"]).is_problem(404);
    assert_eq!(office.entries(), before + 1);
    let page = |after: u64| office.get(&format!("/api/v1/aside?after={after}")).json();
    let next = page(0)["next"].as_u64().unwrap();
    assert_eq!(page(0)["aside"].as_array().unwrap().len(), 1);
    assert_eq!(page(next)["aside"], json!([]));
    assert_eq!(page(next)["next"], json!(null));

    // It cannot speak as another, and keeps what it would have said.
    let mut other = Phone::new(home, dice);
    other.write(&boar(5), dice);
    office.sync(&other, &lines(&other.entries));
    let text = push_text(&other, &[]);
    let (refused, _) = office.ask("POST", "/api/v1/sync", &text, Some(&cookie));
    refused.is_problem(401);
}

#[test]
fn a_typed_code_lets_in_and_five_wrong_ones_end_it() {
    let (office, _) = online();
    let first = offer(&office, "barn");
    assert!(first.symbol.starts_with("<svg") && first.code.len() == 8);
    let knock = |code: &str| {
        let body = json!({ "code": code, "name": "Barn 1" }).to_string();
        office.ask("POST", "/api/v1/pair", &body, None).0
    };
    let spaced = format!("{} {}", &first.code[..4], &first.code[4..]);
    assert_eq!(knock(&spaced).status, 200);
    let second = offer(&office, "barn");
    for wrong in 0..5 {
        let other = (second.code.parse::<u32>().unwrap() + 1 + wrong) % 100_000_000;
        knock(&format!("{other:08}")).is_problem(422);
    }
    knock(&second.code).is_problem(422);
}

#[test]
fn the_owners_passphrase_opens_an_office_and_guesses_are_few() {
    let (office, _) = online();
    let login = |passphrase: &str| {
        let body = json!({ "passphrase": passphrase, "name": "Laptop" }).to_string();
        office.ask("POST", "/api/v1/login", &body, None)
    };
    let (done, cookie) = login(PASSPHRASE);
    assert_eq!(done.json(), json!({ "state": "paired", "role": "office" }));
    let (devices, _) = office.ask("GET", "/api/v1/paired", "", cookie.as_deref());
    assert_eq!(devices.status, 200);
    let statuses: Vec<u16> = (0..12)
        .map(|n| login(&format!("wrong wrong wrong {n}")).0.status)
        .collect();
    assert_eq!(statuses[..7], [422; 7]);
    assert_eq!(statuses[9..], [429; 3]);
    login(PASSPHRASE).0.is_problem(429);
    assert_eq!(
        office.get("/api/v1/paired").status,
        200,
        "the machine's own door is open"
    );
}

#[test]
fn the_address_on_the_tags_is_chosen_once() {
    let (office, _) = online();
    let ask = |body: serde_json::Value| office.post("/api/v1/network", &body.to_string());
    ask(json!({ "name": "stall.local", "passphrase": PASSPHRASE })).is_problem(409);
    let all_right = json!({ "name": "stall.local", "passphrase": "another passphrase", "tags_will_be_printed_again": true });
    let refused = ask(all_right);
    refused.is_problem(422);
    assert_eq!(refused.json()["code"], "not-the-owner");
    for name in ["", "barn", "farm.example.com", "8.8.8.8"] {
        let refused = ask(
            json!({ "name": name, "passphrase": PASSPHRASE, "tags_will_be_printed_again": true }),
        );
        refused.is_problem(422);
        assert_eq!(refused.json()["code"], "not-a-local-name", "{name}");
    }
    let told = ask(
        json!({ "name": "stall.local", "passphrase": PASSPHRASE, "tags_will_be_printed_again": true }),
    );
    assert_eq!(told.json()["origin"], "https://stall.local:8443");
    assert!(office.get("/tags").status == 200);
    let (fresh, _) = Office::started();
    let short = json!({ "name": "barn.local", "passphrase": "short" });
    fresh
        .post("/api/v1/network", &short.to_string())
        .is_problem(422);
    fresh
        .post("/api/v1/pairings", r#"{"role":"barn"}"#)
        .is_problem(409);
}

/// How many guesses are made; `PENTALLY_GUESSES` sets another number.
const GUESSES: u32 = 2_000;

#[test]
fn a_day_of_guessing_from_many_addresses_lets_nobody_in() {
    let (office, _) = online();
    let guesses = std::env::var("PENTALLY_GUESSES").map_or(GUESSES, |n| n.parse().unwrap());
    let offer = offer(&office, "office");
    let mut statuses = std::collections::BTreeMap::<u16, u32>::new();
    for n in 0..guesses {
        // 127.0.0.0/8 is all this machine.
        let from = std::net::Ipv4Addr::from_bits((127 << 24) | (n % 50_000) << 4 | 9);
        let body = if n % 2 == 0 {
            let code = (offer.code.parse::<u32>().unwrap() + 1 + n) % 100_000_000;
            json!({ "code": format!("{code:08}"), "name": "x" })
        } else {
            json!({ "passphrase": format!("a wrong passphrase {n}"), "name": "x" })
        };
        let path = if n % 2 == 0 {
            "/api/v1/pair"
        } else {
            "/api/v1/login"
        };
        let answer = guess(&office, from, path, &body.to_string());
        assert!(!answer.to_lowercase().contains("set-cookie"), "{answer}");
        let status = answer.split(' ').nth(1).unwrap().parse().unwrap();
        *statuses.entry(status).or_default() += 1;
    }
    println!("{guesses} guesses: {statuses:?} (status and how often)");
    assert!(
        statuses.keys().all(|s| matches!(s, 422 | 429)),
        "{statuses:?}"
    );
    assert!(statuses[&422] <= 60 + guesses / 100, "{statuses:?}");
    // The machine's own door goes on, and so does a symbol that is scanned.
    assert_eq!(office.get("/api/v1/paired").json(), json!([]));
    assert_eq!(office.get("/health").status, 200);
    pair(&office, "barn", "Barn 1");
}

fn guess(office: &Office, from: std::net::Ipv4Addr, path: &str, body: &str) -> String {
    use std::io::{Read, Write};
    let socket = socket2::Socket::new(socket2::Domain::IPV4, socket2::Type::STREAM, None).unwrap();
    socket.set_reuse_address(true).unwrap();
    socket
        .bind(&std::net::SocketAddr::new(from.into(), 0).into())
        .unwrap();
    socket.connect(&office.network.into()).unwrap();
    let mut stream = std::net::TcpStream::from(socket);
    let (host, length) = (office::NAME, body.len());
    write!(stream, "POST {path} HTTP/1.1\r\nhost: {host}\r\nconnection: close\r\ncontent-length: {length}\r\n\r\n{body}").unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

fn paired(office: &Office) -> Vec<PairedDevice> {
    serde_json::from_str(&office.get("/api/v1/paired").body).unwrap()
}

/// Status and where a browser that wants a page is led.
fn page(office: &Office, path: &str, cookie: Option<&str>) -> (u16, String) {
    let mut request = ureq::http::Request::get(format!("http://{}{path}", office.network))
        .header("host", office::NAME)
        .header("accept", "text/html");
    if let Some(cookie) = cookie {
        request = request.header("cookie", cookie);
    }
    let answer = agent().run(request.body(()).unwrap()).unwrap();
    let to = answer.headers().get("location");
    (
        answer.status().as_u16(),
        to.map(|v| v.to_str().unwrap().to_owned())
            .unwrap_or_default(),
    )
}

#[test]
fn states_of_a_pairing_are_the_words_of_the_contract() {
    let says: Finished = serde_json::from_str(r#"{"state":"refused"}"#).unwrap();
    assert_eq!(says, Finished::Refused);
}
