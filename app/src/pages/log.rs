//! The log as this phone holds it, newest first, and what can be taken back.

mod fact;
mod newer;
mod pick;

pub use fact::{content, kind_word};
pub use pick::bring_back;

use crate::act::{Act, use_act};
use crate::device;
use crate::feed::{Feed, use_feed};
use crate::pages::fields::{Choice, Tick};
use crate::pages::rows;
use crate::parts::{Action, Kind as How, Title};
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::barn::Barn;
use pentally_domain::fact::Kind;
use pentally_domain::id::{BoarId, DeviceId, PersonId};
use pick::{Item, Wanted, pick, take_back};

/// How many rows are shown at first, and more with each tap.
const STEP: usize = 60;

/// What the filters say. Cheap to copy.
#[derive(Debug, Clone, Copy)]
struct Filters {
    kind: RwSignal<String>,
    boar: RwSignal<String>,
    person: RwSignal<String>,
    unsent: RwSignal<bool>,
    most: RwSignal<usize>,
}

impl Filters {
    fn wanted(self) -> Wanted {
        Wanted {
            kind: Kind::named(&self.kind.get()),
            boar: BoarId::parse(&self.boar.get()).ok(),
            person: PersonId::parse(&self.person.get()).ok(),
            unsent: self.unsent.get(),
        }
    }
}

/// `/log`
#[component]
pub fn LogPage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let text = || RwSignal::new(String::new());
    let filters = Filters {
        kind: text(),
        boar: text(),
        person: text(),
        unsent: RwSignal::new(false),
        most: RwSignal::new(STEP),
    };
    let own = RwSignal::new(None::<DeviceId>);
    Effect::new(move |_| {
        spawn_local(async move { own.set(device::identity().await) });
    });
    let list = move || {
        let (wanted, most, own) = (filters.wanted(), filters.most.get(), own.get());
        let now_ms = feed.now_ms.get_untracked();
        feed.barn.with(|barn| {
            let items = pick(barn, &wanted, |device, seq| feed.record_state(device, seq));
            let left = items.len().saturating_sub(most);
            let page = Page { w, feed, act, barn, now_ms, own };
            let rows = items.iter().take(most).map(|item| page.row(item)).collect_view();
            let none = items.is_empty().then(|| view! { <p class="words quiet">{w.tr(key::LOG_NONE)}</p> });
            let more = (left > 0).then(|| {
                let word = w.tr_with(key::LOG_MORE, &[("n", left.into())]);
                view! { <div class="actions"><Action word=word kind=How::Quiet on_tap=move |()| filters.most.update(|m| *m += STEP)/></div> }
            });
            view! { {none}<ul class="rows">{rows}</ul>{more} }
        })
    };
    view! {
        <Title headline=w.tr(key::MORE_LOG) why=w.tr(key::LOG_WHY)/>
        <div class="words fields">
            <Choice name=w.tr(key::LOG_KIND) options=kinds(&w) value=filters.kind/>
            <Choice name=w.tr(key::LOG_BOAR) options=boars(w, feed) value=filters.boar/>
            <Choice name=w.tr(key::LOG_PERSON) options=people(w, feed) value=filters.person/>
            <Tick name=w.tr(key::LOG_UNSENT) value=filters.unsent/>
        </div>
        {list}
        <newer::Newer/>
        <div class="grow"></div>
    }
    .into_any()
}

fn everything(w: &Words) -> (String, String) {
    (String::new(), w.tr(key::LOG_ALL))
}

fn kinds(w: &Words) -> Vec<(String, String)> {
    let kind = |k: &Kind| (k.name().to_owned(), w.tr(kind_word(*k)));
    let mut list: Vec<_> = Kind::ALL.iter().map(kind).collect();
    list.sort_by(|a, b| a.1.cmp(&b.1));
    list.insert(0, everything(w));
    list
}

fn boars(w: Words, feed: Feed) -> Signal<Vec<(String, String)>> {
    let list = Memo::new(move |_| {
        let boars = feed
            .barn
            .with(|b| b.boars())
            .into_iter()
            .map(|b| (b.id.to_string(), b.number()));
        std::iter::once(everything(&w))
            .chain(boars)
            .collect::<Vec<_>>()
    });
    list.into()
}

fn people(w: Words, feed: Feed) -> Signal<Vec<(String, String)>> {
    let list = Memo::new(move |_| {
        let named = |(id, name): (PersonId, Option<String>)| Some((id.to_string(), name?));
        let people = feed.barn.with(|b| b.people()).into_iter().filter_map(named);
        std::iter::once(everything(&w))
            .chain(people)
            .collect::<Vec<_>>()
    });
    list.into()
}

struct Page<'a> {
    w: Words,
    feed: Feed,
    act: Act,
    barn: &'a Barn,
    now_ms: i64,
    own: Option<DeviceId>,
}

impl Page<'_> {
    fn row(&self, item: &Item<'_>) -> AnyView {
        let (w, act, row) = (self.w, self.act, item.row);
        let zone = self.barn.zone_at(row.occurred_at.ms());
        let what = content(&w, self.barn, &row.fact, row.order.id);
        let mut small = vec![tell::moment(&w, &zone, row.occurred_at.ms(), self.now_ms)];
        small.extend(
            row.person
                .and_then(|p| self.barn.name(p))
                .map(|name| w.tr_with(key::BOAR_RECORDED_BY, &[("name", name.into())])),
        );
        small.extend(item.void.then(|| w.tr(key::LOG_TAKEN_BACK)));
        let own = self.own == Some(row.device) && !item.void;
        let undo = own.then(|| take_back(row)).flatten().map(|fact| {
            let word = w.tr(if row.fact.kind() == Kind::Void { key::LOG_BRING_BACK } else { key::LOG_TAKE_BACK });
            view! { <Action word=word kind=How::Quiet on_tap=move |()| act.save_quietly(fact.clone())/> }.into_any()
        });
        let title = format!("{} · {what}", w.tr(kind_word(row.fact.kind())));
        rows::record(
            &w,
            title,
            &small,
            self.feed.record_state(row.device, row.seq),
            undo,
        )
    }
}
