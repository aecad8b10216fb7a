// The kind that came with training, in a thread of its own, so that what was frozen before stays as
// it is. Only ever add to the end of this list.

use pentally_domain::amend::{Correction, Void};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::farm::{Rhythm, Standard};
use pentally_domain::id::{BarnId, BoarId, DeviceId, FarmId, PersonId};
use pentally_domain::said::{Remark, Said};
use pentally_domain::time::Stamp;
use pentally_domain::training::{Early, Lesson, Lure, Mishap, Touch, Training};
use pentally_domain::units::{Score, SessionMinutes};
use pentally_domain::writer::{Head, Moment};

/// 2026-03-29 05:05 UTC, the morning after a change of clocks.
const BEGIN_MS: i64 = 1_774_760_700_000;

fn boar() -> BoarId {
    BoarId::v7(BEGIN_MS, [5; 10])
}

fn minutes(n: u32) -> SessionMinutes {
    SessionMinutes::new(n).expect("minutes")
}

fn score(n: u32) -> Score {
    Score::new(n).expect("a score")
}

fn facts() -> Vec<(&'static str, Fact)> {
    let visit = Training {
        minutes: Said::ByDefault(minutes(7)),
        ..Training::new(boar(), Lesson::Visit)
    };
    let full = Training {
        score: Said::Confirmed(score(3)),
        minutes: Said::Confirmed(minutes(75)),
        minutes_confirmed: true,
        touch: vec![Touch::Body, Touch::Sheath],
        lures: vec![Lure::SowScent, Lure::BoarScent, Lure::OthersWatched],
        // Those that version 1 knew.
        mishaps: Mishap::ALL
            .into_iter()
            .filter(|m| *m != Mishap::Aggressive)
            .collect(),
        helper: Some(PersonId::v7(BEGIN_MS, [2; 10])),
        early: Some(Early::Keen),
        note: Some(Remark::parse("Miró «mucho»; 2.ª vez").expect("a remark")),
        ..Training::new(boar(), Lesson::Session)
    };
    let early = |early| {
        Fact::Training(Training {
            early: Some(early),
            ..Training::new(boar(), Lesson::Session)
        })
    };
    let standard = Standard {
        rhythm: Rhythm::NextDayThenWeekly,
        session_minutes: 20,
        session_minutes_without_interest: 7,
        isolation_days: 45,
        ..Standard::default()
    };
    vec![
        ("training_visit", Fact::Training(visit)),
        ("training_session", Fact::Training(full)),
        ("training_early_needed", early(Early::Needed)),
        ("training_early_advised", early(Early::Advised)),
        ("training_early_age_wrong", early(Early::AgeWrong)),
        ("standard_with_training", Fact::Standard(standard)),
    ]
}

/// Names, entries and the facts that must be read from them.
pub fn said() -> Vec<(&'static str, Entry, Option<Fact>)> {
    let mut head = Head::new(
        FarmId::v7(BEGIN_MS, [0xfa; 10]),
        BarnId::v7(BEGIN_MS, [0xba; 10]),
        DeviceId::v7(BEGIN_MS, [0xdf; 10]),
    );
    let (mut list, mut n) = (vec![], 0);
    let mut say = |name, fact: Fact| {
        n += 1;
        let now = Stamp::new(BEGIN_MS + i64::from(n) * 60_000, 120).expect("a stamp");
        let moment = Moment {
            now,
            occurred_at: now,
            random: [n; 10],
            person: None,
        };
        let (entry, next) = head.write(&fact, moment).expect("an entry");
        head = next;
        let order = entry.order();
        list.push((name, entry, Some(fact)));
        order
    };
    let mut orders = vec![];
    for (name, fact) in facts() {
        orders.push((say(name, fact.clone()), fact));
    }
    let (record, before) = &orders[1];
    let right = Fact::Training(Training {
        score: Said::Confirmed(score(5)),
        ..Training::new(boar(), Lesson::Session)
    });
    say(
        "training_corrected",
        Fact::Correction(Correction::of(*record, before, right)),
    );
    say(
        "training_void",
        Fact::Void(Void::of(orders[2].0, &orders[2].1)),
    );
    list
}
