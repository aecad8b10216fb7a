//! The collection: prepare, collect, the cup, save. One question a screen. A practice run goes
//! through the same screens and writes nothing.

use crate::act::{Act, COLLECTING, each_from_its_top, once_whole, use_act};
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::keeping::{Keeper, kept};
use crate::pages::bad_moment::BadMoment;
use crate::pages::supervised::WhoStoodBy;
use crate::parts::{Action, Band, Drawing, Drop, Kind, Role, Title};
use crate::paths;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_navigate;
use pentally_domain::barn::Barn;
use pentally_domain::collecting::{Blocked, Collecting, Screen, Tap};
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::rest::{Answer, standing};
use pentally_domain::teaching::Work;
use pentally_domain::time::Stamp;
use pentally_domain::today::glove_today;

mod cup;
mod finish;
mod prepare;
mod under;

/// What every screen of the flow holds. Cheap to copy.
#[derive(Debug, Clone, Copy)]
pub struct Flow {
    w: Words,
    feed: Feed,
    act: Act,
    work: RwSignal<Option<Collecting>>,
    keeper: StoredValue<Keeper>,
    ended: RwSignal<Option<Ended>>,
    /// It was begun on an earlier day, and nobody said yet that it is about that day.
    asks_day: RwSignal<bool>,
    practice: bool,
}

/// How it ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ended {
    /// In the log.
    Saved(EntryId),
    /// It was practice.
    Practised,
}

/// The key under which an open practice run is kept, apart from what is meant for the log.
const PRACTICE: &str = "practice";
/// The key under which it is kept when the open collection was opened (ms since 1970).
const OPENED: &str = "collecting/opened";

impl Flow {
    /// Takes a tap: the next state follows from the one before at once, and is kept on the phone.
    fn tap(self, tap: Tap) {
        let Some(work) = self.work.get_untracked() else {
            return;
        };
        let Some(now) = now(self.feed) else { return };
        match work.tap(tap, now) {
            Ok(next) => {
                self.act.hush();
                if self.keeper.with_value(|k| k.keep(&next)) {
                    self.work.set(Some(next));
                }
            }
            Err(blocked) => self.act.say(self.w.tr(blocked_key(blocked))),
        }
    }

    /// Forgets the open collection, of which nothing was in the log, and goes on.
    fn drop_it(self, then: impl FnOnce() + 'static) {
        self.keeper.with_value(|k| k.drop_it(then));
    }

    /// Writes it into the log and ends the open work, in one transaction.
    fn save(self) {
        let Some(work) = self.work.get_untracked() else {
            return;
        };
        if self.practice {
            return self.drop_it(move || self.ended.set(Some(Ended::Practised)));
        }
        let draft = Draft::of(Fact::Collection(work.finished()));
        let draft = work.occurred_at().map_or(draft.clone(), |at| draft.at(at));
        let then = move |entries: Vec<Entry>| {
            let saved = entries.first().map(|e| Ended::Saved(e.envelope().id));
            self.ended.set(saved);
        };
        self.keeper.with_value(|k| k.finish(vec![draft], then));
    }
}

const fn kept_under(practice: bool) -> &'static str {
    if practice { PRACTICE } else { COLLECTING }
}

/// Now, with the farm's offset, read from the device's own clock.
pub fn now(feed: Feed) -> Option<Stamp> {
    let ms = crate::office::now_ms();
    feed.barn.with_untracked(|b| b.zone_at(ms)).stamp(ms).ok()
}

/// The way out of it, at the end of a screen: to the boar, or back to learning.
fn leave(flow: Flow, boar: BoarId) -> AnyView {
    let (w, navigate) = (flow.w, use_navigate());
    let to = match flow.practice {
        true => paths::LEARN.to_owned(),
        false => paths::boar(boar),
    };
    let drop_it = move |()| {
        let (navigate, to) = (navigate.clone(), to.clone());
        flow.drop_it(move || navigate(&to, Default::default()));
    };
    view! { <Drop word=w.tr(key::COLLECT_STOP) sure=w.tr(key::DROP_SURE) on_drop=drop_it/> }
        .into_any()
}

const fn blocked_key(blocked: Blocked) -> crate::words::Key {
    match blocked {
        Blocked::GloveUnanswered => key::COLLECT_WAITS_GLOVE,
        Blocked::Latex => key::GLOVE_LATEX_WHY,
        Blocked::ReasonMissing => key::COLLECT_WAITS_REASON,
    }
}

/// `/boar/ID/collect`
#[component]
pub fn CollectPage(
    /// Who; of practice nobody.
    boar: BoarId,
    /// Nothing of it goes into the log.
    #[prop(optional)]
    practice: bool,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let work = RwSignal::new(None);
    let ended = RwSignal::new(None);
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let flow = Flow {
        w,
        feed,
        act,
        work,
        keeper: StoredValue::new(Keeper::new(kept_under(practice), act)),
        ended,
        asks_day: RwSignal::new(false),
        practice,
    };
    once_whole(feed, move || spawn_local(begin(flow, boar)));
    each_from_its_top(Memo::new(move |_| {
        (ended.get(), work.with(|w| w.as_ref().map(|w| w.screen)))
    }));
    (move || match (ended.get(), work.get()) {
        (Some(Ended::Saved(entry)), _) => done(flow, entry),
        (Some(Ended::Practised), _) => practised(flow),
        (None, Some(open)) if open.boar != boar => other(flow, open.boar),
        (None, Some(open)) if flow.asks_day.get() => which_day(flow, &open),
        (None, Some(open)) => match open.screen {
            Screen::Prepare => prepare::screen(flow, &open),
            Screen::Under => under::screen(flow, &open),
            Screen::Amount => cup::screen(flow, &open),
            Screen::Finish => finish::screen(flow, &open),
        },
        (None, None) => ().into_any(),
    })
    .into_any()
}

/// Goes on with what is open, or begins. What was opened on an earlier farm day knows nothing of this
/// one's glove and rest: where nobody had gone in it begins anew, else it is asked which day it is about.
async fn begin(flow: Flow, boar: BoarId) {
    let open = match kept::<Collecting>(kept_under(flow.practice)).await {
        Ok(open) => open,
        Err(error) => return flow.act.told(Err(error), |()| ()),
    };
    let opened_ms = device::draft_get::<i64>(OPENED).await.ok().flatten();
    let Some(mut open) = open else {
        return anew(flow, boar, false).await;
    };
    let begun_ms = open.began_at.map(Stamp::ms);
    if flow.practice || is_of_today(flow.feed, begun_ms.or(opened_ms)) {
        if begun_ms.is_none() {
            open.against_advice = fresh(flow, open.boar).against_advice;
        }
    } else if begun_ms.is_none() {
        return anew(flow, boar, true).await;
    } else {
        flow.asks_day.set(true);
    }
    flow.work.set(Some(open));
}

/// Begins with nothing said; `former` of it is forgotten.
async fn anew(flow: Flow, boar: BoarId, former: bool) {
    flow.asks_day.set(false);
    flow.work.set(Some(fresh(flow, boar)));
    let begun = async {
        if former {
            device::draft_remove(kept_under(flow.practice)).await?;
        }
        device::draft_put(OPENED, &crate::office::now_ms()).await
    };
    flow.act.told(begun.await, |()| ());
}

fn is_of_today(feed: Feed, ms: Option<i64>) -> bool {
    let now_ms = crate::office::now_ms();
    let zone = feed.barn.with_untracked(|b| b.zone_at(now_ms));
    ms.is_some_and(|ms| zone.day(ms) == zone.day(now_ms))
}

fn fresh(flow: Flow, boar: BoarId) -> Collecting {
    flow.feed
        .barn
        .with_untracked(|barn| begun_in(barn, boar, flow))
}

fn begun_in(barn: &Barn, boar: BoarId, flow: Flow) -> Collecting {
    let now_ms = crate::office::now_ms();
    let holding = barn.standard();
    if flow.practice {
        return Collecting::new(boar, false, None, &holding.standard);
    }
    let glove = glove_today(barn, flow.feed.person.get_untracked(), now_ms);
    let facts = barn.boar(boar);
    let zone = barn.zone_at(now_ms);
    let answer = facts
        .as_ref()
        .map(|b| standing(b, &holding.standard, &zone, now_ms).answer);
    Collecting::new(boar, answer != Some(Answer::Yes), glove, &holding.standard)
}

/// What a boar is called, for the head of a screen.
fn number(flow: Flow, boar: BoarId) -> String {
    flow.feed
        .barn
        .with(|b| b.boar(boar))
        .map(|b| b.number())
        .unwrap_or_default()
}

fn head(flow: Flow, boar: BoarId) -> AnyView {
    if flow.practice {
        let (w, why) = (flow.w, key::PRACTICE_WHY);
        return view! { <Title headline=w.tr(key::PRACTICE) why=w.tr(why)/> }.into_any();
    }
    view! { <Title headline=titled(flow, boar)><BadMoment/></Title> }.into_any()
}

fn titled(flow: Flow, boar: BoarId) -> String {
    if flow.practice {
        return flow.w.tr(key::PRACTICE);
    }
    let number = number(flow, boar);
    flow.w
        .tr_with(key::COLLECT_TITLE, &[("number", number.into())])
}

fn other(flow: Flow, boar: BoarId) -> AnyView {
    let says = flow.w.tr_with(
        key::COLLECT_OTHER_OPEN,
        &[("number", number(flow, boar).into())],
    );
    view! {
        <Band role=Role::Unknown headline=flow.w.tr(key::COLLECT_UNDER_HELPER) why=says/>
        <div class="actions">
            <Action word=flow.w.tr(key::BOAR_GO_ON) href=paths::boar_do(boar, "collect")/>
        </div>
    }
    .into_any()
}

/// Of another day: what was done then can still be written down, and nothing of it belongs to today.
fn which_day(flow: Flow, open: &Collecting) -> AnyView {
    let (w, boar, now_ms) = (flow.w, open.boar, crate::office::now_ms());
    let began_ms = open.began_at.map_or(now_ms, Stamp::ms);
    let zone = flow.feed.barn.with_untracked(|b| b.zone_at(now_ms));
    let when = crate::tell::moment(&w, &zone, began_ms, now_ms);
    let why = w.tr_with(key::COLLECT_BEGUN_BEFORE, &[("when", when.into())]);
    let anew = move |()| spawn_local(anew(flow, boar, true));
    view! {
        <Band role=Role::Unknown headline=titled(flow, boar) why=why/>
        <div class="actions">
            <Action word=w.tr(key::COLLECT_OF_THEN) on_tap=move |()| flow.asks_day.set(false)/>
        </div>
        <Drop word=w.tr(key::COLLECT_ANEW) sure=w.tr(key::DROP_SURE) on_drop=anew/>
    }
    .into_any()
}

fn practised(flow: Flow) -> AnyView {
    let w = flow.w;
    view! {
        <Band role=Role::Ready headline=w.tr(key::PRACTICE_OVER) why=w.tr(key::PRACTICE_WHY)/>
        <div class="actions"><Action word=w.tr(key::PRACTICE_BACK) href=paths::LEARN/></div>
    }
    .into_any()
}

fn done(flow: Flow, entry: EntryId) -> AnyView {
    let w = flow.w;
    let boars = flow.feed.barn.with(|b| b.boars());
    let found = boars.iter().find_map(|b| {
        b.collections
            .iter()
            .find(|c| c.entry() == entry)
            .map(|c| (b, c))
    });
    let Some((boar, collection)) = found else {
        return ().into_any();
    };
    let what = crate::tell::collected(&w, &collection.fact);
    let why = w.tr_with(
        key::COLLECT_SAVED_WHY,
        &[("number", boar.number().into()), ("what", what.into())],
    );
    let void = Fact::Void(pentally_domain::amend::Void::of(
        collection.order,
        &Fact::Collection(collection.fact.clone()),
    ));
    let (act, back) = (flow.act, paths::boar(boar.id));
    let navigate = use_navigate();
    let after = back.clone();
    let undo = move |()| {
        let (navigate, after) = (navigate.clone(), after.clone());
        act.save(vec![Draft::of(void.clone())], move |_| {
            navigate(&after, Default::default())
        });
    };
    view! {
        <Band role=Role::Ready headline=w.tr(key::COLLECT_SAVED) why=why/>
        <div class="actions">
            <Action word=w.tr(key::COLLECT_TO_BENCH) href=paths::bench(entry)/>
            <Action word=w.tr(key::PLACE_BOAR) kind=Kind::Quiet href=back/>
            <Action word=w.tr(key::UNDO) kind=Kind::Quiet drawing=Drawing::Undo on_tap=undo/>
        </div>
        <WhoStoodBy work=Work::Collection record=entry boar=boar.id/>
    }
    .into_any()
}

/// A choice that is a tap of the flow: what is chosen anew goes through `tap`.
pub(super) fn choice<T: Copy + PartialEq + Send + Sync + 'static>(
    chosen: Option<T>,
    tap: impl Fn(Option<T>) + 'static,
) -> RwSignal<Option<T>> {
    let signal = RwSignal::new(chosen);
    Effect::new(move |before: Option<Option<T>>| {
        let now = signal.get();
        if before.is_some_and(|b| b != now) {
            tap(now);
        }
        now
    });
    signal
}
