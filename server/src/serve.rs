//! Opening the barn: a listener, the routes, and a quiet end.

mod bounds;
mod online;

use crate::access::Door;
use crate::cli::Serve;
use crate::http::{House, router};
use crate::network::Network;
use crate::store::{Store, StoreError};
use crate::{backups, bundle, invented, outlook};
use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;
use tokio::net::TcpListener;
use tokio::sync::watch;
use tracing::warn;
use tracing_subscriber::EnvFilter;

/// The barn's own port.
pub const PORT: u16 = 8420;
/// How many ports after it are tried when it is busy.
const OTHERS: u16 = 20;

/// Why the barn could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// Beyond this machine, where nobody would be asked who they are.
    #[error(
        "{address} can be reached from other machines, and plain http asks nobody who they are: \
         listen on 127.0.0.1; phones come in over https, which the office opens at /network"
    )]
    Unprotected {
        /// The address asked for.
        address: SocketAddr,
    },
    /// Somebody else listens there.
    #[error("{address} is taken by another program: stop it, or choose another --listen")]
    Busy {
        /// The address asked for.
        address: SocketAddr,
    },
    /// The network said no.
    #[error("the barn cannot be opened: {0}")]
    Io(#[from] io::Error),
    /// The store said no.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// Opens the barn and returns when it was asked to stop and the last request is answered.
pub fn serve(words: &Serve, data: PathBuf, store: Store) -> Result<(), ServeError> {
    log();
    let kept = bundle::keep(&data)?;
    let invented = words.demo.then(|| invented::open(&data)).transpose()?;
    let network = Network::of(&data, words.said())?;
    let mut house = House::new(data, store, network);
    if let Some(folder) = &words.backups {
        house = house.backing_up_into(folder.clone());
    }
    if let Err(error) = backups::sweep(house.backups()) {
        warn!(%error, "what a killed backup left could not be removed");
    }
    house.look_around(invented.map(Arc::new));
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()?;
    runtime.block_on(open(words, house, kept))
}

/// What happens goes to standard error, a line each; `PENTALLY_LOG` says how much of it.
fn log() {
    let filter = EnvFilter::try_from_env("PENTALLY_LOG")
        .unwrap_or_else(|_| EnvFilter::new("info,mdns_sd=error"));
    let lines = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(io::stderr)
        .with_ansi(false);
    // Set before, when a test opens several barns in one process.
    let _ = lines.try_init();
}

async fn open(words: &Serve, house: House, kept: bundle::Kept) -> Result<(), ServeError> {
    let listener = listen(words).await?;
    println!(
        "The barn is open on http://{}",
        shown(listener.local_addr()?)
    );
    let files = bundle::router(kept);
    let (stop, stopping) = watch::channel(());
    let network = tokio::spawn(online::keep_open(house.clone(), files.clone(), stopping));
    let backups = tokio::spawn(backups::keep(house.clone()));
    let outlook = tokio::spawn(outlook::keep(house.clone()));
    let service = router(house, Door::Machine, files);
    let service = service.into_make_service_with_connect_info::<SocketAddr>();
    axum::serve(listener, service)
        .with_graceful_shutdown(async move {
            asked_to_stop().await;
            drop(stop);
        })
        .await?;
    if let Err(error) = network.await {
        warn!(%error, "the barn on the farm's network did not end well");
    }
    backups.abort();
    outlook.abort();
    println!("The barn is closed.");
    Ok(())
}

async fn listen(words: &Serve) -> Result<TcpListener, ServeError> {
    let Some(address) = words.listen else {
        return first_free().await;
    };
    if !address.ip().is_loopback() {
        return Err(ServeError::Unprotected { address });
    }
    TcpListener::bind(address)
        .await
        .map_err(|error| match error.kind() {
            io::ErrorKind::AddrInUse => ServeError::Busy { address },
            _ => error.into(),
        })
}

/// The barn's own port, or the next that nobody else holds.
async fn first_free() -> Result<TcpListener, ServeError> {
    for port in PORT..=PORT + OTHERS {
        match TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await {
            Ok(listener) => {
                if port != PORT {
                    warn!(busy = PORT, port, "the usual port is busy; taking the next");
                }
                return Ok(listener);
            }
            Err(error) if error.kind() == io::ErrorKind::AddrInUse => {}
            Err(error) => return Err(error.into()),
        }
    }
    Err(ServeError::Busy {
        address: (Ipv4Addr::LOCALHOST, PORT).into(),
    })
}

/// Browsers trust `localhost` as they trust https; they do not trust every spelling of it.
fn shown(address: SocketAddr) -> String {
    if address.ip().is_loopback() {
        format!("localhost:{}", address.port())
    } else {
        address.to_string()
    }
}

async fn asked_to_stop() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        match signal(SignalKind::terminate()) {
            Ok(mut terminate) => tokio::select! {
                _ = terminate.recv() => {}
                _ = tokio::signal::ctrl_c() => {}
            },
            Err(_) => drop(tokio::signal::ctrl_c().await),
        }
    }
    #[cfg(not(unix))]
    drop(tokio::signal::ctrl_c().await);
}
