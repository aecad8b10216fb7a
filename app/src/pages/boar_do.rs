//! Small things about a boar: off collection, a move, a note, the same as another.

use crate::act::use_act;
use crate::device::Draft;
use crate::feed::use_feed;
use crate::parts::{Action, Chips, Kind, Title};
use crate::words::{Key, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use leptos_router::hooks::{use_location, use_navigate};
use pentally_domain::amend::Note;
use pentally_domain::boar::{CullFor, Move, OffCollection, OffReason};
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::farm::SameAs;
use pentally_domain::id::{BoarId, EntryId, PenId};
use pentally_domain::rest::health::offs_on;
use pentally_domain::said::Remark;

const REASONS: [OffReason; 9] = [
    OffReason::Ill,
    OffReason::Lame,
    OffReason::Fever,
    OffReason::Treated,
    OffReason::Injured,
    OffReason::Isolation,
    OffReason::BloodOrPus,
    OffReason::Cull,
    OffReason::Other,
];

/// Days off that can be tapped; none reads "until somebody puts him back".
const DAYS: [Option<u16>; 5] = [Some(3), Some(7), Some(14), Some(42), None];

/// Saves a fact about a boar and goes back to his page.
fn saver(id: BoarId) -> impl Fn(Fact) + Clone + 'static {
    let act = use_act();
    let navigate = use_navigate();
    move |fact| {
        let navigate = navigate.clone();
        act.save(vec![Draft::of(fact)], move |_| {
            navigate(&paths::boar(id), Default::default())
        });
    }
}

/// What a boar is called; follows the barn, which may come after the page.
fn number(id: BoarId) -> String {
    use_feed()
        .and_then(|f| f.barn.with(|b| b.boar(id)))
        .map(|b| b.number())
        .unwrap_or_default()
}

/// Which boar the page is about.
fn titled(id: BoarId, headline: Key, why: Key) -> AnyView {
    let w = use_words();
    let number = Memo::new(move |_| number(id));
    let why = Signal::derive(move || w.tr_with(why, &[("number", number.get().into())]));
    view! { <Title headline=w.tr(headline) why=why/> }.into_any()
}

/// `/boar/ID/off`
#[component]
pub fn OffPage(
    /// Who.
    id: BoarId,
) -> impl IntoView {
    let w = use_words();
    let feed = use_feed();
    let save = saver(id);
    // Another page may have said why he is to be culled.
    let said = use_location().search.get_untracked();
    let said = said.rsplit_once("cull=").map(|(_, word)| word);
    let cull = RwSignal::new(CullFor::ALL.into_iter().find(|c| Some(c.word()) == said));
    let culled = cull.get_untracked().map(|_| OffReason::Cull);
    let reason = RwSignal::new(culled);
    let days = RwSignal::new(None::<Option<u16>>);
    let is_cull = Memo::new(move |_| reason.get() == Some(OffReason::Cull));
    let culls = CullFor::ALL.map(|c| (c, w.tr(tell::cull(c))));
    let reasons = REASONS
        .iter()
        .map(|r| (*r, w.tr(tell::off_reason(*r))))
        .collect();
    // How long a boar is kept apart is the farm's to say; the other reasons have no rule.
    let spans = move || -> Vec<_> {
        let isolation = feed.map(|f| f.barn.with(|b| b.standard()).standard.isolation_days);
        let isolation = isolation.filter(|_| reason.get() == Some(OffReason::Isolation));
        let days = isolation.map(|n| Some(n.into()));
        let word = |d: Option<u16>| match d {
            Some(n) => w.tr_with(key::SPAN_DAYS, &[("n", n.into())]),
            None => w.tr(key::OFF_OPEN),
        };
        let all = days.into_iter().chain(DAYS).map(|d| (d, word(d)));
        all.collect()
    };
    // Who is to be culled is off until he goes, and it is said why.
    let chosen = move || match reason.get()? {
        OffReason::Cull => Some((OffReason::Cull, None, Some(cull.get()?))),
        reason => Some((reason, days.get()?, None)),
    };
    let take = move |()| {
        let (Some((reason, days, cull)), Some(feed)) = (untrack(chosen), feed) else {
            return;
        };
        let now_ms = feed.now_ms.get_untracked();
        let today = feed.barn.with_untracked(|b| b.zone_at(now_ms).day(now_ms));
        // A count of days from today on: it cannot end before it begins.
        let until = days.and_then(|n| today.checked_add_days(chrono::Days::new(n.into())));
        save(Fact::OffCollection(OffCollection {
            boar: id,
            reason,
            until,
            cull,
        }));
    };
    view! {
        {titled(id, key::BOAR_OFF, key::BOAR_TITLE)}
        {move || stands_off(id)}
        <Chips asked=w.tr(key::OFF_WHY) options=reasons chosen=reason/>
        {move || if is_cull.get() {
            view! { <Chips asked=w.tr(key::OFF_CULL_WHY) options=culls.clone().to_vec() chosen=cull/> }.into_any()
        } else {
            view! { <Chips asked=w.tr(key::OFF_HOW_LONG) options=spans() chosen=days/> }.into_any()
        }}
        <div class="grow"></div>
        <div class="actions stays"><Action word=w.tr(key::SAVE) waits=w.tr(key::ANSWER_FIRST) off=Signal::derive(move || chosen().is_none()) on_tap=take/></div>
    }
}

/// Why he is off already: another reason stands beside it.
fn stands_off(id: BoarId) -> Option<AnyView> {
    let (w, feed) = (use_words(), use_feed()?);
    let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
    let (boar, zone) = (barn.boar(id)?, barn.zone_at(now_ms));
    let today = zone.day(now_ms);
    let line = |(reason, ends)| {
        let why = tell::time_off(&w, reason, ends, today);
        let says = w.tr_with(key::OFF_ALREADY, &[("why", why.into())]);
        view! { <p>{says}</p> }
    };
    let offs = offs_on(&boar, &zone, today);
    let lines: Vec<_> = offs
        .iter()
        .map(|o| line((o.off.fact.reason, o.ends)))
        .collect();
    (!lines.is_empty()).then(|| view! { <div class="words quiet">{lines}</div> }.into_any())
}

/// `/boar/ID/move`
#[component]
pub fn MovePage(
    /// Who.
    id: BoarId,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let save = saver(id);
    let to = RwSignal::new(None::<Option<PenId>>);
    let gone = RwSignal::new(None::<bool>);
    let options = Memo::new(move |_| {
        let pens = feed.barn.with(|b| b.pens());
        let named = pens
            .into_iter()
            .filter_map(|p| Some((Some(p.id), p.pen?.fact.name.as_str().to_owned())));
        named
            .chain([(None, w.tr(key::MOVE_NOWHERE))])
            .collect::<Vec<_>>()
    });
    let take = move |()| {
        let Some(to) = to.get_untracked() else { return };
        let from = feed.barn.with_untracked(|b| b.boar(id)?.pen());
        let gone = to.is_none() && gone.get_untracked() == Some(true);
        save(Fact::Move(Move {
            boar: id,
            from,
            to,
            gone,
        }));
    };
    let yes_no = vec![(true, w.tr(key::YES)), (false, w.tr(key::NO))];
    view! {
        {titled(id, key::BOAR_MOVE, key::BOAR_TITLE)}
        {move || view! { <Chips asked=w.tr(key::MOVE_WHERE) options=options.get() chosen=to/> }}
        <Show when=move || to.get() == Some(None)>
            <Chips asked=w.tr(key::MOVE_GONE) options=yes_no.clone() chosen=gone/>
        </Show>
        <div class="grow"></div>
        <div class="actions stays"><Action word=w.tr(key::SAVE) waits=w.tr(key::ANSWER_FIRST) off=Signal::derive(move || to.get().is_none()) on_tap=take/></div>
    }
    .into_any()
}

/// `/boar/ID/note`
#[component]
pub fn NotePage(
    /// Who.
    id: BoarId,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let save = saver(id);
    let text = RwSignal::new(String::new());
    let take = move |()| match Remark::parse(&text.get_untracked()) {
        Ok(text) => save(Fact::Note(Note {
            about: Subject::Boar(id),
            text,
        })),
        Err(error) => act.say(w.tr_with(
            key::TEXT_LENGTH,
            &[
                ("chars", error.chars.into()),
                ("low", error.low.into()),
                ("high", error.high.into()),
            ],
        )),
    };
    view! {
        {titled(id, key::BOAR_NOTE, key::BOAR_TITLE)}
        <label class="words field">{w.tr(key::NOTE_WORDS)}<textarea rows="5" bind:value=text></textarea></label>
        <div class="grow"></div>
        <div class="actions"><Action word=w.tr(key::SAVE) on_tap=take/></div>
    }
}

/// `/boar/ID/same`: this boar was entered twice.
#[component]
pub fn SamePage(
    /// Who.
    id: BoarId,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let save = saver(id);
    let other = RwSignal::new(None::<BoarId>);
    let options = Memo::new(move |_| {
        let own = number(id);
        let others = feed.barn.with(|b| b.boars()).into_iter();
        let others = others.filter(|b| b.id != id).map(|b| (b.id, b.number()));
        let mut options: Vec<_> = others.collect();
        // The likeliest first: the same number, entered on two phones.
        options.sort_by_key(|(_, number)| *number != own);
        options
    });
    let take = move |()| {
        let Some(other) = other.get_untracked() else {
            return;
        };
        let entry = |boar: BoarId| EntryId::from_uuid(boar.uuid());
        save(Fact::SameAs(SameAs {
            keep: entry(id),
            other: entry(other),
        }));
    };
    view! {
        {titled(id, key::BOAR_SAME, key::SAME_WHY)}
        {move || view! { <Chips asked=w.tr(key::SAME_WHICH) options=options.get() chosen=other/> }}
        <div class="grow"></div>
        <div class="actions">
            <Action word=w.tr(key::SAVE) kind=Kind::Quiet waits=w.tr(key::ANSWER_FIRST) off=Signal::derive(move || other.get().is_none()) on_tap=take/>
        </div>
    }
    .into_any()
}
