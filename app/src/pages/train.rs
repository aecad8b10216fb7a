//! A visit or session of training: prepare, the clock, how far he came, save. One question a screen.

use crate::act::{Act, TRAINING, each_from_its_top, once_whole, use_act};
use crate::device::Draft;
use crate::feed::{Feed, use_feed};
use crate::keeping::{Keeper, kept};
use crate::pages::bad_moment::BadMoment;
use crate::pages::collect::now;
use crate::pages::supervised::WhoStoodBy;
use crate::parts::{Action, Band, Drawing, Drop, Kind, Role, Title};
use crate::words::{Key, Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_navigate;
use pentally_domain::amend::Void;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::teaching::Work;
use pentally_domain::training::state::progress;
use pentally_domain::training::under_way::{Blocked, Screen, Tap, UnderWay};

mod after;
mod prepare;
mod under;

/// What every screen of the flow holds. Cheap to copy.
#[derive(Debug, Clone, Copy)]
pub struct Flow {
    w: Words,
    feed: Feed,
    act: Act,
    work: RwSignal<Option<UnderWay>>,
    keeper: StoredValue<Keeper>,
    saved: RwSignal<Option<EntryId>>,
}

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
            Err(Blocked::ReasonMissing) => self.act.say(self.w.tr(key::TRAIN_EARLY)),
        }
    }

    /// Forgets what is open, of which nothing was in the log, and goes on.
    fn drop_it(self, then: impl FnOnce() + 'static) {
        self.keeper.with_value(|k| k.drop_it(then));
    }

    /// Writes it into the log and ends the open work, in one transaction.
    fn save(self) {
        let Some(work) = self.work.get_untracked() else {
            return;
        };
        let zone = self
            .feed
            .barn
            .with_untracked(|b| b.zone_at(crate::office::now_ms()));
        let draft = Draft::of(Fact::Training(work.finished()));
        let draft = work
            .occurred_at(&zone)
            .map_or(draft.clone(), |at| draft.at(at));
        let then = move |entries: Vec<Entry>| {
            self.saved.set(entries.first().map(|e| e.envelope().id));
        };
        self.keeper.with_value(|k| k.finish(vec![draft], then));
    }
}

/// `/boar/ID/train`
#[component]
pub fn TrainPage(
    /// Who.
    boar: BoarId,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let (work, saved) = (RwSignal::new(None), RwSignal::new(None));
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let flow = Flow {
        w,
        feed,
        act,
        work,
        keeper: StoredValue::new(Keeper::new(TRAINING, act)),
        saved,
    };
    once_whole(feed, move || spawn_local(begin(flow, boar)));
    under::shake(flow);
    each_from_its_top(Memo::new(move |_| {
        (saved.get(), work.with(|w| w.as_ref().map(|w| w.screen)))
    }));
    (move || match (saved.get(), work.get()) {
        (Some(entry), _) => done(flow, boar, entry),
        (None, Some(open)) if open.boar != boar => other(flow, open.boar),
        (None, Some(open)) => match open.screen {
            Screen::Prepare => prepare::screen(flow, &open),
            Screen::Under => under::screen(flow, &open),
            Screen::Score => after::score(flow, &open),
            Screen::Minutes => after::minutes(flow, &open),
            Screen::Finish => after::finish(flow, &open),
        },
        (None, None) => ().into_any(),
    })
    .into_any()
}

async fn begin(flow: Flow, boar: BoarId) {
    let open = kept::<UnderWay>(TRAINING).await;
    flow.act.told(open, |open| {
        let mut open = open.unwrap_or_else(|| UnderWay::new(boar, false));
        // His age may be another than when it was opened.
        if open.began_at.is_none() && open.entered_at.is_none() {
            open.asks_reason = asks_reason(flow.feed, open.boar);
        }
        flow.work.set(Some(open));
    });
}

/// Whether a session asks a reason: he is under the farm's age, or nobody knows how old.
fn asks_reason(feed: Feed, boar: BoarId) -> bool {
    let now_ms = crate::office::now_ms();
    feed.barn.with_untracked(|barn| {
        let (zone, standard) = (barn.zone_at(now_ms), barn.standard().standard);
        let boar = barn.boar(boar);
        boar.is_some_and(|b| progress(&b, &standard, &zone, now_ms).asks_reason)
    })
}

/// What a boar is called, for the head of a screen.
fn number(flow: Flow, boar: BoarId) -> String {
    let boar = flow.feed.barn.with_untracked(|b| b.boar(boar));
    boar.map(|b| b.number()).unwrap_or_default()
}

/// The way out of it, at the end of a screen.
fn leave(flow: Flow, boar: BoarId) -> AnyView {
    let (w, navigate) = (flow.w, use_navigate());
    let drop_it = move |()| {
        let navigate = navigate.clone();
        flow.drop_it(move || navigate(&paths::boar(boar), Default::default()));
    };
    view! { <Drop word=w.tr(key::TRAIN_DROP) sure=w.tr(key::DROP_SURE) on_drop=drop_it/> }
        .into_any()
}

fn titled(flow: Flow, key: Key, boar: BoarId) -> String {
    let number = number(flow, boar);
    flow.w.tr_with(key, &[("number", number.into())])
}

fn head(flow: Flow, boar: BoarId) -> AnyView {
    view! { <Title headline=titled(flow, key::TRAIN_TITLE, boar)><BadMoment/></Title> }.into_any()
}

fn other(flow: Flow, boar: BoarId) -> AnyView {
    let says = titled(flow, key::TRAIN_OTHER_OPEN, boar);
    view! {
        <Band role=Role::Unknown headline=flow.w.tr(key::LESSON_SESSION) why=says/>
        <div class="actions">
            <Action word=flow.w.tr(key::BOAR_TRAIN_GO_ON) href=paths::boar_do(boar, "train")/>
        </div>
    }
    .into_any()
}

fn done(flow: Flow, boar: BoarId, entry: EntryId) -> AnyView {
    let w = flow.w;
    let Some(boar) = flow.feed.barn.with(|b| b.boar(boar)) else {
        return ().into_any();
    };
    let Some(seen) = boar.trainings.iter().find(|t| t.entry() == entry) else {
        return ().into_any();
    };
    let what = tell::trained(&w, &seen.fact);
    let args = [("number", boar.number().into()), ("what", what.into())];
    let mut why = vec![w.tr_with(key::COLLECT_SAVED_WHY, &args)];
    why.extend(seen.fact.is_success().then(|| w.tr(key::TRAIN_COUNTS)));
    let void = Fact::Void(Void::of(seen.order, &Fact::Training(seen.fact.clone())));
    let (act, back) = (flow.act, paths::boar(boar.id));
    let (navigate, after) = (use_navigate(), back.clone());
    let undo = move |()| {
        let (navigate, after) = (navigate.clone(), after.clone());
        act.save(vec![Draft::of(void.clone())], move |_| {
            navigate(&after, Default::default())
        });
    };
    view! {
        <Band role=Role::Ready headline=w.tr(key::COLLECT_SAVED) why=why.join(" ")/>
        <div class="actions">
            <Action word=w.tr(key::TRAINING_TITLE) href=paths::TRAINING/>
            <Action word=w.tr(key::PLACE_BOAR) kind=Kind::Quiet href=back/>
            <Action word=w.tr(key::UNDO) kind=Kind::Quiet drawing=Drawing::Undo on_tap=undo/>
        </div>
        <WhoStoodBy work=Work::Training record=entry boar=boar.id/>
    }
    .into_any()
}
