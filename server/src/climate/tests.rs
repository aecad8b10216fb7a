//! Odd files of invented loggers, worked out by hand. `tests/climate/generate.py` holds whole files
//! against another program.

use super::*;
use crate::zone::named;
use chrono::NaiveDateTime;
use pentally_domain::climate::{Climate, Reading, merged};
use pentally_domain::envelope::Order;
use pentally_domain::id::EntryId;
use pentally_domain::time::Clock;

fn madrid() -> Zone {
    named("Europe/Madrid").unwrap()
}

fn now() -> i64 {
    utc("2026-11-25 12:00")
}

fn utc(text: &str) -> i64 {
    let time = NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap();
    time.and_utc().timestamp_millis()
}

fn in_room(room: &str) -> Choices {
    Choices {
        room: Some(Label::parse(room).unwrap()),
        ..Choices::default()
    }
}

fn read(text: &str, choices: &Choices) -> Plan {
    plan(text.as_bytes(), choices, &madrid(), now(), |_, _| None).unwrap()
}

fn simple(text: &str) -> Plan {
    let plan = read(text, &in_room("1"));
    assert_eq!(plan.questions, [], "{text}");
    plan
}

/// Day, minute, °C and % of all means.
fn means(plan: &Plan) -> Vec<(String, u16, f64, Option<f64>)> {
    let days = plan
        .days
        .iter()
        .flat_map(|d| d.means.iter().map(|m| (d.day.to_string(), m)));
    days.map(|(day, m)| (day, m.minute, m.air.value(), m.humidity.map(|h| h.value())))
        .collect()
}

fn one(day: &str, minute: u16, air: f64, humidity: Option<f64>) -> (String, u16, f64, Option<f64>) {
    (day.into(), minute, air, humidity)
}

fn asks(plan: &Plan) -> Vec<&Ask> {
    assert!(plan.days.is_empty());
    plan.questions.iter().map(|q| &q.ask).collect()
}

#[test]
fn readings_become_means_around_the_half_hours() {
    let plan = simple(
        "Date Time,Temp (°C),RH (%)\n\
         2026-07-01 09:44,20,50\n\
         2026-07-01 09:45,21,60\n\
         2026-07-01 10:00,22,\n\
         2026-07-01 10:14,24,61\n\
         2026-07-01 10:15,25,62\n\
         2026-07-01 23:50,18,80\n\
         2026-07-02 00:05,17,81\n",
    );
    assert_eq!(
        means(&plan),
        [
            one("2026-07-01", 570, 20.0, Some(50.0)),
            one("2026-07-01", 600, 22.33, Some(60.5)),
            one("2026-07-01", 630, 25.0, Some(62.0)),
            // Midnight is the next day's; the last mark of a day is half past eleven.
            one("2026-07-01", 1_410, 18.0, Some(80.0)),
            one("2026-07-02", 0, 17.0, Some(81.0)),
        ]
    );
    assert_eq!(plan.told.taken, 7);
    assert!(plan.days.iter().all(|d| d.fate == DayFate::New));
    let drafts: Vec<_> = plan.drafts().collect();
    assert!(drafts.iter().all(|d| d.climate.is_ordered()));
    // It happened when the last reading was taken: 23:50 in July is 21:50 UTC.
    assert_eq!(drafts[0].at_ms, utc("2026-07-01 21:50"));
}

#[test]
fn spanish_semicolons_and_decimal_commas_are_read() {
    let plan = simple(
        "Registrador;7\n\nFecha;Hora;Temperatura (ºC);Humedad relativa (%)\n\
         25/07/2026;14:00;31,5;40,2\n25/07/2026;2:30 p. m.;32,5;\n",
    );
    assert_eq!(plan.shape.header_line, Some(3));
    assert_eq!(
        means(&plan),
        [
            one("2026-07-25", 840, 31.5, Some(40.2)),
            one("2026-07-25", 870, 32.5, None)
        ]
    );
}

#[test]
fn fahrenheit_is_taken_by_its_heading_or_asked_for() {
    let headed = simple("Time,Temp F\n2026-07-01 10:00,77\n2026-07-01 10:30,86\n");
    assert_eq!(headed.shape.unit, Unit::Fahrenheit);
    assert_eq!(
        means(&headed),
        [
            one("2026-07-01", 600, 25.0, None),
            one("2026-07-01", 630, 30.0, None)
        ]
    );
    let bare = "Time,Temp\n2026-07-01 10:00,77\n2026-07-01 10:30,86\n";
    let plan = read(bare, &in_room("1"));
    assert!(matches!(
        asks(&plan)[..],
        [Ask::Unit {
            told: None,
            lowest: 77.0,
            highest: 86.0,
            ..
        }]
    ));
    let answered = Choices {
        unit: Some(Unit::Fahrenheit),
        ..in_room("1")
    };
    assert_eq!(means(&read(bare, &answered)), means(&headed));
    // A winter's 40 °F are no 40 °C, though no value is above 60.
    let winter = "Time,Temp\n2026-01-10 10:00,40\n2026-01-10 10:30,41\n";
    assert!(matches!(
        asks(&read(winter, &in_room("1")))[..],
        [Ask::Unit { .. }]
    ));
    // A heading may be wrong.
    for wrong in [
        "Time,Temp (C)\n2026-07-01 10:00,77\n2026-07-01 10:30,86\n",
        "Time,Temp (F)\n2026-07-01 10:00,25\n2026-07-01 10:30,30\n",
    ] {
        assert!(matches!(
            asks(&read(wrong, &in_room("1")))[..],
            [Ask::Unit { told: Some(_), .. }]
        ));
    }
}

#[test]
fn day_and_month_are_asked_for_once() {
    let file = "Time,Temp\n03/04/2026 10:00,20\n04/05/2026 10:00,21\n";
    let plan = read(file, &in_room("1"));
    let [
        Ask::Order {
            example,
            day_first,
            month_first,
        },
    ] = asks(&plan)[..]
    else {
        panic!("{:?}", plan.questions)
    };
    assert_eq!(example, "03/04/2026");
    assert_eq!(
        (
            day_first.to_string().as_str(),
            month_first.to_string().as_str()
        ),
        ("2026-04-03", "2026-03-04")
    );
    let answered = Choices {
        order: Some(DayOrder::MonthFirst),
        ..in_room("1")
    };
    assert_eq!(read(file, &answered).days[0].day.to_string(), "2026-03-04");
    // A later row leaves no doubt, and so does a heading.
    assert_eq!(
        simple("Time,Temp\n03/04/2026 10:00,20\n13/04/2026 10:00,20\n")
            .days
            .len(),
        2
    );
    simple("Time (dd/mm/yyyy),Temp\n03/04/2026 10:00,20\n");
    let mixed = "Time,Temp\n13/04/2026 10:00,20\n04/13/2026 10:00,20\n";
    assert!(matches!(
        asks(&read(mixed, &in_room("1")))[..],
        [Ask::Mixed { .. }]
    ));
}

#[test]
fn the_room_is_chosen_read_or_asked_for() {
    let bare = "Time,Temp\n2026-07-01 10:00,20\n";
    assert_eq!(asks(&read(bare, &Choices::default())), [&Ask::Room]);
    let rooms = "Time,Temp,Room\n2026-07-01 10:00,20,A\n2026-07-01 10:00,21,b\n2026-07-01 10:30,22,a\n2026-07-01 10:30,22,\n";
    let plan = read(rooms, &Choices::default());
    let found: Vec<_> = plan
        .days
        .iter()
        .map(|d| (d.room.as_str(), d.means.len()))
        .collect();
    assert_eq!(found, [("A", 2), ("b", 1)]);
    assert_eq!(plan.told.refused.first[0].right, Right::Room);
}

#[test]
fn doubles_are_dropped_and_contradictions_told() {
    let plan = simple(
        "Time,Temp\n2026-07-01 10:00,20\n2026-07-01 10:00,20\n2026-07-01 10:00:00,24\n2026-07-01 10:30,20\n",
    );
    assert_eq!(
        (plan.told.rows, plan.told.taken, plan.told.doubled),
        (4, 2, 1)
    );
    let [conflict] = &plan.told.conflicts.first[..] else {
        panic!("{:?}", plan.told)
    };
    assert_eq!((conflict.line, conflict.instead_of), (4, 3));
    // The later line holds.
    assert_eq!(means(&plan)[0].2, 24.0);
}

#[test]
fn silences_are_told_from_and_to() {
    let plan = simple(
        "Time,Temp\n2026-07-01 10:00,20\n2026-07-01 10:10,20\n2026-07-01 10:20,20\n2026-07-01 13:20,20\n2026-07-01 14:20,21\n",
    );
    let gaps: Vec<_> = plan
        .told
        .gaps
        .first
        .iter()
        .map(|g| (g.from.ms(), g.to.ms()))
        .collect();
    assert_eq!(gaps, [(utc("2026-07-01 08:20"), utc("2026-07-01 11:20"))]);
}

#[test]
fn a_sensor_that_stands_still_is_told_and_taken() {
    let rows = |hours: u32| -> String {
        let row = |h: u32| {
            format!(
                "2026-07-{:02} {:02}:00,21.5,{}\n",
                1 + h / 24,
                h % 24,
                50 + h % 3
            )
        };
        (0..=hours).map(row).collect()
    };
    let plan = simple(&format!("Time,Temp,RH\n{}", rows(24)));
    let [stuck] = &plan.told.stuck.first[..] else {
        panic!("{:?}", plan.told.stuck)
    };
    assert_eq!(
        (stuck.field, stuck.value, stuck.readings),
        (Field::Temperature, 21.5, 25)
    );
    assert_eq!(plan.told.taken, 25);
    assert_eq!(
        simple(&format!("Time,Temp,RH\n{}", rows(23)))
            .told
            .stuck
            .all,
        0
    );
}

#[test]
fn what_cannot_be_is_refused_by_line() {
    let plan = simple(
        "Time,Temp (°C),RH\n\
         2026-07-01 10:00,85.0,50\n\
         2026-07-01 10:30,20.0,101\n\
         2026-07-01 11:00,warm,50\n\
         2026-07-01,20.0,50\n\
         2026-12-01 10:00,20.0,50\n\
         2000-01-01 00:00,20.0,50\n\
         2026-07-01 12:00,20,5,50\n\
         2026-07-01 12:30,68 °F,50\n\
         2026-07-01 13:00,Logged,\n\
         2026-07-01 13:30,,\n",
    );
    let no: Vec<_> = plan
        .told
        .refused
        .first
        .iter()
        .map(|r| (r.line, r.field))
        .collect();
    let t = Some(Field::Temperature);
    let stamp = Some(Field::Stamp);
    assert_eq!(
        no,
        [
            (2, t),
            (3, Some(Field::Humidity)),
            (4, t),
            (5, stamp),
            (6, stamp),
            (7, stamp),
            (8, None),
            (9, t),
            (10, t)
        ]
    );
    let right: Vec<_> = plan
        .told
        .refused
        .first
        .iter()
        .map(|r| r.right.clone())
        .collect();
    let unit = Unit::Celsius;
    assert_eq!(
        right[0],
        Right::Temperature {
            low: -20.0,
            high: 60.0,
            unit
        }
    );
    assert_eq!(right[1], Right::Humidity);
    assert_eq!(right[3], Right::Stamp);
    assert!(matches!(right[4], Right::NotAfter { .. }));
    assert!(matches!(right[5], Right::NotBefore { .. }));
    assert_eq!(right[6], Right::Cells { most: 3 });
    assert_eq!(right[7], Right::InUnit { unit });
    assert_eq!(plan.told.without_temperature, 1);
    // A humidity that cannot be leaves the temperature beside it.
    assert_eq!(means(&plan), [one("2026-07-01", 630, 20.0, None)]);
}

#[test]
fn a_proportion_is_asked_for() {
    let file = "Time,Temp,RH\n2026-07-01 10:00,20,0.55\n2026-07-01 10:30,20,1\n";
    assert_eq!(
        asks(&read(file, &in_room("1"))),
        [&Ask::Proportion { highest: 1.0 }]
    );
    let answered = Choices {
        proportion: Some(true),
        ..in_room("1")
    };
    assert_eq!(means(&read(file, &answered))[0].3, Some(55.0));
}

#[test]
fn offsets_are_turned_into_the_farms_time() {
    let at_noon = [one("2026-07-01", 720, 20.0, None)];
    for file in [
        "Time,Temp\n2026-07-01T10:00:00Z,20\n",
        "Time,Temp\n2026-07-01 12:00:00+02:00,20\n",
        "\"Date Time, GMT+01:00\",Temp\n2026-07-01 11:00,20\n",
        "Timestamp,Temp\n1782900000,20\n",
        "Time,Temp\n2026-07-01 12:00,20\n",
    ] {
        assert_eq!(means(&simple(file)), at_noon, "{file}");
    }
    let utc = Choices {
        clock: Some(LoggerClock::Offset(0)),
        ..in_room("1")
    };
    assert_eq!(
        means(&read("Time,Temp\n2026-07-01 10:00,20\n", &utc)),
        at_noon
    );
    let mad = Choices {
        clock: Some(LoggerClock::Offset(900)),
        ..in_room("1")
    };
    let refused = plan(
        b"Time,Temp\n2026-07-01 10:00,20\n",
        &mad,
        &madrid(),
        now(),
        |_, _| None,
    );
    assert_eq!(refused.unwrap_err(), ClimateError::Offset { minutes: 900 });
}

/// Source: IANA tz database, rule EU: 29 March 2026 has no 02:30 in Madrid.
#[test]
fn the_skipped_hour_asks_which_clock_the_logger_follows() {
    let file = "Time,Temp\n2026-03-29 01:30,20\n2026-03-29 02:30,21\n2026-03-29 03:30,22\n";
    let plan = read(file, &in_room("1"));
    let [
        Ask::Clock {
            line, offset_min, ..
        },
    ] = asks(&plan)[..]
    else {
        panic!("{:?}", plan.questions)
    };
    assert_eq!((*line, *offset_min), (3, 60));
    let with = |clock| Choices {
        clock: Some(clock),
        ..in_room("1")
    };
    // On winter time all along, the readings are an hour apart.
    let winter = read(file, &with(LoggerClock::Offset(60)));
    let minutes: Vec<_> = means(&winter).iter().map(|m| m.1).collect();
    assert_eq!(minutes, [90, 150, 210]);
    let farm = read(file, &with(LoggerClock::Farm));
    assert_eq!(farm.told.refused.first[0].right, Right::RealTime);
    assert_eq!(
        means(&farm).iter().map(|m| m.1).collect::<Vec<_>>(),
        [90, 150]
    );
}

/// Source: IANA tz database, rule EU: 25 October 2026 has 02:00 to 03:00 twice in Madrid.
#[test]
fn the_repeated_hour_is_told_by_where_the_file_goes_back() {
    let stamps = ["01:30", "02:00", "02:30", "02:00", "02:30", "03:00"];
    let rows: Vec<_> = stamps
        .iter()
        .zip(20..)
        .map(|(s, t)| format!("2026-10-25 {s},{t}\n"))
        .collect();
    let forth = simple(&format!("Time,Temp\n{}", rows.concat()));
    let minutes: Vec<_> = means(&forth).iter().map(|m| (m.1, m.2)).collect();
    // The day has 1,500 minutes, in steps of 32, so that a fact holds them.
    assert_eq!(
        forth.told.repeated,
        Some(RepeatedHour {
            line: 3,
            first: 2,
            second: 2
        })
    );
    assert_eq!(
        minutes,
        [
            (96, 20.0),
            (128, 21.0),
            (160, 22.0),
            (192, 23.0),
            (224, 24.0),
            (256, 25.0)
        ]
    );
    // Newest first, the same.
    let rows: Vec<_> = rows.into_iter().rev().collect();
    let back = simple(&format!("Time,Temp\n{}", rows.concat()));
    assert_eq!(means(&back), means(&forth));
    // Hourly: two passages of one reading each.
    let hourly = simple(
        "Time,Temp\n2026-10-25 01:00,20\n2026-10-25 02:00,21\n2026-10-25 02:00,22\n2026-10-25 03:00,23\n",
    );
    assert_eq!(hourly.told.conflicts.all + hourly.told.gaps.all, 0);
    assert_eq!(
        hourly.told.repeated.map(|r| (r.first, r.second)),
        Some((1, 1))
    );
}

#[test]
fn the_longest_day_fits_into_one_fact() {
    let zone = madrid();
    let start = utc("2026-10-24 22:00");
    let row = |minute: i64| {
        let utc = chrono::DateTime::from_timestamp_millis(start + minute * 60_000).unwrap();
        format!("{},20\n", utc.format("%Y-%m-%dT%H:%M:%SZ"))
    };
    let rows: String = (0..1_500).map(row).collect();
    let plan = simple(&format!("Time,Temp\n{rows}"));
    assert_eq!(plan.days.len(), 1);
    assert_eq!(zone.day_start_ms(plan.days[0].day), start);
    assert_eq!((plan.days[0].rows, plan.days[0].means.len()), (1_500, 47));
    assert!(plan.drafts().all(|d| d.climate.is_ordered()));
}

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

#[test]
fn a_file_that_is_no_loggers_is_refused_in_words() {
    let error = |bytes: &[u8]| {
        let found = plan(bytes, &in_room("1"), &madrid(), now(), |_, _| None);
        found.unwrap_err().to_string()
    };
    for (bytes, words) in [
        (
            &b""[..],
            "the file holds no rows; a line of headings and a line for each reading",
        ),
        (
            b"Boar,Born\n1,2024-01-01\n",
            "no column names the temperature",
        ),
        (b"Temp,RH\n20,50\n", "no column names the time"),
        (b"Date,Temp\n\"2026,20\n2026,21\n", "never closed"),
        (b"PK\x03\x04", "workbook"),
        (b"Time,Temp\n\0", "no text"),
    ] {
        let found = error(bytes);
        assert!(found.contains(words), "{found}");
    }
}

#[test]
fn columns_may_be_named_by_hand() {
    let mapping = [(0, Field::Stamp), (2, Field::Temperature)].into();
    let choices = Choices {
        headerless: true,
        mapping: Some(mapping),
        ..in_room("1")
    };
    let plan = read("2026-07-01 10:00,x,20\n2026-07-01 10:30,y,21\n", &choices);
    assert_eq!(means(&plan).len(), 2);
    let mapping = Some([(9, Field::Stamp)].into());
    let choices = Choices {
        mapping,
        ..in_room("1")
    };
    let refused = super::plan(b"a,b\n1,2\n", &choices, &madrid(), now(), |_, _| None);
    assert_eq!(
        refused.unwrap_err(),
        ClimateError::Mapping { column: 9, last: 1 }
    );
}

#[test]
fn oddities_are_counted_beyond_those_listed() {
    let rows: String = (0..500).map(|_| "never,20\n").collect();
    let plan = simple(&format!("Time,Temp\n{rows}"));
    assert_eq!(
        (plan.told.refused.all, plan.told.refused.first.len()),
        (500, LISTED_MAX)
    );
    assert!(plan.days.is_empty());
}
