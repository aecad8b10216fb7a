// How a set of golden entries is written: one device's thread, an entry a minute.

use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BarnId, DeviceId, FarmId, PersonId};
use pentally_domain::time::Stamp;
use pentally_domain::writer::{Head, Moment};

/// Each second entry names a person.
pub fn written(
    begin_ms: i64,
    facts: Vec<(&'static str, Fact)>,
) -> Vec<(&'static str, Entry, Option<Fact>)> {
    let mut head = Head::new(
        FarmId::v7(begin_ms, [0xfa; 10]),
        BarnId::v7(begin_ms, [0xba; 10]),
        DeviceId::v7(begin_ms, [0xde; 10]),
    );
    let mut written = vec![];
    for (n, (name, fact)) in (1_u8..).zip(facts) {
        let now = Stamp::new(begin_ms + i64::from(n) * 60_000, 60).expect("a stamp");
        let moment = Moment {
            now,
            occurred_at: now,
            random: [n; 10],
            person: (n % 2 == 0).then(|| PersonId::v7(begin_ms, [2; 10])),
        };
        let (entry, next) = head.write(&fact, moment).expect("an entry");
        head = next;
        written.push((name, entry, Some(fact)));
    }
    written
}
