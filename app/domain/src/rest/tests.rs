//! Plans of whole barns, groups of a day, and recoveries. What a single boar's days are is held
//! against an independent calendar in `tests/rest/regular.py`.

use super::health::{DaysOff, Ends, EndsBeforeItBegan, fever_watch, none_at_all, offs_on};
use super::recovery::{AfterRest, Recovery, recovery};
use super::regular::{DueState, Regular, RegularFrom};
use super::week::{PLAN_DAYS_MAX, Planned, Recoveries, week};
use crate::barn::written::Written;
use crate::boar::{Before, Boar, OffCollection, OffReason, OnCollection};
use crate::coming::{What, coming};
use crate::fact::Fact;
use crate::farm::Standard;
use crate::id::{BoarId, EntryId, SowId};
use crate::said::Label;
use crate::sow::{By, Heat, Service, Sow};
use crate::time::{DAY_MS, HOUR_MS, Zone};
use crate::today::{InUse, due_today};
use chrono::NaiveDate;

/// Noon UTC of 20 November 2023, a Monday.
const NOON_MS: i64 = 1_700_481_600_000;

fn day(n: i64) -> NaiveDate {
    Zone::default().day(NOON_MS + n * DAY_MS)
}

fn at(days: i64) -> i64 {
    NOON_MS + days * DAY_MS - 4 * HOUR_MS
}

/// A grown boar who last worked so many days ago.
fn boar(barn: &mut Written, number: &str, worked: i64) -> BoarId {
    let boar = Boar {
        number: Label::parse(number).unwrap(),
        name: None,
        born: Some(day(-900)),
        line: None,
        ear: None,
        before: Before::LastOn(day(worked)),
        mind: None,
    };
    barn.say(&Fact::Boar(boar), at(-60)).id.as_boar()
}

fn goes_off(
    barn: &mut Written,
    boar: BoarId,
    since: i64,
    why: (OffReason, Option<i64>),
) -> EntryId {
    let off = OffCollection {
        boar,
        reason: why.0,
        until: why.1.map(day),
        cull: None,
    };
    barn.say(&Fact::OffCollection(off), at(since)).id
}

fn serve(barn: &mut Written, sow: SowId, by: By, on: i64) -> EntryId {
    barn.say(&Fact::Service(Service { sow, by }), at(on)).id
}

fn numbers(group: &[InUse]) -> Vec<String> {
    group.iter().map(|b| b.boar.number()).collect()
}

#[test]
fn a_plan_has_everybody_on_his_days() {
    let mut barn = Written::new();
    let late = boar(&mut barn, "3", -7);
    let later = boar(&mut barn, "2", -6);
    let due = boar(&mut barn, "1", -5);
    let rests = boar(&mut barn, "4", -2);
    let off = boar(&mut barn, "5", -9);
    goes_off(&mut barn, off, -3, (OffReason::Lame, Some(1)));
    let open = boar(&mut barn, "6", -9);
    goes_off(&mut barn, open, -3, (OffReason::Lame, None));
    let treated = boar(&mut barn, "7", -9);
    goes_off(&mut barn, treated, -3, (OffReason::Treated, Some(1)));
    let own = Recoveries::from([(
        due,
        Recovery {
            days: 6,
            by_collections: 20,
        },
    )]);

    let plan = week(&barn.barn, &own, NOON_MS, day(0), 7);
    let first = |boar, late_days| Planned {
        boar,
        late_days,
        follows: false,
    };
    let follows = |boar| Planned {
        boar,
        late_days: 0,
        follows: true,
    };
    let is = [
        (0, vec![first(late, 2), first(later, 1)]),
        (1, vec![first(due, 0)]),
        (2, vec![first(off, 0)]),
        (3, vec![first(rests, 0)]),
        (4, vec![]),
        (5, vec![follows(later), follows(late)]),
        (6, vec![]),
    ];
    assert_eq!(plan, is.map(|(n, list)| (day(n), list)));
}

#[test]
fn a_plan_is_bounded_and_begins_today() {
    let mut barn = Written::new();
    boar(&mut barn, "1", -5);
    let standard = Standard {
        regular_days: 0,
        rest_days: 0,
        in_seven_days: 9,
        ..Standard::default()
    };
    barn.say(&Fact::Standard(standard), at(-60));
    let own = Recoveries::new();
    let of = |from, days| week(&barn.barn, &own, NOON_MS, from, days);
    assert!(of(day(0), 0).is_empty());

    // Not even a standard without any rest has him work twice a day.
    let whole = of(day(0), u16::MAX);
    assert_eq!(whole.len(), usize::from(PLAN_DAYS_MAX));
    assert!(whole.iter().all(|(_, list)| list.len() == 1));

    let past = of(day(-3), 5);
    assert!(past[..3].iter().all(|(_, list)| list.is_empty()));
    assert!(past[3..].iter().all(|(_, list)| list.len() == 1));
    let far = of(day(i64::from(PLAN_DAYS_MAX) - 1), 4);
    let busy: Vec<_> = far.iter().map(|(_, list)| list.len()).collect();
    assert_eq!(busy, [1, 1, 0, 0]);
    assert!(of(NaiveDate::MAX, 3).is_empty(), "the calendar has ended");
}

#[test]
fn the_day_has_its_groups() {
    let mut barn = Written::new();
    for (number, worked) in [("1", -2), ("2", -4), ("3", -3), ("4", -5), ("5", -7)] {
        boar(&mut barn, number, worked);
    }
    for (number, worked) in [("6", -6), ("7", -8), ("8", -20)] {
        boar(&mut barn, number, worked);
    }
    let off = boar(&mut barn, "9", -8);
    goes_off(&mut barn, off, -1, (OffReason::Injured, None));
    let groups = due_today(&barn.barn, &Recoveries::new(), NOON_MS);
    assert_eq!(numbers(&groups.rest), ["1"]);
    assert_eq!(numbers(&groups.early), ["2", "3"]);
    assert_eq!(numbers(&groups.due), ["4"]);
    assert_eq!(numbers(&groups.late), ["5", "6"]);
    assert_eq!(numbers(&groups.idle), ["8", "7"]);
    let states: Vec<_> = groups.idle.iter().map(|b| b.due.state).collect();
    assert_eq!(states, [DueState::CleanOut(20), DueState::Idle(8)]);
    assert_eq!(groups.late[0].due.late_days(), Some(2));
    assert_eq!(groups.early[0].due.late_days(), None);
}

#[test]
fn every_time_off_is_named_with_what_ends_it() {
    let mut barn = Written::new();
    let boar = boar(&mut barn, "1", -9);
    let lame = goes_off(&mut barn, boar, -3, (OffReason::Lame, Some(2)));
    let blood = goes_off(&mut barn, boar, -2, (OffReason::BloodOrPus, None));
    let fever = goes_off(&mut barn, boar, -1, (OffReason::Fever, Some(5)));
    goes_off(&mut barn, boar, -1, (OffReason::Ill, Some(-2)));
    let zone = Zone::default();
    let facts = barn.barn.boar(boar).unwrap();
    let named = |n| -> Vec<_> {
        let offs = offs_on(&facts, &zone, day(n));
        offs.iter().map(|o| (o.off.entry(), o.ends)).collect()
    };
    let blood = (blood, Ends::Veterinarian { until: None });
    let fever_ends = (fever, Ends::Day(day(5)));
    assert_eq!(named(0), [blood, fever_ends, (lame, Ends::Day(day(2)))]);
    assert_eq!(named(3), [blood, fever_ends]);
    assert_eq!(named(6), [blood]);
    let wrong = facts.offs.iter().find_map(|o| DaysOff::of(o, &zone).err());
    let (from, until) = (day(-1), day(-2));
    assert_eq!(wrong, Some(EndsBeforeItBegan { from, until }));
    let says = "the last day off is 2023-11-18, and he went off on 2023-11-19: \
                choose 2023-11-19 or a later day";
    assert_eq!(wrong.unwrap().to_string(), says);
    assert_eq!(none_at_all(&facts, &zone), wrong);

    // Put back: nothing keeps him, and the fever is watched from that day.
    barn.say(&Fact::OnCollection(OnCollection { boar }), NOON_MS);
    let facts = barn.barn.boar(boar).unwrap();
    assert_eq!(offs_on(&facts, &zone, day(0)), []);
    assert_eq!(none_at_all(&facts, &zone), None);
    let watch = fever_watch(&facts, &zone, day(1)).unwrap();
    assert_eq!(
        (watch.from, watch.until, watch.entry),
        (day(0), day(42), fever)
    );
}

#[test]
fn what_is_coming_has_boars_and_sows() {
    let mut barn = Written::new();
    let due = boar(&mut barn, "1", -1);
    let hot = boar(&mut barn, "2", -20);
    let fever = goes_off(&mut barn, hot, -3, (OffReason::Fever, Some(2)));
    let open = boar(&mut barn, "3", -20);
    goes_off(&mut barn, open, -3, (OffReason::Fever, None));
    let sow = |number| Sow {
        number: Label::parse(number).unwrap(),
        gilt: false,
    };
    let holds = barn.say(&Fact::Sow(sow("A")), at(-60)).id.as_sow();
    let back = barn.say(&Fact::Sow(sow("B")), at(-60)).id.as_sow();
    serve(&mut barn, holds, By::Boar(open), -21);
    let service = serve(&mut barn, holds, By::Boar(open), -20);
    serve(&mut barn, back, By::Boar(open), -21);
    let heat = Heat {
        sow: back,
        standing: true,
        onset: None,
    };
    barn.say(&Fact::Heat(heat), at(-1));

    let list = coming(&barn.barn, &Recoveries::new(), NOON_MS, 8);
    let told = |what: &What| match *what {
        What::Collection(p) => ("due", p.boar.uuid()),
        What::Off { entry, .. } => ("off", entry.uuid()),
        What::FeverWatch { entry, .. } => ("fever", entry.uuid()),
        What::Return { service, .. } => ("return", service.uuid()),
        What::Farrowing { service, .. } => ("farrowing", service.uuid()),
    };
    let list: Vec<_> = list.iter().map(|c| (told(&c.what), c.from, c.to)).collect();
    let is = [
        (("off", fever.uuid()), day(-3), day(2)),
        (("return", service.uuid()), day(-2), day(4)),
        (("fever", fever.uuid()), day(2), day(44)),
        (("due", hot.uuid()), day(3), day(3)),
        (("due", due.uuid()), day(4), day(4)),
    ];
    assert_eq!(list, is);
    let whole = coming(&barn.barn, &Recoveries::new(), NOON_MS, 100);
    let farrows: Vec<_> = whole
        .iter()
        .filter(|c| matches!(c.what, What::Farrowing { .. }))
        .map(|c| c.from)
        .collect();
    assert_eq!(farrows, [day(94)]);
}

/// What he gave after rests of so many days, each a pair of days and residual, `times` over.
fn gave(times: usize, each: &[(u16, f64)]) -> Vec<AfterRest> {
    let one = |(days, residual): &(u16, f64)| AfterRest {
        days: *days,
        residual: *residual,
    };
    each.iter()
        .map(one)
        .cycle()
        .take(each.len() * times)
        .collect()
}

fn usual(days: u8) -> Regular {
    Regular {
        days,
        from: RegularFrom::Standard,
    }
}

fn days(list: &[AfterRest]) -> Option<u8> {
    recovery(list, usual(5), &Standard::default()).map(|r| r.days)
}

#[test]
fn too_few_say_nothing() {
    let enough = gave(4, &[(5, 0.0), (7, 0.0)]);
    assert_eq!(days(&enough), Some(4));
    assert_eq!(days(&enough[1..]), None);
    assert_eq!(days(&enough[..7]), None);
    assert_eq!(days(&gave(4, &[(5, 0.0), (6, 0.0)])), None, "none is long");
    let spoilt = gave(4, &[(5, f64::NAN), (7, 0.0), (5, f64::INFINITY)]);
    assert_eq!(days(&spoilt), None);
    assert_eq!(days(&gave(4, &[(5, 0.0), (15, 0.0)])), None, "a clean-out");
    assert_eq!(days(&[]), None);
}

#[test]
fn who_gives_less_after_short_rests_needs_longer() {
    let flat = gave(4, &[(3, 0.0), (5, 0.0), (7, 0.0)]);
    assert_eq!(days(&flat), Some(3));
    // Around four days lie those after three and five: (-0.9 - 0.1) / 2 is below -0.3.
    let soon = gave(4, &[(3, -0.9), (5, -0.1), (7, 0.0)]);
    assert_eq!(days(&soon), Some(5));
    let slow = gave(4, &[(3, -1.5), (5, -1.0), (6, -0.4), (7, -0.1), (9, 0.1)]);
    // Long: 0.0. Around 5: -0.7; 6: -0.5; 7: -0.25.
    assert_eq!(days(&slow), Some(7));
    let slowest = gave(4, &[(4, -2.0), (7, -1.0), (9, 0.0), (10, 1.0), (11, 1.0)]);
    // Long: 0.25. Around 8: -0.5; 9: 0.5.
    assert_eq!(days(&slowest), Some(9));
    let never = gave(4, &[(4, -2.0), (7, -2.0), (14, 2.0), (13, 2.0)]);
    assert_eq!(days(&never), Some(10), "nobody needs longer");
}

/// Around six days alone he gave less, but after his regular days and less as much as after more:
/// that speaks for no longer ones.
#[test]
fn a_dip_does_not_make_his_days_longer() {
    let dip = gave(4, &[(3, -0.1), (5, -0.1), (6, -2.0), (7, 0.4)]);
    assert_eq!(days(&dip), Some(5));
}

#[test]
fn his_days_are_never_below_the_farm_s_rest() {
    let standard = Standard {
        rest_days: 6,
        ..Standard::default()
    };
    let flat = gave(4, &[(4, 0.0), (6, 0.0), (7, 0.0)]);
    let found = recovery(&flat, usual(6), &standard);
    let is = Recovery {
        days: 6,
        by_collections: 12,
    };
    assert_eq!(found, Some(is));
    let long = Standard {
        rest_days: 12,
        ..Standard::default()
    };
    let found = recovery(&gave(4, &[(7, 0.0), (13, 0.0)]), usual(12), &long);
    assert_eq!(found.map(|r| r.days), Some(12));
}
