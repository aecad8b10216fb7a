//! Sets once served stay served: a phone that was away for weeks may hold the
//! shell of one, and ask for a part of it that its browser threw out.

use super::{Files, Manifest, set_id};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};
use std::{fs, io};

/// How long a set is served after a newer one took its place.
const KEPT_FOR: Duration = Duration::from_secs(90 * 24 * 60 * 60);

/// The file in a set's folder whose time says when the set was last in service.
const SERVED: &str = "served";

/// The files of earlier sets, by name.
#[derive(Debug, Default)]
pub struct Kept {
    paths: BTreeMap<String, PathBuf>,
}

impl Kept {
    /// Where a hashed file of an earlier set lies.
    pub fn path_of(&self, name: &str) -> Option<&Path> {
        self.paths.get(name).map(PathBuf::as_path)
    }
}

/// Writes the embedded set into `data`/bundles, drops sets out of service for more
/// than 90 days, and finds the files of the others.
pub fn keep(data: &Path) -> io::Result<Kept> {
    let dir = data.join("bundles");
    fs::create_dir_all(&dir)?;
    if let Some(id) = set_id() {
        write_embedded(&dir.join(id))?;
        // Its time in service ends when a newer one comes, not when it began.
        serve(&dir, id, SystemTime::now())?;
    }
    remaining(&dir, SystemTime::now())
}

fn write_embedded(dir: &Path) -> io::Result<()> {
    if dir.join("manifest.json").exists() {
        return Ok(());
    }
    fs::create_dir_all(dir)?;
    // The manifest goes last: a set without one was not written to its end.
    let names = Files::iter().filter(|name| name != "manifest.json");
    for name in names.chain(["manifest.json".into()]) {
        if let Some(file) = Files::get(&name) {
            fs::write(dir.join(&*name), &file.data)?;
        }
    }
    Ok(())
}

/// Notes that `id` is in service from now on, and that the one before it was until now.
fn serve(dir: &Path, id: &str, now: SystemTime) -> io::Result<()> {
    let current = dir.join("current");
    let before = fs::read_to_string(&current).unwrap_or_default();
    for set in [before.as_str(), id] {
        let folder = dir.join(set);
        if !set.is_empty() && folder.is_dir() {
            fs::File::create(folder.join(SERVED))?.set_modified(now)?;
        }
    }
    fs::write(current, id)
}

fn remaining(dir: &Path, now: SystemTime) -> io::Result<Kept> {
    let mut kept = Kept::default();
    for entry in fs::read_dir(dir)? {
        let folder = entry?.path();
        if !folder.is_dir() {
            continue;
        }
        if age(&folder, now)? > KEPT_FOR {
            fs::remove_dir_all(&folder)?;
        } else {
            kept.add(&folder);
        }
    }
    Ok(kept)
}

fn age(folder: &Path, now: SystemTime) -> io::Result<Duration> {
    let served = fs::metadata(folder.join(SERVED)).or_else(|_| fs::metadata(folder))?;
    // A time ahead of this clock means a clock was set back: no reason to drop a set.
    Ok(now.duration_since(served.modified()?).unwrap_or_default())
}

impl Kept {
    /// Adds what the folder's manifest lists; a folder without a whole one adds nothing.
    fn add(&mut self, folder: &Path) {
        let read = fs::read(folder.join("manifest.json")).ok();
        let manifest: Option<Manifest> = read.and_then(|json| serde_json::from_slice(&json).ok());
        for file in manifest.into_iter().flat_map(|manifest| manifest.files) {
            if file.is_hashed() && is_plain(&file.name) {
                let path = folder.join(&file.name);
                self.paths.insert(file.name, path);
            }
        }
    }
}

/// A name that cannot lead out of its folder.
fn is_plain(name: &str) -> bool {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.');
    name.chars().all(plain) && !name.starts_with('.')
}

#[cfg(test)]
mod tests {
    use super::{KEPT_FOR, remaining, serve};
    use std::path::Path;
    use std::time::{Duration, SystemTime};
    use std::{env, fs, process};

    const DAY: Duration = Duration::from_secs(24 * 60 * 60);

    fn set_in(dir: &Path, id: &str) {
        fs::create_dir_all(dir.join(id)).unwrap();
        let file = format!("boot-{id}.js");
        let manifest = format!(r#"{{"set":"{id}","files":[{{"role":"boot","name":"{file}"}}]}}"#);
        fs::write(dir.join(id).join(&file), "start()").unwrap();
        fs::write(dir.join(id).join("manifest.json"), manifest).unwrap();
    }

    #[test]
    fn a_set_lives_ninety_days_after_its_last_day_in_service() {
        let dir = env::temp_dir().join(format!("pentally-kept-{}", process::id()));
        let start = SystemTime::now();
        set_in(&dir, "aa");
        serve(&dir, "aa", start).unwrap();
        set_in(&dir, "bb");
        let replaced = start + 200 * DAY;
        serve(&dir, "bb", replaced).unwrap();

        let soon = remaining(&dir, replaced + KEPT_FOR).unwrap();
        assert!(
            soon.path_of("boot-aa.js").is_some(),
            "it was in service for 200 days"
        );
        let late = remaining(&dir, replaced + KEPT_FOR + DAY).unwrap();
        assert!(late.path_of("boot-aa.js").is_none());
        assert!(!dir.join("aa").exists());
        fs::remove_dir_all(&dir).unwrap();
    }

    #[test]
    fn a_name_that_leads_elsewhere_is_not_taken_up() {
        for name in ["../boar.txt", "/etc/passwd", ".hidden", "a/b.js"] {
            assert!(!super::is_plain(name), "{name}");
        }
        assert!(super::is_plain("app-wasm-6c9442f692310732.wasm"));
    }
}
