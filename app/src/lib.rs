//! Pentally's screens and the phone's side of the log.

pub mod device;
pub mod feed;
pub mod parts;
pub mod words;

#[cfg(feature = "csr")]
mod start;
