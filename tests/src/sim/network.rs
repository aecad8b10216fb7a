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
    let times = if faults.strikes(Fault::RequestDuplicated, 60, dice) {
        2
    } else {
        1
    };
    for _ in 0..times {
        let at_ms = now_ms + delay_ms(faults, dice);
        if calendar.overtakes(request.phone, at_ms) {
            faults.count(Fault::Overtaken);
        }
        calendar.plan(at_ms, Event::Arrives(request.clone()));
    }
}

/// Sends an answer back. One that breaks off arrives as none: the browser knows how long it should
/// have been.
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
    let cut = faults.strikes(Fault::AnswerCut, 40, dice);
    let times = if faults.strikes(Fault::AnswerDuplicated, 40, dice) {
        2
    } else {
        1
    };
    for _ in 0..times {
        let text = (!cut).then(|| text.to_owned());
        calendar.plan(
            now_ms + delay_ms(faults, dice),
            Event::Answered(to.phone, to.exchange, text),
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
