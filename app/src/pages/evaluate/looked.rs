//! What is seen and smelt of an ejaculate.

use super::open::Desk;
use crate::parts::Chips;
use crate::words::{Key, key};
use leptos::prelude::*;
use pentally_domain::evaluation::{Colour, Smell};

const COLOURS: [(Colour, Key); 6] = [
    (Colour::Milky, key::COLOUR_MILKY),
    (Colour::Cream, key::COLOUR_CREAM),
    (Colour::Watery, key::COLOUR_WATERY),
    (Colour::Yellow, key::COLOUR_YELLOW),
    (Colour::Pink, key::COLOUR_PINK),
    (Colour::Brown, key::COLOUR_BROWN),
];
const SMELLS: [(Smell, Key); 3] = [
    (Smell::Normal, key::SMELL_NORMAL),
    (Smell::Urine, key::SMELL_URINE),
    (Smell::Foul, key::SMELL_FOUL),
];

pub(super) fn looked(desk: Desk) -> AnyView {
    let w = desk.w;
    let before = desk.open.with_untracked(|open| open.values.clone());
    let colour = follow(before.colour, move |c| {
        desk.change(|open| open.values.colour = c)
    });
    let smell = follow(before.smell, move |s| {
        desk.change(|open| open.values.smell = s)
    });
    let blood = follow(before.blood, move |b| {
        desk.change(|open| open.values.blood = b)
    });
    let pus = follow(before.pus, move |b| desk.change(|open| open.values.pus = b));
    let urine = follow(before.urine, move |b| {
        desk.change(|open| open.values.urine = b)
    });
    let colours = COLOURS.map(|(c, k)| (c, w.tr(k))).to_vec();
    let smells = SMELLS.map(|(s, k)| (s, w.tr(k))).to_vec();
    let yes_no = || vec![(false, w.tr(key::NO)), (true, w.tr(key::YES))];
    view! {
        <Chips asked=w.tr(key::MEASURE_COLOUR) options=colours chosen=colour/>
        <Chips asked=w.tr(key::MEASURE_SMELL) options=smells chosen=smell/>
        <Chips asked=w.tr(key::MEASURE_BLOOD) options=yes_no() chosen=blood/>
        <Chips asked=w.tr(key::MEASURE_PUS) options=yes_no() chosen=pus/>
        <Chips asked=w.tr(key::MEASURE_URINE) options=yes_no() chosen=urine/>
    }
    .into_any()
}

pub(super) fn follow<T: Copy + PartialEq + Send + Sync + 'static>(
    before: Option<T>,
    set: impl Fn(Option<T>) + 'static,
) -> RwSignal<Option<T>> {
    let signal = RwSignal::new(before);
    Effect::new(move |first: Option<()>| {
        let now = signal.get();
        if first.is_some() {
            set(now);
        }
    });
    signal
}
