//! Cells by zone: motile or not, and the classes of morphology.

use super::{Head, REACHED, Tone, UNDO, blocked, foot, frame, sound, zone};
use crate::pages::evaluate::open::{Desk, Which};
use crate::parts::Drawing;
use crate::words::{Key, Words, key};
use leptos::prelude::*;
use pentally_domain::evaluation::Class;
use pentally_domain::tallying::{CELLS_TARGET, CellTally, CellTap, Motion, Tallying};

/// A kind of zone: where its tally is kept, and what its zones are called.
trait Zone: Copy + PartialEq + Send + Sync + 'static {
    const WHICH: Which;
    fn word(self) -> Key;
    fn tone(self) -> Tone;
    fn class(self) -> &'static str;
    fn of(tallying: &Tallying) -> Option<&CellTally<Self>>;
    fn put(tallying: &mut Tallying, tally: CellTally<Self>);
}

impl Zone for Motion {
    const WHICH: Which = Which::Motility;
    fn word(self) -> Key {
        match self {
            Self::Motile => key::TALLY_MOTILE,
            Self::NotMotile => key::TALLY_NOT_MOTILE,
        }
    }
    fn tone(self) -> Tone {
        match self {
            Self::Motile => (990.0, 50),
            Self::NotMotile => (520.0, 50),
        }
    }
    fn class(self) -> &'static str {
        match self {
            Self::Motile => "main",
            Self::NotMotile => "other",
        }
    }
    fn of(tallying: &Tallying) -> Option<&CellTally<Self>> {
        tallying.motility.as_ref()
    }
    fn put(tallying: &mut Tallying, tally: CellTally<Self>) {
        tallying.motility = Some(tally);
    }
}

impl Zone for Class {
    const WHICH: Which = Which::Morphology;
    fn word(self) -> Key {
        class_name(self)
    }
    fn tone(self) -> Tone {
        match self {
            Self::Normal => (990.0, 50),
            Self::Head => (780.0, 50),
            Self::ProximalDroplet => (660.0, 50),
            Self::DistalDroplet => (560.0, 50),
            Self::Tail => (440.0, 50),
        }
    }
    fn class(self) -> &'static str {
        match self {
            Self::Normal => "main wide",
            _ => "other",
        }
    }
    fn of(tallying: &Tallying) -> Option<&CellTally<Self>> {
        tallying.morphology.as_ref()
    }
    fn put(tallying: &mut Tallying, tally: CellTally<Self>) {
        tallying.morphology = Some(tally);
    }
}

/// What a class is called.
pub const fn class_name(class: Class) -> Key {
    match class {
        Class::Normal => key::CLASS_NORMAL,
        Class::Head => key::CLASS_HEAD,
        Class::ProximalDroplet => key::CLASS_PROXIMAL,
        Class::DistalDroplet => key::CLASS_DISTAL,
        Class::Tail => key::CLASS_TAIL,
    }
}

/// Two zones side by side.
pub fn motility(desk: Desk) -> AnyView {
    screen(desk, "two", [Motion::NotMotile, Motion::Motile])
}

/// Four classes, and the normal ones below them where the thumb lies.
pub fn morphology(desk: Desk) -> AnyView {
    let zones = [
        Class::Head,
        Class::Tail,
        Class::ProximalDroplet,
        Class::DistalDroplet,
        Class::Normal,
    ];
    screen(desk, "five", zones)
}

fn screen<Z: Zone, const N: usize>(desk: Desk, class: &'static str, zones: [Z; N]) -> AnyView {
    let w = desk.w;
    let head = Memo::new(move |_| {
        desk.open.with(|open| match Z::of(&open.tallying) {
            Some(tally) => head(&w, tally),
            None => head(&w, &CellTally::<Z>::default()),
        })
    });
    let one = move |is: Z| {
        let count = Signal::derive(move || {
            let count = desk
                .open
                .with(|open| Z::of(&open.tallying).map_or(0, |tally| tally.in_zone(is)));
            w.num(count as f64, 0)
        });
        zone(w.tr(is.word()), is.class(), Some(count), move || {
            tap(desk, CellTap::Cell(is));
        })
    };
    let word = w.tr(key::UNDO);
    let zones = view! { <div class=format!("zones {class}")>{zones.map(one).collect_view()}</div> };
    let below = view! {
        <div class="feet">{foot(Signal::stored(word), Some(Drawing::Undo), Signal::stored(false), move || tap::<Z>(desk, CellTap::Undo))}</div>
    };
    frame(desk, Z::WHICH, head, zones.into_any(), below.into_any())
}

fn head<Z: Zone>(w: &Words, tally: &CellTally<Z>) -> Head {
    let of = [("n", tally.cells().into()), ("target", CELLS_TARGET.into())];
    let reached = tally.reached().then(|| w.tr(key::TALLY_CELLS_REACHED));
    Head {
        count: w.tr_with(key::TALLY_OF, &of),
        place: w.tr_with(key::TALLY_REPLICATE, &[("n", tally.replicate().into())]),
        reached,
    }
}

fn tap<Z: Zone>(desk: Desk, tap: CellTap<Z>) {
    let tally = desk
        .open
        .with_untracked(|open| Z::of(&open.tallying).cloned());
    let tally = tally.unwrap_or_default();
    let reached = tally.reached();
    match tally.tap(tap) {
        Ok(next) => {
            let signals = next.reached() && !reached;
            sound(
                desk,
                match tap {
                    _ if signals => REACHED,
                    CellTap::Cell(zone) => zone.tone(),
                    CellTap::NextReplicate | CellTap::Undo => UNDO,
                },
            );
            desk.change(|open| Z::put(&mut open.tallying, next));
        }
        Err(why) => blocked(desk, why),
    }
}
