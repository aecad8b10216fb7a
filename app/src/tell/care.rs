//! What is looked after, and who learns, in words.

use crate::words::{Key, key};
use pentally_domain::check::{Found, Thing};
use pentally_domain::teaching::Work;

/// Something that is looked after.
pub const fn thing(thing: Thing) -> Key {
    match thing {
        Thing::Footing => key::THING_FOOTING,
        Thing::DummyStands => key::THING_DUMMY_STANDS,
        Thing::WayOut => key::THING_WAY_OUT,
        Thing::Quiet => key::THING_QUIET,
        Thing::DummyClean => key::THING_DUMMY_CLEAN,
        Thing::Cup => key::THING_CUP,
        Thing::Stage => key::THING_STAGE,
        Thing::Thermometer => key::THING_THERMOMETER,
        Thing::Scale => key::THING_SCALE,
        Thing::Water => key::THING_WATER,
    }
}

/// What to look at.
pub const fn look_at(thing: Thing) -> Key {
    match thing {
        Thing::Footing => key::LOOK_FOOTING,
        Thing::DummyStands => key::LOOK_DUMMY_STANDS,
        Thing::WayOut => key::LOOK_WAY_OUT,
        Thing::Quiet => key::LOOK_QUIET,
        Thing::DummyClean => key::LOOK_DUMMY_CLEAN,
        Thing::Cup => key::LOOK_CUP,
        Thing::Stage => key::LOOK_STAGE,
        Thing::Thermometer => key::LOOK_THERMOMETER,
        Thing::Scale => key::LOOK_SCALE,
        Thing::Water => key::LOOK_WATER,
    }
}

/// What a look found.
pub const fn found(found: Found) -> Key {
    match found {
        Found::Fine => key::FOUND_FINE,
        Found::NotFine => key::FOUND_NOT_FINE,
    }
}

/// A work that is learnt.
pub const fn work(work: Work) -> Key {
    match work {
        Work::Collection => key::WORK_COLLECTION,
        Work::Training => key::WORK_TRAINING,
    }
}
