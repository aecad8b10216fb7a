//! A look at a retained sample: warmed or not, then the motile share. One question a screen.

use crate::act::{Act, to_top, use_act};
use crate::device::Draft;
use crate::feed::Feed;
use crate::pages::evaluate::Shares;
use crate::pages::rows;
use crate::parts::{Action, Drawing, Kind, Title};
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::{Barn, Seen, Stored};
use pentally_domain::evaluation::Share;
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::retained::{Floor, Retained, Standing};
use pentally_domain::units::Percent;

/// Asks, saves one look as of now, and goes back to the batch.
#[component]
pub(super) fn Looking(
    /// The barn.
    feed: Feed,
    /// The batch.
    id: EntryId,
    /// Whether this stands.
    looking: RwSignal<bool>,
) -> impl IntoView {
    let w = use_words();
    let asked = RwSignal::new(false);
    let warmed = RwSignal::new(None::<bool>);
    let answer = move |is| {
        warmed.set(is);
        asked.set(true);
        to_top();
    };
    let act = use_act();
    let stop = move |()| looking.set(false);
    let back = move |()| {
        act.hush();
        asked.set(false);
    };
    move || {
        if asked.get() {
            return view! { <Motile feed id looking warmed=warmed.get_untracked() back/> }
                .into_any();
        }
        view! {
            <Title headline=w.tr(key::LOOK_WARMED) why=w.tr(key::LOOK_WARMED_WHY)/>
            <div class="grow"></div>
            <div class="actions">
                <Action word=w.tr(key::YES) drawing=Drawing::Thermometer on_tap=move |()| answer(Some(true))/>
                <Action word=w.tr(key::NO) on_tap=move |()| answer(Some(false))/>
                <Action word=w.tr(key::DOSES_LEAVE_OPEN) kind=Kind::Quiet on_tap=move |()| answer(None)/>
                <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=stop/>
            </div>
        }
        .into_any()
    }
}

#[component]
fn Motile(
    feed: Feed,
    id: EntryId,
    looking: RwSignal<bool>,
    warmed: Option<bool>,
    #[prop(into)] back: Callback<()>,
) -> impl IntoView {
    let act = use_act();
    let take = move |percent: f64, cells: Option<u16>| {
        let Some(batch) = feed.barn.with_untracked(|b| b.batch(id)) else {
            return;
        };
        let Ok(percent) = Percent::new(percent) else {
            return;
        };
        let mut boars: Vec<_> = batch.fact.sources.iter().map(|s| s.boar).collect();
        boars.sort_unstable();
        boars.dedup();
        let look = Retained {
            batch: id,
            boars,
            motile: Share { percent, cells },
            warmed,
            stored_c: None,
        };
        act.save(vec![Draft::of(Fact::Retained(look))], move |_| {
            looking.set(false);
            to_top();
        });
    };
    view! {
        <Shares asked=key::LOOK_MOTILE take=take on_back=back/>
    }
}

/// The looks, the latest first; each can be taken back, which brings a batch back that it pulled.
pub(super) fn list(
    w: &Words,
    act: Act,
    feed: Feed,
    barn: &Barn,
    stored: &Stored,
    now_ms: i64,
) -> Option<AnyView> {
    let zone = barn.zone_at(now_ms);
    let row = |look: &Seen<Retained>| {
        let mut small = vec![
            standing(w, look.fact.standing(Floor::default())),
            tell::moment(w, &zone, look.at.ms(), now_ms),
        ];
        small.extend(tell::by(w, barn, look));
        small.extend(look.fact.warmed.map(|is| {
            w.tr(match is {
                true => key::LOOK_WAS_WARM,
                false => key::LOOK_WAS_COLD,
            })
        }));
        let void = Fact::Void(Void::of(look.order, &Fact::Retained(look.fact.clone())));
        let back = move |()| act.save_quietly(void.clone());
        let undo = view! { <Action word=w.tr(key::UNDO) kind=Kind::Quiet on_tap=back/> };
        let title = share(w, look.fact.motile);
        rows::record(w, title, &small, feed.state_of(look), Some(undo.into_any()))
    };
    let list = stored.looks.iter().rev().map(row).collect();
    rows::section(w.tr(key::LOOK_LOOKS), list)
}

fn share(w: &Words, share: Share) -> String {
    let how = match share.cells {
        Some(cells) => w.tr_with(key::LOOK_COUNTED, &[("n", cells.into())]),
        None => w.tr(key::MEASURE_BY_EYE),
    };
    format!("{} % {how}", w.num(share.percent.value(), 0))
}

fn standing(w: &Words, standing: Standing) -> String {
    w.tr(match standing {
        Standing::Holds { close: false } => key::LOOK_HOLDS,
        Standing::Holds { close: true } => key::LOOK_HOLDS_CLOSE,
        Standing::Doubtful => key::LOOK_DOUBTFUL,
        Standing::Cold => key::LOOK_COLD,
        Standing::Fails => key::LOOK_FAILS,
    })
}
