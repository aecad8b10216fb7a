//! Pentally's office: the store, sync, pages and the command line.

pub mod bundle;
pub mod store;
pub mod tags;
