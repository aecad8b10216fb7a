//! The calendar's feed as two independent parsers read it.
//!
//! `examples/calendar_feed.rs` wrote `calendar/feed.ics`, and `calendar/parse.py` made `parsed.json`
//! of it with the Python libraries `icalendar` and `vobject` (their versions are in it).

// A helper of a test fails with it.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "../calendar/invented.rs"]
mod invented;

use chrono::{Days, NaiveDate};
use invented::{FARM, NOW_MS, events};
use pentally_server::calendar::{Event, calendar};
use serde::Deserialize;
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;

const FEED: &str = include_str!("../calendar/feed.ics");
const PARSED: &str = include_str!("../calendar/parsed.json");

#[derive(Deserialize)]
struct Parsed {
    sha256: String,
    longest_line: usize,
    folded_lines: usize,
    by_icalendar: Read,
    by_vobject: Read,
}

#[derive(Deserialize)]
struct Read {
    head: Value,
    events: Vec<Shown>,
}

#[derive(Deserialize, Debug, PartialEq)]
struct Shown {
    uid: String,
    from: NaiveDate,
    end: NaiveDate,
    stamp: String,
    summary: String,
    transparent: bool,
}

fn parsed() -> Parsed {
    serde_json::from_str(PARSED).unwrap()
}

/// An event as its parsers are to show it; its UID is looked at apart.
fn shown(event: &Event, uid: &str) -> Shown {
    let words = event
        .summary
        .split(|c: char| c.is_whitespace() || c.is_control());
    Shown {
        uid: uid.to_owned(),
        from: event.coming.from,
        end: event.coming.to + Days::new(1),
        stamp: "2026-02-24T06:05:07+00:00".to_owned(),
        summary: words
            .filter(|w| !w.is_empty())
            .collect::<Vec<_>>()
            .join(" "),
        transparent: true,
    }
}

#[test]
fn the_feed_that_was_parsed_is_the_one_written_today() {
    assert_eq!(calendar(FARM, &events(), NOW_MS), FEED);
    let hash = Sha256::digest(FEED);
    let hex: String = hash.iter().map(|b| format!("{b:02x}")).collect();
    assert_eq!(hex, parsed().sha256);
}

#[test]
fn both_parsers_read_what_was_meant() {
    let parsed = parsed();
    assert_eq!(parsed.by_icalendar.head["NAME"], FARM);
    assert_eq!(parsed.by_vobject.head["name"], FARM);
    // Its words are escaped too, since what nobody typed is text (RFC 5545, 3.8.8.2); one of the
    // parsers leaves such a property as it stands.
    assert_eq!(parsed.by_vobject.head["x-wr-calname"], FARM);
    assert_eq!(parsed.by_icalendar.head["REFRESH-INTERVAL"], 3600.0);
    for read in [&parsed.by_icalendar, &parsed.by_vobject] {
        assert_eq!(read.events.len(), events().len());
        for (read, event) in read.events.iter().zip(events()) {
            assert_eq!(*read, shown(&event, &read.uid));
        }
    }
    assert_eq!(parsed.by_icalendar.events, parsed.by_vobject.events);
}

/// RFC 5545, 3.1: no line is longer than 75 octets, and some were.
#[test]
fn long_lines_are_folded() {
    let parsed = parsed();
    assert!(parsed.longest_line <= 75 && parsed.folded_lines > 10);
    assert!(FEED.split("\r\n").all(|line| line.len() <= 75));
}

/// A calendar knows an event again by its UID, also when its days or its words have changed.
#[test]
fn an_event_keeps_its_name() {
    let read = parsed().by_icalendar.events;
    let names: BTreeSet<&str> = read.iter().map(|e| e.uid.as_str()).collect();
    assert_eq!(names.len(), read.len());
    let later: Vec<Event> = events()
        .into_iter()
        .map(|mut event| {
            event.coming.to = event.coming.to + Days::new(3);
            event.summary.push('!');
            event
        })
        .collect();
    let feed = calendar("Another name", &later, NOW_MS + 86_400_000).replace("\r\n ", "");
    let kept = |name: &&str| feed.contains(&format!("UID:{name}\r\n"));
    assert!(names.iter().all(kept));
}
