//! A pulled batch: doses at hand, doses out, and the sows to watch.

use super::{sow_name, used};
use crate::pages::rows;
use crate::parts::{Action, Caution, Drawing, Kind};
use crate::paths;
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, Stored};
use pentally_domain::retained::pulled::{State, Watch};

/// Nothing where the batch is not pulled.
pub(super) fn shown(w: &Words, barn: &Barn, stored: &Stored, now_ms: i64) -> Option<AnyView> {
    let State::Pulled(pulled) = &stored.state else {
        return None;
    };
    let today = barn.zone_at(now_ms).day(now_ms);
    let out: Vec<_> = pulled
        .out
        .iter()
        .map(|out| used(w, barn, out, now_ms))
        .collect();
    let watch = |one: &Watch| {
        let args = [
            ("from", w.near_day(one.from, today).into()),
            ("to", w.near_day(one.to, today).into()),
        ];
        rows::link(
            paths::sow(one.sow),
            Some(Drawing::Sow),
            sow_name(w, barn, one.sow),
            w.tr_with(key::PULLED_WATCH_DAYS, &args),
            String::new(),
        )
    };
    let none = pulled.out.is_empty();
    let discard = (pulled.left > 0).then(|| {
        let says = w.tr_with(key::PULLED_DISCARD, &[("n", pulled.left.into())]);
        view! { <Caution says=says/> }
    });
    let all_the_same = (pulled.left > 0).then(|| {
        let href = paths::serve(stored.batch.entry());
        view! { <div class="actions"><Action word=w.tr(key::PULLED_USED) kind=Kind::Quiet href=href/></div> }
    });
    Some(
        view! {
            <div class="words">
                {discard}
                {none.then(|| view! { <p>{w.tr(key::PULLED_NONE_OUT)}</p> })}
            </div>
            {rows::section(w.tr(key::PULLED_OUT), out)}
            {rows::section(w.tr(key::PULLED_WATCH), pulled.watch.iter().map(watch).collect())}
            {all_the_same}
        }
        .into_any(),
    )
}
