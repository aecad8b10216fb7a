// The kinds that came with the laboratory, and what came with them in older kinds, in a thread of
// their own, so that what was frozen before stays as it is. Only ever add to the end of this list.

use chrono::NaiveDate;
use pentally_domain::collection::{Collection, Glove, Mount, Outcome, Trouble};
use pentally_domain::curve::{CurvePair, InstrumentCurve, KeptPairs, Pair, Shape, Weighing};
use pentally_domain::envelope::Entry;
use pentally_domain::evaluation::{ConcentrationBy, Evaluation, Share};
use pentally_domain::extender::ExtenderClass;
use pentally_domain::extender::mix::{ExtenderLot, ExtenderMix, Form, Water, WaterSource};
use pentally_domain::fact::Fact;
use pentally_domain::farm::Standard;
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::output::Measure;
use pentally_domain::retained::Retained;
use pentally_domain::said::{Label, Said};
use pentally_domain::training::{Lesson, Mishap, Training};
use pentally_domain::units::{
    Assurance, Concentration, Conductivity, ErrorPercent, InstrumentReading, KeepsHours,
    MixVolumeMl, Percent, ReadyMinutes, RelativeError, Score, TemperatureC,
};
use pentally_domain::watch::{Answered, Cause, SignalAnswer};

/// 2026-12-02 04:10 UTC.
const BEGIN_MS: i64 = 1_796_184_600_000;

fn boar(n: u8) -> BoarId {
    BoarId::v7(BEGIN_MS, [n; 10])
}

fn entry(n: u8) -> EntryId {
    EntryId::v7(BEGIN_MS, [n; 10])
}

fn label(text: &str) -> Label {
    Label::parse(text).expect("a label")
}

fn pair(reading: f64, counted: f64, error: Option<f64>) -> Pair {
    Pair {
        reading: InstrumentReading::new(reading).expect("a reading"),
        concentration: Concentration::new(counted).expect("a concentration"),
        relative_error: error.map(|e| RelativeError::new(e).expect("an error")),
    }
}

fn percent(value: f64, cells: Option<u16>) -> Share {
    Share {
        percent: Percent::new(value).expect("a share"),
        cells,
    }
}

fn lots_and_mixes() -> Vec<(&'static str, Fact)> {
    let lot = ExtenderLot {
        product: label("Диллюент «К»"),
        lot: label("2611-017"),
        class: ExtenderClass::Medium,
        form: Form::Concentrate,
        best_before: NaiveDate::from_ymd_opt(2027, 3, 31),
        antibiotic: Some(true),
        makes: MixVolumeMl::new(1_000.0).ok(),
        days: None,
    };
    let plain = ExtenderLot {
        class: ExtenderClass::Long,
        form: Form::Powder,
        best_before: None,
        antibiotic: None,
        makes: None,
        days: None,
        ..lot.clone()
    };
    let mix = ExtenderMix {
        lot: entry(2),
        water: Water {
            source: WaterSource::ReverseOsmosis,
            conductivity: Conductivity::new(2.4).ok(),
            supplier: Some(label("Ozmós Kft.")),
        },
        volume: MixVolumeMl::new(5_000.0).expect("a volume"),
        temperature: TemperatureC::new(35.5).ok(),
        ready_after: ReadyMinutes::new(45).ok(),
        keeps: KeepsHours::new(48).ok(),
    };
    let brief = ExtenderMix {
        water: Water {
            source: WaterSource::Tap,
            conductivity: None,
            supplier: None,
        },
        temperature: None,
        ready_after: None,
        keeps: None,
        ..mix.clone()
    };
    vec![
        ("lot", Fact::ExtenderLot(lot)),
        ("lot_brief", Fact::ExtenderLot(plain)),
        ("mix", Fact::ExtenderMix(mix)),
        ("mix_brief", Fact::ExtenderMix(brief)),
    ]
}

fn instrument() -> Vec<(&'static str, Fact)> {
    let pairs = vec![
        pair(0.181, 104.0, Some(5.5)),
        pair(0.25, 151.0, None),
        pair(0.402, 268.0, Some(5.0)),
        pair(0.55, 402.0, Some(4.8)),
        pair(0.601, 455.0, None),
    ];
    let curve = InstrumentCurve {
        instrument: label("Fotómetro 1"),
        reads: Some(label("absorbancia")),
        shape: Shape::Quadratic,
        weighing: Weighing::BySize,
        pairs: KeptPairs::new(pairs.clone()).expect("pairs"),
    };
    let line = InstrumentCurve {
        reads: None,
        shape: Shape::Linear,
        weighing: Weighing::Plain,
        ..curve.clone()
    };
    let later = CurvePair {
        instrument: label("Fotómetro 1"),
        reading: pairs[2].reading,
        concentration: pairs[2].concentration,
        relative_error: pairs[2].relative_error,
        collection: Some(entry(7)),
    };
    let read = Evaluation {
        collection: entry(7),
        boar: boar(5),
        concentration: Some(ConcentrationBy::Curve {
            reading: pairs[1].reading,
            curve: entry(5),
            concentration: Concentration::new(152.25).expect("a concentration"),
            relative_error: RelativeError::new(8.5).expect("an error"),
        }),
        motile: Some(percent(81.5, Some(200))),
        abnormal: None,
        droplets: None,
        colour: None,
        smell: None,
        blood: None,
        pus: None,
        urine: None,
        tallied: None,
    };
    vec![
        ("curve", Fact::InstrumentCurve(curve)),
        ("curve_line", Fact::InstrumentCurve(line)),
        ("pair", Fact::CurvePair(later)),
        ("read_off", Fact::Evaluation(read)),
    ]
}

fn kept() -> Vec<(&'static str, Fact)> {
    let look = Retained {
        batch: entry(9),
        boars: vec![boar(5), boar(6)],
        motile: percent(72.5, Some(200)),
        warmed: Some(true),
        stored_c: TemperatureC::new(17.0).ok(),
    };
    let by_eye = Retained {
        boars: vec![boar(5)],
        motile: percent(55.0, None),
        warmed: None,
        stored_c: None,
        ..look.clone()
    };
    let standard = Standard {
        assurance_percent: Assurance::new(95.0).ok(),
        filling_error_percent: ErrorPercent::new(2.5).ok(),
        ..Standard::default()
    };
    let wild = Training {
        score: Said::Confirmed(Score::new(3).expect("a score")),
        mishaps: vec![Mishap::Aggressive],
        ..Training::new(boar(5), Lesson::Session)
    };
    let torn = Collection {
        boar: boar(5),
        outcome: Outcome::Collected,
        glove: Said::Confirmed(Glove::Vinyl),
        mount: Said::Confirmed(Mount::Dummy),
        steps: vec![],
        sperm_poor_in: Said::Unanswered,
        amount: None,
        amount_confirmed: false,
        temper: None,
        trouble: vec![Trouble::Noise, Trouble::Filter],
        despite: None,
        note: None,
    };
    let found = SignalAnswer {
        boar: Some(boar(5)),
        measure: Measure::Motile,
        collection: entry(7),
        answer: Answered::CauseFound,
        cause: Some(Cause::Filter),
        note: None,
    };
    vec![
        ("collection_filter", Fact::Collection(torn)),
        ("answer_filter", Fact::SignalAnswer(found)),
        ("retained", Fact::Retained(look)),
        ("retained_by_eye", Fact::Retained(by_eye)),
        ("standard_assured", Fact::Standard(standard)),
        ("training_aggressive", Fact::Training(wild)),
    ]
}

/// Names, entries and the facts that must be read from them.
pub fn said() -> Vec<(&'static str, Entry, Option<Fact>)> {
    let facts = [lots_and_mixes(), instrument(), kept()].concat();
    super::thread::written(BEGIN_MS, facts)
}
