//! After the work of somebody who is not signed off: one tap names who stood by. It is asked
//! only where the farm signs people off, and never in the way.

use crate::act::use_act;
use crate::device::Draft;
use crate::feed::{Feed, use_feed};
use crate::parts::{Chips, Undo};
use crate::words::{key, use_words};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::Barn;
use pentally_domain::envelope::Order;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, EntryId, PersonId};
use pentally_domain::teaching::{Supervised, Work, learner, signed_off};

/// Asks who stood by, once a record is in the log.
#[component]
pub fn WhoStoodBy(
    /// Which work.
    work: Work,
    /// Its record.
    record: EntryId,
    /// Of which boar.
    boar: BoarId,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let said = RwSignal::new(None::<(Order, Supervised)>);
    let chosen = RwSignal::new(None::<PersonId>);
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let Some((person, others)) = asked(feed, work) else {
        return ().into_any();
    };
    Effect::new(move |_| {
        let Some(by) = chosen.get() else { return };
        let supervised = Supervised {
            person,
            by,
            work,
            record: Some(record),
            boar: Some(boar),
        };
        let draft = Draft::of(Fact::Supervised(supervised));
        act.save(vec![draft], move |entries| {
            said.set(entries.first().map(|e| (e.order(), supervised)));
        });
    });
    let counted = move |by: PersonId| {
        feed.barn.with(|barn| {
            let far = learner(barn, person, work);
            let args = [
                ("name", barn.name(by).unwrap_or_default().into()),
                ("n", far.supervised.into()),
                ("all", far.asked.into()),
            ];
            w.tr_with(key::SUPERVISED_COUNTED, &args)
        })
    };
    let take_back = move |order: Order, supervised: Supervised| {
        let void = Void::of(order, &Fact::Supervised(supervised));
        act.save(vec![Draft::of(Fact::Void(void))], move |_| {
            said.set(None);
            chosen.set(None);
        });
    };
    (move || match said.get() {
        Some((order, supervised)) => view! {
            <Undo what=counted(supervised.by) on_undo=move |()| take_back(order, supervised)/>
        }
        .into_any(),
        None => view! {
            <div class="words">
                <Chips asked=w.tr(key::SUPERVISED_ASK) options=others.clone() chosen=chosen/>
                <p class="small quiet">{w.tr(key::SUPERVISED_WHY)}</p>
            </div>
        }
        .into_any(),
    })
    .into_any()
}

/// Who worked and who may have stood by; none where nobody asks.
fn asked(feed: Feed, work: Work) -> Option<(PersonId, Vec<(PersonId, String)>)> {
    let person = feed.person.get_untracked()?;
    let named = |barn: &Barn, id: PersonId| Some((id, barn.name(id)?));
    feed.barn.with_untracked(|barn| {
        let may = signed_off(barn, work);
        let others: Vec<_> = may
            .iter()
            .filter(|id| **id != person)
            .filter_map(|id| named(barn, *id))
            .collect();
        (!may.contains(&person) && !others.is_empty()).then_some((person, others))
    })
}
