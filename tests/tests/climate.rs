//! The barn's climate against printed tables of the temperature-humidity index
//! (`tests/climate/thi.csv`, with its sources), and loggers' files, days, loads and spells against
//! what pandas makes of them (`tests/climate/generate.py`, versions in its output).

#![allow(clippy::expect_used, clippy::panic)] // a test may stop where a file is not as it must be

use chrono::{NaiveDate, NaiveDateTime};
use pentally_domain::climate::{
    Climate, FarmDay, Heat, Level, RoomDay, RoomReadings, days, load, merged, spells, thi,
};
use pentally_domain::envelope::Order;
use pentally_domain::farm::Standard;
use pentally_domain::id::EntryId;
use pentally_domain::time::Clock;
use pentally_domain::units::{Percent, TemperatureC};
use pentally_server::climate::{Choices, DayFate, Plan, PlannedDay, held, plan};
use pentally_server::zone::named;
use serde::Deserialize;
use std::path::Path;

#[derive(Deserialize)]
struct Expected {
    files: Vec<File>,
    nrc: Vec<(f64, f64, f64)>,
    load: Loads,
}

#[derive(Deserialize)]
struct File {
    #[serde(rename = "file")]
    name: String,
    zone: String,
    choices: Choices,
    taken: usize,
    days: Vec<Day>,
    told: Told,
}

#[derive(Deserialize)]
struct Day {
    room: String,
    day: NaiveDate,
    rows: usize,
    /// Minute, °C, %.
    means: Vec<(u16, f64, Option<f64>)>,
    summary: Summary,
}

#[derive(Deserialize)]
struct Summary {
    lowest: f64,
    highest: f64,
    highest_thi: Option<f64>,
    hours_known: f64,
    hours_hot: f64,
    heat: String,
}

#[derive(Deserialize)]
struct Told {
    refused: usize,
    without_temperature: usize,
    /// In the first passage, and in the second.
    repeated: Option<(usize, usize)>,
    stuck: usize,
    /// Doubled or contradicted.
    left_out: usize,
    conflicts: usize,
    /// Room, from and to in ms since 1970.
    gaps: Vec<(String, i64, i64)>,
}

#[derive(Deserialize)]
struct Loads {
    days: Vec<(NaiveDate, Option<f64>)>,
    /// Day of collection, hot days, days known.
    loads: Vec<(NaiveDate, f64, usize)>,
    /// First and last day, first and last of lower quality, hot days, level.
    spells: Vec<(NaiveDate, NaiveDate, NaiveDate, NaiveDate, f64, String)>,
}

fn folder() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/climate"))
}

fn expected() -> Expected {
    let text = std::fs::read_to_string(folder().join("expected.json")).expect("it is committed");
    serde_json::from_str(&text).expect("expected.json is what the generator wrote")
}

fn index(celsius: f64, percent: f64) -> f64 {
    let air = TemperatureC::new(celsius).expect("a barn's temperature");
    thi(air, Percent::new(percent).expect("a humidity"))
}

#[test]
fn the_index_comes_near_every_printed_one() {
    let text = std::fs::read_to_string(folder().join("thi.csv")).expect("it is committed");
    let rows = text.lines().filter(|l| !l.starts_with('#')).skip(1);
    let mut count = 0;
    for row in rows {
        let cells: Vec<_> = row.split(',').collect();
        let [_, temperature, unit, percent, printed, within] = cells[..] else {
            panic!("{row}")
        };
        let number = |cell: &str| cell.parse::<f64>().expect(row);
        let celsius = match unit {
            "F" => (number(temperature) - 32.0) * 5.0 / 9.0,
            _ => number(temperature),
        };
        let apart = (index(celsius, number(percent)) - number(printed)).abs();
        assert!(apart <= number(within), "{row}: {apart} apart");
        count += 1;
    }
    assert_eq!(count, 153, "the table is cut short");
}

/// The two formulas are (1 − RH)(10 − T)/100 apart, by subtracting one from the other: 0.156 at
/// most from 20 to 36 °C and from 40 % on, and less where it is damp.
#[test]
fn the_index_keeps_beside_that_of_1971() {
    let grid = expected().nrc;
    assert!(grid.len() > 400);
    for (celsius, percent, nrc) in grid {
        let apart = index(celsius, percent) - nrc;
        let by_hand = (1.0 - percent / 100.0) * (10.0 - celsius) / 100.0;
        assert!((apart - by_hand).abs() < 1e-6, "{celsius} {percent}");
    }
}

fn read(file: &File, already: Vec<RoomReadings>) -> Plan {
    let bytes = std::fs::read(folder().join("files").join(&file.name)).expect("it is committed");
    let zone = named(&file.zone).expect("an IANA name");
    let now = "2026-11-25T12:00:00"
        .parse::<NaiveDateTime>()
        .expect("a time");
    let now_ms = now.and_utc().timestamp_millis();
    plan(&bytes, &file.choices, &zone, now_ms, held(already))
        .unwrap_or_else(|e| panic!("{}: {e}", file.name))
}

#[test]
fn every_file_is_thinned_as_pandas_thins_it() {
    let files = expected().files;
    assert_eq!(files.len(), 8);
    for file in files {
        let plan = read(&file, vec![]);
        assert_eq!(plan.questions, [], "{}", file.name);
        assert_eq!(plan.told.taken, file.taken, "{}", file.name);
        assert_eq!(plan.days.len(), file.days.len(), "{}", file.name);
        for want in &file.days {
            let found = plan.days.iter().find(|d| is_same(d, want));
            compare_means(found.expect(&want.room), want, &file.name);
        }
    }
}

fn is_same(found: &PlannedDay, want: &Day) -> bool {
    found.day == want.day && found.room.as_str() == want.room
}

fn compare_means(found: &PlannedDay, want: &Day, file: &str) {
    let place = format!("{file} {} {}", want.room, want.day);
    assert_eq!(found.rows, want.rows, "{place}");
    assert_eq!(found.means.len(), want.means.len(), "{place}");
    // Ours are in hundredths.
    let near = |a: f64, b: f64| (a - b).abs() < 0.005_01;
    for (mean, (minute, celsius, percent)) in found.means.iter().zip(&want.means) {
        assert_eq!(mean.minute, *minute, "{place}");
        assert!(near(mean.air.value(), *celsius), "{place} {minute}");
        match (mean.humidity, percent) {
            (Some(found), Some(want)) => assert!(near(found.value(), *want), "{place} {minute}"),
            (found, want) => assert_eq!(found.is_some(), want.is_some(), "{place} {minute}"),
        }
    }
}

#[test]
fn what_is_odd_is_told_as_pandas_finds_it() {
    for file in expected().files {
        let (told, want, name) = (read(&file, vec![]).told, &file.told, &file.name);
        assert_eq!(told.refused.all, want.refused, "{name}");
        assert_eq!(told.without_temperature, want.without_temperature, "{name}");
        assert_eq!(told.conflicts.all, want.conflicts, "{name}");
        assert_eq!(told.doubled + told.conflicts.all, want.left_out, "{name}");
        assert_eq!(told.stuck.all, want.stuck, "{name}");
        let repeated = told.repeated.map(|r| (r.first, r.second));
        assert_eq!(repeated, want.repeated, "{name}");
        let gaps = told.gaps.first.iter();
        let mut gaps: Vec<_> = gaps
            .map(|g| (g.room.as_str().to_owned(), g.from.ms(), g.to.ms()))
            .collect();
        gaps.sort();
        assert_eq!(gaps, want.gaps, "{name}");
    }
}

/// The facts of a plan, as if they had been written one after another.
fn written(plan: &Plan) -> Vec<(Order, Climate)> {
    let ids = (1..).map(|n: u16| {
        let clock = Clock { ms: n.into(), n: 0 };
        let [high, low] = n.to_be_bytes();
        let id = EntryId::v7(n.into(), [high, low, 0, 0, 0, 0, 0, 0, 0, 0]);
        (clock, id)
    });
    let orders = plan.drafts().zip(ids);
    orders
        .map(|(draft, (clock, id))| {
            let at_ms = draft.at_ms;
            (Order { at_ms, clock, id }, draft.climate.clone())
        })
        .collect()
}

#[test]
fn each_day_is_as_hot_as_half_minutes_tell() {
    let mut seen = std::collections::BTreeSet::new();
    for file in expected().files {
        let facts = written(&read(&file, vec![]));
        let facts = facts.iter().map(|(order, climate)| (*order, climate));
        let zone = named(&file.zone).expect("an IANA name");
        let days = days(facts, &Standard::default(), &zone);
        for want in &file.days {
            let day = days.iter().find(|d| d.day == want.day).expect("a day");
            let room = day.rooms.iter().find(|r| r.room.as_str() == want.room);
            compare_day(room.expect(&want.room), &want.summary, &file.name);
            seen.insert(want.summary.heat.clone());
        }
    }
    assert_eq!(
        seen.len(),
        3,
        "hot, not hot and unknown days are among them"
    );
}

fn compare_day(room: &RoomDay, want: &Summary, file: &str) {
    let place = format!("{file} {} {}", room.room.as_str(), room.day);
    assert!((room.lowest.value() - want.lowest).abs() < 0.006, "{place}");
    assert!(
        (room.highest.value() - want.highest).abs() < 0.006,
        "{place}"
    );
    match (room.highest_thi, want.highest_thi) {
        (Some(found), Some(want)) => assert!((found - want).abs() < 0.02, "{place}"),
        (found, want) => assert_eq!(found, want, "{place}"),
    }
    assert!(
        (room.hours_known - want.hours_known).abs() < 1e-9,
        "{place}"
    );
    assert!((room.hours_hot - want.hours_hot).abs() < 1e-9, "{place}");
    let heat = match room.heat {
        Heat::Hot => "hot",
        Heat::NotHot => "not_hot",
        Heat::Unknown => "unknown",
    };
    assert_eq!(heat, want.heat, "{place}");
}

#[test]
fn a_file_loaded_twice_changes_nothing() {
    for file in expected().files {
        let facts = written(&read(&file, vec![]));
        assert!(!facts.is_empty(), "{}", file.name);
        let already = merged(facts.iter().map(|(order, climate)| (*order, climate)));
        let again = read(&file, already);
        assert!(
            again.days.iter().all(|d| d.fate == DayFate::Same),
            "{}",
            file.name
        );
        assert_eq!(again.drafts().count(), 0, "{}", file.name);
    }
}

#[test]
fn loads_and_spells_are_as_by_the_calendar_of_pandas() {
    let want = expected().load;
    let known = want.days.iter().map(|(day, hot)| FarmDay {
        day: *day,
        rooms: vec![],
        hot: *hot,
    });
    let days: Vec<_> = known.collect();
    assert_eq!(days.len(), 120);
    for (day, hot_days, days_known) in want.loads {
        let found = load(&days, day);
        assert!((found.hot_days - hot_days).abs() < 1e-6, "{day}");
        assert_eq!(found.days_known, days_known, "{day}");
    }
    let found = spells(&days);
    assert_eq!(found.len(), want.spells.len());
    for (found, (first, last, from, to, hot_days, level)) in found.iter().zip(want.spells) {
        assert_eq!((found.first, found.last), (first, last));
        assert_eq!((found.lower_from, found.lower_to), (from, to));
        assert!((found.hot_days - hot_days).abs() < 1e-6, "{first}");
        let written = match found.level {
            Level::Tolerated => "tolerated",
            Level::Attention => "attention",
            Level::Expected => "expected",
        };
        assert_eq!(written, level, "{first}");
    }
}
