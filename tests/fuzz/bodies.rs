// What is done with bytes from anywhere, by the fuzzer and by the test that sends its finds again.

use chrono::NaiveDate;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Farm;
use pentally_domain::reckon;
use pentally_domain::said::Label;
use pentally_domain::sync::Push;
use pentally_domain::time::{Stamp, Zone};
use pentally_server::store::{Birth, Home, Saying, Store};
use pentally_server::{climate, import};

/// 2026-03-28 08:00 UTC, two hours after the frozen entries were written.
const NOW_MS: i64 = 1_774_684_800_000;
const BIRTH: Birth = Birth {
    now_ms: NOW_MS,
    random: [1; 10],
};

/// An empty store of the farm whose entries are frozen: they are the seeds.
pub fn store() -> Store {
    let frozen = include_str!("../golden/entries.jsonl").lines().next();
    let first = Entry::from_line(frozen.expect("there are frozen entries")).expect("they read");
    let home = Home {
        farm: first.envelope().farm,
        barn: first.envelope().barn,
    };
    let farm = Saying {
        fact: Fact::Farm(Farm {
            name: Label::parse("Altozar").expect("a name"),
            zone: Zone::fixed("UTC", 0),
            origin: None,
            invented: true,
        }),
        occurred_at: None,
        random: [2; 10],
    };
    let now = Stamp::new(NOW_MS, 0).expect("a stamp");
    let store = Store::on_backend(redb::backends::InMemoryBackend::new(), BIRTH).expect("a store");
    store.begin(home, &farm, now, BIRTH).expect("a farm");
    store
}

/// A phone's push. Says whether it was one.
pub fn push(store: &Store, body: &[u8]) -> bool {
    let Ok(push) = serde_json::from_slice::<Push>(body) else {
        return false;
    };
    let receipt = store.push(&push, NOW_MS).expect("a push is answered");
    assert_eq!(
        receipt.fates.len(),
        push.entries.len(),
        "one fate for each entry"
    );
    let again = store.push(&push, NOW_MS).expect("it is answered again");
    assert_eq!(
        again.cursor, receipt.cursor,
        "what was sent twice is there once"
    );
    true
}

/// A list of boars, a logger's file, or a question to a pure function; the first byte says which.
pub fn paper(bytes: &[u8]) {
    let Some((which, rest)) = bytes.split_first() else {
        return;
    };
    let today = NaiveDate::from_ymd_opt(2026, 3, 28).expect("a day");
    match usize::from(*which) {
        0 => {
            let plan = import::plan(
                rest,
                &import::Choices::default(),
                import::Known::default(),
                today,
            );
            if let Ok(plan) = plan {
                let decision = import::Decision {
                    leave_out: true,
                    overwrite: false,
                };
                let _ = import::facts(&plan, decision, &mut |_| None);
            }
        }
        1 => {
            let zone = Zone::fixed("UTC", 0);
            let _ = climate::plan(rest, &climate::Choices::default(), &zone, NOW_MS, |_, _| {
                None
            });
        }
        n => {
            let (name, _) = reckon::TABLE[(n - 2) % reckon::TABLE.len()];
            if let Ok(answer) = reckon::answer(name, rest) {
                assert!(!answer.contains("NaN"));
            }
        }
    }
}
