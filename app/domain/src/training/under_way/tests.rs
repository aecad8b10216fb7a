use super::*;
use crate::farm::Standard;

const BOAR: BoarId = BoarId::from_uuid(uuid::Uuid::from_u128(1));

fn at(minute: i64) -> Stamp {
    Stamp::new(1_780_000_000_000 + minute * MINUTE_MS, 60).unwrap()
}

fn score(n: u32) -> Score {
    Score::new(n).unwrap()
}

fn saw(n: u32) -> Tap {
    Tap::Sight(Sight::Reached(score(n)))
}

fn run(taps: impl IntoIterator<Item = (i64, Tap)>) -> UnderWay {
    let fresh = UnderWay::new(BOAR, false);
    let mut taps = taps.into_iter();
    taps.try_fold(fresh, |work, (minute, tap)| work.tap(tap, at(minute)))
        .unwrap()
}

fn shaking(work: UnderWay) -> UnderWay {
    work.tap(Tap::Shake(true), at(0)).unwrap()
}

fn sign(work: &UnderWay, minute: i64) -> Sign {
    work.sign(&Standard::default(), at(minute).ms())
}

#[test]
fn one_tap_begins_one_ends_and_one_scores() {
    let ended = run([(0, Tap::Begin(Lesson::Session)), (12, Tap::Over)]);
    assert_eq!(ended.screen, Screen::Score);
    let scored = ended.tap(Tap::Score(score(2)), at(13)).unwrap();
    assert_eq!(scored.screen, Screen::Finish);
    let record = scored.finished();
    assert_eq!(record.reached(), Some(score(2)));
    assert_eq!(
        record.minutes,
        Said::ByDefault(SessionMinutes::new(12).unwrap())
    );
    assert_eq!(scored.occurred_at(&Zone::fixed("", 60)), Some(at(0)));
}

#[test]
fn what_a_helper_taps_scores_by_itself_and_undo_takes_it_back() {
    let seen = run([
        (0, Tap::Begin(Lesson::Session)),
        (2, saw(1)),
        (4, saw(3)),
        (5, saw(4)),
    ]);
    let undone = seen.tap(Tap::Undo, at(5)).unwrap();
    assert_eq!(undone.reached(), Some(score(3)));
    let over = undone.tap(Tap::Over, at(9)).unwrap();
    assert_eq!(
        (over.screen, over.record.reached()),
        (Screen::Finish, Some(score(3)))
    );
    let again = over.tap(Tap::Back, at(10)).unwrap();
    assert_eq!((again.screen, again.ended_at), (Screen::Under, None));
    assert_eq!(again.elapsed_ms(at(11).ms()), Some(11 * MINUTE_MS));
}

#[test]
fn aggression_is_kept_when_he_comes_further_and_undo_takes_it_back() {
    let seen = run([(0, Tap::Begin(Lesson::Session)), (2, saw(2))]);
    let alone = seen.clone().tap(Tap::Over, at(3)).unwrap().finished();
    assert_eq!(
        (alone.reached(), alone.mishaps),
        (Some(Score::AGGRESSIVE), vec![])
    );
    let up = seen.tap(saw(3), at(4)).unwrap();
    assert!(up.was_aggressive());
    let over = up.tap(Tap::Over, at(9)).unwrap();
    let record = over.clone().finished();
    assert_eq!(record.reached(), Some(score(3)));
    assert_eq!(record.mishaps, [Mishap::Aggressive]);
    let again = over.tap(Tap::Back, at(9)).unwrap();
    let again = again.tap(Tap::Over, at(10)).unwrap();
    assert_eq!(again.record.mishaps, [Mishap::Aggressive]);
    let mut undone = again.tap(Tap::Back, at(10)).unwrap();
    for _ in 0..2 {
        undone = undone.tap(Tap::Undo, at(10)).unwrap();
    }
    let undone = undone.tap(saw(3), at(11)).unwrap();
    assert!(
        undone
            .tap(Tap::Over, at(12))
            .unwrap()
            .record
            .mishaps
            .is_empty()
    );
}

/// 15 minutes, and 10 without interest: the farm standard's defaults.
#[test]
fn enough_is_said_at_the_limit_and_earlier_without_interest() {
    let idle = run([(0, Tap::Begin(Lesson::Session)), (3, saw(0))]);
    assert_eq!(
        (sign(&idle, 9), sign(&idle, 10)),
        (Sign::GoOn, Sign::Enough)
    );
    let keen = idle.tap(saw(1), at(9)).unwrap();
    assert_eq!(
        (sign(&keen, 14), sign(&keen, 15)),
        (Sign::GoOn, Sign::Enough)
    );
    assert!(!keen.shakes(&Standard::default(), at(15).ms()));
    assert!(shaking(keen).shakes(&Standard::default(), at(15).ms()));
}

#[test]
fn nobody_is_sent_away_from_a_mounted_boar_and_nothing_shakes() {
    let up = shaking(run([(0, Tap::Begin(Lesson::Session)), (3, saw(3))]));
    for minute in [3, 15, 40] {
        assert_eq!(sign(&up, minute), Sign::Mounted);
        assert!(!up.shakes(&Standard::default(), at(minute).ms()));
    }
    let down = up.tap(Tap::Sight(Sight::Down), at(41)).unwrap();
    assert_eq!(sign(&down, 41), Sign::Enough);
    assert!(down.shakes(&Standard::default(), at(41).ms()));
}

#[test]
fn what_nobody_tapped_is_not_known_so_the_word_is_conditional_and_nothing_shakes() {
    let alone = shaking(run([(0, Tap::Begin(Lesson::Session))]));
    let signs = [9, 10, 14, 15].map(|minute| sign(&alone, minute));
    let (idle, down) = (Sign::EnoughIfIdle, Sign::EnoughIfDown);
    assert_eq!(signs, [Sign::GoOn, idle, idle, down]);
    assert!(!alone.shakes(&Standard::default(), at(60).ms()));
}

#[test]
fn a_session_ends_on_its_success() {
    let done = run([(0, Tap::Begin(Lesson::Session)), (2, saw(3)), (3, saw(5))]);
    assert_eq!(sign(&done, 4), Sign::Mounted);
    let down = done.tap(Tap::Sight(Sight::Down), at(5)).unwrap();
    assert_eq!(sign(&down, 5), Sign::Enough);
}

/// A phone left running over night: its clock says more than a session can last, so it is asked.
#[test]
fn a_clock_that_ran_for_days_is_not_believed() {
    let over = run([(0, Tap::Begin(Lesson::Session)), (3_000, Tap::Over)]);
    let asked = over.tap(Tap::Score(score(0)), at(3_000)).unwrap();
    assert_eq!(
        (asked.screen, asked.clocked()),
        (Screen::Minutes, Some(3_000))
    );
    assert!(asked.record.minutes.is_unanswered());
    let said = asked.tap(Tap::NotTimed, at(3_001)).unwrap();
    assert_eq!(
        (said.screen, said.finished().minutes),
        (Screen::Finish, Said::Unanswered)
    );
}

#[test]
fn more_than_an_hour_is_asked_once() {
    let over = run([
        (0, Tap::Begin(Lesson::Session)),
        (1, saw(1)),
        (61, Tap::Over),
    ]);
    assert_eq!(over.screen, Screen::Minutes);
    let right = over.clone().tap(Tap::MinutesAreRight, at(62)).unwrap();
    assert_eq!(right.screen, Screen::Finish);
    assert!(right.record.minutes_confirmed);
    let again = over.tap(Tap::MinutesAgain, at(62)).unwrap();
    assert_eq!(again.screen, Screen::Minutes);
    let twelve = SessionMinutes::new(12).unwrap();
    let typed = again.tap(Tap::Minutes(twelve), at(63)).unwrap();
    assert_eq!(
        (typed.screen, typed.record.minutes),
        (Screen::Finish, Said::Confirmed(twelve))
    );
}

/// Europe/Madrid goes forward on 29 March 2026 (IANA tz database, rule EU): a day ago is the day before
/// all the same.
#[test]
fn afterwards_it_lies_on_the_day_that_was_said() {
    use crate::time::Shift;
    let shift = |from_ms, offset_min| Shift {
        from_ms,
        offset_min,
    };
    let zone = Zone {
        name: String::new(),
        shifts: vec![shift(0, 60), shift(1_774_746_000_000, 120)],
    };
    // 30 March 2026, 00:20 in summer time.
    let entered = zone.stamp(1_774_822_800_000).unwrap();
    assert_eq!(zone.local(entered.ms()).to_string(), "2026-03-30 00:20:00");
    let minutes = SessionMinutes::new(15).unwrap();
    let taps = [
        Tap::Afterwards(Lesson::Session),
        Tap::Score(score(1)),
        Tap::Minutes(minutes),
    ];
    let mut work = UnderWay::new(BOAR, false);
    for tap in taps {
        work = work.tap(tap, entered).unwrap();
    }
    assert_eq!(work.screen, Screen::Finish);
    let begins = |work: &UnderWay| {
        zone.local(work.occurred_at(&zone).unwrap().ms())
            .to_string()
    };
    assert_eq!(begins(&work), "2026-03-30 00:05:00");
    let day_before = work.clone().tap(Tap::DaysAgo(1), entered).unwrap();
    assert_eq!(begins(&day_before), "2026-03-29 00:05:00");
    let far = work.tap(Tap::DaysAgo(250), entered).unwrap();
    assert_eq!(begins(&far), "2026-03-23 00:05:00");
}

#[test]
fn a_young_boar_asks_a_reason_for_a_session_and_none_for_a_visit() {
    let young = UnderWay::new(BOAR, true);
    let refused = young.clone().tap(Tap::Begin(Lesson::Session), at(0));
    assert_eq!(refused, Err(Blocked::ReasonMissing));
    let refused = young.clone().tap(Tap::Afterwards(Lesson::Session), at(0));
    assert_eq!(refused, Err(Blocked::ReasonMissing));
    assert!(young.clone().tap(Tap::Begin(Lesson::Visit), at(0)).is_ok());
    let reason = young.tap(Tap::Early(Some(Early::Keen)), at(0)).unwrap();
    let begun = reason.tap(Tap::Begin(Lesson::Session), at(1)).unwrap();
    assert_eq!(begun.finished().early, Some(Early::Keen));
    let back = begun.tap(Tap::Early(None), at(1)).unwrap();
    assert!(back.blocked(Lesson::Session).is_some());
}

#[test]
fn a_visit_has_no_score() {
    let visit = run([(0, Tap::Begin(Lesson::Visit)), (1, saw(3)), (8, Tap::Over)]);
    assert_eq!(visit.screen, Screen::Finish);
    assert!(visit.finished().score.is_unanswered());
    let fact = crate::fact::Fact::Training(visit.finished());
    assert_eq!(fact.check(), Ok(()));
    let scored = Training {
        score: Said::Confirmed(score(3)),
        ..visit.finished()
    };
    assert!(crate::fact::Fact::Training(scored).check().is_err());
}

/// A phone whose clock is set back while he is in shows no negative time.
#[test]
fn a_clock_set_back_counts_from_nothing() {
    let work = run([(0, Tap::Begin(Lesson::Session))]);
    assert_eq!(work.elapsed_ms(at(-90).ms()), Some(0));
    let over = work.tap(Tap::Over, at(-90)).unwrap();
    assert_eq!(over.clocked(), Some(1));
}

#[test]
fn a_stored_session_is_read_back_as_it_was() {
    let work = run([
        (0, Tap::Begin(Lesson::Session)),
        (2, saw(3)),
        (4, Tap::Sight(Sight::Down)),
    ]);
    let stored = serde_json::to_string(&work).unwrap();
    assert_eq!(crate::json::read::<UnderWay>(&stored).unwrap(), work);
}
