//! Https on the farm's own network, with certificates that nobody has to buy.
//!
//! An authority is made on first use and stays for good: phones trust it once. It vouches for
//! private addresses and local names only, so that whoever stole it could not pose as a bank. The
//! server's own certificate is made anew when it nears its end or the machine's addresses change.

mod authority;
mod file;
mod leaf;
mod names;
mod own;
mod trust;

pub use authority::Authority;
pub use leaf::Leaf;
pub use names::{NameError, Names, local_name};
pub use own::borne_name;
pub use trust::{LOOK_EVERY, Shown, Trust, refreshed};

use std::io;
use std::path::PathBuf;

/// Why there is no https.
#[derive(Debug, thiserror::Error)]
pub enum TlsError {
    /// A file could not be read or written.
    #[error("{}: {source}", .place.display())]
    File {
        /// Which.
        place: PathBuf,
        /// What the operating system said.
        source: io::Error,
    },
    /// A file of the authority is there and cannot be used.
    #[error(
        "{} cannot be used ({why}). Phones trust this authority, so it is not replaced: bring \
         its folder back from a copy. Only if there is none, remove the whole folder, and let \
         every phone trust the new authority",
        .place.display()
    )]
    Authority {
        /// Which.
        place: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// A certificate or key of one's own cannot be used.
    #[error(
        "{} cannot be used: {why}. Give a chain and its key in PEM", .place.display()
    )]
    Own {
        /// Which.
        place: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// An authority made under such a clock would have ended long ago.
    #[error("this machine's clock was never set: set date and time, then open the barn again")]
    Clock,
    /// The libraries said no.
    #[error("no certificate could be made: {0}")]
    Library(String),
}

impl From<rcgen::Error> for TlsError {
    fn from(error: rcgen::Error) -> Self {
        Self::Library(error.to_string())
    }
}

impl From<rustls::Error> for TlsError {
    fn from(error: rustls::Error) -> Self {
        Self::Library(error.to_string())
    }
}
