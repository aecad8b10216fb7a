//! The word for each answer that is tapped during a collection.

use crate::words::{Key, key};
use pentally_domain::collecting::{Ready, Way};
use pentally_domain::collection::{Despite, Glove, Mount, Step, Temper, Trouble};

/// A glove.
pub const fn glove(glove: Glove) -> Key {
    match glove {
        Glove::Vinyl => key::GLOVE_VINYL,
        Glove::Nitrile => key::GLOVE_NITRILE,
        Glove::Polyethylene => key::GLOVE_POLYETHYLENE,
        Glove::Latex => key::GLOVE_LATEX,
        Glove::None => key::GLOVE_NONE,
    }
}

/// What he mounts.
pub const fn mount(mount: Mount) -> Key {
    match mount {
        Mount::Dummy => key::MOUNT_DUMMY,
        Mount::Sow(_) => key::MOUNT_SOW,
    }
}

/// A line of what is to be ready.
pub const fn ready(ready: Ready) -> Key {
    match ready {
        Ready::Extender => key::READY_EXTENDER,
        Ready::Cup => key::READY_CUP,
        Ready::Filter => key::READY_FILTER,
        Ready::Gloves => key::READY_GLOVES,
        Ready::Board => key::READY_BOARD,
        Ready::Exit => key::READY_EXIT,
        Ready::Second => key::READY_SECOND,
        Ready::SowStands => key::READY_SOW_STANDS,
        Ready::SowSize => key::READY_SOW_SIZE,
        Ready::SowHeld => key::READY_SOW_HELD,
    }
}

/// A step of a collection.
pub const fn step(step: Step) -> Key {
    match step {
        Step::Enters => key::STEP_ENTERS,
        Step::Mounts => key::STEP_MOUNTS,
        Step::LockOn => key::STEP_LOCK_ON,
        Step::PreSperm => key::STEP_PRE_SPERM,
        Step::SpermRich => key::STEP_SPERM_RICH,
        Step::SpermPoor => key::STEP_SPERM_POOR,
        Step::Gel => key::STEP_GEL,
        Step::End => key::STEP_END,
    }
}

/// A mood.
pub const fn temper(temper: Temper) -> Key {
    match temper {
        Temper::Calm => key::TEMPER_CALM,
        Temper::Restless => key::TEMPER_RESTLESS,
        Temper::Slow => key::TEMPER_SLOW,
        Temper::Dangerous => key::TEMPER_DANGEROUS,
    }
}

/// Something that went wrong.
pub const fn trouble(trouble: Trouble) -> Key {
    match trouble {
        Trouble::BackedOff => key::TROUBLE_BACKED_OFF,
        Trouble::Slipped => key::TROUBLE_SLIPPED,
        Trouble::Soft => key::TROUBLE_SOFT,
        Trouble::Noise => key::TROUBLE_NOISE,
        Trouble::Dirt => key::TROUBLE_DIRT,
        Trouble::Filter => key::TROUBLE_FILTER,
        Trouble::Blood => key::TROUBLE_BLOOD,
        Trouble::Lame => key::TROUBLE_LAME,
        Trouble::Hot => key::TROUBLE_HOT,
        Trouble::Bite => key::TROUBLE_BITE,
        Trouble::Charge => key::TROUBLE_CHARGE,
        Trouble::PersonHurt => key::TROUBLE_PERSON_HURT,
    }
}

/// A reason against the advice.
pub const fn despite(despite: Despite) -> Key {
    match despite {
        Despite::SowsWait => key::DESPITE_SOWS_WAIT,
        Despite::LastFailed => key::DESPITE_LAST_FAILED,
        Despite::Practice => key::DESPITE_PRACTICE,
        Despite::Veterinarian => key::DESPITE_VETERINARIAN,
        Despite::RecordWrong => key::DESPITE_RECORD_WRONG,
    }
}

/// The big word on the button that begins.
pub const fn go(way: Way) -> Key {
    match way {
        Way::Helper => key::COLLECT_GO_HELPER,
        Way::Afterwards => key::COLLECT_GO_AFTERWARDS,
    }
}
