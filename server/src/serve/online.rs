//! The listeners on the farm's network: open while a name is chosen, and opened anew when it changes.

use super::bounds::{Turns, patient};
use crate::access::{Door, LiveNames};
use crate::http::{House, router, steps};
use crate::moment::now_ms;
use crate::network::Setting;
use crate::tls::{self, LOOK_EVERY, Shown, TlsError};
use axum::Router;
use axum::http::StatusCode;
use axum_server::Handle;
use mdns_sd::{ServiceDaemon, ServiceInfo};
use std::io;
use std::net::{SocketAddr, TcpListener};
use std::time::Duration;
use tokio::sync::watch;
use tokio::task::JoinSet;
use tower_http::timeout::TimeoutLayer;
use tracing::warn;

/// A request that takes longer is given up: the slowest honest one is a page of 4 MB over poor Wi-Fi.
const PATIENCE: Duration = Duration::from_secs(120);

/// A connection that says no request for so long is closed.
const HEAD_PATIENCE: Duration = Duration::from_secs(20);

/// How many connections each listener has at once: a browser needs one, at most six.
const CONNECTIONS: usize = 256;

/// Requests that came before the end have so long to be answered.
const LAST_ANSWERS: Duration = Duration::from_secs(10);

/// Why the barn is not on the network.
#[derive(Debug, thiserror::Error)]
enum OnlineError {
    #[error(transparent)]
    Tls(#[from] TlsError),
    #[error("{address} cannot be opened: {source}")]
    Listen {
        address: SocketAddr,
        source: io::Error,
    },
}

/// What is open; dropping it cuts every connection.
struct Open {
    _announced: Option<Announced>,
    _shown: Shown,
    doors: [Handle<SocketAddr>; 2],
    listeners: JoinSet<()>,
    /// Follows the machine's names as long as this lives.
    _names: JoinSet<()>,
}

impl Open {
    /// Lets nobody in any more, and answers those who are in.
    async fn close(mut self) {
        for door in &self.doors {
            door.graceful_shutdown(Some(LAST_ANSWERS));
        }
        while self.listeners.join_next().await.is_some() {}
    }
}

/// Opens what is chosen, and tries again while it cannot, until `stopping` is dropped at the other end.
pub async fn keep_open(house: House, files: Router, mut stopping: watch::Receiver<()>) {
    let mut chosen = house.network().follow();
    loop {
        let setting = chosen.borrow_and_update().clone();
        let mut open = None;
        while let Some(setting) = &setting {
            match start(&house, &files, setting) {
                Ok(now) => {
                    house.network().set_trouble(None);
                    say(&house);
                    open = Some(now);
                    break;
                }
                Err(error) => {
                    let why = error.to_string();
                    warn!(why, "the barn is not on the farm's network");
                    house.network().set_trouble(Some(why));
                }
            }
            tokio::select! {
                () = tokio::time::sleep(LOOK_EVERY) => {}
                _ = chosen.changed() => break,
                _ = stopping.changed() => return,
            }
        }
        let anew = open.is_none() && setting.is_some();
        let stops = !anew
            && tokio::select! {
                // The sender lives as long as the house.
                _ = chosen.changed() => false,
                _ = stopping.changed() => true,
            };
        if let Some(open) = open {
            open.close().await;
        }
        if stops {
            return;
        }
    }
}

fn say(house: &House) {
    let told = house.network().told(true, now_ms());
    if let Some(origin) = told.origin {
        println!(
            "Phones find the barn on {origin}; how they are let in is shown on {}",
            told.steps.join(" ")
        );
    }
}

fn start(house: &House, files: &Router, setting: &Setting) -> Result<Open, OnlineError> {
    let network = house.network();
    let teller = network.clone();
    let shown = tls::refreshed(network.trust(setting), now_ms, LOOK_EVERY, move |looked| {
        teller.set_trouble(looked.err().map(|error| error.to_string()));
    })?;
    let (https, plain) = (
        bound(network.https_at(setting.port))?,
        bound(network.steps_at())?,
    );
    let names = LiveNames::default();
    let door = Door::Network(names.clone());
    let service = router(house.clone(), door, files.clone()).layer(TimeoutLayer::with_status_code(
        StatusCode::REQUEST_TIMEOUT,
        PATIENCE,
    ));
    let service = service.into_make_service_with_connect_info::<SocketAddr>();
    let steps = steps::router(network.clone()).into_make_service();
    let failed = |address, source| OnlineError::Listen { address, source };
    let https = axum_server::from_tcp_rustls(https, shown.config.clone())
        .map_err(|e| failed(network.https_at(setting.port), e))?;
    let plain = axum_server::from_tcp(plain).map_err(|e| failed(network.steps_at(), e))?;
    let doors = [Handle::new(), Handle::new()];
    let [of_https, of_plain] = doors.clone();
    let (turns, of_steps) = (Turns::new(CONNECTIONS), Turns::new(CONNECTIONS));
    let https = patient(https, HEAD_PATIENCE).map(|tls| tls.acceptor(turns));
    let plain = patient(plain, HEAD_PATIENCE).acceptor(of_steps);
    let (https, plain) = (https.handle(of_https), plain.handle(of_plain));
    let (mut listeners, mut following) = (JoinSet::new(), JoinSet::new());
    following.spawn(follow_names(names, setting.name.clone()));
    listeners.spawn(async move { ended(https.serve(service).await) });
    listeners.spawn(async move { ended(plain.serve(steps).await) });
    Ok(Open {
        _announced: announced(setting, network.https_at(setting.port)),
        _shown: shown,
        doors,
        listeners,
        _names: following,
    })
}

/// Answers to the name on the network until it is dropped.
struct Announced(ServiceDaemon);

impl Drop for Announced {
    fn drop(&mut self) {
        // The network forgets the name by itself too.
        let _ = self.0.shutdown();
    }
}

/// Answers to a name that ends in `.local` (RFC 6762). A convenience: a router that knows the name,
/// or an address in its place, does as well.
fn announced(setting: &Setting, address: SocketAddr) -> Option<Announced> {
    let is_local = setting.name.rsplit('.').next() == Some("local");
    if !is_local || !address.ip().is_unspecified() {
        return None;
    }
    let announce = || -> Result<ServiceDaemon, mdns_sd::Error> {
        let daemon = ServiceDaemon::new()?;
        let host = format!("{}.", setting.name);
        let service = ServiceInfo::new(
            "_https._tcp.local.",
            "Pentally barn",
            &host,
            "",
            setting.port,
            &[][..] as &[(&str, &str)],
        )?;
        daemon.register(service.enable_addr_auto())?;
        Ok(daemon)
    };
    match announce() {
        Ok(daemon) => Some(Announced(daemon)),
        Err(error) => {
            warn!(name = setting.name, %error, "nobody answers for the name; a router may");
            None
        }
    }
}

/// What the machine is called changes with its addresses.
async fn follow_names(names: LiveNames, chosen: String) {
    loop {
        names.set(tls::Names::of_machine(Some(&chosen)));
        tokio::time::sleep(LOOK_EVERY).await;
    }
}

fn ended(result: io::Result<()>) {
    if let Err(error) = result {
        warn!(%error, "a listener on the farm's network ended");
    }
}

fn bound(address: SocketAddr) -> Result<TcpListener, OnlineError> {
    let failed = |source| OnlineError::Listen { address, source };
    let listener = TcpListener::bind(address).map_err(failed)?;
    listener.set_nonblocking(true).map_err(failed)?;
    Ok(listener)
}
