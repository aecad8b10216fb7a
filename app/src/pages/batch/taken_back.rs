//! Taking a whole batch back, and the page of one that was.

use crate::act::Act;
use crate::pages::log;
use crate::parts::{Action, Band, Kind, Role};
use crate::paths;
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::{Barn, Stored};
use pentally_domain::batch::SemenBatch;
use pentally_domain::code::Code;
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::ledger::Ledger;

/// Asked twice, for the labels may be printed; not offered once a dose was used.
pub(super) fn offer(w: &Words, act: Act, stored: &Stored, asked: RwSignal<bool>) -> AnyView {
    let w = *w;
    if !stored.out.is_empty() {
        return view! {
            <p class="words small quiet"><a href=paths::LOG>{w.tr(key::BATCH_STAYS)}</a></p>
        }
        .into_any();
    }
    let batch = &stored.batch;
    let void = Fact::Void(Void::of(batch.order, &Fact::SemenBatch(batch.fact.clone())));
    let word = Signal::derive(move || {
        w.tr(match asked.get() {
            true => key::BATCH_TAKE_BACK_SURE,
            false => key::BATCH_TAKE_BACK,
        })
    });
    let tap = move |()| match asked.get_untracked() {
        true => {
            asked.set(false);
            act.save_quietly(void.clone());
        }
        false => asked.set(true),
    };
    view! { <div class="actions"><Action word=word kind=Kind::Quiet on_tap=tap/></div> }.into_any()
}

/// The page of a batch that was taken back, which can be brought back.
pub(super) fn shown(w: &Words, act: Act, barn: &Barn, id: EntryId) -> Option<AnyView> {
    let ledger = barn.ledgers().find(|ledger| of(ledger, id).is_some())?;
    let batch = of(ledger, id)?;
    let code = batch.code.to_string();
    let backs = log::bring_back(ledger, id);
    let bring = move |()| {
        let drafts = backs.iter().cloned().map(Into::into).collect();
        act.save(drafts, |_| ());
    };
    let numbers = batch.sources.iter().filter_map(|s| barn.boar(s.boar));
    let numbers: Vec<_> = numbers.map(|boar| boar.number()).collect();
    let of = w.tr_with(key::BATCH_OF, &[("boars", numbers.join(", ").into())]);
    Some(
        view! {
            <Band role=Role::Stop headline=w.tr(key::BATCH_WAS_TAKEN_BACK) why=w.tr(key::BATCH_WAS_TAKEN_BACK_WHY)>
                {code}
            </Band>
            <p class="words quiet">{of}</p>
            <div class="actions"><Action word=w.tr(key::LOG_BRING_BACK) kind=Kind::Quiet on_tap=bring/></div>
            <div class="grow"></div>
        }
        .into_any(),
    )
}

/// The batch of a code that was taken back: its label may still be on doses.
pub(super) fn of_code(barn: &Barn, code: Code) -> Option<EntryId> {
    let rows = barn.ledgers().flat_map(|ledger| {
        let rows = ledger.rows();
        rows.filter(|row| matches!(&row.fact, Fact::SemenBatch(b) if b.code == code))
            .filter(|row| ledger.is_void(row.order.id))
    });
    rows.map(|row| row.order.id).next()
}

fn of(ledger: &Ledger, id: EntryId) -> Option<&SemenBatch> {
    let row = ledger.rows().find(|row| row.order.id == id)?;
    match &row.fact {
        Fact::SemenBatch(batch) if ledger.is_void(id) => Some(batch),
        _ => None,
    }
}
