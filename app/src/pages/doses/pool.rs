//! Ejaculates that wait, to be poured together with the page's own.

use super::offer::barred;
use super::{Choice, Named, Table};
use crate::pages::rows;
use crate::parts::{Drawing, Mark, is_repeat};
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::barn::Holding;

/// One row for each that waits: in or out at a tap; one that may not go in says why.
pub(super) fn rows(
    table: Table,
    others: &[Named],
    choice: &Choice,
    holding: &Holding,
) -> Option<AnyView> {
    let count_as = choice.chosen.count_as(&holding.standard);
    let list = others.iter().map(|one| {
        let collected = tell::collected(&table.w, &one.cup.collected);
        match one.cup.barred(count_as, &holding.standard) {
            Some(why) => closed(one, format!("{collected} · {}", barred(&table.w, &why))),
            None => open(table, one, collected, choice),
        }
    });
    rows::section(table.w.tr(key::DOSES_POOL_WITH), list.collect())
}

fn open(table: Table, one: &Named, collected: String, choice: &Choice) -> AnyView {
    let id = one.cup.collection;
    let is_in = choice.pool.contains(&id);
    let tap = move |click| {
        if !is_repeat(&click) {
            table.choice.update(|c| toggle(c, id));
        }
    };
    let (word, drawing) = match is_in {
        true => (key::DOSES_POOLED, Drawing::Tick),
        false => (key::DOSES_POOL_ADD, Drawing::Drop),
    };
    view! {
        <li><button type="button" class="row" aria-pressed=is_in.to_string() on:click=tap>
            <Mark drawing=drawing/>
            <span class="rest-of"><span class="name">{one.number.clone()}</span><br/><span class="small quiet">{collected}</span></span>
            <span class="last">{table.w.tr(word)}</span>
        </button></li>
    }
    .into_any()
}

fn closed(one: &Named, why: String) -> AnyView {
    view! {
        <li class="row">
            <Mark drawing=Drawing::Bar/>
            <span class="rest-of"><span class="name">{one.number.clone()}</span><br/><span class="small quiet">{why}</span></span>
        </li>
    }
    .into_any()
}

fn toggle(choice: &mut Choice, id: pentally_domain::id::EntryId) {
    match choice.pool.iter().position(|one| *one == id) {
        Some(at) => drop(choice.pool.remove(at)),
        None => choice.pool.push(id),
    }
}
