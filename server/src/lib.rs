//! Pentally's office: the store, sync, pages and the command line.

pub mod access;
pub mod backups;
pub mod bundle;
pub mod calendar;
pub mod carry;
pub mod cli;
pub mod climate;
pub mod http;
pub mod import;
pub mod invented;
pub mod moment;
pub mod network;
pub mod outlook;
pub mod paint;
pub mod print;
mod quiet;
pub mod serve;
pub mod store;
pub mod tags;
pub mod tls;
pub mod zone;
