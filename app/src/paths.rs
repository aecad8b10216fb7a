//! The addresses of the screens, written in one place.

use pentally_domain::code::Code;
use pentally_domain::id::{BoarId, EntryId, PenId, SowId};

/// What is due, rests, waits.
pub const TODAY: &str = "/today";
/// What waits for the bench.
pub const BENCH: &str = "/bench";
/// Everything else.
pub const MORE: &str = "/more";
/// Scan a tag or type its code.
pub const SCAN: &str = "/scan";
/// All boars.
pub const BOARS: &str = "/boars";
/// A new boar.
pub const BOAR_NEW: &str = "/boars/new";
/// All pens.
pub const PENS: &str = "/pens";
/// All sows.
pub const SOWS: &str = "/sows";
/// The log.
pub const LOG: &str = "/log";
/// The farm standard.
pub const STANDARD: &str = "/standard";
/// Who works here.
pub const PEOPLE: &str = "/people";
/// Bring in a list.
pub const IMPORT: &str = "/import";
/// Backup and this phone's records.
pub const BACKUP: &str = "/backup";
/// What the office did not accept.
pub const ASIDE: &str = "/aside";
/// The card for the bad moment.
pub const BAD_MOMENT: &str = "/bad-moment";

/// A pen's tag, in its canonical form.
pub fn tag(code: Code) -> String {
    format!("/T/{}", code.digits())
}

/// A boar's page.
pub fn boar(id: BoarId) -> String {
    format!("/boar/{id}")
}

/// Something about a boar: `collect`, `off`, `move`, `note`, `edit`, `same`.
pub fn boar_do(id: BoarId, what: &str) -> String {
    format!("/boar/{id}/{what}")
}

/// A pen's page.
pub fn pen(id: PenId) -> String {
    format!("/pen/{id}")
}

/// A sow's page.
pub fn sow(id: SowId) -> String {
    format!("/sow/{id}")
}

/// A collection at the bench.
pub fn bench(collection: EntryId) -> String {
    format!("/bench/{collection}")
}

/// The doses of a collection.
pub fn doses(collection: EntryId) -> String {
    format!("/bench/{collection}/doses")
}

/// A semen batch.
pub fn batch(entry: EntryId) -> String {
    format!("/batch/{entry}")
}

/// Doses of a batch onto sows.
pub fn serve(entry: EntryId) -> String {
    format!("/batch/{entry}/use")
}
