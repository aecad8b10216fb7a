// The kinds that came with what is looked after and with teaching people, in a thread of their
// own, so that what was frozen before stays as it is. Only ever add to the end of this list.

use pentally_domain::check::{Check, CheckDays, Found, Thing};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::id::{BoarId, EntryId, PersonId};
use pentally_domain::said::Remark;
use pentally_domain::teaching::{SignOff, Supervised, Work};

/// 2026-11-23 06:05 UTC.
const BEGIN_MS: i64 = 1_795_413_900_000;

fn person(n: u8) -> PersonId {
    PersonId::v7(BEGIN_MS, [n; 10])
}

fn facts() -> Vec<(&'static str, Fact)> {
    let check = |what, answer, remark: Option<&str>| {
        let remark = remark.map(|text| Remark::parse(text).expect("a remark"));
        Fact::Check(Check {
            what,
            answer,
            remark,
        })
    };
    let standard = Standard {
        checks: CheckDays {
            area: 3,
            stage: 0,
            ..CheckDays::default()
        },
        supervised_times: 12,
        ..Standard::default()
    };
    let alone = Supervised {
        person: person(1),
        by: person(2),
        work: Work::Training,
        record: None,
        boar: None,
    };
    let with_record = Supervised {
        work: Work::Collection,
        record: Some(EntryId::v7(BEGIN_MS, [7; 10])),
        boar: Some(BoarId::v7(BEGIN_MS, [5; 10])),
        ..alone
    };
    let sign_off = SignOff {
        person: person(1),
        by: person(2),
        work: Work::Collection,
        counted: 12,
        asked: 12,
    };
    vec![
        ("check", check(Thing::Footing, Found::Fine, None)),
        (
            "check_not_fine",
            check(
                Thing::DummyStands,
                Found::NotFine,
                Some("Cojea «atrás»; tornillo suelto"),
            ),
        ),
        ("standard_with_care", Fact::Standard(standard)),
        ("supervised", Fact::Supervised(alone)),
        ("supervised_record", Fact::Supervised(with_record)),
        ("sign_off", Fact::SignOff(sign_off)),
    ]
}

/// Names, entries and the facts that must be read from them.
pub fn said() -> Vec<(&'static str, Entry, Option<Fact>)> {
    super::thread::written(BEGIN_MS, facts())
}
