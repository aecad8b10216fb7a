use super::advice::{Advice, advice};
use super::group::{Turn, order};
use super::state::{Progress, State, progress};
use super::*;
use crate::barn::{Barn, BoarFacts};
use crate::boar::{Before, Boar, Move, OffCollection, OffReason, Pen};
use crate::fact::Fact;
use crate::farm::Standard;
use crate::id::{BarnId, DeviceId, EntryId, FarmId};
use crate::said::Label;
use crate::time::{DAY_MS, HOUR_MS, MINUTE_MS, Stamp, Zone};
use crate::writer::{Head, Moment};
use chrono::NaiveDate;

/// Noon UTC of 20 November 2023.
const NOON_MS: i64 = 1_700_481_600_000;

fn day(n: i64) -> NaiveDate {
    Zone::default().day(NOON_MS + n * DAY_MS)
}

struct Writer {
    head: Head,
    barn: Barn,
    n: u8,
    k: u8,
}

impl Writer {
    fn new(device: u8) -> Self {
        let (farm, barn) = (FarmId::v7(1, [1; 10]), BarnId::v7(1, [1; 10]));
        Self {
            head: Head::new(farm, barn, DeviceId::v7(1, [device; 10])),
            barn: Barn::default(),
            n: 0,
            k: device,
        }
    }

    fn write(&mut self, fact: &Fact, at_ms: i64) -> EntryId {
        let (next, over) = self.n.overflowing_add(1);
        (self.n, self.k) = (next, self.k + u8::from(over));
        let at = Stamp::new(at_ms, 0).unwrap();
        let moment = Moment {
            now: at,
            occurred_at: at,
            random: [self.k, 0, 0, 0, 0, 0, 0, 0, 0, self.n],
            person: None,
        };
        let (entry, head) = self.head.write(fact, moment).unwrap();
        self.head = head;
        assert!(self.barn.apply(&entry));
        entry.envelope().id
    }

    /// A boar of 300 days, entered two months ago.
    fn boar(&mut self, number: &str) -> BoarId {
        let boar = Boar {
            number: Label::parse(number).unwrap(),
            name: None,
            born: Some(day(-300)),
            line: None,
            ear: None,
            before: Before::NoneYet,
            mind: None,
        };
        self.write(&Fact::Boar(boar), NOON_MS - 60 * DAY_MS)
            .as_boar()
    }

    fn session(&mut self, boar: BoarId, days: i64, score: u32) -> EntryId {
        self.trained(boar, days, score, &[])
    }

    fn trained(&mut self, boar: BoarId, days: i64, score: u32, mishaps: &[Mishap]) -> EntryId {
        let fact = Fact::Training(Training {
            score: Said::Confirmed(Score::new(score).unwrap()),
            mishaps: mishaps.to_vec(),
            ..Training::new(boar, Lesson::Session)
        });
        self.write(&fact, NOON_MS + days * DAY_MS)
    }

    fn facts(&self, boar: BoarId) -> BoarFacts {
        self.barn.boar(boar).unwrap()
    }

    fn progress(&self, boar: BoarId) -> Progress {
        let (facts, now) = (self.facts(boar), NOON_MS + HOUR_MS);
        progress(&facts, &Standard::default(), &Zone::default(), now)
    }

    fn advice(&self, boar: BoarId) -> Vec<Advice> {
        advice(&self.facts(boar), &self.progress(boar), &Zone::default())
    }
}

#[test]
fn three_sessions_without_interest_ask_for_rest_until_it_is_over() {
    let mut w = Writer::new(1);
    let boar = w.boar("7");
    w.session(boar, -5, 1);
    w.session(boar, -4, 0);
    w.session(boar, -3, 0);
    assert_eq!(w.advice(boar), []);
    let by = w.session(boar, -2, 0);
    let (until, sessions) = (day(2), 3);
    assert_eq!(
        w.advice(boar),
        [Advice::RestUntil {
            until,
            sessions,
            by
        }]
    );
    let mut later = Writer::new(1);
    let boar = later.boar("7");
    for days in -6..=-4 {
        later.session(boar, days, 0);
    }
    assert_eq!(later.advice(boar), []);
}

#[test]
fn falling_scores_are_said_and_equal_ones_are_not() {
    let mut w = Writer::new(1);
    let boar = w.boar("7");
    for (days, score) in [(-4, 4), (-3, 3), (-2, 3)] {
        w.session(boar, days, score);
    }
    assert_eq!(w.advice(boar), []);
    w.session(boar, -1, 1);
    assert_eq!(w.advice(boar), []);
    w.trained(boar, 0, 0, &[]);
    let scores = [3, 1, 0].map(|n| Score::new(n).unwrap());
    assert_eq!(w.advice(boar)[1], Advice::Falling(scores.to_vec()));
}

/// Half a year back from 20 November is 20 May.
#[test]
fn a_danger_asks_for_two_people_for_half_a_year() {
    let said = |days| {
        let mut w = Writer::new(1);
        let boar = w.boar("7");
        let by = w.trained(boar, days, 1, &[Mishap::Noise, Mishap::Charge]);
        (w.advice(boar), by, day(days))
    };
    let (advice, by, on) = said(-184);
    let what = Trouble::Charge;
    assert_eq!(advice[0], Advice::TwoPeople { what, day: on, by });
    assert_eq!(on, NaiveDate::from_ymd_opt(2023, 5, 20).unwrap());
    let (advice, ..) = said(-185);
    assert!(!advice.iter().any(|a| matches!(a, Advice::TwoPeople { .. })));
}

#[test]
fn after_four_weeks_without_success_the_evidence_is_told() {
    let mut w = Writer::new(1);
    let boar = w.boar("7");
    w.session(boar, -28, 2);
    assert_eq!(w.advice(boar), []);
    let mut slow = Writer::new(1);
    let boar = slow.boar("7");
    slow.session(boar, -29, 2);
    slow.session(boar, -1, 1);
    let best = Some(Score::new(2).unwrap());
    let (days, sessions) = (29, 2);
    assert_eq!(
        slow.advice(boar),
        [Advice::Slow {
            days,
            sessions,
            best
        }]
    );
}

#[test]
fn a_rough_hand_is_remembered_for_two_weeks_or_until_the_next_session() {
    let mut w = Writer::new(1);
    let boar = w.boar("7");
    let by = w.trained(boar, -14, 2, &[Mishap::Rough, Mishap::Noise]);
    let what = Mishap::Rough;
    assert_eq!(w.advice(boar), [Advice::AfterMishap { what, by }]);
    w.session(boar, -1, 2);
    assert_eq!(w.advice(boar), []);
}

#[test]
fn two_phones_and_one_session_are_one_with_both_entries_named() {
    let (mut one, mut two) = (Writer::new(1), Writer::new(2));
    let boar = one.boar("7");
    let first = one.session(boar, -1, 2);
    let fact = Fact::Training(Training {
        score: Said::Confirmed(Score::new(3).unwrap()),
        ..Training::new(boar, Lesson::Session)
    });
    let second = two.write(&fact, NOON_MS - DAY_MS + 9 * MINUTE_MS);
    two.barn.ledgers().for_each(|l| one.barn.put(l));
    let progress = one.progress(boar);
    assert_eq!(progress.doubles, [(first, second)]);
    let scores: Vec<_> = progress.sessions.iter().map(|h| h.score).collect();
    assert_eq!(scores, [Score::new(3).ok()]);
    assert_eq!(progress.in_seven_days(), 1);
}

/// Forty boars in one pen: the order of the day holds each once, those due first.
#[test]
fn forty_in_one_pen_have_an_order() {
    let mut w = Writer::new(1);
    let pen = Fact::Pen(Pen {
        name: Label::parse("3").unwrap(),
    });
    let pen = w.write(&pen, NOON_MS - 61 * DAY_MS).as_pen();
    let boars: Vec<_> = (1..=40).map(|n| w.boar(&n.to_string())).collect();
    for boar in &boars {
        let moved = Fact::Move(Move {
            boar: *boar,
            from: None,
            to: Some(pen),
            gone: false,
        });
        w.write(&moved, NOON_MS - 59 * DAY_MS);
    }
    assert_eq!(w.barn.boars_in(&w.barn.pen(pen).unwrap()).len(), 40);
    w.session(boars[0], -1, 2);
    w.session(boars[1], -2, 2);
    w.session(boars[2], 0, 2);
    w.session(boars[3], -1, 5);
    w.trained(boars[4], -9, 0, &[]);
    let off = OffCollection {
        boar: boars[5],
        reason: OffReason::Isolation,
        until: Some(day(4)),
        cull: None,
    };
    w.write(&Fact::OffCollection(off), NOON_MS - DAY_MS);
    let gone = Move {
        boar: boars[6],
        from: Some(pen),
        to: None,
        gone: true,
    };
    w.write(&Fact::Move(gone), NOON_MS - DAY_MS);
    let order = order(&w.barn, NOON_MS + HOUR_MS);
    assert_eq!(order.len(), 39);
    let numbers: Vec<_> = order.iter().map(|p| p.boar.number()).collect();
    // Planned; then who never had a session, by number; then those who had, the longest ago first.
    assert_eq!(numbers[0..3], ["4", "8", "9"]);
    assert_eq!(numbers[34..], ["5", "2", "1", "3", "6"]);
    assert_eq!(order[0].turn, Turn::Planned);
    assert_eq!(order[37].turn, Turn::Done);
    assert_eq!(order[38].turn, Turn::NotYet(Some(day(4))));
}

#[test]
fn who_died_yesterday_is_gone_whatever_was_recorded_since() {
    let mut w = Writer::new(1);
    let boar = w.boar("7");
    w.session(boar, -3, 3);
    let gone = Move {
        boar,
        from: None,
        to: None,
        gone: true,
    };
    w.write(&Fact::Move(gone), NOON_MS - DAY_MS);
    w.session(boar, 0, 3);
    let progress = w.progress(boar);
    assert_eq!(progress.state, State::Gone);
    assert!(!progress.is_open() && !progress.is_pupil());
    assert_eq!(progress.sessions.len(), 2);
}

#[test]
fn what_lasts_longer_than_a_day_does_not_read() {
    let refused = SessionMinutes::new(1_441).unwrap_err().to_string();
    assert_eq!(
        refused,
        "SessionMinutes is 1441 min; it must be from 1 to 1440 min"
    );
    let body = |minutes: u32| {
        let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
        format!(r#"{{"boar":"{boar}","what":"session","minutes":{{"confirmed":{minutes}}}}}"#)
    };
    assert!(crate::json::read::<Training>(&body(1_440)).is_ok());
    assert!(crate::json::read::<Training>(&body(1_441)).is_err());
    assert!(crate::json::read::<Training>(&body(0)).is_err());
}

/// The farm's own figures of training are written only where they differ from the program's, so
/// that entries of older programs keep their bytes; they read back as they were.
#[test]
fn a_standard_without_the_younger_fields_reads_and_is_written_as_ever() {
    let plain = serde_json::to_string(&Standard::default()).unwrap();
    for field in ["rhythm", "session", "isolation"] {
        assert!(!plain.contains(field), "{plain}");
    }
    let own = Standard {
        rhythm: crate::farm::Rhythm::NextDayThenWeekly,
        session_minutes: 20,
        session_minutes_without_interest: 5,
        isolation_days: 45,
        ..Standard::default()
    };
    let body = serde_json::to_string(&own).unwrap();
    assert_eq!(crate::json::read::<Standard>(&body).unwrap(), own);
    assert_eq!(
        crate::json::read::<Standard>(&plain).unwrap(),
        Standard::default()
    );
}
