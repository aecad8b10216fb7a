use super::*;
use crate::amend::Void;
use crate::barn::written::Written;
use crate::boar::{Boar, Move, OffCollection};
use crate::collection::Outcome;
use crate::fact::Fact;
use crate::said::Said;
use crate::survival::{Middle, TooFew};
use crate::time::{DAY_MS, HOUR_MS};
use crate::training::{Lesson, Mishap};

/// 2026-03-09, a Monday, noon UTC.
const NOON_MS: i64 = 1_773_057_600_000;

fn at(day: i64) -> i64 {
    NOON_MS + day * DAY_MS
}

struct Farm(Written);

impl Farm {
    fn new() -> Self {
        Self(Written::new())
    }

    /// A boar born so many days before day 0.
    fn boar(&mut self, number: &str, age_days: Option<i64>, before: Before) -> BoarId {
        let day = |n| Zone::default().day(at(n));
        let fact = Fact::Boar(Boar {
            number: Label::parse(number).unwrap(),
            name: None,
            born: age_days.map(|age| day(-age)),
            line: Some(Label::parse("Maternal").unwrap()),
            ear: None,
            before,
            mind: None,
        });
        self.0.say(&fact, at(-20)).id.as_boar()
    }

    fn session(&mut self, boar: BoarId, day: i64, score: u32, mishaps: &[Mishap]) {
        let fact = Fact::Training(Training {
            score: Said::Confirmed(Score::new(score).unwrap()),
            mishaps: mishaps.to_vec(),
            lures: vec![Lure::SowScent],
            ..Training::new(boar, Lesson::Session)
        });
        self.0.say(&fact, at(day));
    }

    fn collected(&mut self, boar: BoarId, at_ms: i64) {
        self.0.say(&Self::collection(boar), at_ms);
    }

    fn collection(boar: BoarId) -> Fact {
        Fact::Collection(Collection {
            boar,
            outcome: Outcome::Collected,
            glove: Said::Unanswered,
            mount: Said::Unanswered,
            steps: vec![],
            sperm_poor_in: Said::Unanswered,
            amount: None,
            amount_confirmed: false,
            temper: None,
            trouble: vec![],
            despite: None,
            note: None,
        })
    }

    fn pupil(&self, boar: BoarId, now_day: i64) -> Option<Pupil> {
        let all = pupils(&self.0.barn, at(now_day) + HOUR_MS);
        all.into_iter().find(|p| p.boar == boar)
    }
}

fn watched(pupil: &Pupil) -> [(f64, bool); 2] {
    [pupil.days, pupil.sessions].map(|o| (o.time(), o.happened()))
}

#[test]
fn days_and_sessions_run_from_the_first_session_to_the_first_success() {
    let mut farm = Farm::new();
    let boar = farm.boar("1", Some(250), Before::NoneYet);
    for (day, score) in [(0, 0), (1, 2), (4, 3), (6, 5), (7, 5)] {
        farm.session(boar, day, score, &[]);
    }
    let pupil = farm.pupil(boar, 30).unwrap();
    assert_eq!(watched(&pupil), [(6.0, true), (4.0, true)]);
    assert_eq!((pupil.age_days, pupil.day_stands_in), (Some(250), false));
    assert_eq!(pupil.lures, [Lure::SowScent]);
}

#[test]
fn a_collection_is_a_success_too_and_one_of_the_same_hour_is_the_session() {
    let mut farm = Farm::new();
    let (apart, together) = (
        farm.boar("1", None, Before::NoneYet),
        farm.boar("2", None, Before::Unknown),
    );
    for boar in [apart, together] {
        farm.session(boar, 0, 1, &[]);
        farm.session(boar, 3, 4, &[]);
    }
    farm.collected(apart, at(5));
    farm.collected(together, at(3) + HOUR_MS / 2);
    let apart = farm.pupil(apart, 30).unwrap();
    assert_eq!(watched(&apart), [(5.0, true), (3.0, true)]);
    let together = farm.pupil(together, 30).unwrap();
    assert_eq!(watched(&together), [(3.0, true), (2.0, true)]);
}

#[test]
fn who_is_still_in_training_left_or_was_given_up_is_watched_so_long() {
    let mut farm = Farm::new();
    let [still, gone, given_up] =
        ["1", "2", "3"].map(|number| farm.boar(number, Some(240), Before::NoneYet));
    for boar in [still, gone, given_up] {
        farm.session(boar, 0, 1, &[]);
        farm.session(boar, 2, 2, &[]);
    }
    let left = Move {
        boar: gone,
        from: None,
        to: None,
        gone: true,
    };
    farm.0.say(&Fact::Move(left), at(9));
    let off = OffCollection {
        boar: given_up,
        reason: OffReason::Cull,
        until: None,
        cull: None,
    };
    farm.0.say(&Fact::OffCollection(off), at(12));
    for (boar, days) in [(still, 20.0), (gone, 9.0), (given_up, 12.0)] {
        let pupil = farm.pupil(boar, 20).unwrap();
        assert_eq!(watched(&pupil), [(days, false), (2.0, false)]);
    }
}

#[test]
fn who_knew_it_already_is_no_pupil() {
    let mut farm = Farm::new();
    let worked = farm.boar("1", None, Before::LastOn(Zone::default().day(at(-40))));
    let retrained = farm.boar("2", None, Before::NoneYet);
    farm.collected(retrained, at(-5));
    for boar in [worked, retrained] {
        farm.session(boar, 0, 1, &[]);
    }
    assert_eq!(pupils(&farm.0.barn, at(9)), []);
}

/// Of his collections the ledger keeps the latest; the first, with which he succeeded, is gone.
#[test]
fn a_success_that_is_no_longer_held_still_counts() {
    let mut farm = Farm::new();
    let boar = farm.boar("1", Some(240), Before::NoneYet);
    farm.session(boar, 0, 2, &[]);
    farm.session(boar, 4, 4, &[]);
    for n in 0..40 {
        farm.collected(boar, at(5 + 4 * n));
    }
    // One that was taken back leaves fewer on the page than the ledger keeps.
    let wrong = farm.0.say(&Farm::collection(boar), at(170));
    let void = Fact::Void(Void::of(wrong, &Farm::collection(boar)));
    farm.0.say(&void, at(170));
    let pupil = farm.pupil(boar, 300).unwrap();
    assert_eq!(watched(&pupil), [(5.0, true), (3.0, true)]);
    assert!(pupil.day_stands_in);
}

/// Ages at the first session of 189, 190, 239 and 240 days, either side of both bounds.
#[test]
fn groups_are_told_apart_by_age_and_the_unknown_are_counted() {
    let mut farm = Farm::new();
    for (n, age) in [Some(189), Some(190), Some(239), Some(240), None]
        .into_iter()
        .enumerate()
    {
        let boar = farm.boar(&n.to_string(), age, Before::NoneYet);
        farm.session(boar, 0, 5, &[]);
    }
    let (standard, all) = (Standard::default(), pupils(&farm.0.barn, at(3)));
    let found = evidence(&all, By::Age, Measure::Sessions, &standard);
    let sizes: Vec<_> = found
        .groups
        .iter()
        .map(|(g, c)| (g.clone(), c.watched))
        .collect();
    let expected = [(Group::Early, 1), (Group::Younger, 2), (Group::Grown, 1)];
    assert_eq!((sizes.as_slice(), found.not_said), (&expected[..], 1));
    let Compared::TooFew(TooFew::Expected { happened: 4, .. }) = found.compared else {
        panic!("four successes say nothing: {:?}", found.compared)
    };
    let whole = evidence(&all, By::All, Measure::Days, &standard);
    assert_eq!(
        whole.groups[0].1.middle(),
        Middle::Reached(whole.groups[0].1.median().unwrap())
    );
    assert_eq!(whole.compared, Compared::TooFew(TooFew::Groups));
    let by_line = evidence(&all, By::Line, Measure::Days, &standard);
    assert_eq!(by_line.groups.len(), 1);
    let by_handler = evidence(&all, By::Handler, Measure::Days, &standard);
    assert_eq!((by_handler.groups.len(), by_handler.not_said), (0, 5));
}

/// Worked by hand: scores 2, 1 (noise), 1, 3 and 0, 3 (nothing), 2.
#[test]
fn what_followed_an_event_stands_beside_what_followed_none() {
    let mut farm = Farm::new();
    let (noisy, plain) = (
        farm.boar("1", None, Before::NoneYet),
        farm.boar("2", None, Before::NoneYet),
    );
    farm.session(noisy, 0, 2, &[]);
    farm.session(noisy, 1, 1, &[Mishap::Noise]);
    farm.session(noisy, 2, 1, &[]);
    farm.session(noisy, 3, 3, &[]);
    farm.session(plain, 0, 0, &[]);
    farm.session(plain, 1, 3, &[]);
    farm.session(plain, 2, 2, &[]);
    let found = aftermath(&farm.0.barn, at(9));
    let counts: Vec<_> = found
        .iter()
        .map(|a| (a.what, a.less, a.same, a.farther))
        .collect();
    assert_eq!(counts, [(None, 0, 0, 2), (Some(Mishap::Noise), 1, 0, 0)]);
    assert!(
        found.iter().all(|a| a.mean_change.is_none()),
        "too few to say"
    );
    for n in 0..4 {
        let boar = farm.boar(&format!("1{n}"), None, Before::NoneYet);
        farm.session(boar, 0, 3, &[]);
        farm.session(boar, 1, 2, &[Mishap::Noise]);
        farm.session(boar, 2, n, &[]);
    }
    // Changes after noise: −1, and 0 − 3, 1 − 3, 2 − 3, 3 − 3: their mean is −7 ÷ 5.
    let found = aftermath(&farm.0.barn, at(9));
    let noise = found
        .iter()
        .find(|a| a.what == Some(Mishap::Noise))
        .unwrap();
    assert_eq!((noise.times(), noise.mean_change), (5, Some(-1.4)));
}
