//! Barns, phones and a network that misbehaves.

#[cfg(feature = "browser")]
pub mod browser;
pub mod camera;
