//! Writes the golden files of each set that has none yet, once. It refuses to overwrite: bytes that
//! were written on farms stay readable for ever, so these files are never regenerated to make a
//! test pass.

#[path = "../golden/care.rs"]
mod care;
#[path = "../golden/evaluation.rs"]
mod evaluation;
#[path = "../golden/laboratory.rs"]
mod laboratory;
#[allow(dead_code, reason = "the test uses more of it")]
#[path = "../golden/said.rs"]
mod said;
#[path = "../golden/thread.rs"]
mod thread;
#[path = "../golden/training.rs"]
mod training;
#[path = "../golden/watch.rs"]
mod watch;

use pentally_domain::barn::Barn;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use std::error::Error;
use std::fs::OpenOptions;
use std::io::Write;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let golden = Path::new(env!("CARGO_MANIFEST_DIR")).join("golden");
    let sets = [
        ("", said::said()),
        ("training", training::said()),
        ("care", care::said()),
        ("watch", watch::said()),
        ("evaluation", evaluation::said()),
        ("laboratory", laboratory::said()),
    ];
    for (folder, said) in sets {
        let folder = golden.join(folder);
        if folder.join("entries.jsonl").exists() {
            println!("{} stands and stays", folder.display());
        } else {
            std::fs::create_dir_all(&folder)?;
            write(&folder, &said)?;
        }
    }
    Ok(())
}

fn write(folder: &Path, all: &[(&str, Entry, Option<Fact>)]) -> Result<(), Box<dyn Error>> {
    let hex = |bytes: Vec<u8>| bytes.iter().map(|b| format!("{b:02x}")).collect::<String>();
    let mut barn = Barn::default();
    for (_, entry, _) in all {
        barn.apply(entry);
    }
    let ledgers: Vec<_> = barn
        .ledgers()
        .map(serde_json::to_string)
        .collect::<Result<_, _>>()?;
    let files = [
        (
            "entries.jsonl",
            all.iter().map(|(_, e, _)| e.to_line()).collect(),
        ),
        (
            "entries.hex",
            all.iter().map(|(_, e, _)| hex(e.to_bytes())).collect(),
        ),
        (
            "entries.sha256",
            all.iter()
                .map(|(name, e, _)| format!("{}  {name}", e.hash()))
                .collect(),
        ),
        ("ledgers.jsonl", ledgers),
    ];
    if let Some((name, _)) = files.iter().find(|(name, _)| folder.join(name).exists()) {
        return Err(format!("{name} exists: golden files are written once and never again").into());
    }
    for (name, lines) in files {
        let mut file = OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(folder.join(name))?;
        lines
            .iter()
            .try_for_each(|line: &String| writeln!(file, "{line}"))?;
    }
    Ok(())
}
