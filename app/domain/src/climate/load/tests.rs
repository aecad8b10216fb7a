//! Day by day against the calendar and the trade's figures in the module's words.

use super::*;
use crate::climate::{Climate, days};
use crate::envelope::Order;
use crate::id::EntryId;
use crate::time::{Clock, Zone};
use crate::units::TemperatureC;

/// 1 July 2026 and so many days.
fn day(n: u64) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 7, 1).unwrap() + Days::new(n)
}

/// Days from the first of July: the share of hot rooms, or none where nothing is known.
fn shares(shares: &[Option<f64>]) -> Vec<FarmDay> {
    let days = (0..).map(day).zip(shares);
    let known = days.map(|(day, hot)| FarmDay {
        day,
        rooms: vec![],
        hot: *hot,
    });
    known.collect()
}

fn pattern(text: &str) -> Vec<FarmDay> {
    let share = |c| match c {
        'h' => Some(1.0),
        'c' => Some(0.0),
        _ => None,
    };
    shares(&text.chars().map(share).collect::<Vec<_>>())
}

#[test]
fn the_window_runs_from_42_to_14_days_before() {
    let days = pattern("hccccccccccccccccccccccccccccch");
    // Collected on day 42, the hot day 0 is the first of the window and day 28 its last.
    let whole = load(&days, day(42));
    assert_eq!((whole.from, whole.to), (day(0), day(28)));
    assert_eq!((whole.hot_days, whole.days_known), (1.0, 29));
    assert_eq!(load(&days, day(43)).hot_days, 0.0);
    // Day 30 works from day 44 on.
    assert_eq!(load(&days, day(44)).hot_days, 1.0);
    assert_eq!(load(&days, day(13)).days_known, 0);
    assert_eq!(load(&days, day(14)).days_known, 1);
}

#[test]
fn what_nobody_read_is_no_cool_day() {
    let load = load(&pattern("hh??ch"), day(42));
    assert_eq!((load.hot_days, load.days_known), (3.0, 4));
}

#[test]
fn shares_of_rooms_add_up() {
    let third = Some(1.0 / 3.0);
    let days = shares(&[third; 12]);
    assert_eq!(load(&days, day(42)).level, Level::Attention);
    let spell = spells(&days)[0];
    assert!((spell.hot_days - 4.0).abs() < 1e-9);
    assert_eq!(spell.level, Level::Attention);
}

#[test]
fn under_four_is_tolerated_and_over_seven_not() {
    for (hot_days, level) in [
        (0.0, Level::Tolerated),
        (3.9, Level::Tolerated),
        (4.0, Level::Attention),
        (7.0, Level::Attention),
        (7.1, Level::Expected),
    ] {
        assert_eq!(Level::of(hot_days), level, "{hot_days}");
    }
}

#[test]
fn one_cooler_day_ends_no_spell_and_two_do() {
    let found = spells(&pattern("chhch?hcchc"));
    let runs: Vec<_> = found
        .iter()
        .map(|s| (s.first, s.last, s.hot_days))
        .collect();
    assert_eq!(runs, [(day(1), day(6), 4.0), (day(9), day(9), 1.0)]);
    assert_eq!((found[0].lower_from, found[0].lower_to), (day(15), day(48)));
}

#[test]
fn lower_quality_is_expected_of_what_is_not_tolerated() {
    // Eight hot days from 1 July, and three from 20 July that nobody fears.
    let days = pattern("hhhhhhhhcccccccccchhh");
    let at = |n| {
        let found = expectation(&days, day(n));
        let told = found.iter().map(|e| (e.level, e.when));
        told.collect::<Vec<_>>()
    };
    // Three days in, it is not yet more than what is tolerated.
    assert_eq!(at(2), []);
    assert_eq!(at(3), [(Level::Attention, When::Coming)]);
    assert_eq!(at(13), [(Level::Expected, When::Coming)]);
    assert_eq!(at(14), [(Level::Expected, When::Open)]);
    assert_eq!(at(49), [(Level::Expected, When::Open)]);
    assert_eq!(at(50), []);
}

#[test]
fn a_hot_reading_of_today_asks_for_cooling() {
    let reading = |minute, air| Reading {
        minute,
        air: TemperatureC::new(air).unwrap(),
        humidity: None,
    };
    let fact = |room: &str, d, readings: &[Reading]| Climate {
        room: Label::parse(room).unwrap(),
        day: day(d),
        readings: readings.to_vec(),
    };
    let facts = [
        fact("1", 0, &[reading(900, 31.0)]),
        fact(
            "1",
            1,
            &[reading(600, 27.0), reading(660, 29.0), reading(900, 25.0)],
        ),
        fact("2", 1, &[reading(600, 26.9)]),
    ];
    let orders = (1..).map(|n: u8| Order {
        at_ms: n.into(),
        clock: Clock::default(),
        id: EntryId::v7(1, [n; 10]),
    });
    let standard = Standard::default();
    let days = days(orders.zip(&facts), &standard, &Zone::default());
    let due = cooling_due(&days, day(1), &standard);
    assert_eq!(due.len(), 1);
    assert_eq!((due[0].room.as_str(), due[0].reading.minute), ("1", 660));
    assert_eq!(cooling_due(&days, day(2), &standard), []);
}

/// Four hot days, then ten cool ones, then four hot days: the second time begins while the first
/// is open. The 14 and 42 days are those of the module's sources.
#[test]
fn times_of_lower_quality_that_meet_are_told_as_one() {
    let near = pattern("hhhhcccccccccchhhh");
    let met = expectation(&near, day(20));
    assert_eq!(met.len(), 1);
    assert_eq!(lower_quality(&met), Some((day(14), day(17 + 42))));
    let far = pattern(&format!("hhhh{}hhhh", "c".repeat(60)));
    let first = expectation(&far, day(10));
    assert_eq!(lower_quality(&first), Some((day(14), day(3 + 42))));
    assert_eq!(lower_quality(&[]), None);
    // Hot on 1 to 8 July, 25 July to 1 August and 12 to 19 August: the third time meets the
    // second alone. Each lasts six weeks: the last to 30 September.
    let [hot, sixteen, ten] = [("h", 8), ("c", 16), ("c", 10)].map(|(day, n)| day.repeat(n));
    let chain = pattern(&[&*hot, &sixteen, &hot, &ten, &hot].concat());
    assert_eq!(chain.len(), 50);
    let until = NaiveDate::from_ymd_opt(2026, 9, 30).unwrap();
    let met = expectation(&chain, day(49));
    assert_eq!(lower_quality(&met), Some((day(14), until)));
    assert_eq!(met.len(), 1);
}

/// Spells of three days and fewer, which nobody fears alone, but eight hot days among twelve: what
/// is collected while more than three of them lie 14 to 42 days back is of lower quality (the
/// days and the three are those of the module's sources).
#[test]
fn short_spells_that_add_up_are_told_as_well() {
    let days = pattern("hhhcchhcchhh");
    assert!(spells(&days).iter().all(|s| s.level == Level::Tolerated));
    let told = expectation(&days, day(20));
    // The fourth hot day is day 5, the fourth from the end day 6.
    assert_eq!(lower_quality(&told), Some((day(5 + 14), day(6 + 42))));
    assert_eq!(told[0].level, Level::Expected);
    for n in 0..70 {
        let lower = (told[0].from..=told[0].to).contains(&day(n));
        assert_eq!(lower, load(&days, day(n)).level > Level::Tolerated, "{n}");
    }
    assert_eq!(expectation(&days, day(4)), []);
    assert_eq!(expectation(&days, day(18))[0].when, When::Coming);
    assert_eq!(expectation(&days, day(48))[0].when, When::Open);
    assert_eq!(expectation(&days, day(49)), []);
    // Three and three that no time of 29 days holds both of stay tolerated.
    let apart = pattern(&format!("hhh{}hhh", "c".repeat(26)));
    assert_eq!(expectation(&apart, day(40)), []);
}
