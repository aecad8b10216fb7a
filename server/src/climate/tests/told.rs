//! What deserves a word.

use super::*;

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
fn oddities_are_counted_beyond_those_listed() {
    let rows: String = (0..500).map(|_| "never,20\n").collect();
    let plan = simple(&format!("Time,Temp\n{rows}"));
    assert_eq!(
        (plan.told.refused.all, plan.told.refused.first.len()),
        (500, LISTED_MAX)
    );
    assert!(plan.days.is_empty());
}
