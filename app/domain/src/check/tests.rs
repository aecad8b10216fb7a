use super::*;
use crate::barn::written::Written;
use crate::check::CheckDays;
use crate::farm::{Farm, Standard};
use crate::said::Label;
use crate::time::{DAY_MS, Zone};

/// 2026-03-09, a Monday, 05:00 UTC: six in the morning on the farm.
const MONDAY_MS: i64 = 1_773_032_400_000;

struct Log(Written);

impl Log {
    /// A farm one hour east of UTC.
    fn new() -> Self {
        let farm = Farm {
            name: Label::parse("Altozar").unwrap(),
            zone: Zone::fixed("Etc/GMT-1", 60),
            origin: None,
            invented: false,
        };
        let mut log = Self(Written::new());
        log.0.say(&Fact::Farm(farm), MONDAY_MS - 400 * DAY_MS);
        log
    }

    fn look(&mut self, what: Thing, answer: Found, at_ms: i64) {
        let remark = None;
        let check = Check {
            what,
            answer,
            remark,
        };
        self.0.say(&Fact::Check(check), at_ms);
    }

    fn standing(&self, what: Thing, now_ms: i64) -> Option<Standing> {
        let all = checks(&self.0.barn, now_ms);
        all.iter().find(|d| d.what == what).map(|d| d.standing)
    }
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn a_farm_that_never_looked_is_told_so_but_not_every_day() {
    let log = Log::new();
    let all = checks(&log.0.barn, MONDAY_MS);
    assert_eq!(all.len(), Thing::ALL.len());
    assert!(all.iter().all(|d| d.standing == Standing::Never));
    assert_eq!(wanting(&log.0.barn, MONDAY_MS), []);
}

#[test]
fn a_look_holds_for_its_days_and_the_day_is_the_farms() {
    let mut log = Log::new();
    // 23:30 on Monday in the farm's time, 22:30 in UTC.
    let late = MONDAY_MS + 17 * HOUR_MS + HOUR_MS / 2;
    log.look(Thing::DummyClean, Found::Fine, late);
    log.look(Thing::Scale, Found::Fine, MONDAY_MS);
    let clean = |now_ms| log.standing(Thing::DummyClean, now_ms);
    let tuesday = day("2026-03-10");
    assert_eq!(clean(late), Some(Standing::FineTill(tuesday)));
    assert_eq!(clean(late + HOUR_MS), Some(Standing::Since(tuesday)));
    assert_eq!(clean(late + 9 * DAY_MS), Some(Standing::Since(tuesday)));
    // 30 days after 9 March, by a calendar on the wall: 8 April.
    let scale = |now_ms| log.standing(Thing::Scale, now_ms);
    let april = day("2026-04-08");
    assert_eq!(
        scale(MONDAY_MS + 29 * DAY_MS),
        Some(Standing::FineTill(april))
    );
    assert_eq!(scale(MONDAY_MS + 30 * DAY_MS), Some(Standing::Since(april)));
    let wanted: Vec<_> = wanting(&log.0.barn, late).iter().map(|d| d.what).collect();
    assert_eq!(
        wanted.len(),
        Thing::ALL.len() - 2,
        "the others were never looked at"
    );
}

#[test]
fn what_is_not_fine_stays_so_until_it_is_found_fine() {
    let mut log = Log::new();
    log.look(Thing::DummyStands, Found::NotFine, MONDAY_MS);
    let stands = |log: &Log, now_ms| log.standing(Thing::DummyStands, now_ms).unwrap();
    for days in [0, 6, 7, 60] {
        assert_eq!(stands(&log, MONDAY_MS + days * DAY_MS), Standing::NotFine);
    }
    // Entered late, it happened before: it says nothing of what was found since.
    log.look(Thing::DummyStands, Found::Fine, MONDAY_MS - DAY_MS);
    assert_eq!(stands(&log, MONDAY_MS), Standing::NotFine);
    log.look(Thing::DummyStands, Found::Fine, MONDAY_MS + DAY_MS);
    let again = Standing::FineTill(day("2026-03-17"));
    assert_eq!(stands(&log, MONDAY_MS + DAY_MS), again);
}

#[test]
fn a_look_dated_in_the_future_counts_for_nothing() {
    let mut log = Log::new();
    log.look(Thing::Cup, Found::Fine, MONDAY_MS + 300 * DAY_MS);
    assert_eq!(log.standing(Thing::Cup, MONDAY_MS), Some(Standing::Never));
}

#[test]
fn a_farm_without_a_microscope_has_no_stage_to_look_after() {
    let mut log = Log::new();
    let checks = CheckDays {
        stage: 0,
        area: 14,
        ..CheckDays::default()
    };
    let standard = Standard {
        checks,
        ..Standard::default()
    };
    log.0.say(&Fact::Standard(standard), MONDAY_MS);
    assert_eq!(log.standing(Thing::Stage, MONDAY_MS), None);
    log.look(Thing::Quiet, Found::Fine, MONDAY_MS);
    let again = Standing::FineTill(day("2026-03-23"));
    assert_eq!(log.standing(Thing::Quiet, MONDAY_MS), Some(again));
}

#[test]
fn intervals_that_nobody_chose_leave_no_trace_in_a_standard() {
    let body = Fact::Standard(Standard::default()).body();
    assert!(
        !body.contains("checks") && !body.contains("supervised"),
        "{body}"
    );
    let read: Standard =
        serde_json::from_str(r#"{"checks":{"area":3},"supervised_times":4}"#).unwrap();
    assert_eq!((read.checks.area, read.checks.dummy), (3, 1));
    assert_eq!(read.supervised_times, 4);
}
