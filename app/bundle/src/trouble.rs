//! What can go wrong on an errand, each with what to do about it.

use std::io;
use std::path::{Path, PathBuf};

/// Why an errand stopped.
#[derive(Debug, thiserror::Error)]
pub enum Trouble {
    /// A file could not be read or written.
    #[error("{path} could not be {done}: {source}.")]
    File {
        /// The file or folder.
        path: PathBuf,
        /// "read" or "written".
        done: &'static str,
        /// The system's word.
        source: io::Error,
    },
    /// A program could not be started at all.
    #[error("`{program}` could not be started: {source}. Is it installed and in PATH?")]
    Start {
        /// The program's name.
        program: String,
        /// The system's word.
        source: io::Error,
    },
    /// A program ran and said no.
    #[error("`{line}` failed; its own words stand above.")]
    Failed {
        /// The command line as a person would type it.
        line: String,
    },
    /// The wasm target is missing and could not be added.
    #[error(
        "Rust's target wasm32-unknown-unknown is missing and rustup could not add it. \
         Run `rustup target add wasm32-unknown-unknown` with a network, then try again."
    )]
    Target,
    /// wasm-bindgen did not take the module.
    #[error("wasm-bindgen refused {path}: {why}.")]
    Bindgen {
        /// The module.
        path: PathBuf,
        /// Its reason.
        why: String,
    },
    /// A page source names a file that the set has not.
    #[error("app/bundle/page/{page} names %{name}%, which is not in the set.")]
    Unfilled {
        /// The page source.
        page: &'static str,
        /// The name between the signs.
        name: String,
    },
    /// No browser for the browser tests.
    #[error(
        "The browser tests need Chromium, certutil, openssl and curl, and not all were found. Install them \
         (Debian: `sudo apt-get update && sudo apt-get install chromium libnss3-tools openssl curl`); \
         PENTALLY_CHROMIUM can name Chromium's path."
    )]
    Chromium,
    /// A program's answer was not what its documents promise.
    #[error("`{line}` answered what this errand cannot read: {source}.")]
    Answer {
        /// The command line.
        line: String,
        /// Where reading stopped.
        source: serde_json::Error,
    },
    /// A library under terms that nobody agreed to yet.
    #[error("Not on the list of accepted licences (app/bundle/src/licences.rs):\n{list}")]
    Licences {
        /// One library a line, with its terms.
        list: String,
    },
    /// The person typed what is no errand.
    #[error("{0}")]
    Usage(&'static str),
}

impl Trouble {
    /// A file that could not be read.
    pub fn reading(path: &Path) -> impl FnOnce(io::Error) -> Self + use<> {
        let path = path.to_owned();
        move |source| Self::File {
            path,
            done: "read",
            source,
        }
    }

    /// A file or folder that could not be written.
    pub fn writing(path: &Path) -> impl FnOnce(io::Error) -> Self + use<> {
        let path = path.to_owned();
        move |source| Self::File {
            path,
            done: "written",
            source,
        }
    }

    /// Whether the command line was at fault (exit code 2).
    pub const fn is_usage(&self) -> bool {
        matches!(self, Self::Usage(_))
    }
}
