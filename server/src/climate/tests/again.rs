//! The same file, or more of it, a second time.

use super::*;
use pentally_domain::climate::{Climate, Reading, merged};
use pentally_domain::envelope::Order;
use pentally_domain::id::EntryId;
use pentally_domain::time::Clock;

fn order(n: u8, at_ms: i64) -> Order {
    let clock = Clock { ms: n.into(), n: 0 };
    let id = EntryId::v7(n.into(), [n; 10]);
    Order { at_ms, clock, id }
}

/// Writes a plan's drafts to what is held, as the log would.
fn write(log: &mut Vec<(Order, Climate)>, plan: &Plan) {
    for draft in plan.drafts() {
        let n = u8::try_from(log.len() + 1).unwrap();
        log.push((order(n, draft.at_ms), draft.climate.clone()));
    }
}

fn again(log: &[(Order, Climate)], text: &str) -> Plan {
    let all = merged(log.iter().map(|(order, climate)| (*order, climate)));
    plan(text.as_bytes(), &in_room("1"), &madrid(), now(), held(all)).unwrap()
}

#[test]
fn loading_a_file_twice_changes_nothing() {
    let morning = "Time,Temp,RH\n2026-07-01 10:00,20,50\n2026-07-01 10:30,21,50\n";
    let whole = "Time,Temp,RH\n2026-07-01 10:00,20,50\n2026-07-01 10:30,21,50\n2026-07-01 10:40,23,50\n2026-07-01 11:00,24,50\n";
    let mut log = vec![];
    let first = again(&log, morning);
    write(&mut log, &first);
    assert_eq!(again(&log, morning).days[0].fate, DayFate::Same);
    assert_eq!(again(&log, morning).drafts().count(), 0);
    // The same day with more of it: one half hour is fuller now, one is new.
    let plan = again(&log, whole);
    assert_eq!(
        plan.days[0].fate,
        DayFate::Adds {
            added: 1,
            changed: 1
        }
    );
    write(&mut log, &plan);
    for file in [whole, "Time,Temp\n2026-07-01 11:00,24\n"] {
        assert_eq!(again(&log, file).drafts().count(), 0, "{file}");
    }
    // Back to the first file, its half hour holds again, though it happened no later.
    let plan = again(&log, morning);
    assert_eq!(
        plan.days[0].fate,
        DayFate::Adds {
            added: 0,
            changed: 1
        }
    );
    write(&mut log, &plan);
    assert_eq!(again(&log, morning).drafts().count(), 0);
}

#[test]
fn a_reading_by_hand_at_the_same_minute_does_not_make_it_endless() {
    let by_hand = Climate {
        room: Label::parse("1").unwrap(),
        day: NaiveDate::from_ymd_opt(2026, 7, 1).unwrap(),
        readings: vec![Reading {
            minute: 600,
            air: pentally_domain::units::TemperatureC::new(26.0).unwrap(),
            humidity: None,
        }],
    };
    let mut log = vec![(order(1, utc("2026-07-01 18:00")), by_hand)];
    let file = "Time,Temp\n2026-07-01 10:00,20\n";
    let first = again(&log, file);
    write(&mut log, &first);
    assert_eq!(log.len(), 2);
    assert_eq!(again(&log, file).days[0].fate, DayFate::Same);
}
