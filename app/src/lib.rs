//! Pentally's screens and the phone's side of the log.

pub mod words;
