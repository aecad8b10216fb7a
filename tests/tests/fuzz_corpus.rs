//! What the fuzzer found worth keeping is sent again. See `tests/fuzz`.

#[path = "../fuzz/bodies.rs"]
mod bodies;

use std::fs;
use std::path::{Path, PathBuf};

fn corpus(name: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("fuzz/corpus")
        .join(name);
    let files = fs::read_dir(&folder).unwrap();
    let mut files: Vec<_> = files.map(|file| file.unwrap().path()).collect();
    files.sort();
    assert!(
        files.len() > 2,
        "{} holds the seeds and what was found",
        folder.display()
    );
    files
}

#[test]
fn pushes_that_were_found_break_nothing() {
    let store = bodies::store();
    let files = corpus("sync");
    let pushes = files
        .iter()
        .filter(|file| bodies::push(&store, &fs::read(file).unwrap()));
    let pushes = pushes.count();
    println!("{pushes} of {} read as pushes", files.len());
    assert!(pushes > 0);
    store.check().unwrap();
    let entries = store.standing().unwrap().cursor.n;
    // Threads of several sets of frozen entries meet here, so some of theirs conflict.
    assert!(entries > 20, "the seeds are every kind: {entries}");
}

#[test]
fn papers_that_were_found_break_nothing() {
    corpus("papers")
        .iter()
        .for_each(|file| bodies::paper(&fs::read(file).unwrap()));
}
