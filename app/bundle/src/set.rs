//! One hashed set: what a phone fetches together, or not at all.

use crate::compress;
use crate::pages::{self, Page};
use crate::place;
use crate::trouble::Trouble;
use crate::wasm::{self, Care, Module};
use serde::Serialize;
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// Builds the set and lays it in `target/bundle`.
pub fn build(care: Care) -> Result<Manifest, Trouble> {
    wasm::ensure_target()?;
    let mut set = Set::default();
    // Quick builds make the screens once: the office's module holds the barn's too.
    let barn = match care {
        Care::Real => wasm::barn(care)?,
        Care::Fast => wasm::office(care)?,
    };
    set.add_module(["app-wasm", "app-js", "app-part"], barn);
    let office = wasm::office(care)?;
    set.add_module(["office-wasm", "office-js", "app-part"], office);
    let scanner = wasm::scanner(care)?;
    set.add_module(["scanner-wasm", "scanner-js", "scanner-part"], scanner);
    for (role, page) in [
        ("scanner-worker", pages::SCAN_WORKER),
        ("scanner", pages::SCAN),
    ] {
        let script = set.filled(&page)?;
        set.add(role, "js", script.into());
    }
    set.add("css", "css", sheets(&place::root().join("style"))?);
    set.add(
        "drawings",
        "svg",
        drawings(&place::root().join("style/drawings.svg"))?,
    );
    set.add("icon", "svg", pages::ICON.into());
    set.add("icon-touch", "png", pages::ICON_180.into());
    let boot = set.filled(&pages::BOOT)?;
    set.add("boot", "js", boot.into());
    set.close()?;
    set.lay(&place::bundle())
}

/// What `manifest.json` says of the set. Sizes are in bytes.
#[derive(Debug, Serialize)]
pub struct Manifest {
    /// The set's name: a hash over all of it.
    pub set: String,
    /// Every file, in the order in which it was made.
    pub files: Vec<Listed>,
}

/// One file of the manifest.
#[derive(Debug, Serialize)]
pub struct Listed {
    /// What it is for, such as `app-wasm`.
    pub role: &'static str,
    /// Its file name.
    pub name: String,
    /// Size as it is.
    pub raw: usize,
    /// Size in brotli.
    pub br: usize,
    /// Size in gzip.
    pub gz: usize,
}

#[derive(Default)]
struct Set {
    id: String,
    files: Vec<File>,
}

struct File {
    role: &'static str,
    name: String,
    bytes: Vec<u8>,
}

impl Set {
    /// Adds a module, its glue pointed at the hashed names of the parts it imports.
    fn add_module(&mut self, [code, script, part]: [&'static str; 3], module: Module) {
        let mut glue = module.script;
        for found in module.parts {
            let address = self.add(part, "js", found.text.into());
            glue = glue.replace(&found.path, &address);
        }
        self.add(code, "wasm", module.code);
        self.add(script, "js", glue.into());
    }

    /// Adds a file named by its role and the hash of its bytes; gives its address.
    fn add(&mut self, role: &'static str, ending: &str, bytes: Vec<u8>) -> String {
        let name = format!("{role}-{}.{ending}", short_hash(&[&bytes]));
        let file = File { role, name, bytes };
        let address = file.address();
        // Two libraries may bring the same part; it is fetched once.
        if self.files.iter().all(|other| other.name != file.name) {
            self.files.push(file);
        }
        address
    }

    /// Names the set, then adds the pages that carry its name.
    fn close(&mut self) -> Result<(), Trouble> {
        let mut parts: Vec<&[u8]> = self.files.iter().map(|file| file.name.as_bytes()).collect();
        for page in [pages::SHELL, pages::WORKER, pages::WEB_APP] {
            parts.push(page.text.as_bytes());
        }
        self.id = short_hash(&parts);
        let shell = self.filled(&pages::SHELL)?;
        self.add("shell", "html", shell.into());
        for (role, page) in [("web-app", pages::WEB_APP), ("worker", pages::WORKER)] {
            let bytes = self.filled(&page)?.into();
            self.files.push(File {
                role,
                name: page.name.to_owned(),
                bytes,
            });
        }
        Ok(())
    }

    fn filled(&self, page: &Page) -> Result<String, Trouble> {
        page.filled(|name| match name {
            "set" => Some(self.id.clone()),
            "files" => serde_json::to_string_pretty(&self.addresses(false)).ok(),
            "later" => serde_json::to_string_pretty(&self.addresses(true)).ok(),
            role => self
                .files
                .iter()
                .find(|file| file.role == role)
                .map(File::address),
        })
    }

    /// What a phone fetches with its first visit, or what it fetches later.
    fn addresses(&self, later: bool) -> Vec<String> {
        let wanted = self.files.iter().filter(|file| file.is_later() == later);
        wanted.map(File::address).collect()
    }

    /// Writes what is new, then the manifest, then removes what is no longer named.
    fn lay(&self, dir: &Path) -> Result<Manifest, Trouble> {
        fs::create_dir_all(dir).map_err(Trouble::writing(dir))?;
        let mut listed = Vec::new();
        for file in &self.files {
            listed.push(file.lay(dir)?);
        }
        let manifest = Manifest {
            set: self.id.clone(),
            files: listed,
        };
        let path = dir.join("manifest.json");
        let json = serde_json::to_vec_pretty(&manifest)
            .map_err(|why| Trouble::writing(&path)(why.into()))?;
        write_changed(&path, &json)?;
        remove_strangers(dir, &manifest)?;
        Ok(manifest)
    }
}

impl File {
    /// The office's screens: a phone works in the barn without them.
    fn is_later(&self) -> bool {
        self.role.starts_with("office-")
    }

    fn address(&self) -> String {
        match self.role {
            "web-app" | "worker" => format!("/{}", self.name),
            _ => format!("/b/{}", self.name),
        }
    }

    fn lay(&self, dir: &Path) -> Result<Listed, Trouble> {
        let path = dir.join(&self.name);
        let kept = holds(&path, &self.bytes);
        // The twins come first: a build stopped in between then starts over here.
        let br = pressed(&path, "br", kept, || compress::brotli(&self.bytes))?;
        let gz = pressed(&path, "gz", kept, || compress::gzip(&self.bytes))?;
        write_changed(&path, &self.bytes)?;
        Ok(Listed {
            role: self.role,
            name: self.name.clone(),
            raw: self.bytes.len(),
            br,
            gz,
        })
    }
}

/// The size of the compressed twin, made only when it is missing or outdated:
/// brotli at its best takes longer than all the rest.
fn pressed(
    path: &Path,
    ending: &str,
    kept: bool,
    press: impl FnOnce() -> std::io::Result<Vec<u8>>,
) -> Result<usize, Trouble> {
    let mut twin = path.as_os_str().to_owned();
    twin.push(".");
    twin.push(ending);
    let twin = Path::new(&twin);
    if kept && let Ok(found) = fs::metadata(twin) {
        return Ok(usize::try_from(found.len()).unwrap_or(usize::MAX));
    }
    let bytes = press().map_err(Trouble::writing(twin))?;
    write_changed(twin, &bytes)?;
    Ok(bytes.len())
}

/// Writes through a temporary name, so that a stopped build leaves no half file.
/// What is there already is left alone: its time tells cargo what to rebuild.
fn write_changed(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    if holds(path, bytes) {
        return Ok(());
    }
    let half = path.with_extension("half");
    fs::write(&half, bytes).map_err(Trouble::writing(&half))?;
    fs::rename(&half, path).map_err(Trouble::writing(path))
}

fn holds(path: &Path, bytes: &[u8]) -> bool {
    fs::read(path).is_ok_and(|found| found == bytes)
}

fn remove_strangers(dir: &Path, manifest: &Manifest) -> Result<(), Trouble> {
    let mut named = BTreeSet::from(["manifest.json".to_owned()]);
    for file in &manifest.files {
        named.extend(["", ".br", ".gz"].map(|ending| format!("{}{ending}", file.name)));
    }
    for entry in fs::read_dir(dir).map_err(Trouble::reading(dir))?.flatten() {
        if !named.contains(&*entry.file_name().to_string_lossy()) {
            fs::remove_file(entry.path()).map_err(Trouble::writing(&entry.path()))?;
        }
    }
    Ok(())
}

/// The style sheets as one: tokens first, then by name.
fn sheets(dir: &Path) -> Result<Vec<u8>, Trouble> {
    let mut paths = Vec::new();
    for entry in fs::read_dir(dir).map_err(Trouble::reading(dir))?.flatten() {
        if entry
            .path()
            .extension()
            .is_some_and(|ending| ending == "css")
        {
            paths.push(entry.path());
        }
    }
    paths.sort_by_key(|path| (!path.ends_with("tokens.css"), path.clone()));
    let mut out = Vec::new();
    for path in paths {
        out.extend(fs::read(&path).map_err(Trouble::reading(&path))?);
        out.push(b'\n');
    }
    Ok(out)
}

fn drawings(path: &Path) -> Result<Vec<u8>, Trouble> {
    fs::read(path).map_err(Trouble::reading(path))
}

/// The first 64 bits of SHA-256, in hex: enough to tell builds apart.
fn short_hash(parts: &[&[u8]]) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update(u64::try_from(part.len()).unwrap_or(u64::MAX).to_le_bytes());
        hash.update(part);
    }
    hash.finalize()[..8]
        .iter()
        .fold(String::new(), |hex, byte| hex + &format!("{byte:02x}"))
}
