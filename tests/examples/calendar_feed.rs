//! Writes `calendar/feed.ics`, which `calendar/parse.py` hands to other parsers.

#[path = "../calendar/invented.rs"]
mod invented;

use pentally_server::calendar::calendar;
use std::path::Path;

fn main() -> std::io::Result<()> {
    let feed = calendar(invented::FARM, &invented::events(), invented::NOW_MS);
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("calendar");
    std::fs::write(folder.join("feed.ics"), feed)
}
