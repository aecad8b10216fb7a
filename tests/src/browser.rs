//! A real office, real phones: the server as a process that can be killed, and
//! Chromium as a phone that can be dropped in the mud.
//!
//! ```no_run
//! # use pentally_tests::browser::{Office, Phone};
//! # async fn story() {
//! let mut office = Office::open();
//! let mut phone = Phone::new(&office).await;
//! let page = phone.open("/").await;
//! page.kept_for_offline().await;
//! office.kill();
//! phone.kill();
//! phone.restart().await;
//! phone.open("/T/123456").await.sees("123456").await;
//! # }
//! ```
#![expect(
    clippy::panic,
    clippy::expect_used,
    clippy::missing_panics_doc,
    reason = "a harness fails by stopping the test"
)]

mod bundle;
mod finger;
pub mod hands;
mod invented;
mod office;
mod page;
mod phone;
mod wait;
mod watch;

pub use bundle::{Bundle, Listed};
pub use invented::{Standing, invented_barn};
pub use office::Office;
pub use page::Page;
pub use phone::Phone;

use std::path::PathBuf;

/// What `cargo xtask test` prepared under this name.
fn prepared(variable: &str) -> PathBuf {
    let Some(value) = std::env::var_os(variable) else {
        panic!(
            "{variable} is not set: browser tests need what `cargo xtask test` builds. Run that."
        )
    };
    value.into()
}

/// The root of the work tree.
fn root() -> PathBuf {
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    here.parent().map_or_else(|| here.clone(), PathBuf::from)
}
