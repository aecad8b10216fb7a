//! The steps of each work. Ranges and figures: Goldberg 2013 (hygiene), Stewart & Lovercamp 2017
//! (scores); where to stand, the grip, times and the order of steps: common practice, no source.

use crate::parts::Drawing;
use crate::words::{Key, key};
use pentally_domain::teaching::Work;

/// One step.
pub struct Step {
    /// What it is about.
    pub title: Key,
    /// What to do.
    pub says: Key,
    /// What it looks like.
    pub drawings: &'static [Drawing],
    /// A caution that stops the hand.
    pub stops: bool,
    /// The farm has its own answer.
    pub asks_farm: bool,
}

/// The steps, in order.
pub const fn steps(work: Work) -> &'static [Step] {
    match work {
        Work::Collection => COLLECTION,
        Work::Training => TRAINING,
    }
}

const fn step(title: Key, says: Key, drawings: &'static [Drawing]) -> Step {
    Step {
        title,
        says,
        drawings,
        stops: false,
        asks_farm: false,
    }
}

const fn stop(title: Key, says: Key) -> Step {
    let mut caution = step(title, says, &[]);
    caution.stops = true;
    caution
}

const fn by_the_farm(title: Key, says: Key, drawings: &'static [Drawing]) -> Step {
    let mut asking = step(title, says, drawings);
    asking.asks_farm = true;
    asking
}

const COLLECTION: &[Step] = &[
    step(
        key::LEARN_READY,
        key::LEARN_READY_SAYS,
        &[Drawing::Cup, Drawing::Filter],
    ),
    step(
        key::LEARN_GLOVES,
        key::LEARN_GLOVES_SAYS,
        &[Drawing::TwoGloves],
    ),
    step(
        key::LEARN_WAY_OUT,
        key::LEARN_WAY_OUT_SAYS,
        &[Drawing::WayOut],
    ),
    stop(key::LEARN_CAUTION, key::COLLECT_CAUTION),
    step(
        key::LEARN_STAND,
        key::LEARN_STAND_SAYS,
        &[Drawing::WhereToStand],
    ),
    step(
        key::LEARN_MOUNTS,
        key::LEARN_MOUNTS_SAYS,
        &[Drawing::Boar, Drawing::Dummy],
    ),
    stop(key::LEARN_HAND, key::LEARN_HAND_SAYS),
    step(key::LEARN_SHEATH, key::LEARN_SHEATH_SAYS, &[Drawing::Glove]),
    step(key::LEARN_GRIP, key::LEARN_GRIP_SAYS, &[Drawing::Grip]),
    step(key::STEP_PRE_SPERM, key::LEARN_PRE_SAYS, &[Drawing::Drop]),
    step(
        key::STEP_SPERM_RICH,
        key::LEARN_RICH_SAYS,
        &[Drawing::DropRich, Drawing::Cup],
    ),
    by_the_farm(
        key::STEP_SPERM_POOR,
        key::LEARN_POOR_SAYS,
        &[Drawing::DropPoor],
    ),
    step(
        key::STEP_GEL,
        key::LEARN_GEL_SAYS,
        &[Drawing::Gel, Drawing::Filter],
    ),
    step(key::LEARN_END, key::LEARN_END_SAYS, &[Drawing::Boar]),
    step(
        key::LEARN_OUT,
        key::LEARN_OUT_SAYS,
        &[Drawing::Cup, Drawing::Exit],
    ),
];

const TRAINING: &[Step] = &[
    step(
        key::LEARN_TWO,
        key::LEARN_TWO_SAYS,
        &[Drawing::TwoPeople, Drawing::Board],
    ),
    step(
        key::LEARN_AREA,
        key::LEARN_AREA_SAYS,
        &[Drawing::Dummy, Drawing::WayOut],
    ),
    stop(key::LEARN_CAUTION, key::COLLECT_CAUTION),
    step(
        key::LEARN_BITES,
        key::LEARN_BITES_SAYS,
        &[Drawing::Board, Drawing::Exit],
    ),
    step(key::LEARN_ARRIVE, key::LEARN_ARRIVE_SAYS, &[Drawing::Boar]),
    step(
        key::LEARN_LURE,
        key::LEARN_LURE_SAYS,
        &[Drawing::Sow, Drawing::Dummy],
    ),
    step(
        key::LEARN_STAND,
        key::LEARN_STAND_SAYS,
        &[Drawing::WhereToStand],
    ),
    step(key::LEARN_SCORE, key::LEARN_SCORE_SAYS, &[Drawing::Dummy]),
    step(
        key::LEARN_UP,
        key::LEARN_UP_SAYS,
        &[Drawing::Boar, Drawing::Dummy],
    ),
    stop(key::LEARN_HAND, key::LEARN_HAND_SAYS),
    step(key::LEARN_GRIP, key::LEARN_UP_GRIP_SAYS, &[Drawing::Grip]),
    step(
        key::LEARN_ENOUGH,
        key::LEARN_ENOUGH_SAYS,
        &[Drawing::PenGate],
    ),
    step(key::LEARN_AFTER, key::LEARN_AFTER_SAYS, &[Drawing::Tick]),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_caution_stands_before_the_hand_goes_in() {
        for work in Work::ALL {
            let all = steps(work);
            let at = |title: Key| all.iter().position(|s| s.title == title);
            let hand = at(key::LEARN_HAND).unwrap();
            let touched = at(key::LEARN_SHEATH).or(at(key::LEARN_GRIP)).unwrap();
            assert!(all[hand].stops && hand + 1 == touched, "{work:?}");
            let up = at(key::LEARN_MOUNTS).or(at(key::LEARN_UP)).unwrap();
            assert!(up < hand, "{work:?}");
            assert!(at(key::LEARN_CAUTION).unwrap() < hand, "{work:?}");
        }
    }

    #[test]
    fn each_step_shows_something_unless_it_stops() {
        for step in Work::ALL.into_iter().flat_map(steps) {
            assert_eq!(step.drawings.is_empty(), step.stops);
        }
    }
}
