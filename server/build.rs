//! Rebuilds the server when the phone's half has changed, and tells it which set
//! it carries. Without a bundle the server still builds; it then says so in place
//! of its pages.

use std::path::Path;
use std::{fs, io};

fn main() -> io::Result<()> {
    let dir = Path::new("../target/bundle");
    // The folder must exist: cargo takes a missing watched path for a change, and
    // would build the server anew each time.
    fs::create_dir_all(dir)?;
    println!("cargo::rerun-if-changed={}", dir.display());
    println!("cargo::rerun-if-changed=build.rs");
    let manifest = fs::read_to_string(dir.join("manifest.json")).unwrap_or_default();
    println!("cargo::rustc-env=PENTALLY_SET={}", set_of(&manifest));
    Ok(())
}

/// The value of the manifest's first key, which is `set`.
fn set_of(manifest: &str) -> &str {
    let mut quoted = manifest.split('"').skip(1).step_by(2);
    match (quoted.next(), quoted.next()) {
        (Some("set"), Some(id)) => id,
        _ => "",
    }
}
