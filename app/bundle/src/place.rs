//! Where things lie in the work tree.

use std::path::{Path, PathBuf};

/// The root of the work tree.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_owned()
}

/// The finished set, as the server embeds it.
pub fn bundle() -> PathBuf {
    root().join("target/bundle")
}

/// The nested build's own target directory: sharing the outer one would make the
/// two builds wait for each other's lock.
pub fn wasm_target() -> PathBuf {
    root().join("target/wasm")
}

/// Cargo's target directory of the outer build.
pub fn target() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from)
}

/// The server binary that a build of `profile` ("debug" or "release") leaves.
pub fn server(profile: &str) -> PathBuf {
    let name = format!("pentally{}", std::env::consts::EXE_SUFFIX);
    target().join(profile).join(name)
}
