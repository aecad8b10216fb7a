//! Counting by taps, with one thumb and both eyes at the microscope: the whole screen is zones, each
//! tap sounds, and each is kept.

use super::open::{At, Desk, Open, Which};
use super::{SILENT, sum};
use crate::device;
use crate::parts::{Action, Drawing, Kind, Mark, Title};
use crate::words::{Key, key};
use leptos::ev::{MouseEvent, PointerEvent};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::tallying::Blocked;

mod cells;
mod sperm;

pub use cells::class_name;

/// A tone: Hz and ms. Zones differ by pitch, so that an ear hears a slip of the thumb.
pub(super) type Tone = (f64, u32);
const UNDO: Tone = (240.0, 140);
const BLOCKED: Tone = (150.0, 400);
const NEXT: Tone = (560.0, 60);
const REACHED: Tone = (1400.0, 700);

/// What stands at the head of the screen.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Head {
    /// What is counted so far, large.
    count: String,
    /// Of how many, and where the eye is.
    place: String,
    /// Where the count stands: the target is reached, and what to do then.
    reached: Option<String>,
}

/// Cells or sperm tapped so far, in all.
pub fn counted(open: &Open, which: Which) -> usize {
    let t = &open.tallying;
    match which {
        Which::Sperm => t.sperm.as_ref().map_or(0, |sperm| {
            let counted: u32 = sperm.replicates().iter().map(|r| r.count.value()).sum();
            usize::try_from(counted).unwrap_or(usize::MAX)
        }),
        Which::Typed => open.typed.len(),
        Which::Motility => t.motility.as_ref().map_or(0, |cells| {
            let of = |t: &pentally_domain::agreement::Tally| usize::from(t.cells().value());
            cells.tallies().iter().map(of).sum()
        }),
        Which::Morphology => t.morphology.as_ref().map_or(0, |cells| {
            cells.classes().iter().map(|m| usize::from(m.cells())).sum()
        }),
    }
}

/// Whether a count was begun, though nothing was found yet.
pub fn is_open(open: &Open, which: Which) -> bool {
    let nothing_found = which == Which::Sperm && open.tallying.sperm.is_some();
    nothing_found || counted(open, which) > 0
}

/// The screen of what is counted.
pub fn screen(desk: Desk, which: Which) -> AnyView {
    device::keep_lit(true);
    on_cleanup(|| device::keep_lit(false));
    match which {
        Which::Sperm => sperm::screen(desk),
        Which::Typed => sum::screen(desk, which),
        Which::Motility => cells::motility(desk),
        Which::Morphology => cells::morphology(desk),
    }
}

/// Sounds a tone and shakes the hand.
fn sound(desk: Desk, (hz, ms): Tone) {
    device::signal(hz, ms, desk.aloud.get_untracked());
}

/// Says why a tap did not go through, and lets it be heard.
fn blocked(desk: Desk, why: Blocked) {
    sound(desk, BLOCKED);
    desk.act.say(desk.w.tr(match why {
        Blocked::SquareFull => key::TALLY_SQUARE_FULL,
        Blocked::Enough => key::TALLY_ENOUGH,
        Blocked::NothingYet => key::TALLY_NOTHING_YET,
        Blocked::NothingToUndo => key::TALLY_NOTHING_TO_UNDO,
        Blocked::NoMoreReplicates => key::TALLY_NO_MORE,
    }));
}

/// A zone that counts as the thumb comes down, however fast; a key or a reading aid gives a click only.
pub(super) fn zone(
    word: String,
    class: &'static str,
    count: Option<Signal<String>>,
    tap: impl Fn() + Copy + 'static,
) -> AnyView {
    let down = move |event: PointerEvent| {
        if event.button() == 0 {
            tap();
        }
    };
    let click = move |event: MouseEvent| {
        if event.detail() == 0 {
            tap();
        }
    };
    view! {
        <button type="button" class=format!("zone {class}") on:pointerdown=down on:click=click
            on:contextmenu=|event: MouseEvent| event.prevent_default()>
            <span>{word}</span>
            {count.map(|count| view! { <span class="many">{count}</span> })}
        </button>
    }
    .into_any()
}

/// The frame: what is counted above, the zones, and undo below. It covers the rest of the app.
pub(super) fn frame(
    desk: Desk,
    which: Which,
    head: Memo<Head>,
    zones: AnyView,
    foot: AnyView,
) -> AnyView {
    let w = desk.w;
    let reached = Memo::new(move |_| head.with(|h| h.reached.is_some()));
    let said = desk.act.said();
    let silence = move |_| {
        let aloud = !desk.aloud.get_untracked();
        desk.aloud.set(aloud);
        spawn_local(async move {
            let kept = device::draft_put(SILENT, &!aloud).await;
            desk.act.told(kept, |()| ());
        });
    };
    let state = move || {
        if let Some(said) = said.get() {
            return view! { <p class="state said" role="alert"><Mark drawing=Drawing::Warning/><span>{said}</span></p> }.into_any();
        }
        head.with(|h| h.reached.clone()).map_or_else(
            || view! { <p class="state">{head.with(|h| h.place.clone())}</p> }.into_any(),
            |reached| {
                view! { <p class="state"><Mark drawing=Drawing::Disc/><span>{reached}</span></p> }
                    .into_any()
            },
        )
    };
    let sounds = move || {
        w.tr(match desk.aloud.get() {
            true => key::TALLY_SOUND_ON,
            false => key::TALLY_SOUND_OFF,
        })
    };
    view! {
        <div class="tally" class:reached=move || reached.get()>
            <header class="top">
                <button type="button" class="side" on:click=move |_| desk.go(At::Sum(which))>{w.tr(key::TALLY_DONE)}</button>
                <p class="so-far" aria-live="off">{move || head.with(|h| h.count.clone())}</p>
                <button type="button" class="side" aria-pressed=move || desk.aloud.get().to_string() on:click=silence>{sounds}</button>
            </header>
            {state}
            {zones}
            {foot}
        </div>
    }
    .into_any()
}

/// A large button at the foot of the screen. `leaves` says whether it leads to another screen: then it
/// waits for the whole tap, or the finger would come up on what stands there.
pub(super) fn foot(
    word: Signal<String>,
    drawing: Option<Drawing>,
    leaves: Signal<bool>,
    tap: impl Fn() + Copy + 'static,
) -> AnyView {
    let waits = StoredValue::new(false);
    let down = move |event: PointerEvent| {
        if event.button() == 0 {
            waits.set_value(leaves.get_untracked());
            if !leaves.get_untracked() {
                tap();
            }
        }
    };
    let click = move |event: MouseEvent| {
        if event.detail() == 0 || waits.get_value() {
            tap();
        }
    };
    view! {
        <button type="button" class="zone foot" on:pointerdown=down on:click=click
            on:contextmenu=|event: MouseEvent| event.prevent_default()>
            {drawing.map(|drawing| view! { <Mark drawing=drawing/> })} <span>{word}</span>
        </button>
    }
    .into_any()
}

/// A count that is not open any more: back to the form.
pub(super) fn gone(desk: Desk, says: Key) -> AnyView {
    let w = desk.w;
    view! {
        <Title headline=w.tr(says)/>
        <div class="actions"><Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| desk.go(At::Form)/></div>
    }
    .into_any()
}
