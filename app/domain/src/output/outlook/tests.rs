//! A small herd whose entries are made by a rule, fitted and carried to a phone.

use super::{Outlook, Past};
use crate::barn::written::Written;
use crate::boar::{Before, Boar};
use crate::collection::{Amount, Collection, Glove, Mount, Outcome};
use crate::envelope::Order;
use crate::evaluation::{ConcentrationBy, Evaluation, Share};
use crate::fact::Fact;
use crate::id::{BoarId, DeviceId, EntryId};
use crate::ledger::Live;
use crate::mixed::Predicted;
use crate::output::{Bearing, Given, History, Measure};
use crate::said::{Label, Said};
use crate::time::{Clock, DAY_MS, HOUR_MS, Stamp, Zone};
use crate::units::{Concentration, Percent, VolumeMl};
use chrono::NaiveDate;
use std::collections::BTreeMap;

mod bad;
mod odd;

/// Noon UTC of 20 November 2023.
const NOON_MS: i64 = 1_700_481_600_000;

/// What one ejaculate held: mL, M/mL, motile and abnormal in %.
#[derive(Clone, Copy)]
struct Cup {
    day: i64,
    ml: f64,
    bench: Option<(f64, f64, f64)>,
}

/// Numbers about 0 that look thrown, from a multiplicative generator (Park & Miller 1988).
struct Dice(u64);

impl Dice {
    /// About 0, with a standard deviation of about 1.
    fn throw(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }

    fn uniform(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }
}

fn id(n: u8) -> BoarId {
    BoarId::v7(1, [n; 10])
}

/// A boar who gives `own` on the logarithm more than others, each five days.
fn cups(n: u8, own: f64, many: i64) -> Vec<Cup> {
    let mut dice = Dice(1_000 + u64::from(n));
    let mut cup = |at: i64| Cup {
        day: 5 * at,
        ml: 210.0 * (own + 0.2 * dice.throw()).exp(),
        bench: Some((
            240.0 * (0.15 * dice.throw()).exp(),
            85.0 + 3.0 * dice.throw(),
            12.0 + 2.0 * dice.throw(),
        )),
    };
    (0..many).map(&mut cup).collect()
}

fn history(n: u8, cups: &[Cup]) -> History {
    let mut history = History::default();
    let born = Some(Zone::default().day(NOON_MS - 900 * DAY_MS));
    let boar = Boar {
        number: Label::parse("1").unwrap(),
        name: None,
        born,
        line: None,
        ear: None,
        before: Before::Unknown,
        mind: None,
    };
    take(
        &mut history,
        EntryId::from_uuid(id(n).uuid()),
        NOON_MS,
        &Fact::Boar(boar),
    );
    for cup in cups {
        let at_ms = NOON_MS + cup.day * DAY_MS;
        let entry = EntryId::v7(at_ms, [n; 10]);
        take(&mut history, entry, at_ms, &collected(id(n), cup.ml));
        if let Some(bench) = cup.bench {
            let seen = evaluated(id(n), entry, bench);
            take(
                &mut history,
                EntryId::v7(at_ms + 1, [n; 10]),
                at_ms + HOUR_MS,
                &seen,
            );
        }
    }
    history
}

fn collected(boar: BoarId, ml: f64) -> Fact {
    Fact::Collection(Collection {
        boar,
        outcome: Outcome::Collected,
        glove: Said::Confirmed(Glove::Vinyl),
        mount: Said::Confirmed(Mount::Dummy),
        steps: vec![],
        sperm_poor_in: Said::Confirmed(true),
        amount: Some(Amount::Volume(VolumeMl::new(ml).unwrap())),
        amount_confirmed: false,
        temper: None,
        trouble: vec![],
        despite: None,
        note: None,
    })
}

fn evaluated(boar: BoarId, collection: EntryId, (conc, motile, abnormal): (f64, f64, f64)) -> Fact {
    let share = |percent: f64| {
        Some(Share {
            percent: Percent::new(percent.clamp(0.0, 100.0)).unwrap(),
            cells: Some(200),
        })
    };
    let concentration = Concentration::new(conc).unwrap();
    Fact::Evaluation(Evaluation {
        concentration: Some(ConcentrationBy::Instrument(concentration)),
        motile: share(motile),
        abnormal: share(abnormal),
        ..Evaluation::begun(collection, boar)
    })
}

fn take(history: &mut History, entry: EntryId, at_ms: i64, fact: &Fact) {
    history.take(&Live {
        order: Order {
            at_ms,
            clock: Clock::default(),
            id: entry,
        },
        at: Stamp::new(at_ms, 0).unwrap(),
        person: None,
        device: DeviceId::v7(1, [3; 10]),
        seq: 1,
        fact,
        corrected_by: None,
    });
}

const fn cool(_: NaiveDate) -> Option<f64> {
    None
}

fn given(n: u8, cups: &[Cup]) -> Vec<Given> {
    history(n, cups).given(&Zone::default(), cool)
}

fn herd(boars: u8, many: i64) -> BTreeMap<BoarId, History> {
    (1..=boars)
        .map(|n| (id(n), history(n, &cups(n, f64::from(n % 5) / 10.0, many))))
        .collect()
}

fn fitted(herd: &BTreeMap<BoarId, History>) -> Outlook {
    Outlook::fitted(herd, &Zone::default(), &cool, NOON_MS + 2_000 * DAY_MS).unwrap()
}

fn grown(rest: i64) -> Bearing {
    Bearing {
        day_of_year: 100,
        age_days: Some(900),
        rest_days: Some(rest),
        sperm_poor_in: Some(true),
        ..Bearing::default()
    }
}

fn of(list: &[Predicted], measure: Measure) -> Predicted {
    list[measure.place()]
}

/// No two are farther apart than this share of the standard deviation.
fn alike(one: &[Predicted], other: &[Predicted], share: f64) {
    for (a, b) in one.iter().zip(other) {
        assert!((a.mean - b.mean).abs() <= share * a.sd, "{a:?} {b:?}");
        assert!((a.sd - b.sd).abs() <= share * a.sd, "{a:?} {b:?}");
    }
}

#[test]
fn sums_rolled_back_expect_what_a_walk_from_the_start_expected() {
    let outlook = fitted(&herd(8, 40));
    let (back, past) = outlook.beside(id(3), given(3, &cups(3, 0.3, 40))).unwrap();
    // The same outlook that has not seen him walks through all of them.
    let unseen = Outlook {
        boars: BTreeMap::new(),
        ..outlook.clone()
    };
    let (forth, walked) = unseen.beside(id(3), given(3, &cups(3, 0.3, 40))).unwrap();
    assert_eq!((back.len(), forth.len()), (40, 40));
    for (back, forth) in back.iter().zip(&forth) {
        assert_eq!(back.given, forth.given);
        alike(&back.expected, &forth.expected, 1e-9);
        for (a, b) in back.worse.iter().zip(&forth.worse) {
            assert!((a.unwrap() - b.unwrap()).abs() < 1e-9);
        }
    }
    assert_eq!(
        (past.through, &past.charts),
        (walked.through, &walked.charts)
    );
}

#[test]
fn a_phone_with_the_last_ones_alone_says_what_one_with_all_says() {
    let outlook = fitted(&herd(8, 40));
    let all = given(3, &cups(3, 0.3, 44));
    let (whole, past) = outlook.beside(id(3), all.clone()).unwrap();
    let (window, short) = outlook.beside(id(3), all[20..].to_vec()).unwrap();
    for (a, b) in whole[20..].iter().zip(&window) {
        alike(&a.expected, &b.expected, 1e-9);
    }
    assert_eq!(past, short);
}

/// Volumes 50–500 mL and total sperm 20–80×10⁹ are printed for an ejaculate; over 70 % are motile and
/// over 80 % normal (veterinary-manual breeding-soundness table; Queensland Government).
#[test]
fn before_any_entry_the_printed_ranges_are_expected() {
    let start = Outlook::start();
    let list = start.forecast(&start.nobody(), &grown(5)).unwrap();
    let at = |measure: Measure| measure.from_scale(of(&list, measure).mean);
    assert!((50.0..=500.0).contains(&at(Measure::Volume)));
    assert!((20.0..=80.0).contains(&at(Measure::Total)));
    assert!(at(Measure::Motile) > 70.0 && at(Measure::Abnormal) < 20.0);
    // And an ejaculate is no surprise wherever it lies in them.
    for (measure, low, high) in [
        (Measure::Volume, 100.0, 400.0),
        (Measure::Total, 25.0, 90.0),
    ] {
        let [from, to] = of(&list, measure).interval().map(|y| measure.from_scale(y));
        assert!(from < low && high < to, "{measure:?}: {from} to {to}");
    }
}

#[test]
fn two_days_rest_are_expected_to_give_less_than_seven() {
    let start = Outlook::start();
    for outlook in [&start, &fitted(&herd(4, 30))] {
        let at = |rest| outlook.forecast(&outlook.nobody(), &grown(rest)).unwrap();
        for measure in [Measure::Volume, Measure::Total] {
            assert!(of(&at(2), measure).mean < of(&at(7), measure).mean - 0.05);
        }
    }
}

#[test]
fn of_a_boar_unknown_to_the_fit_little_is_known_and_soon_more() {
    let outlook = fitted(&herd(20, 40));
    assert_eq!(outlook.beside(id(99), vec![]).unwrap().0, []);
    let nobody = outlook.nobody();
    let first = outlook.forecast(&nobody, &grown(5)).unwrap();
    let known = outlook.forecast(&outlook.boars[&id(3)], &grown(5)).unwrap();
    let (besides, after) = outlook
        .beside(id(99), given(99, &cups(99, 0.8, 5)))
        .unwrap();
    let fifth = outlook.forecast(&after, &grown(5)).unwrap();
    for measure in Measure::ALL {
        let [first, fifth, known] = [&first, &fifth, &known].map(|list| of(list, measure).sd);
        assert!(first > fifth && fifth > known, "{first} {fifth} {known}");
    }
    // He gives far more than the others, and after five times that is half known.
    let volume = Measure::Volume;
    let [before, then] = [&first, &fifth].map(|list| of(list, volume).mean);
    assert!((0.2..0.8).contains(&(then - before)), "{before} {then}");
    let own = outlook.own(volume, &after).unwrap();
    assert!(own.mean > 0.2 && own.sd > 0.0);
    assert_eq!(besides.len(), 5);
    // What is expected of the next is what the forecast says of it.
    alike(
        &besides[0].expected,
        &outlook
            .forecast(&nobody, &besides[0].given.bearing)
            .unwrap(),
        0.0,
    );
}

#[test]
fn a_fall_is_told_with_the_ejaculate_that_told_it() {
    let outlook = fitted(&herd(12, 40));
    let mut list = cups(3, 0.3, 60);
    for cup in &mut list[45..] {
        cup.ml *= 0.6;
    }
    let all = given(3, &list);
    let (_, past) = outlook.beside(id(3), all.clone()).unwrap();
    let since = all[45].at_ms;
    let told = past.signals.iter().find(|s| s.at_ms >= since).unwrap();
    assert!(
        (45..50).any(|at| all[at].collection == told.collection && all[at].at_ms == told.at_ms)
    );
    assert!(told.fall.by < -0.2 && told.fall.since_ms >= all[40].at_ms);
}

#[test]
fn rounded_it_expects_the_same_and_is_shorter() {
    let outlook = fitted(&herd(20, 60));
    let rounded = outlook.rounded();
    let [long, short] = [&outlook, &rounded].map(|o| serde_json::to_string(o).unwrap());
    assert!(100 * short.len() < 85 * long.len());
    let read: Outlook = serde_json::from_str(&short).unwrap();
    assert_eq!(read, rounded);
    assert_eq!(rounded.rounded(), rounded);
    for n in 1..=20 {
        let list = given(n, &cups(n, f64::from(n % 5) / 10.0, 66));
        let [exact, near] = [&outlook, &rounded].map(|o| o.beside(id(n), list.clone()).unwrap().0);
        for (exact, near) in exact.iter().zip(&near) {
            alike(&exact.expected, &near.expected, 1e-4);
        }
    }
}

/// A phone's barn says of a boar what the office's walk through the log says.
#[test]
fn a_barn_and_a_log_have_one_history() {
    let mut barn = Written::new();
    let boar = barn.say(
        &Fact::Boar(Boar {
            number: Label::parse("7").unwrap(),
            name: None,
            born: None,
            line: None,
            ear: None,
            before: Before::Unknown,
            mind: None,
        }),
        NOON_MS,
    );
    let boar = boar.id.as_boar();
    for day in [1, 6, 8] {
        let at_ms = NOON_MS + day * DAY_MS;
        let entry = barn.say(&collected(boar, 200.0 + day as f64), at_ms).id;
        barn.say(
            &evaluated(boar, entry, (250.0, 80.0, 10.0)),
            at_ms + HOUR_MS,
        );
    }
    let given = History::of(&barn.barn.boar(boar).unwrap()).given(&Zone::default(), cool);
    let rests: Vec<_> = given.iter().map(|g| g.bearing.rest_days).collect();
    assert_eq!(rests, [None, Some(5), Some(2)]);
    assert_eq!(
        given[1].value(Measure::Total),
        Some(206.0 * 250.0 / 1_000.0)
    );
    let start = Outlook::start();
    let (besides, Past { through, .. }) = start.beside(boar, given.clone()).unwrap();
    assert_eq!(besides.len(), 3);
    assert_eq!(through, Some((given[2].at_ms, given[2].collection)));
}
