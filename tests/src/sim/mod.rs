//! Whole histories of phones, an office and a network that misbehaves, from a seed.
//!
//! The phones' writing, packing, reading of receipts and re-issuing are the app's own pure
//! functions and the domain's outbox; the office is the server's own store in memory, its backups
//! real files. Only the browser's storage is modelled ([`disk`]): transactions that commit whole or
//! not at all, and a process that may die at any point where the app awaits.

pub mod bug;
mod dice;
mod disk;
mod events;
mod faults;
mod judge;
mod misfortune;
mod network;
mod office;
mod oracle;
mod phone;
mod phone_pull;
mod phone_push;
mod said;
mod watch;
mod world;

pub use bug::Bug;
pub use faults::{At, Counts, Fault};
pub use judge::Broken;
pub use world::{Report, history};
