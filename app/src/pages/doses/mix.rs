//! Which mix of extender is poured.

use super::{Choice, Table};
use crate::parts::{Action, Drawing, Kind, Title};
use crate::words::{Words, key};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, Mixed};
use pentally_domain::extender::mix::MixState;

/// The mix that was chosen, in words; none where none was.
pub(super) fn chosen(w: &Words, barn: &Barn, choice: &Choice, now_ms: i64) -> Option<String> {
    let poured = choice.chosen.extender_mix?;
    let mixes = barn.mixes_after(poured.life.ends_at.ms() - 1);
    let found = mixes.iter().find(|m| m.poured.mix == poured.mix);
    Some(found.map_or_else(
        || w.tr(key::NOT_KNOWN),
        |mixed| says(w, barn, mixed, now_ms),
    ))
}

/// "Product · mixed 07:10 · good till tomorrow 07:10"
fn says(w: &Words, barn: &Barn, mixed: &Mixed, now_ms: i64) -> String {
    let zone = barn.zone_at(now_ms);
    let moment = |ms| tell::moment(w, &zone, ms, now_ms);
    let state = tell::mix_state(w, mixed.poured.life.at(now_ms), now_ms, moment);
    let args = [
        ("product", mixed.lot.fact.product.as_str().into()),
        ("when", moment(mixed.mix.at.ms()).into()),
        ("state", state.into()),
    ];
    w.tr_with(key::MIX_SAYS, &args)
}

/// One button for each mix at hand; none may be chosen.
pub(super) fn screen(table: Table) -> AnyView {
    let w = table.w;
    let now_ms = table.feed.now_ms.get_untracked();
    let mixes = table.feed.barn.with_untracked(|b| b.mixes_after(now_ms));
    let is = table.choice.with_untracked(|c| c.chosen.extender_mix);
    let empty = mixes.is_empty();
    let take = move |mix| {
        table.choice.update(|c| c.chosen.extender_mix = mix);
        table.ask(None);
    };
    let list: Vec<_> = mixes
        .iter()
        .map(|mixed| {
            let word = table
                .feed
                .barn
                .with_untracked(|b| says(&w, b, mixed, now_ms));
            let poured = mixed.poured;
            let drawing = match (
                is.map(|p| p.mix) == Some(poured.mix),
                poured.life.at(now_ms),
            ) {
                (true, _) => Drawing::Tick,
                (_, MixState::Ready { .. }) => Drawing::Disc,
                _ => Drawing::HalfDisc,
            };
            view! { <Action word=word drawing=drawing on_tap=move |()| take(Some(poured))/> }
        })
        .collect();
    let why = if empty {
        w.tr(key::MIX_NONE_WHY)
    } else {
        String::new()
    };
    view! {
        <Title headline=w.tr(key::DOSES_MIX) why=why/>
        <div class="actions">
            {list}
            <Action word=w.tr(key::MIX_NEW) kind=Kind::Quiet href=paths::EXTENDER/>
            <Action word=w.tr(key::DOSES_LEAVE_OPEN) kind=Kind::Quiet on_tap=move |()| take(None)/>
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| table.ask(None)/>
        </div>
        <div class="grow"></div>
    }
    .into_any()
}
