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

/// Where a phone asks to come in, and from there back to the tag that was scanned.
pub fn pair(from: &str) -> String {
    if from.starts_with(TAGS) {
        format!("{PAIR}?to={from}")
    } else {
        PAIR.to_owned()
    }
}

/// Where a phone goes once it is in: to the tag that was scanned, and nowhere else on the word
/// of an address.
pub fn from_pair(to: Option<&str>) -> &str {
    to.filter(|to| to.starts_with(TAGS)).unwrap_or("/")
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

/// A work step by step, or practice of it.
pub fn learn(what: &str) -> String {
    format!("{LEARN}/{what}")
}

/// A semen batch.
pub fn batch(entry: EntryId) -> String {
    format!("/batch/{entry}")
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
        assert_eq!(from_pair(Some("/T/123456")), "/T/123456");
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
