//! An office to talk to over HTTP.

#![allow(dead_code, reason = "each story uses some of it")]

use crate::store_hands::{Dice, Phone};
use pentally_domain::envelope::Entry;
use pentally_domain::sync::Receipt;
use pentally_server::access::{self, Door};
use pentally_server::http::{House, router};
use pentally_server::network::{Network, Said};
use pentally_server::store::{Home, Store};
use pentally_server::tls;
use serde_json::{Value, json};
use std::fs;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::atomic::{AtomicU32, Ordering};

/// What the server is called on the farm's network.
pub const NAME: &str = "barn.local";

/// A server on a port of its own, with a folder of its own; gone with the test.
pub struct Office {
    /// The machine's own door.
    pub address: SocketAddr,
    /// The door on the farm's network, without its https: what it lets through does not depend on it.
    pub network: SocketAddr,
    pub data: PathBuf,
    _runtime: tokio::runtime::Runtime,
}

/// An answer: status, media type, body.
pub struct Answer {
    pub status: u16,
    pub kind: String,
    pub body: String,
}

impl Answer {
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.body).unwrap_or_else(|e| panic!("{e}: {}", self.body))
    }

    /// It is a problem document with this status, and says something.
    pub fn is_problem(&self, status: u16) {
        assert_eq!(
            (self.status, self.kind.as_str()),
            (status, "application/problem+json"),
            "{}",
            self.body
        );
        let problem = self.json();
        assert_eq!(problem["status"], status);
        assert!(
            ["type", "title", "detail"]
                .iter()
                .all(|f| problem[f].as_str().is_some_and(|t| !t.is_empty())),
            "{problem}"
        );
    }
}

impl Office {
    pub fn new() -> Self {
        Self::with(|place| Store::open(place, Dice::new(99).birth()).unwrap())
    }

    pub fn with(open: impl FnOnce(&std::path::Path) -> Store) -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let name = format!(
            "pentally-http-{}-{}",
            std::process::id(),
            COUNT.fetch_add(1, Ordering::Relaxed)
        );
        let data = std::env::temp_dir().join(name);
        let _ = fs::remove_dir_all(&data);
        fs::create_dir_all(&data).unwrap();
        let store = open(&data.join("barn.redb"));
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(1)
            .enable_all()
            .build()
            .unwrap();
        let bound = Network::of(&data, Said::default()).unwrap();
        let house = House::new(data.clone(), store, bound);
        let names = access::LiveNames::default();
        names.set(tls::Names {
            dns: [NAME.to_owned()].into(),
            ..tls::Names::default()
        });
        let [address, network] = [Door::Machine, Door::Network(names)].map(|door| {
            let listener = tokio::net::TcpListener::bind((Ipv4Addr::LOCALHOST, 0));
            let listener = runtime.block_on(listener).unwrap();
            let address = listener.local_addr().unwrap();
            let service = router(house.clone(), door, axum::Router::new())
                .into_make_service_with_connect_info::<SocketAddr>();
            runtime.spawn(async move { axum::serve(listener, service).await });
            address
        });
        Self {
            address,
            network,
            data,
            _runtime: runtime,
        }
    }

    /// A server with a farm.
    pub fn started() -> (Self, Home) {
        let office = Self::new();
        let hello = office
            .post(
                "/api/v1/start",
                &json!({ "farm": "Hill", "zone": "Europe/Madrid" }).to_string(),
            )
            .json();
        let id = |name: &str| serde_json::from_value(hello[name].clone()).unwrap();
        let home = Home {
            farm: id("farm"),
            barn: serde_json::from_value(hello["barn"].clone()).unwrap(),
        };
        (office, home)
    }

    pub fn get(&self, path: &str) -> Answer {
        read(agent().get(format!("http://{}{path}", self.address)).call())
    }

    /// Asks at the network's door, with a cookie or without, and says with which the answer came.
    pub fn ask(
        &self,
        method: &str,
        path: &str,
        body: &str,
        cookie: Option<&str>,
    ) -> (Answer, Option<String>) {
        let mut request = ureq::http::Request::builder()
            .method(method)
            .uri(format!("http://{}{path}", self.network))
            .header("host", NAME);
        if let Some(cookie) = cookie {
            request = request.header("cookie", cookie);
        }
        let answer = agent().run(request.body(body.to_owned()).unwrap()).unwrap();
        let set = answer.headers().get("set-cookie");
        let set = set.map(|v| v.to_str().unwrap().split(';').next().unwrap().to_owned());
        (read(Ok(answer)), set)
    }

    pub fn post(&self, path: &str, body: &str) -> Answer {
        read(
            agent()
                .post(format!("http://{}{path}", self.address))
                .send(body),
        )
    }

    /// Posts what may be no text at all.
    pub fn post_bytes(&self, path: &str, body: &[u8]) -> Answer {
        let address = format!("http://{}{path}", self.address);
        read(agent().post(address).send(body))
    }

    pub fn sync(&self, phone: &Phone, lines: &[String]) -> Receipt {
        let answer = self.post("/api/v1/sync", &push_text(phone, lines));
        assert_eq!(answer.status, 200, "{}", answer.body);
        serde_json::from_str(&answer.body).unwrap()
    }

    pub fn entries(&self) -> u64 {
        self.get("/health").json()["entries"].as_u64().unwrap()
    }
}

impl Drop for Office {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.data);
    }
}

pub fn agent() -> ureq::Agent {
    ureq::Agent::config_builder()
        .http_status_as_error(false)
        .max_redirects(0)
        .build()
        .into()
}

fn read(answer: Result<ureq::http::Response<ureq::Body>, ureq::Error>) -> Answer {
    let mut answer = answer.unwrap();
    let kind = answer
        .headers()
        .get("content-type")
        .map(|v| v.to_str().unwrap().to_owned())
        .unwrap_or_default();
    let body = answer
        .body_mut()
        .with_config()
        .limit(64 << 20)
        .read_to_string()
        .unwrap();
    Answer {
        status: answer.status().as_u16(),
        kind,
        body,
    }
}

pub fn push_text(phone: &Phone, lines: &[String]) -> String {
    format!(
        r#"{{"protocol":1,"device":"{}","entries":[{}]}}"#,
        phone.device(),
        lines.join(",")
    )
}

pub fn lines(entries: &[Entry]) -> Vec<String> {
    entries.iter().map(Entry::to_line).collect()
}
