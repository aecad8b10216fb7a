//! Who learns, under whose eyes, and who was signed off by whom.

use crate::act::use_act;
use crate::device::Draft;
use crate::feed::{Feed, use_feed};
use crate::parts::{Action, Chips, Kind};
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::{Barn, Seen};
use pentally_domain::fact::Fact;
use pentally_domain::id::PersonId;
use pentally_domain::teaching::{Learner, SignOff, Supervised, Work, learner};

/// Where a person stands with each work: nothing for a work that is neither learnt nor signed off.
pub(super) fn standing(w: &Words, barn: &Barn, person: PersonId) -> Vec<String> {
    let one = |work| {
        let far = learner(barn, person, work);
        let said = far_words(w, barn, &far)?;
        Some(format!("{}: {said}", w.tr(tell::work(work))))
    };
    Work::ALL.into_iter().filter_map(one).collect()
}

fn far_words(w: &Words, barn: &Barn, far: &Learner) -> Option<String> {
    match &far.signed {
        Some(signed) => {
            let name = barn.name(signed.fact.by);
            let name = name.unwrap_or_else(|| w.tr(key::PEOPLE_NO_NAME));
            Some(w.tr_with(key::TEACH_SIGNED_BY, &[("name", name.into())]))
        }
        None if far.supervised == 0 => None,
        None => Some(counted(w, far)),
    }
}

fn counted(w: &Words, far: &Learner) -> String {
    let args = [("n", far.supervised.into()), ("all", far.asked.into())];
    w.tr_with(key::TEACH_COUNTED, &args)
}

/// Signs somebody off, or counts work under supervision that left no record.
#[component]
pub(super) fn Teach() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let who = RwSignal::new(None::<PersonId>);
    let work = RwSignal::new(None::<Work>);
    let people = Memo::new(move |_| feed.barn.with(|b| named(&w, b)));
    let works = Work::ALL
        .map(|work| (work, w.tr(tell::work(work))))
        .to_vec();
    let whom = move || {
        let (who, work) = (who.get()?, work.get()?);
        Some(view! { <About feed person=who work/> })
    };
    view! {
        <details class="words how">
            <summary>{w.tr(key::TEACH)}</summary>
            <p>{w.tr(key::TEACH_WHY)}</p>
            {move || view! { <Chips asked=w.tr(key::TEACH_WHO) options=people.get() chosen=who/> }}
            <Chips asked=w.tr(key::TEACH_WORK) options=works chosen=work/>
            {whom}
        </details>
    }
    .into_any()
}

/// One person and one work.
#[component]
fn About(feed: Feed, person: PersonId, work: Work) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let by = RwSignal::new(None::<PersonId>);
    let far = Memo::new(move |_| feed.barn.with(|b| learner(b, person, work)));
    let others = feed.barn.with_untracked(|b| named(&w, b));
    let others: Vec<_> = others.into_iter().filter(|(id, _)| *id != person).collect();
    let alone = others.is_empty();
    let unsaid = Signal::derive(move || by.get().is_none());
    let sign = move |()| {
        if let Some(by) = by.get_untracked() {
            let far = far.get_untracked();
            act.save_quietly(Fact::SignOff(SignOff {
                person,
                by,
                work,
                counted: far.supervised,
                asked: far.asked,
            }));
        }
    };
    let count = move |()| {
        if let Some(by) = by.get_untracked() {
            act.save_quietly(Fact::Supervised(Supervised {
                person,
                by,
                work,
                record: None,
                boar: None,
            }));
        }
    };
    let take_back = move |signed: Seen<SignOff>| {
        let void = Void::of(signed.order, &Fact::SignOff(signed.fact));
        act.save(vec![Draft::of(Fact::Void(void))], |_| ());
    };
    let stands = move || {
        let far = far.get();
        let said = feed.barn.with(|b| far_words(&w, b, &far));
        let said = said.unwrap_or_else(|| counted(&w, &far));
        let back = far.signed.map(|signed| {
            let tap = move |()| take_back(signed.clone());
            view! { <Action word=w.tr(key::TEACH_TAKE_BACK) kind=Kind::Quiet on_tap=tap/> }
        });
        view! { <p class="big" role="status">{said}</p>{back} }
    };
    let lone = alone.then(|| view! { <p>{w.tr(key::TEACH_ALONE)}</p> });
    // Whoever is signed off is asked nothing more.
    let open = Memo::new(move |_| far.with(|f| f.signed.is_none()));
    let ask =
        move || {
            (!alone && open.get()).then(|| view! {
            <Chips asked=w.tr(key::TEACH_BY) options=others.clone() chosen=by/>
            <div class="actions">
                <Action word=w.tr(key::TEACH_SIGN) off=unsaid on_tap=sign/>
                <Action word=w.tr(key::TEACH_COUNT) kind=Kind::Quiet off=unsaid on_tap=count/>
            </div>
        })
        };
    view! { {stands}{lone}{ask} }
}

fn named(w: &Words, barn: &Barn) -> Vec<(PersonId, String)> {
    let name = |(id, name): (PersonId, Option<String>)| {
        (id, name.unwrap_or_else(|| w.tr(key::PEOPLE_NO_NAME)))
    };
    barn.people().into_iter().map(name).collect()
}
