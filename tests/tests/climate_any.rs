//! Any bytes, spoilt files and any answers: a plan or a refusal in words, and never a fact that
//! could not be written.

#![allow(clippy::expect_used)] // a test may stop where a file is not as it must be

use pentally_domain::climate::Climate;
use pentally_domain::fact::Fact;
use pentally_domain::said::Label;
use pentally_domain::time::Zone;
use pentally_server::climate::{Choices, Field, LoggerClock, ROWS_MAX, Unit, plan};
use pentally_server::import::DayOrder;
use pentally_server::zone::named;
use proptest::collection::{btree_map, vec};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;
use std::path::Path;

/// 2026-11-25 12:00 UTC.
const NOW_MS: i64 = 1_795_608_000_000;

fn choices() -> impl Strategy<Value = Choices> {
    let mapping = of(btree_map(0..5_usize, select(&Field::ALL[..]), 0..6));
    let clock = of(prop_oneof![
        Just(LoggerClock::Farm),
        any::<i16>().prop_map(LoggerClock::Offset)
    ]);
    let order = of(select(vec![DayOrder::DayFirst, DayOrder::MonthFirst]));
    let unit = of(select(vec![Unit::Celsius, Unit::Fahrenheit]));
    let room = Label::parse("1").ok();
    let rest = (any::<bool>(), of(any::<bool>()), of(Just(room)));
    (mapping, clock, order, unit, rest).prop_map(
        |(mapping, clock, order, unit, (headerless, proportion, room))| Choices {
            mapping,
            clock,
            order,
            unit,
            headerless,
            proportion,
            room: room.flatten(),
            ..Choices::default()
        },
    )
}

/// Bytes that look enough like a logger's file to get past the door.
fn near_file() -> impl Strategy<Value = Vec<u8>> {
    let bits: Vec<&'static [u8]> = vec![
        b"Time",
        b"Date",
        b"Temp",
        b"RH",
        b"Room",
        b"GMT",
        b"(F)",
        b",",
        b",",
        b";",
        b"\t",
        b"\n",
        b"\n",
        b"\r",
        b"\"",
        b"1",
        b"20",
        b"60",
        b"2026-07-01",
        b"03/04/26",
        b" ",
        b"T",
        b":",
        b"10:30",
        b"24:00",
        b"-",
        b"+02:00",
        b"Z",
        b"PM",
        b"1782900000",
        b"99999999999999999999",
        b"9999-12-31 23:59",
        b"0000-01-01 0:00",
        b"2026-03-29 02:30",
        b"2026-10-25 02:30",
        b"\xc2\xb0",
        b"\xff",
        b"1e9",
        b"NaN",
        b"\xe2\x84\x83",
    ];
    let body = vec(select(bits), 0..60).prop_map(|b| b.concat());
    let head = select(vec![
        &b""[..],
        b"Time,Temp,RH\n",
        b"Date;Time;Temp F;Room\n",
    ]);
    (head, body).prop_map(|(head, body)| [head, &body].concat())
}

/// One of the sample files with some bytes changed.
fn spoilt() -> impl Strategy<Value = Vec<u8>> {
    let folder = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/climate/files"));
    let files = std::fs::read_dir(folder).expect("sample files are committed");
    let files = files.map(|f| std::fs::read(f.expect("a file").path()).expect("it reads"));
    let change = (any::<prop::sample::Index>(), any::<u8>());
    (select(files.collect::<Vec<_>>()), vec(change, 1..20)).prop_map(|(mut bytes, changes)| {
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        bytes
    })
}

fn zone() -> impl Strategy<Value = Zone> {
    let names = ["Europe/Madrid", "Australia/Lord_Howe", "America/Chicago"];
    select(
        names
            .map(|name| named(name).expect("an IANA name"))
            .to_vec(),
    )
}

fn check(bytes: &[u8], choices: &Choices, zone: &Zone) {
    let Ok(plan) = plan(bytes, choices, zone, NOW_MS, |_, _| None) else {
        return;
    };
    assert!(plan.questions.is_empty() || plan.days.is_empty());
    let rows: usize = plan.days.iter().map(|d| d.rows).sum();
    assert_eq!(rows, plan.told.taken);
    for draft in plan.drafts() {
        assert!(draft.at_ms <= NOW_MS);
        assert!(draft.climate.readings.len() <= Climate::READINGS_MAX);
        Fact::Climate(draft.climate.clone())
            .check()
            .expect("what is planned can be written");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn any_bytes_stop_nobody(
        bytes in vec(any::<u8>(), 0..400), choices in choices(), zone in zone()
    ) {
        check(&bytes, &choices, &zone);
    }

    #[test]
    fn nearly_a_file_stops_nobody(bytes in near_file(), choices in choices(), zone in zone()) {
        check(&bytes, &choices, &zone);
    }

    #[test]
    fn spoilt_files_stop_nobody(bytes in spoilt(), choices in choices(), zone in zone()) {
        check(&bytes, &choices, &zone);
    }
}

#[test]
fn a_year_of_minutes_is_taken_and_more_rows_than_that_are_not() {
    let rows = |count: usize| {
        let row = |n: usize| format!("{},20.5,50\n", 1_760_000_000 + n * 60);
        let rows: String = (0..count).map(row).collect();
        format!("Epoch,Temp,RH\n{rows}").into_bytes()
    };
    let choices = Choices {
        room: Label::parse("1").ok(),
        ..Choices::default()
    };
    let zone = Zone::default();
    let read = |count| plan(&rows(count), &choices, &zone, NOW_MS, |_, _| None);
    let year = read(527_040).expect("a leap year of minutes");
    assert_eq!(year.told.taken, 527_040);
    assert_eq!(year.days.len(), 367);
    let error = read(ROWS_MAX + 1).expect_err("too many").to_string();
    assert!(error.contains("split it"), "{error}");
}
