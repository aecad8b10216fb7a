//! Worked out by hand, unless a source stands beside it.

use super::*;
use crate::barn::written::Written;
use crate::id::EntryId;
use crate::time::{Clock, HOUR_MS, Shift};
use crate::units::Percent;

fn day(d: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 7, d).unwrap()
}

fn reading(minute: u16, air: f64) -> Reading {
    Reading {
        minute,
        air: TemperatureC::new(air).unwrap(),
        humidity: None,
    }
}

fn damp(minute: u16, air: f64, humidity: f64) -> Reading {
    let humidity = Some(Percent::new(humidity).unwrap());
    Reading {
        humidity,
        ..reading(minute, air)
    }
}

fn climate(room: &str, day: NaiveDate, readings: &[Reading]) -> Climate {
    let room = Label::parse(room).unwrap();
    let readings = readings.to_vec();
    Climate {
        room,
        day,
        readings,
    }
}

fn order(n: u8) -> Order {
    Order {
        at_ms: n.into(),
        clock: Clock::default(),
        id: EntryId::v7(1, [n; 10]),
    }
}

fn fold(facts: &[Climate]) -> Vec<FarmDay> {
    let facts = (1..).map(order).zip(facts);
    days(facts, &Standard::default(), &Zone::default())
}

fn one(readings: &[Reading]) -> RoomDay {
    let days = fold(&[climate("1", day(1), readings)]);
    days[0].rooms[0].clone()
}

/// Every half hour of the day, hot from and until those minutes.
fn logged(hot: std::ops::Range<u16>) -> Vec<Reading> {
    let air = |m: u16| if hot.contains(&m) { 30.0 } else { 22.0 };
    (0..48).map(|n| reading(n * 30, air(n * 30))).collect()
}

#[test]
fn a_whole_day_is_known_and_six_hot_hours_make_it_hot() {
    let room = one(&logged(720..1_080));
    assert_eq!((room.hours_known, room.hours_hot), (24.0, 6.0));
    assert_eq!(room.heat, Heat::Hot);
    assert_eq!((room.lowest.value(), room.highest.value()), (22.0, 30.0));
    let room = one(&logged(720..1_050));
    assert_eq!((room.hours_hot, room.heat), (5.5, Heat::NotHot));
}

#[test]
fn a_reading_reaches_half_way_and_not_beyond_ninety_minutes() {
    // 10:00 and 11:00 meet at 10:30; 11:00 and 20:00 each reach an hour and a half.
    let room = one(&[reading(600, 20.0), reading(660, 20.0), reading(1_200, 20.0)]);
    assert_eq!(room.hours_known, (90.0 + 30.0 + 30.0 + 90.0 + 180.0) / 60.0);
    // Not beyond the day's ends.
    let room = one(&[reading(0, 20.0), reading(1_425, 20.0)]);
    assert_eq!(room.hours_known, (90.0 + 90.0 + 15.0) / 60.0);
}

#[test]
fn a_gap_is_unknown_and_not_cool() {
    let with_gap = |hot: std::ops::Range<u16>, gap: std::ops::Range<u16>| {
        let mut readings = logged(hot);
        readings.retain(|r| !gap.contains(&r.minute));
        one(&readings)
    };
    // Hot from ten, and the logger off from one to seven: three hours known hot and two and more
    // that reach into the gap; the missing ones could make six.
    let room = with_gap(600..1_080, 780..1_140);
    assert!(room.hours_hot < 6.0 && room.hours_known < 24.0);
    assert_eq!(room.heat, Heat::Unknown);
    // Nothing hot was read, but nobody looked in the warm part.
    assert_eq!(with_gap(0..0, 700..1_100).heat, Heat::Unknown);
    assert_eq!(with_gap(0..0, 0..700).heat, Heat::NotHot);
}

#[test]
fn a_day_read_by_hand_is_hot_by_its_hottest_reading() {
    assert_eq!(one(&[reading(900, 27.0)]).heat, Heat::Hot);
    assert_eq!(one(&[reading(900, 26.9)]).heat, Heat::NotHot);
    // Read at seven in the morning only, nobody knows.
    assert_eq!(one(&[reading(420, 19.0)]).heat, Heat::Unknown);
    let thrice = [reading(420, 19.0), reading(840, 28.0), reading(1_200, 24.0)];
    assert_eq!(one(&thrice).heat, Heat::Hot);
}

#[test]
fn humidity_decides_where_it_was_read() {
    // 26 °C: index 75.5 at 71.6 %, by hand 20.8 + 0.716 · 11.6 + 46.4; below 75 at 60 %.
    let room = one(&[damp(900, 26.0, 71.6)]);
    assert!((room.highest_thi.unwrap() - 75.505_6).abs() < 1e-9);
    assert_eq!(room.heat, Heat::Hot);
    assert_eq!(one(&[damp(900, 26.0, 60.0)]).heat, Heat::NotHot);
    // Dry air: 28 °C at 20 % is 71.5.
    assert_eq!(one(&[damp(900, 28.0, 20.0)]).heat, Heat::NotHot);
    assert_eq!(one(&[reading(900, 28.0)]).highest_thi, None);
}

#[test]
fn entries_of_one_day_add_up_and_the_later_holds() {
    let facts = [
        climate("Sala 1", day(1), &[reading(480, 20.0), reading(900, 25.0)]),
        climate(
            "SALA 1",
            day(1),
            &[reading(900, 31.0), reading(1_000, 24.0)],
        ),
    ];
    let days = fold(&facts);
    let room = &days[0].rooms[0];
    assert_eq!(room.room.as_str(), "SALA 1");
    let read: Vec<_> = room
        .readings
        .iter()
        .map(|r| (r.minute, r.air.value()))
        .collect();
    assert_eq!(read, [(480, 20.0), (900, 31.0), (1_000, 24.0)]);
    // Whatever the order in which they are handed in.
    let back = [(order(2), &facts[1]), (order(1), &facts[0])];
    assert_eq!(
        super::days(back, &Standard::default(), &Zone::default()),
        days
    );
    assert_eq!(merged(back)[0].latest, order(2));
}

#[test]
fn the_share_is_of_the_rooms_known() {
    let hot = [reading(900, 30.0)];
    let cool = [reading(900, 20.0)];
    let unseen = [reading(300, 18.0)];
    let days = fold(&[
        climate("1", day(1), &hot),
        climate("2", day(1), &cool),
        climate("3", day(1), &unseen),
        climate("1", day(2), &unseen),
        climate("1", day(3), &hot),
    ]);
    let shares: Vec<_> = days.iter().map(|d| (d.day, d.hot)).collect();
    assert_eq!(
        shares,
        [(day(1), Some(0.5)), (day(2), None), (day(3), Some(1.0))]
    );
}

/// Europe/Madrid, 29 March 2026: the day has 23 hours (IANA tz database, rule EU).
#[test]
fn a_short_day_has_no_twenty_fourth_hour() {
    let shift = |from_ms, offset_min| Shift {
        from_ms,
        offset_min,
    };
    let zone = Zone {
        name: "Europe/Madrid".into(),
        shifts: vec![shift(0, 60), shift(1_774_746_000_000, 120)],
    };
    let march = NaiveDate::from_ymd_opt(2026, 3, 29).unwrap();
    let fact = climate(
        "1",
        march,
        &(0..46).map(|n| reading(n * 30, 20.0)).collect::<Vec<_>>(),
    );
    let days = days([(order(1), &fact)], &Standard::default(), &zone);
    assert_eq!(days[0].rooms[0].hours_known, 23.0);
}

#[test]
fn a_day_at_the_end_of_the_calendar_stops_nobody() {
    for day in [NaiveDate::MIN, NaiveDate::MAX] {
        let days = fold(&[climate("1", day, &[reading(900, 30.0)])]);
        assert_eq!(days[0].hot, Some(1.0));
        assert_eq!(crate::climate::spells(&days).len(), 1);
        assert!(crate::climate::load(&days, day).hot_days <= 1.0);
    }
}

#[test]
fn the_barn_yields_its_days_up_to_today() {
    let mut written = Written::new();
    let noon = day(2)
        .and_hms_opt(12, 0, 0)
        .unwrap()
        .and_utc()
        .timestamp_millis();
    for d in 1..=3 {
        let fact = climate("1", day(d), &[reading(600, 30.0)]);
        written.say(&Fact::Climate(fact), noon - HOUR_MS * i64::from(4 - d));
    }
    let days = days_of(&written.barn, noon);
    assert_eq!(
        days.iter().map(|d| d.day).collect::<Vec<_>>(),
        [day(1), day(2)]
    );
}
