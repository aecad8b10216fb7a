//! Who works here, who works with this phone, and who was signed off.

mod teach;

use crate::act::{Act, use_act};
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::pages::fields::{Line, empty};
use crate::parts::{Action, Drawing, Kind, Mark, Title, is_repeat};
use crate::words::{Words, key, use_words};
use leptos::ev::MouseEvent;
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::amend::Correction;
use pentally_domain::barn::Barn;
use pentally_domain::envelope::Order;
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::farm::Person;
use pentally_domain::id::{EntryId, PersonId};
use pentally_domain::said::Label;

/// Somebody who works or worked here.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Worker {
    order: Order,
    person: Person,
    name: Option<String>,
}

impl Worker {
    fn id(&self) -> PersonId {
        self.order.id.as_person()
    }
}

/// `/people`
#[component]
pub fn PeoplePage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let people = Memo::new(move |_| feed.barn.with(|b| workers(b)));
    let picked = move || match feed.person.get() {
        Some(id) => people.with(|p| p.iter().find(|p| p.id() == id).map(|p| name_of(&w, p))),
        None => None,
    };
    let why = move || match picked() {
        Some(name) => w.tr_with(key::PEOPLE_PICKED, &[("name", name.into())]),
        None => w.tr(key::PEOPLE_NOBODY_PICKED),
    };
    let here = move || {
        people.with(|p| {
            p.iter()
                .filter(|p| !p.person.left)
                .map(|p| row(&w, feed, act, p))
                .collect_view()
        })
    };
    let all = move || {
        people
            .get()
            .into_iter()
            .map(|worker| change(&w, feed, act, worker))
            .collect_view()
    };
    view! {
        <Title headline=w.tr(key::MORE_PEOPLE) why=Signal::derive(why)/>
        <ul class="rows">{here}</ul>
        <div class="actions">
            <Action word=w.tr(key::PEOPLE_NOBODY) kind=Kind::Quiet on_tap=move |()| pick(act, None)
                off=Signal::derive(move || feed.person.get().is_none())/>
        </div>
        <teach::Teach/>
        <NewPerson/>
        <details class="words how"><summary>{w.tr(key::PEOPLE_CHANGE)}</summary><ul class="rows">{all}</ul></details>
        <p class="words small quiet">{w.tr(key::PEOPLE_WHY)}</p>
        <div class="grow"></div>
    }
    .into_any()
}

#[component]
fn NewPerson() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let typed = RwSignal::new(String::new());
    let wrong = RwSignal::new(None::<String>);
    let feed = use_feed();
    let asked = RwSignal::new(None::<Label>);
    let take = move |()| match Label::parse(&typed.get_untracked()) {
        Ok(name) if asked.get_untracked().as_ref() != Some(&name) && is_here(feed, &name) => {
            let args = [("name", name.as_str().into())];
            wrong.set(Some(w.tr_with(key::PEOPLE_TWICE, &args)));
            asked.set(Some(name));
        }
        Ok(name) => {
            wrong.set(None);
            asked.set(None);
            let as_typed = typed.get_untracked();
            act.save(
                vec![Draft::of(Fact::Person(Person::default()))],
                move |entries| {
                    if let Some(entry) = entries.first() {
                        set_name(act, entry.envelope().id, Some(name.into()));
                        empty(typed, &as_typed);
                    }
                },
            );
        }
        Err(error) => {
            let args = [
                ("chars", error.chars.into()),
                ("low", error.low.into()),
                ("high", error.high.into()),
            ];
            wrong.set(Some(w.tr_with(key::TEXT_LENGTH, &args)));
        }
    };
    view! {
        <div class="words"><Line name=w.tr(key::PEOPLE_NAME) value=typed hint=w.tr(key::FIELD_LABEL) wrong=wrong/></div>
        <div class="actions"><Action word=w.tr(key::PEOPLE_ADD) drawing=Drawing::TwoPeople on_tap=take/></div>
    }
}

/// Whether somebody of that name works here.
fn is_here(feed: Option<Feed>, name: &Label) -> bool {
    let wanted = name.as_str().to_lowercase();
    let named = |one: &Worker| {
        one.name
            .as_ref()
            .is_some_and(|n| n.to_lowercase() == wanted)
    };
    let people = feed.map(|f| f.barn.with_untracked(|b| workers(b)));
    people.is_some_and(|all| all.iter().any(|one| !one.person.left && named(one)))
}

/// A tap picks who works with this phone; a second tap changes nothing.
fn row(w: &Words, feed: Feed, act: Act, worker: &Worker) -> AnyView {
    let (w, id, name) = (*w, worker.id(), name_of(w, worker));
    let here = move || feed.person.get() == Some(id);
    let says = move || {
        let works = here().then(|| w.tr(key::PEOPLE_WORKS_WITH_THIS));
        let stands = feed.barn.with(|b| teach::standing(&w, b, id));
        works
            .into_iter()
            .chain(stands)
            .collect::<Vec<_>>()
            .join(" · ")
    };
    let tap = move |click: MouseEvent| {
        if !is_repeat(&click) {
            pick(act, Some(id));
        }
    };
    view! {
        <li><button type="button" class="row" aria-pressed=move || here().to_string() on:click=tap>
            <Show when=here><Mark drawing=Drawing::Tick/></Show>
            <span class="rest-of"><span class="name">{name}</span><br/><span class="small quiet">{says}</span></span>
        </button></li>
    }
    .into_any()
}

/// Who left, who is back, and names that are to go.
fn change(w: &Words, feed: Feed, act: Act, worker: Worker) -> AnyView {
    let (entry, left, id) = (worker.order.id, worker.person.left, worker.id());
    let (name, has_name) = (name_of(w, &worker), worker.name.is_some());
    let goes = move |()| {
        let (before, after) = (
            Fact::Person(worker.person),
            Fact::Person(Person { left: !left }),
        );
        act.save_quietly(Fact::Correction(Correction::of(
            worker.order,
            &before,
            after,
        )));
        if feed.person.get_untracked() == Some(id) {
            pick(act, None);
        }
    };
    let erase = move |()| set_name(act, entry, None);
    let word = w.tr(if left {
        key::PEOPLE_BACK
    } else {
        key::PEOPLE_LEAVES
    });
    let left_word = left.then(|| w.tr(key::PEOPLE_HAS_LEFT));
    view! {
        <li class="row">
            <div class="rest-of"><p class="name">{name}</p><p class="small quiet">{left_word}</p></div>
            <Action word=word kind=Kind::Quiet on_tap=goes/>
            {has_name.then(|| view! { <Action word=w.tr(key::PEOPLE_ERASE) kind=Kind::Quiet on_tap=erase/> })}
        </li>
    }
    .into_any()
}

fn name_of(w: &Words, worker: &Worker) -> String {
    worker
        .name
        .clone()
        .unwrap_or_else(|| w.tr(key::PEOPLE_NO_NAME))
}

fn pick(act: Act, person: Option<PersonId>) {
    spawn_local(async move { act.told(device::pick_person(person).await, |()| ()) });
}

fn set_name(act: Act, entry: EntryId, name: Option<String>) {
    spawn_local(async move { act.told(device::set_name(entry, name).await, |()| ()) });
}

/// Everybody the log knows, those who left last.
fn workers(barn: &Barn) -> Vec<Worker> {
    let live = barn
        .ledger(Subject::Farm)
        .map(|l| l.live())
        .unwrap_or_default();
    let mut list: Vec<_> = live
        .iter()
        .filter_map(|l| match l.fact {
            Fact::Person(person) => Some(Worker {
                order: l.order,
                person: *person,
                name: barn.name(l.order.id.as_person()),
            }),
            _ => None,
        })
        .collect();
    list.sort_by_key(|w| w.person.left);
    list
}
