// The kinds that came with heat and with watching what boars give, in a thread of their own, so that
// what was frozen before stays as it is. Only ever add to the end of this list.

use chrono::NaiveDate;
use pentally_domain::boar::{CullFor, OffCollection, OffReason};
use pentally_domain::climate::{Climate, Reading};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::output::Measure;
use pentally_domain::said::{Label, Remark};
use pentally_domain::units::{Percent, TemperatureC};
use pentally_domain::watch::{Answered, Cause, SignalAnswer};

/// 2026-11-26 05:40 UTC.
const BEGIN_MS: i64 = 1_795_671_600_000;

fn reading(minute: u16, air: f64, humidity: Option<f64>) -> Reading {
    Reading {
        minute,
        air: TemperatureC::new(air).expect("a temperature"),
        humidity: humidity.map(|h| Percent::new(h).expect("a humidity")),
    }
}

fn climate(room: &str, readings: Vec<Reading>) -> Fact {
    Fact::Climate(Climate {
        room: Label::parse(room).expect("a room"),
        day: NaiveDate::from_ymd_opt(2026, 7, 12).expect("a day"),
        readings,
    })
}

fn answer(boar: Option<BoarId>, answer: Answered, cause: Option<Cause>, note: &str) -> Fact {
    Fact::SignalAnswer(SignalAnswer {
        boar,
        measure: Measure::Total,
        collection: EntryId::v7(BEGIN_MS, [7; 10]),
        answer,
        cause,
        note: Remark::parse(note).ok(),
    })
}

fn facts() -> Vec<(&'static str, Fact)> {
    let boar = BoarId::v7(BEGIN_MS, [5; 10]);
    let off = OffCollection {
        boar,
        reason: OffReason::Cull,
        until: None,
        cull: Some(CullFor::Legs),
    };
    let standard = Standard {
        regular_days: 4,
        regular_days_young: 8,
        hot_thi: 78,
        hot_celsius: 30,
        hot_hours: 4,
        ..Standard::default()
    };
    let logger = vec![
        reading(0, 21.5, Some(64.0)),
        reading(30, 22.0, Some(63.5)),
        reading(1470, -3.0, None),
    ];
    vec![
        ("climate", climate("Nave 2", vec![reading(905, 33.5, None)])),
        ("climate_logger", climate("Ебер 1", logger)),
        ("answer_seen", answer(Some(boar), Answered::Seen, None, "")),
        (
            "answer_cause",
            answer(
                Some(boar),
                Answered::CauseFound,
                Some(Cause::Glove),
                "Guantes «nuevos»: lote probado",
            ),
        ),
        (
            "answer_herd",
            answer(None, Answered::CauseFound, Some(Cause::Herd), ""),
        ),
        ("off_to_be_culled", Fact::OffCollection(off)),
        ("standard_with_heat", Fact::Standard(standard)),
    ]
}

/// Names, entries and the facts that must be read from them.
pub fn said() -> Vec<(&'static str, Entry, Option<Fact>)> {
    super::thread::written(BEGIN_MS, facts())
}
