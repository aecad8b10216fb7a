//! Extender: the mixes at hand, the lots they are mixed of, and which batches used them.

mod asked;
mod lot;
mod mixing;

use crate::act::{Act, to_top, use_act};
use crate::feed::{Feed, use_feed};
use crate::pages::rows;
use crate::parts::{Action, Band, Caution, Drawing, Kind, Role};
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::{Barn, Mixed, Seen};
use pentally_domain::batch::SemenBatch;
use pentally_domain::envelope::Order;
use pentally_domain::extender::mix::{ExtenderLot, MixState, made_with};
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::time::{DAY_MS, HOUR_MS};

/// A mix is listed until so long past its use: time to see that it is poured away.
const PAST_MS: i64 = 2 * DAY_MS;
/// Till then an entry can be taken back here; later in the log.
const TAKE_BACK_MS: i64 = 12 * HOUR_MS;

/// So many batches are named at a mix or lot, the latest; the others are counted.
const NAMED: usize = 6;
/// So many lots are listed, the latest first.
const LOTS: usize = 8;

/// What the page does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Doing {
    Shows,
    Mixes,
    EntersLot,
}

/// `/extender`
#[component]
pub fn ExtenderPage() -> impl IntoView {
    let (w, act) = (use_words(), use_act());
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let doing = RwSignal::new(Doing::Shows);
    let to = Callback::new(move |next| {
        act.hush();
        doing.set(next);
        to_top();
    });
    let shown = move || match doing.get() {
        Doing::Mixes => {
            view! { <mixing::Mixing feed done=move |()| to.run(Doing::Shows)/> }.into_any()
        }
        Doing::EntersLot => view! { <lot::NewLot done=move |()| to.run(Doing::Shows)/> }.into_any(),
        Doing::Shows => (move || page(w, act, feed, to)).into_any(),
    };
    view! { {shown} }.into_any()
}

fn page(w: Words, act: Act, feed: Feed, to: Callback<Doing>) -> AnyView {
    let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
    let mixes = barn.mixes_after(now_ms - PAST_MS);
    let boars = barn.boars();
    let batches: Vec<_> = boars.iter().flat_map(|b| b.batches.clone()).collect();
    let shelf = Shelf {
        w,
        act,
        feed,
        barn: &barn,
        batches: &batches,
        now_ms,
    };
    let (role, headline, why) = shelf.answer(&mixes);
    let lots: Vec<_> = barn.extender_lots().into_iter().rev().collect();
    let mix = (!lots.is_empty()).then(|| {
        view! { <Action word=w.tr(key::MIX_NOW) drawing=Drawing::Drop on_tap=move |()| to.run(Doing::Mixes)/> }
    });
    let lot = move |()| to.run(Doing::EntersLot);
    let new = if lots.is_empty() {
        view! { <Action word=w.tr(key::LOT_NEW) on_tap=lot/> }.into_any()
    } else {
        view! { <Action word=w.tr(key::LOT_NEW) kind=Kind::Quiet on_tap=lot/> }.into_any()
    };
    view! {
        <Band role=role headline=headline why=why><b>{w.tr(key::MORE_EXTENDER)}</b></Band>
        <div class="actions">{mix}{new}</div>
        {rows::section(w.tr(key::MIX_MIXES), mixes.iter().map(|m| shelf.mix(m)).collect())}
        {rows::section(w.tr(key::LOT_LOTS), lots.iter().take(LOTS).map(|l| shelf.lot(l)).collect())}
        <div class="words">
            <Caution says=w.tr(key::EXTENDER_ANTIBIOTIC)/>
            <p class="small quiet">{w.tr(key::EXTENDER_SOURCES)}</p>
        </div>
        <div class="grow"></div>
    }
    .into_any()
}

/// What the page shows, with all it takes to tell it.
struct Shelf<'a> {
    w: Words,
    act: Act,
    feed: Feed,
    barn: &'a Barn,
    batches: &'a [Seen<SemenBatch>],
    now_ms: i64,
}

impl Shelf<'_> {
    fn moment(&self, ms: i64) -> String {
        tell::moment(&self.w, &self.barn.zone_at(self.now_ms), ms, self.now_ms)
    }

    fn state(&self, mixed: &Mixed) -> String {
        let state = mixed.poured.life.at(self.now_ms);
        tell::mix_state(&self.w, state, self.now_ms, |ms| self.moment(ms))
    }

    /// Whether a mix is ready, and which.
    fn answer(&self, mixes: &[Mixed]) -> (Role, String, String) {
        let w = &self.w;
        let at_hand = |ready: bool| {
            mixes.iter().find(|m| match m.poured.life.at(self.now_ms) {
                MixState::Ready { .. } => ready,
                MixState::TooFresh { .. } => !ready,
                MixState::Past { .. } => false,
            })
        };
        let said = |mixed: &Mixed| {
            let product = mixed.lot.fact.product.as_str();
            format!("{product}: {}.", self.state(mixed))
        };
        if let Some(ready) = at_hand(true) {
            return (Role::Ready, w.tr(key::MIX_IS_READY), said(ready));
        }
        if let Some(fresh) = at_hand(false) {
            return (Role::Rest, w.tr(key::MIX_WAITS), said(fresh));
        }
        let why = match self.barn.extender_lots().is_empty() {
            true => w.tr(key::LOT_FIRST),
            false => w.tr(key::MIX_NONE_WHY),
        };
        (Role::Unknown, w.tr(key::MIX_NONE), why)
    }

    fn mix(&self, mixed: &Mixed) -> AnyView {
        let (w, mix) = (&self.w, &mixed.mix);
        let ml = format!(
            "{} {}",
            w.num(mix.fact.volume.value(), 0),
            w.tr(key::UNIT_ML)
        );
        let title = format!("{} · {ml}", mixed.lot.fact.product.as_str());
        let mixed_at = w.tr_with(key::MIX_MIXED, &[("when", self.moment(mix.at.ms()).into())]);
        let water = w.tr(tell::water(mix.fact.water.source));
        let conducts = mix.fact.water.conductivity.map(|c| {
            let read = w.num(c.value(), u8::from(c.value().fract() != 0.0));
            format!("{read} {}", w.tr(key::UNIT_CONDUCTIVITY))
        });
        let default = mixed.poured.life.keeps_by_default;
        let default = default.then(|| w.tr(key::MIX_KEEPS_DEFAULT));
        let by_lot = mixed.poured.life.by_lot.then(|| w.tr(key::MIX_ENDS_BY_LOT));
        let small = [
            Some(self.state(mixed)),
            Some(mixed_at),
            Some(water),
            conducts,
            self.used(&[mix.entry()]),
            by_lot.or(default),
        ];
        let small: Vec<_> = small.into_iter().flatten().collect();
        let undo = self.undo(mix.order, mix.at.ms(), &Fact::ExtenderMix(mix.fact.clone()));
        rows::record(w, title, &small, self.feed.state_of(mix), undo)
    }

    fn lot(&self, lot: &Seen<ExtenderLot>) -> AnyView {
        let (w, fact) = (&self.w, &lot.fact);
        let title = format!("{} · {}", fact.product.as_str(), fact.lot.as_str());
        let best = fact.best_before.map(|day| {
            let today = self.barn.zone_at(self.now_ms).day(self.now_ms);
            let key = if day < today {
                key::LOT_IS_PAST
            } else {
                key::LOT_GOOD_TILL
            };
            w.tr_with(key, &[("day", w.day_month_year(day).into())])
        });
        let antibiotic = w.tr(match fact.antibiotic {
            Some(true) => key::LOT_WITH,
            Some(false) => key::LOT_WITHOUT,
            None => key::LOT_NOT_SAID,
        });
        let mixes: Vec<_> = self
            .barn
            .extender_mixes()
            .iter()
            .filter(|m| m.fact.lot == lot.entry())
            .map(Seen::entry)
            .collect();
        let class = w.tr(tell::extender_class(fact.class));
        let small = [best, Some(class), Some(antibiotic), self.used(&mixes)];
        let small: Vec<_> = small.into_iter().flatten().collect();
        let undo = self.undo(lot.order, lot.at.ms(), &Fact::ExtenderLot(fact.clone()));
        rows::record(w, title, &small, self.feed.state_of(lot), undo)
    }

    /// The batches that used any of these mixes.
    fn used(&self, mixes: &[EntryId]) -> Option<String> {
        let made = made_with(mixes, self.batches);
        let code = |id: &EntryId| {
            let found = self.batches.iter().find(|b| b.entry() == *id)?;
            Some(found.fact.code.to_string())
        };
        let earlier = made.len().saturating_sub(NAMED);
        let codes: Vec<_> = made.iter().skip(earlier).filter_map(code).collect();
        let key = match earlier {
            0 => key::MIX_USED_IN,
            _ => key::MIX_USED_IN_MORE,
        };
        let args = [("codes", codes.join(", ").into()), ("n", earlier.into())];
        (!codes.is_empty()).then(|| self.w.tr_with(key, &args))
    }

    fn undo(&self, order: Order, at_ms: i64, fact: &Fact) -> Option<AnyView> {
        let act = self.act;
        let void = Fact::Void(Void::of(order, fact));
        let back = move |()| act.save_quietly(void.clone());
        (self.now_ms - at_ms < TAKE_BACK_MS).then(|| {
            view! { <Action word=self.w.tr(key::UNDO) kind=Kind::Quiet on_tap=back/> }.into_any()
        })
    }
}
