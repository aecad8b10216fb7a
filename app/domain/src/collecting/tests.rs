use super::*;

fn now(minute: i64) -> Stamp {
    Stamp::new(1_780_000_000_000 + minute * 60_000, 60).unwrap()
}

fn begun(way: Way) -> Collecting {
    let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
    Collecting::new(boar, false, Some(Glove::Vinyl), &Standard::default())
        .tap(Tap::Go(way), now(0))
        .unwrap()
}

#[test]
fn the_first_of_the_day_asks_for_the_glove_and_latex_stops() {
    let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
    let first = Collecting::new(boar, false, None, &Standard::default());
    assert_eq!(
        first.clone().tap(Tap::Go(Way::Helper), now(0)),
        Err(Blocked::GloveUnanswered)
    );
    let latex = first.tap(Tap::Glove(Some(Glove::Latex)), now(0)).unwrap();
    assert_eq!(
        latex.clone().tap(Tap::Go(Way::Helper), now(0)),
        Err(Blocked::Latex)
    );
    let vinyl = latex.tap(Tap::Glove(Some(Glove::Vinyl)), now(1)).unwrap();
    let back = vinyl.clone().tap(Tap::Glove(None), now(1)).unwrap();
    assert_eq!(back.blocked(), Some(Blocked::GloveUnanswered));
    let going = vinyl.tap(Tap::Go(Way::Helper), now(1)).unwrap();
    assert_eq!(going.record.glove, Said::Confirmed(Glove::Vinyl));
}

#[test]
fn against_the_advice_a_reason_is_asked() {
    let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
    let c = Collecting::new(boar, true, Some(Glove::Vinyl), &Standard::default());
    assert_eq!(c.blocked(), Some(Blocked::ReasonMissing));
    let given = c.tap(Tap::Despite(Some(Despite::SowsWait)), now(0));
    let given = given.unwrap();
    assert_eq!(given.blocked(), None);
    let back = given.tap(Tap::Despite(None), now(0)).unwrap();
    assert_eq!(back.blocked(), Some(Blocked::ReasonMissing));
}

#[test]
fn a_helper_s_taps_bear_times_and_those_entered_afterwards_do_not() {
    let helped = begun(Way::Helper)
        .tap(Tap::Step(Step::LockOn), now(1))
        .unwrap();
    let helped = helped.tap(Tap::Step(Step::End), now(7)).unwrap();
    assert_eq!(helped.record.duration_ms(), Some(6 * 60_000));
    let later = begun(Way::Afterwards)
        .tap(Tap::Step(Step::LockOn), now(1))
        .unwrap();
    assert_eq!(later.record.steps[0].at, None);
}

#[test]
fn the_fractions_are_offered_as_they_come() {
    let taps = [Step::Mounts, Step::LockOn, Step::PreSperm, Step::SpermRich];
    let mut c = begun(Way::Helper);
    assert!(!c.mounted());
    for step in taps {
        assert_eq!(c.next_steps()[0], step);
        c = c.tap(Tap::Step(step), now(1)).unwrap();
        assert!(c.mounted());
    }
    assert_eq!(c.next_steps(), [Step::SpermPoor, Step::Gel]);
}

#[test]
fn undo_takes_back_the_last_step_even_the_end() {
    let ended = begun(Way::Helper)
        .tap(Tap::Step(Step::SpermRich), now(1))
        .unwrap();
    let ended = ended.tap(Tap::Step(Step::End), now(2)).unwrap();
    assert_eq!(ended.screen, Screen::Amount);
    let back = ended.tap(Tap::Undo, now(3)).unwrap();
    assert_eq!((back.screen, back.record.steps.len()), (Screen::Under, 1));
}

#[test]
fn sperm_poor_that_came_is_not_sperm_poor_that_went_in() {
    let c = begun(Way::Helper)
        .tap(Tap::Step(Step::SpermPoor), now(1))
        .unwrap();
    assert!(c.record.sperm_poor_in.is_unanswered());
    let said = c
        .tap(Tap::PoorIn(true), now(2))
        .unwrap()
        .tap(Tap::Step(Step::SpermPoor), now(3))
        .unwrap();
    assert_eq!(said.record.sperm_poor_in, Said::Confirmed(true));
}

#[test]
fn an_improbable_amount_is_asked_once_and_can_be_entered_again() {
    use crate::units::VolumeMl;
    let little = Amount::Volume(VolumeMl::new(20.0).unwrap());
    let cup = begun(Way::Afterwards)
        .tap(Tap::Done(Outcome::Collected), now(5))
        .unwrap();
    let asked = cup.tap(Tap::Amount(little), now(6)).unwrap();
    assert!(asked.asks_amount());
    assert_eq!(asked.screen, Screen::Amount);
    let again = asked.clone().tap(Tap::AmountAgain, now(7)).unwrap();
    assert_eq!((again.screen, again.record.amount), (Screen::Amount, None));
    let right = asked.tap(Tap::AmountIsRight, now(7)).unwrap();
    assert_eq!(
        (right.screen, right.record.amount),
        (Screen::Finish, Some(little))
    );
}

#[test]
fn a_sow_has_three_lines_more_on_the_list() {
    let boar = BoarId::from_uuid(uuid::Uuid::from_u128(1));
    let dummy = Collecting::new(boar, false, None, &Standard::default());
    assert_eq!(dummy.to_prepare().len(), 7);
    let sow = dummy.tap(Tap::Mount(Mount::Sow(None)), now(0)).unwrap();
    assert!(sow.to_prepare().contains(&Ready::SowHeld));
    let ticked = sow.tap(Tap::Ready(vec![Ready::Cup]), now(1)).unwrap();
    assert_eq!(ticked.ready, [Ready::Cup]);
    assert_eq!(ticked.finished().note, None);
}

#[test]
fn without_semen_there_is_no_amount() {
    let c = begun(Way::Afterwards)
        .tap(Tap::Done(Outcome::NoMount), now(5))
        .unwrap();
    assert_eq!(c.screen, Screen::Finish);
    assert_eq!(c.finished().amount, None);
    assert!(c.finished().sperm_poor_in.is_unanswered());
}
