//! The command line.

use axum::Router;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use pentally_server::bundle;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::process::ExitCode;
use std::{env, io};
use tokio::net::TcpListener;

const USAGE: &str = "usage: pentally [serve] [--data DIR] [--listen ADDR]";

#[tokio::main]
async fn main() -> ExitCode {
    let Some(words) = Words::read(env::args().skip(1)) else {
        eprintln!("{USAGE}");
        return ExitCode::from(2);
    };
    match serve(&words).await {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("The barn cannot be opened: {why}.");
            ExitCode::FAILURE
        }
    }
}

struct Words {
    data: PathBuf,
    listen: Option<SocketAddr>,
}

impl Words {
    fn read(mut words: impl Iterator<Item = String>) -> Option<Self> {
        let home = env::home_dir().unwrap_or_default();
        let mut read = Self { data: home.join(".local/share/pentally"), listen: None };
        while let Some(word) = words.next() {
            match word.as_str() {
                "serve" => {}
                "--data" => read.data = words.next()?.into(),
                "--listen" => read.listen = Some(words.next()?.parse().ok()?),
                _ => return None,
            }
        }
        Some(read)
    }
}

async fn serve(words: &Words) -> io::Result<()> {
    let kept = bundle::keep(&words.data)?;
    let listener = match words.listen {
        Some(address) => TcpListener::bind(address).await?,
        None => first_free().await?,
    };
    println!("The barn is open on http://localhost:{}", listener.local_addr()?.port());
    let house = Router::new().route("/health", get(health)).fallback(page);
    axum::serve(listener, house.merge(bundle::router(kept))).await
}

/// The barn's own port, or the next that nobody else holds.
async fn first_free() -> io::Result<TcpListener> {
    const PORT: u16 = 8420;
    let mut busy = None;
    for port in PORT..PORT + 20 {
        match TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await {
            Ok(listener) => {
                if port != PORT {
                    eprintln!("Port {PORT} is busy; taking {port}.");
                }
                return Ok(listener);
            }
            Err(why) => busy = Some(why),
        }
    }
    Err(busy.unwrap_or_else(|| io::ErrorKind::AddrInUse.into()))
}

async fn health() -> axum::Json<serde_json::Value> {
    axum::Json(serde_json::json!({ "status": "ok", "version": env!("CARGO_PKG_VERSION") }))
}

async fn page() -> Response {
    match bundle::shell() {
        Some(shell) => Html(format!("{}{}", shell.before, shell.after)).into_response(),
        None => (
            StatusCode::SERVICE_UNAVAILABLE,
            "Built without its pages. Run `cargo xtask run` instead.\n",
        )
            .into_response(),
    }
}
