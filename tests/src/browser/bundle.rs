//! What the builder says of the set that the office serves.

use super::prepared;
use serde::Deserialize;

/// The set's manifest. Sizes are in bytes.
#[derive(Debug, Deserialize)]
pub struct Bundle {
    /// The set's name.
    pub set: String,
    /// Its files.
    pub files: Vec<Listed>,
}

/// One file of the set.
#[derive(Debug, Deserialize)]
pub struct Listed {
    /// What it is for, such as `app-wasm`.
    pub role: String,
    /// Its name under `/b/`.
    pub name: String,
    /// Size as it is.
    pub raw: u64,
    /// Size in brotli.
    pub br: u64,
    /// Size in gzip.
    pub gz: u64,
}

impl Bundle {
    /// The set that was built for this test run.
    pub fn built() -> Self {
        let path = prepared("PENTALLY_BUNDLE").join("manifest.json");
        let json = std::fs::read(&path).expect("the bundle has a manifest");
        serde_json::from_slice(&json).expect("the manifest is the builder's")
    }

    /// The name of the file with this role.
    pub fn name_of(&self, role: &str) -> &str {
        let found = self.files.iter().find(|file| file.role == role);
        &found
            .unwrap_or_else(|| panic!("no file has the role {role}"))
            .name
    }

    /// What a first visit fetches in brotli before its screens stand: all but the scanner, and but the
    /// screens of bench and office, which come behind them.
    pub fn first_visit_bytes(&self) -> u64 {
        let other = ["scanner", "office"];
        let fetched = self
            .files
            .iter()
            .filter(|file| !other.iter().any(|role| file.role.starts_with(role)));
        fetched.map(|file| file.br.min(file.raw)).sum()
    }
}
