//! Use now: doses of a batch onto sows, one after the other.

mod given;

use crate::act::{Act, use_act};
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::pages::fields::empty;
use crate::pages::rows;
use crate::parts::{Action, Band, Caution, Chips, Figure, Keypad, Kind, Role, Stepper, Title};
use crate::words::{Key, Words, key, use_words};
use crate::{paths, tell};
use given::Visit;
use leptos::prelude::*;
use pentally_domain::amend::Note;
use pentally_domain::barn::{SowFacts, Stored};
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::heat::heat_now;
use pentally_domain::id::{EntryId, SowId};
use pentally_domain::said::{Label, Remark};
use pentally_domain::sow::{By, Service, Sow};

/// The most doses one service takes.
const DOSES_MOST: i64 = 9;
/// Sow numbers on the keypad.
const NUMBERS: Figure = Figure {
    low: 1.0,
    high: 999_999.0,
    decimals: 0,
};
/// How many sows whose number begins as typed are offered.
const OFFERED: usize = 6;

/// Why doses of a pulled batch were used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Why {
    /// Whoever used them did not know yet.
    NotKnown,
    /// There were no others.
    NoOther,
    /// The veterinarian said so.
    Told,
}

impl Why {
    const ALL: [Self; 3] = [Self::NotKnown, Self::NoOther, Self::Told];

    const fn says(self) -> Key {
        match self {
            Self::NotKnown => key::SERVE_WHY_NOT_KNOWN,
            Self::NoOther => key::SERVE_WHY_NO_OTHER,
            Self::Told => key::SERVE_WHY_TOLD,
        }
    }
}

/// `/batch/ENTRY/use`
#[component]
pub fn ServePage(
    /// The batch's entry.
    id: EntryId,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let typed = RwSignal::new(String::new());
    let doses = RwSignal::new(Some(1_i64));
    let why = RwSignal::new(None::<Why>);
    let table = Table {
        w,
        act,
        feed,
        id,
        typed,
        doses,
        why,
        visit: Visit::new(),
    };
    let offers = move || table.offers();
    let left = move || {
        feed.barn.with(|b| {
            b.stored(id, feed.now_ms.get())
                .map(|s| (s.left(), s.batch.fact.code))
        })
    };
    let says = move || {
        left().map(|(n, code)| {
            w.tr_with(
                key::SERVE_LEFT,
                &[("n", n.into()), ("code", code.to_string().into())],
            )
        })
    };
    let withdrawal = move || {
        feed.barn
            .with(|b| b.batch(id))
            .is_some_and(|b| b.fact.antibiotic != Some(false))
    };
    view! {
        <OfPulled id why/>
        <Title headline=w.tr(key::SERVE_WHICH) why=Signal::derive(move || says().unwrap_or_default())/>
        <Stepper asked=w.tr(key::SERVE_DOSES) value=doses start=1 low=1 high=DOSES_MOST/>
        <Keypad typed=typed figure=NUMBERS unit=String::new()/>
        <div class="actions">{offers}</div>
        <Show when=withdrawal><div class="words"><Caution says=w.tr(key::BATCH_WITHDRAWAL)/></div></Show>
        <ul class="rows">{rows::link(paths::batch(id), None, w.tr(key::SERVE_DONE), String::new(), String::new())}</ul>
        <div class="grow"></div>
    }
    .into_any()
}

/// The page of one visit to the sows. Cheap to copy.
#[derive(Debug, Clone, Copy)]
struct Table {
    w: Words,
    act: Act,
    feed: Feed,
    id: EntryId,
    typed: RwSignal<String>,
    doses: RwSignal<Option<i64>>,
    why: RwSignal<Option<Why>>,
    visit: Visit,
}

impl Table {
    fn taken(self) -> u8 {
        let taken = self.doses.get_untracked();
        taken.and_then(|n| u8::try_from(n).ok()).unwrap_or(1)
    }

    /// Doses onto a sow; onto a new one where none is given.
    fn serve(self, sow: Option<SowId>) {
        let Some(stored) = self.stored() else {
            return;
        };
        if let Some(says) = self.refused(&stored) {
            return self.act.say(says);
        }
        let mut drafts = vec![];
        let sow = match (sow, Label::parse(&self.typed.get_untracked())) {
            (Some(sow), _) => sow,
            (None, Ok(number)) => {
                let new = device::new_id();
                let gilt = false;
                drafts.push(Draft::of(Fact::Sow(Sow { number, gilt })).with_id(new));
                new.id().as_sow()
            }
            (None, Err(_)) => return self.act.say(self.w.tr(key::KEYPAD_EMPTY)),
        };
        let made = &stored.batch.fact;
        let by = By::Doses {
            batch: self.id,
            boars: made.sources.iter().map(|s| s.boar).collect(),
            doses: self.taken(),
            technique: made.technique,
        };
        drafts.push(Draft::of(Fact::Service(Service { sow, by })));
        drafts.extend(self.note(sow).map(Draft::of));
        let facts: Vec<_> = drafts.iter().map(|draft| draft.fact.clone()).collect();
        let taken = self.taken();
        let typed = self.typed.get_untracked();
        self.act.save(drafts, move |entries| {
            empty(self.typed, &typed);
            self.visit.gave(sow, taken, &facts, &entries);
        });
    }

    fn stored(self) -> Option<Stored> {
        let now_ms = self.feed.now_ms.get_untracked();
        self.feed.barn.with_untracked(|b| b.stored(self.id, now_ms))
    }

    /// Why these doses cannot be used.
    fn refused(self, stored: &Stored) -> Option<String> {
        let w = &self.w;
        if let Some(over) = over(w, self.feed, stored.batch.fact.use_by.ms()) {
            return Some(over);
        }
        if stored.is_pulled() && self.why.get_untracked().is_none() {
            return Some(w.tr(key::SERVE_PULLED));
        }
        let left = stored.left();
        (u32::from(self.taken()) > left)
            .then(|| w.tr_with(key::SERVE_TOO_MANY, &[("n", left.into())]))
    }

    /// A note at the sow that says why doses of a pulled batch were used.
    fn note(self, sow: SowId) -> Option<Fact> {
        let why = self.w.tr(self.why.get_untracked()?.says());
        let text = self.w.tr_with(key::SERVE_NOTE, &[("why", why.into())]);
        let text = Remark::parse(&text).ok()?;
        let about = Subject::Sow(sow);
        Some(Fact::Note(Note { about, text }))
    }

    /// The sows that were served at this visit, in their places where they stand, and who may be next.
    fn offers(self) -> Vec<AnyView> {
        let (w, typed) = (self.w, self.typed.get());
        let sows = self.feed.barn.with(|b| b.sows());
        let exact = sows.iter().any(|s| s.number() == typed);
        let fitting = fitting(&sows, &typed, self.feed.now_ms.get_untracked());
        let served = self.visit.served();
        let before = sows.iter().filter(|s| {
            typed.is_empty() && served.contains(&s.id) && fitting.iter().all(|f| f.id != s.id)
        });
        let known = before.chain(fitting.iter().copied()).map(|s| {
            let (id, number) = (s.id, s.number());
            if served.contains(&id) {
                return self.served(id, number);
            }
            let word = w.tr_with(key::SERVE_SOW, &[("number", number.into())]);
            view! { <Action word=word on_tap=move |()| self.serve(Some(id))/> }.into_any()
        });
        let new = (!exact && !typed.is_empty()).then(|| {
            let word = w.tr_with(key::SERVE_NEW_SOW, &[("number", typed.clone().into())]);
            view! { <Action word=word kind=Kind::Quiet on_tap=move |()| self.serve(None)/> }
                .into_any()
        });
        known.chain(new).collect()
    }

    fn served(self, sow: SowId, number: String) -> AnyView {
        let left = self.stored().map_or(0, |stored| stored.left());
        let again = self.doses.get().unwrap_or(1);
        let more = move || self.serve(Some(sow));
        let visit = self.visit;
        visit.row(self.w, self.act, (sow, number), (again, left), more)
    }
}

/// Of a pulled batch: do not use it; who did says why.
#[component]
fn OfPulled(id: EntryId, why: RwSignal<Option<Why>>) -> impl IntoView {
    let (w, feed) = (use_words(), use_feed());
    let pulled = Memo::new(move |_| {
        let stored = feed.and_then(|f| f.barn.with(|b| b.stored(id, f.now_ms.get())));
        stored.is_some_and(|s| s.is_pulled())
    });
    move || {
        let reasons = Why::ALL.map(|one| (one, w.tr(one.says()))).to_vec();
        pulled.get().then(|| {
            view! {
                <Band role=Role::Stop headline=w.tr(key::PULLED_HEADLINE) why=w.tr(key::SERVE_PULLED)/>
                <div class="words"><Chips asked=w.tr(key::SERVE_WHY) options=reasons chosen=why/></div>
            }
        })
    }
}

/// Says that the doses are past their use.
fn over(w: &Words, feed: Feed, use_by_ms: i64) -> Option<String> {
    let now_ms = feed.now_ms.get_untracked();
    (use_by_ms < now_ms).then(|| {
        let zone = feed.barn.with_untracked(|b| b.zone_at(now_ms));
        let when = tell::moment(w, &zone, use_by_ms, now_ms);
        w.tr_with(key::SERVE_OVER, &[("when", when.into())])
    })
}

/// The sows whose number, or the figures in it, begin as typed: letters cannot be typed on the pad.
/// Before anything is typed all who stand.
fn fitting<'a>(sows: &'a [SowFacts], typed: &str, now_ms: i64) -> Vec<&'a SowFacts> {
    if typed.is_empty() {
        let stands = |s: &&SowFacts| heat_now(&s.heats, now_ms).is_some();
        return sows.iter().filter(stands).collect();
    }
    let begins = |s: &&SowFacts| {
        let number = s.number();
        let figures: String = number.chars().filter(char::is_ascii_digit).collect();
        number.starts_with(typed) || figures.starts_with(typed)
    };
    sows.iter().filter(begins).take(OFFERED).collect()
}
