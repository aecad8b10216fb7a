//! A network that drops, doubles, reorders, delays for days, and breaks off in the middle.

use super::dice::Dice;
use super::events::{Calendar, Event, Request};
use super::faults::{Fault, Faults};
use pentally_domain::time::{DAY_MS, HOUR_MS};

/// Sends a request on its way.
pub fn request(
    request: &Request,
    now_ms: i64,
    calendar: &mut Calendar,
    faults: &mut Faults,
    dice: &mut Dice,
) {
    if faults.strikes(Fault::RequestDropped, 70, dice) {
        return;
    }
    let twice = faults.strikes(Fault::RequestDuplicated, 60, dice);
    for _ in 0..=u8::from(twice) {
        let at_ms = now_ms + delay_ms(faults, dice);
        if calendar.overtakes(request.phone, at_ms) {
            faults.count(Fault::Overtaken);
        }
        calendar.plan(at_ms, Event::Arrives(request.clone()));
    }
}

/// Sends an answer back. One that breaks off arrives as none, where the browser knows how long it
/// should have been, or as its beginning, where it does not.
pub fn answer(
    to: &Request,
    text: &str,
    now_ms: i64,
    calendar: &mut Calendar,
    faults: &mut Faults,
    dice: &mut Dice,
) {
    if faults.strikes(Fault::AnswerDropped, 60, dice) {
        return;
    }
    let text = if faults.strikes(Fault::AnswerCut, 40, dice) {
        let upto = dice.below(text.len());
        dice.in_thousand(500)
            .then(|| text.chars().take(upto).collect())
    } else {
        Some(text.to_owned())
    };
    let twice = faults.strikes(Fault::AnswerDuplicated, 40, dice);
    for _ in 0..=u8::from(twice) {
        calendar.plan(
            now_ms + delay_ms(faults, dice),
            Event::Answered(to.phone, to.exchange, text.clone()),
        );
    }
}

fn delay_ms(faults: &mut Faults, dice: &mut Dice) -> i64 {
    let usual_ms = dice.between(20, 3_000);
    if faults.strikes(Fault::DelayedHours, 25, dice) {
        return usual_ms + dice.between(1, 20) * HOUR_MS;
    }
    if faults.strikes(Fault::DelayedDays, 12, dice) {
        return usual_ms + dice.between(1, 6) * DAY_MS;
    }
    usual_ms
}
