//! Pentally's screens and the phone's side of the log.

pub mod act;
pub mod device;
pub mod feed;
pub mod keeping;
pub mod office;
pub mod pages;
pub mod parts;
pub mod paths;
pub mod screens;
pub mod tell;
pub mod words;

#[cfg(feature = "csr")]
mod start;
