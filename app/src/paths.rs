//! The addresses of the screens, written in one place.

#[cfg(feature = "office")]
use pentally_domain::boar::CullFor;
use pentally_domain::code::Code;
use pentally_domain::id::{BoarId, EntryId, PenId, SowId};

/// What is due, rests, waits.
pub const TODAY: &str = "/today";
/// What waits for the bench.
pub const BENCH: &str = "/bench";
/// So many sows stand: what do they take?
pub const SOWS_STAND: &str = "/bench/sows";
/// The instruments and their curves.
pub const INSTRUMENTS: &str = "/instruments";
/// An instrument that has no curve yet.
#[cfg(feature = "office")]
pub const INSTRUMENT_NEW: &str = "/instruments/new";
/// Everything else.
pub const MORE: &str = "/more";
/// Scan a tag or type its code.
pub const SCAN: &str = "/scan";
/// All boars.
pub const BOARS: &str = "/boars";
/// A new boar.
pub const BOAR_NEW: &str = "/boars/new";
/// Those in training.
pub const TRAINING: &str = "/training";
/// Whether training works.
pub const EVIDENCE: &str = "/training/evidence";
/// All pens.
pub const PENS: &str = "/pens";
/// All sows.
pub const SOWS: &str = "/sows";
/// The log.
pub const LOG: &str = "/log";
/// Lots and mixes of extender.
pub const EXTENDER: &str = "/extender";
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
/// Where a phone asks to come in.
pub const PAIR: &str = "/pair";
/// The phones that were let in, and how another one is.
pub const PHONES: &str = "/phones";
/// The barn on the farm's network.
pub const NETWORK: &str = "/network";
/// What is looked after at intervals.
pub const CHECKS: &str = "/checks";
/// Whose output fell.
pub const WATCH: &str = "/watch";
/// Who is due in the coming days.
pub const WEEK: &str = "/week";
/// How warm it is.
pub const CLIMATE: &str = "/climate";
/// Boars side by side.
pub const COMPARE: &str = "/compare";
/// The work, step by step, for whoever learns it.
pub const LEARN: &str = "/learn";
/// The card for the bad moment.
pub const BAD_MOMENT: &str = "/bad-moment";

/// How the addresses of all tags begin.
const TAGS: &str = "/T/";
/// How the addresses of all labels of semen batches begin.
const BATCHES: &str = "/B/";

fn is_scanned(path: &str) -> bool {
    path.starts_with(TAGS) || path.starts_with(BATCHES)
}

/// Where a phone asks to come in, and from there back to the tag or label that was scanned.
pub fn pair(from: &str) -> String {
    if is_scanned(from) {
        format!("{PAIR}?to={from}")
    } else {
        PAIR.to_owned()
    }
}

/// Where a phone goes once it is in: to the tag or label that was scanned, and nowhere else on the
/// word of an address.
pub fn from_pair(to: Option<&str>) -> &str {
    to.filter(|to| is_scanned(to)).unwrap_or("/")
}

/// A pen's tag, in its canonical form.
pub fn tag(code: Code) -> String {
    format!("/T/{}", code.digits())
}

/// A boar's page.
pub fn boar(id: BoarId) -> String {
    format!("/boar/{id}")
}

/// Something about a boar: `collect`, `train`, `off`, `move`, `note`, `edit`, `same`,
/// `output`.
pub fn boar_do(id: BoarId, what: &str) -> String {
    format!("/boar/{id}/{what}")
}

/// Off collection, to be culled for that reason.
#[cfg(feature = "office")]
pub fn cull(id: BoarId, why: CullFor) -> String {
    format!("/boar/{id}/off?cull={}", why.word())
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

/// An instrument, by the entry of a curve of its.
#[cfg(feature = "office")]
pub fn instrument(curve: EntryId) -> String {
    format!("{INSTRUMENTS}/{curve}")
}

/// A new curve of an instrument that has one.
#[cfg(feature = "office")]
pub fn instrument_curve(curve: EntryId) -> String {
    format!("{INSTRUMENTS}/{curve}/curve")
}

/// A work step by step, or practice of it.
pub fn learn(what: &str) -> String {
    format!("{LEARN}/{what}")
}

/// A semen batch.
pub fn batch(entry: EntryId) -> String {
    format!("/batch/{entry}")
}

/// The batch that bears a code.
pub fn batch_code(code: Code) -> String {
    pentally_domain::label::path(code)
}

/// Labels of a batch.
pub fn labels(entry: EntryId) -> String {
    format!("/batch/{entry}/labels")
}

/// Doses of a batch onto sows.
pub fn serve(entry: EntryId) -> String {
    format!("/batch/{entry}/use")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phone_that_came_from_a_tag_goes_back_to_it_and_nowhere_else() {
        assert_eq!(pair("/T/123456"), "/pair?to=/T/123456");
        assert_eq!(pair("/boars"), "/pair");
        assert_eq!(pair("/B/123450"), "/pair?to=/B/123450");
        assert_eq!(from_pair(Some("/T/123456")), "/T/123456");
        assert_eq!(from_pair(Some("/B/123450")), "/B/123450");
        for other in [
            None,
            Some(""),
            Some("/log"),
            Some("T/123456"),
            Some("//T/123456"),
            Some("https://other.example/T/1"),
        ] {
            assert_eq!(from_pair(other), "/", "{other:?}");
        }
    }
}
