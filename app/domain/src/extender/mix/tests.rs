//! Extender from mixing to its end, and what is odd on the way. Sixty to ninety minutes ahead:
//! Nebraska Swine Report 1999; the hours a mix keeps: common practice, no source.

use super::*;
use crate::time::Shift;

/// 2026-03-28 18:00 in Berlin, the evening before clocks go forward.
const EVENING_MS: i64 = 1_774_717_200_000;

/// Central European winter and summer of 2026 (Directive 2000/84/EC: the last Sundays of March and
/// October, at 01:00 UTC).
fn berlin() -> Zone {
    Zone {
        name: "Europe/Berlin".into(),
        shifts: vec![
            Shift {
                from_ms: 0,
                offset_min: 60,
            },
            Shift {
                from_ms: 1_774_746_000_000,
                offset_min: 120,
            },
            Shift {
                from_ms: 1_792_890_000_000,
                offset_min: 60,
            },
        ],
    }
}

fn evening() -> Stamp {
    Stamp::new(EVENING_MS, 60).unwrap()
}

fn mix(ready: Option<u32>, keeps: Option<u32>) -> ExtenderMix {
    ExtenderMix {
        lot: EntryId::from_uuid(uuid::Uuid::from_u128(1)),
        water: Water {
            source: WaterSource::Distilled,
            conductivity: Conductivity::new(1.2).ok(),
            supplier: None,
        },
        volume: MixVolumeMl::new(5000.0).unwrap(),
        temperature: TemperatureC::new(35.0).ok(),
        ready_after: ready.map(|n| ReadyMinutes::new(n).unwrap()),
        keeps: keeps.map(|n| KeepsHours::new(n).unwrap()),
    }
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn a_mix_is_too_fresh_then_ready_then_past() {
    let life = mix(None, None).life(evening(), None, &berlin()).unwrap();
    let minute = |n: i64| EVENING_MS + n * MINUTE_MS;
    assert_eq!(
        life.at(minute(59)),
        MixState::TooFresh {
            ready_at: life.ready_at
        }
    );
    assert_eq!(
        life.at(minute(60)),
        MixState::Ready {
            until: life.ends_at
        }
    );
    assert_eq!(
        life.at(minute(24 * 60) - 1),
        MixState::Ready {
            until: life.ends_at
        }
    );
    assert_eq!(
        life.at(minute(24 * 60)),
        MixState::Past {
            since: life.ends_at
        }
    );
    assert!(life.keeps_by_default && !life.by_lot);
    let said = mix(Some(30), Some(72))
        .life(evening(), None, &berlin())
        .unwrap();
    assert_eq!(
        (said.ready_at.ms(), said.ends_at.ms()),
        (minute(30), minute(72 * 60))
    );
    assert!(!said.keeps_by_default);
}

#[test]
fn a_mix_ends_with_the_last_day_of_its_lot() {
    let of = |best_before: &str| {
        mix(None, Some(72))
            .life(evening(), Some(day(best_before)), &berlin())
            .unwrap()
    };
    let last = of("2026-03-29");
    // Midnight after a day of 23 hours: 6 + 23 hours later.
    assert_eq!(last.ends_at.ms(), EVENING_MS + 29 * HOUR_MS);
    assert_eq!((last.by_lot, last.ends_at.offset_min()), (true, 120));
    assert!(!of("2026-04-01").by_lot);
    // A lot that was over before is past from the start, ready or not.
    let over = of("2026-03-27");
    assert!(matches!(over.at(EVENING_MS), MixState::Past { .. }));
    let odd = mix(None, None).odd(evening(), Some(day("2026-03-27")), None, &berlin());
    assert_eq!(
        odd,
        [MixOdd::LotPast {
            best_before: day("2026-03-27")
        }]
    );
    assert!(
        mix(None, None)
            .odd(evening(), Some(day("2026-03-28")), None, &berlin())
            .is_empty()
    );
}

#[test]
fn odd_figures_are_told_in_the_order_of_the_work() {
    let mut odd = mix(None, None);
    odd.water.source = WaterSource::Tap;
    odd.water.conductivity = Conductivity::new(400.0).ok();
    odd.temperature = TemperatureC::new(55.0).ok();
    let used = |minutes: i64| Stamp::new(EVENING_MS + minutes * MINUTE_MS, 60).ok();
    let found = odd.odd(evening(), None, used(91), &berlin());
    assert_eq!(
        found,
        [
            MixOdd::Conductivity {
                read: 400.0,
                most: 5.0
            },
            MixOdd::TapWater,
            MixOdd::Temperature { read: 55.0 },
            MixOdd::Ahead {
                minutes: 91,
                most: 90
            },
        ]
    );
    assert!(
        mix(None, None)
            .odd(evening(), None, used(90), &berlin())
            .is_empty()
    );
    assert!(odd_of_nothing_said().is_empty());
    // Beyond what can be written there is no life.
    let last = Stamp::new(253_402_300_799_000, 0).unwrap();
    assert!(mix(None, None).life(last, None, &berlin()).is_err());
}

fn odd_of_nothing_said() -> Vec<MixOdd> {
    odd(&Made::default(), evening(), None, None, &berlin())
}

#[test]
fn facts_are_written_without_what_nobody_said_and_read_back() {
    let mut bare = mix(None, None);
    bare.water.conductivity = None;
    bare.temperature = None;
    let text = serde_json::to_string(&bare).unwrap();
    assert_eq!(
        text,
        r#"{"lot":"00000000-0000-0000-0000-000000000001","water":{"source":"distilled"},"volume":5000.0}"#
    );
    assert_eq!(serde_json::from_str::<ExtenderMix>(&text).unwrap(), bare);
    let lot = ExtenderLot {
        product: Label::parse("Extender A").unwrap(),
        lot: Label::parse("L-17").unwrap(),
        class: ExtenderClass::Medium,
        form: Form::Powder,
        best_before: None,
        antibiotic: None,
        makes: None,
        days: None,
    };
    let text = serde_json::to_string(&lot).unwrap();
    assert_eq!(
        text,
        r#"{"product":"Extender A","lot":"L-17","class":"medium","form":"powder"}"#
    );
    assert_eq!(serde_json::from_str::<ExtenderLot>(&text).unwrap(), lot);
}
