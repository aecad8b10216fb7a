//! What the https listener shows: the farm's own certificate, or one the farm brought.

use super::{Authority, Leaf, Names, TlsError};
use axum_server::tls_rustls::RustlsConfig;
use rustls::ServerConfig;
use rustls::crypto::ring;
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime};
use tokio::task::JoinHandle;

/// How often addresses, time left and files are looked at.
pub const LOOK_EVERY: Duration = Duration::from_secs(20);

/// Where the certificate comes from.
#[derive(Debug, Clone)]
pub enum Trust {
    /// From the farm's authority in this folder, for the machine's names and a chosen one.
    Farm {
        /// The folder of the authority.
        folder: PathBuf,
        /// The name on the tags.
        name: Option<String>,
    },
    /// From files that somebody else renews.
    Own {
        /// The chain.
        certificate: PathBuf,
        /// Its key.
        key: PathBuf,
    },
}

/// What was there when it was last looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Seen {
    Leaf(Leaf),
    Files(Option<SystemTime>, Option<SystemTime>),
}

impl Trust {
    /// What is to be shown now. `now_ms` is ms since 1970.
    fn config(&self, now_ms: i64) -> Result<ServerConfig, TlsError> {
        match self {
            Self::Farm { folder, name } => {
                let leaf = leaf(folder, name.as_deref(), now_ms)?;
                config(&leaf.pem, &leaf.key).map_err(|why| TlsError::Library(why.to_string()))
            }
            Self::Own { certificate, key } => {
                let [chain, secret] = [certificate, key].map(|place| {
                    fs::read_to_string(place).map_err(|source| TlsError::File {
                        place: place.clone(),
                        source,
                    })
                });
                config(&chain?, &secret?).map_err(|why| TlsError::Own {
                    place: certificate.clone(),
                    why: why.to_string(),
                })
            }
        }
    }

    fn seen(&self, now_ms: i64) -> Result<Seen, TlsError> {
        match self {
            Self::Farm { folder, name } => Ok(Seen::Leaf(leaf(folder, name.as_deref(), now_ms)?)),
            Self::Own { certificate, key } => {
                let changed = |place: &PathBuf| fs::metadata(place).and_then(|m| m.modified()).ok();
                Ok(Seen::Files(changed(certificate), changed(key)))
            }
        }
    }
}

/// What a listener shows, kept up to date until this is dropped.
#[derive(Debug)]
pub struct Shown {
    /// For the listener.
    pub config: RustlsConfig,
    task: JoinHandle<()>,
}

impl Drop for Shown {
    fn drop(&mut self) {
        self.task.abort();
    }
}

/// Shows a certificate and follows it, looking every `every`. What became of each look is told: a renewal that fails leaves
/// what is shown.
pub fn refreshed(
    trust: Trust,
    now_ms: fn() -> i64,
    every: Duration,
    tell: impl Fn(Result<(), TlsError>) + Send + 'static,
) -> Result<Shown, TlsError> {
    let mut seen = trust.seen(now_ms())?;
    let config = RustlsConfig::from_config(Arc::new(trust.config(now_ms())?));
    let live = config.clone();
    let task = tokio::spawn(async move {
        loop {
            tokio::time::sleep(every).await;
            let renewed = trust.seen(now_ms()).and_then(|now| {
                if now != seen {
                    live.reload_from_config(Arc::new(trust.config(now_ms())?));
                    seen = now;
                }
                Ok(())
            });
            tell(renewed);
        }
    });
    Ok(Shown { config, task })
}

/// The farm's own certificate for the machine as it is called now.
fn leaf(folder: &Path, name: Option<&str>, now_ms: i64) -> Result<Leaf, TlsError> {
    let authority = Authority::of(folder, now_ms)?;
    Leaf::of(folder, &authority, &Names::of_machine(name), now_ms)
}

fn config(chain: &str, key: &str) -> Result<ServerConfig, Box<dyn std::error::Error>> {
    let chain: Vec<_> =
        CertificateDer::pem_slice_iter(chain.as_bytes()).collect::<Result<_, _>>()?;
    let key = PrivateKeyDer::from_pem_slice(key.as_bytes())?;
    let provider = Arc::new(ring::default_provider());
    let mut config = ServerConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()?
        .with_no_client_auth()
        .with_single_cert(chain, key)?;
    config.alpn_protocols = vec![b"h2".to_vec(), b"http/1.1".to_vec()];
    Ok(config)
}
