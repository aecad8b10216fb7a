//! Offsets, and the changes of the farm's clock.

use super::*;

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
