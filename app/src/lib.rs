//! Pentally's screens and the phone's side of the log.

pub mod words;

#[cfg(feature = "csr")]
mod start;
