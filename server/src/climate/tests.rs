//! Odd files of invented loggers, worked out by hand. `tests/climate/generate.py` holds whole files
//! against another program.

mod again;
mod time;
mod told;

use super::*;
use crate::zone::named;
use chrono::NaiveDateTime;

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
