//! Where the barn is on the farm's network: what was chosen once, and what is open now.

use crate::tls::{Authority, NameError, Names, Trust, borne_name, local_name};
use pentally_domain::pairing::Network as Told;
use serde::{Deserialize, Serialize};
use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};
use tokio::sync::watch;

/// The port of https, unless another is said.
pub const HTTPS_PORT: u16 = 8443;
/// The port of the page that explains, unless another is said.
pub const STEPS_PORT: u16 = 8480;

const FILE: &str = "network.json";
/// The folder of the authority and of the server's certificate.
pub const FOLDER: &str = "tls";

/// What was chosen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Setting {
    /// A local name or a private address; with a certificate of the farm's own, what that bears.
    pub name: String,
    /// The port of https, which is part of the address on the tags.
    pub port: u16,
}

/// What the command line says about it.
#[derive(Debug, Clone, Default)]
pub struct Said {
    /// Where https listens.
    pub https: Option<SocketAddr>,
    /// Where the page that explains listens.
    pub steps: Option<SocketAddr>,
    /// A chain and its key that the farm brought.
    pub own: Option<(PathBuf, PathBuf)>,
}

/// See the module's words. Cheap to copy.
#[derive(Debug, Clone)]
pub struct Network(Arc<Inner>);

#[derive(Debug)]
struct Inner {
    data: PathBuf,
    said: Said,
    chosen: watch::Sender<Option<Setting>>,
    trouble: RwLock<Option<String>>,
}

impl Network {
    /// What was chosen before for this data folder.
    pub fn of(data: &Path, said: Said) -> io::Result<Self> {
        let chosen = match std::fs::read(data.join(FILE)) {
            Ok(bytes) => Some(serde_json::from_slice(&bytes).map_err(|e| {
                let place = data.join(FILE);
                io::Error::other(format!(
                    "{} does not read: {e}; remove it and choose the name again in the office",
                    place.display()
                ))
            })?),
            Err(error) if error.kind() == io::ErrorKind::NotFound => None,
            Err(error) => return Err(error),
        };
        Ok(Self(Arc::new(Inner {
            data: data.to_owned(),
            said,
            chosen: watch::Sender::new(chosen),
            trouble: RwLock::default(),
        })))
    }

    /// Reads the name or address that somebody wants on the tags: a local one, or with a certificate
    /// of the farm's own one that it bears.
    pub fn named(&self, text: &str) -> Result<String, NameError> {
        match &self.0.said.own {
            Some((certificate, _)) => borne_name(text, certificate),
            None => local_name(text),
        }
    }

    /// What is chosen now.
    pub fn chosen(&self) -> Option<Setting> {
        self.0.chosen.borrow().clone()
    }

    /// Follows what is chosen.
    pub fn follow(&self) -> watch::Receiver<Option<Setting>> {
        self.0.chosen.subscribe()
    }

    /// Chooses a name: kept on the disk first.
    pub fn choose(&self, name: String) -> io::Result<Setting> {
        let setting = Setting {
            name,
            port: self.https_at(HTTPS_PORT).port(),
        };
        let place = self.0.data.join(FILE);
        let beside = place.with_extension("new");
        std::fs::write(&beside, serde_json::to_vec_pretty(&setting)?)?;
        std::fs::File::open(&beside)?.sync_all()?;
        std::fs::rename(beside, place)?;
        self.0.chosen.send_replace(Some(setting.clone()));
        Ok(setting)
    }

    /// The address on the tags.
    pub fn origin(&self) -> Option<String> {
        self.chosen()
            .map(|setting| format!("https://{}:{}", setting.name, setting.port))
    }

    /// Where https listens.
    pub fn https_at(&self, port: u16) -> SocketAddr {
        self.0.said.https.unwrap_or_else(|| anywhere(port))
    }

    /// Where the page that explains listens.
    pub fn steps_at(&self) -> SocketAddr {
        self.0.said.steps.unwrap_or_else(|| anywhere(STEPS_PORT))
    }

    /// Where the certificate for a name comes from.
    pub fn trust(&self, setting: &Setting) -> Trust {
        match &self.0.said.own {
            Some((certificate, key)) => Trust::Own {
                certificate: certificate.clone(),
                key: key.clone(),
            },
            None => Trust::Farm {
                folder: self.0.data.join(FOLDER),
                name: Some(setting.name.clone()),
            },
        }
    }

    /// The farm's authority; none with certificates of one's own. `now_ms` is ms since 1970.
    pub fn authority(&self, now_ms: i64) -> Option<Result<Authority, crate::tls::TlsError>> {
        let folder = self.0.data.join(FOLDER);
        let has_own = self.0.said.own.is_some();
        (!has_own).then(|| Authority::of(&folder, now_ms))
    }

    /// Notes why https is not open, or that it is.
    pub fn set_trouble(&self, trouble: Option<String>) {
        *self
            .0
            .trouble
            .write()
            .unwrap_or_else(PoisonError::into_inner) = trouble;
    }

    /// How things stand. `now_ms` is ms since 1970.
    pub fn told(&self, has_owner: bool, now_ms: i64) -> Told {
        let machine = Names::of_machine(None);
        let reachable: Vec<IpAddr> = machine.reachable().collect();
        let origin = self.origin();
        let steps = self.steps_at();
        let step = |ip: &IpAddr| format!("http://{}", SocketAddr::new(*ip, steps.port()));
        let open: Vec<IpAddr> = if steps.ip().is_unspecified() {
            reachable.clone()
        } else {
            vec![steps.ip()]
        };
        let authority = origin.as_ref().and_then(|_| self.authority(now_ms));
        let (fingerprint, broken) = match authority {
            Some(Ok(authority)) => (Some(authority.fingerprint()), None),
            Some(Err(error)) => (None, Some(error.to_string())),
            None => (None, None),
        };
        let trouble = self
            .0
            .trouble
            .read()
            .unwrap_or_else(PoisonError::into_inner);
        Told {
            steps: origin.iter().flat_map(|_| open.iter().map(step)).collect(),
            origin,
            fingerprint,
            addresses: reachable.iter().map(ToString::to_string).collect(),
            has_owner,
            trouble: trouble.clone().or(broken),
        }
    }
}

fn anywhere(port: u16) -> SocketAddr {
    SocketAddr::new(Ipv4Addr::UNSPECIFIED.into(), port)
}
