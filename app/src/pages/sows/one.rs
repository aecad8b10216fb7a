//! `/sow/ID`: is she in heat, who served her, and what comes after.

use super::natural::Natural;
use super::{after, ago, gilt};
use crate::act::{Act, use_act};
use crate::feed::{Feed, use_feed};
use crate::pages::rows;
use crate::parts::{Action, Caution, Chips, Drawing, Kind, Title};
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::{Barn, Seen, SowFacts};
use pentally_domain::fact::Fact;
use pentally_domain::heat::heat_now;
use pentally_domain::id::{BoarId, SowId};
use pentally_domain::sow::{By, Heat, Service};
use pentally_domain::time::HOUR_MS;

/// How long ago she may have begun to stand, in hours, as it can be tapped.
const SINCE_HOURS: [i64; 4] = [0, 6, 12, 24];
/// How long a record can be taken back from the page with one tap.
const TAKE_BACK_MS: i64 = HOUR_MS * 12;
/// How many records the page lists.
const LISTED: usize = 8;

/// `/sow/ID`
#[component]
pub fn SowPage(
    /// Who.
    id: SowId,
) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let sow = Memo::new(move |_| feed.barn.with(|b| b.sow(id)).filter(|s| s.sow.is_some()));
    let since = RwSignal::new(None::<Option<i64>>);
    let boar = RwSignal::new(None::<BoarId>);
    let head = move || sow.get().map(|sow| head(&w, feed, &sow));
    let heat = move || sow.get().map(|sow| heat(&w, feed, act, &sow, since));
    let records = move || sow.get().map(|sow| records(&w, feed, act, &sow));
    let missing = move || {
        sow.get()
            .is_none()
            .then(|| view! { <p class="words quiet">{w.tr(key::SOWS_MISSING)}</p> })
    };
    view! {
        {head}
        {missing}
        {heat}
        <Show when=move || sow.with(Option::is_some)><Natural feed id boar/></Show>
        {records}
        <div class="grow"></div>
    }
    .into_any()
}

fn head(w: &Words, feed: Feed, sow: &SowFacts) -> AnyView {
    let now_ms = feed.now_ms.get();
    let said = feed.barn.with(|b| super::state(w, b, sow, now_ms));
    let why = [said, gilt(w, sow)]
        .into_iter()
        .filter(|s| !s.is_empty())
        .collect::<Vec<_>>()
        .join(" · ");
    view! { <Title headline=w.tr_with(key::SOWS_TITLE, &[("number", sow.number().into())]) why=why/> }.into_any()
}

fn heat(
    w: &Words,
    feed: Feed,
    act: Act,
    sow: &SowFacts,
    since: RwSignal<Option<Option<i64>>>,
) -> AnyView {
    let (w, id, goes_on) = (
        *w,
        sow.id,
        heat_now(&sow.heats, feed.now_ms.get_untracked()),
    );
    let look = move |standing: bool| {
        let now_ms = feed.now_ms.get_untracked().max(crate::office::now_ms());
        let onset_ms = match goes_on {
            Some(heat) => heat.known.then_some(heat.ms),
            None => since
                .get_untracked()
                .flatten()
                .map(|hours| now_ms - hours * HOUR_MS),
        };
        let onset_ms = onset_ms.filter(|_| standing);
        let onset =
            onset_ms.and_then(|ms| feed.barn.with_untracked(|b| b.zone_at(ms).stamp(ms)).ok());
        act.save_quietly(Fact::Heat(Heat {
            sow: id,
            standing,
            onset,
        }));
        since.set(None);
    };
    let hours = SINCE_HOURS.iter().map(|h| (Some(*h), ago(&w, *h)));
    let options: Vec<_> = hours.chain([(None, w.tr(key::NOT_KNOWN))]).collect();
    let open = goes_on.is_none();
    view! {
        {open.then(|| view! { <div class="words"><Chips asked=w.tr(key::SOWS_SINCE_WHEN) options=options chosen=since/></div> })}
        <div class="actions two">
            <Action word=w.tr(key::SOWS_STANDS) drawing=Drawing::Sow on_tap=move |()| look(true)
                off=Signal::derive(move || open && since.get().is_none())/>
            <Action word=w.tr(key::SOWS_STANDS_NOT) kind=Kind::Quiet on_tap=move |()| look(false)/>
        </div>
    }
    .into_any()
}

fn records(w: &Words, feed: Feed, act: Act, sow: &SowFacts) -> AnyView {
    let now_ms = feed.now_ms.get();
    feed.barn.with(|barn| {
        let page = Records {
            w,
            feed,
            act,
            barn,
            now_ms,
        };
        let services = sow
            .services
            .iter()
            .rev()
            .take(LISTED)
            .map(|s| page.service(s))
            .collect();
        let heats = sow
            .heats
            .iter()
            .rev()
            .take(LISTED)
            .map(|h| page.heat(h))
            .collect();
        view! {
            {after::after(w, barn, sow, now_ms)}
            {page.cautions(sow)}
            {rows::section(w.tr(key::SOWS_SERVICES), services)}
            {rows::section(w.tr(key::SOWS_HEATS), heats)}
        }
        .into_any()
    })
}

struct Records<'a> {
    w: &'a Words,
    feed: Feed,
    act: Act,
    barn: &'a Barn,
    now_ms: i64,
}

impl Records<'_> {
    fn when(&self, ms: i64) -> String {
        tell::moment(self.w, &self.barn.zone_at(ms), ms, self.now_ms)
    }

    fn undo<T>(&self, seen: &Seen<T>, fact: &Fact) -> Option<AnyView> {
        let (w, act, void) = (*self.w, self.act, Fact::Void(Void::of(seen.order, fact)));
        let fresh = self.now_ms - seen.at.ms() < TAKE_BACK_MS;
        fresh.then(|| {
            view! { <Action word=w.tr(key::UNDO) kind=Kind::Quiet on_tap=move |()| act.save_quietly(void.clone())/> }.into_any()
        })
    }

    fn service(&self, seen: &Seen<Service>) -> AnyView {
        let title = format!(
            "{} · {}",
            self.when(seen.at.ms()),
            served_by(self.w, self.barn, &seen.fact)
        );
        let small: Vec<_> = tell::by(self.w, self.barn, seen).into_iter().collect();
        let undo = self.undo(seen, &Fact::Service(seen.fact.clone()));
        rows::record(self.w, title, &small, self.feed.state_of(seen), undo)
    }

    fn heat(&self, seen: &Seen<Heat>) -> AnyView {
        let said = self.w.tr(if seen.fact.standing {
            key::SOWS_STOOD
        } else {
            key::SOWS_STOOD_NOT
        });
        let onset = seen.fact.onset.map(|on| {
            self.w
                .tr_with(key::SOWS_ONSET, &[("when", self.when(on.ms()).into())])
        });
        let small: Vec<_> = onset
            .into_iter()
            .chain(tell::by(self.w, self.barn, seen))
            .collect();
        let undo = self.undo(seen, &Fact::Heat(seen.fact));
        rows::record(
            self.w,
            format!("{} · {said}", self.when(seen.at.ms())),
            &small,
            self.feed.state_of(seen),
            undo,
        )
    }

    /// What the extender she was served with asks of her.
    fn cautions(&self, sow: &SowFacts) -> Option<AnyView> {
        let mut batches = sow.services.iter().filter_map(|s| match s.fact.by {
            By::Doses { batch, .. } => self.barn.batch(batch),
            By::Boar(_) => None,
        });
        let latest = batches.next_back()?;
        let says = match latest.fact.antibiotic {
            Some(true) => key::SOWS_WITHDRAWAL,
            None => key::SOWS_WITHDRAWAL_UNKNOWN,
            Some(false) => return None,
        };
        Some(view! { <div class="words"><Caution says=self.w.tr(says)/></div> }.into_any())
    }
}

/// By whom or with what she was served, in a few words.
pub fn served_by(w: &Words, barn: &Barn, service: &Service) -> String {
    let numbers = |boars: &[BoarId]| {
        boars
            .iter()
            .filter_map(|b| barn.boar(*b))
            .map(|b| b.number())
            .collect::<Vec<_>>()
            .join(", ")
    };
    let boars = numbers(SowFacts::served_by(service));
    match &service.by {
        By::Boar(_) => w.tr_with(key::SOWS_BY_BOAR, &[("boar", boars.into())]),
        By::Doses {
            batch,
            doses,
            technique,
            ..
        } => {
            let args = [
                ("n", (*doses).into()),
                ("boar", boars.into()),
                (
                    "how",
                    w.tr(tell::technique(*technique)).to_lowercase().into(),
                ),
            ];
            let says = w.tr_with(key::SOWS_BY_DOSES, &args);
            // A batch of long ago is no longer held here; the service still says whose it was.
            match barn.batch(*batch) {
                Some(b) => format!("{says} · {}", b.fact.code),
                None => says,
            }
        }
    }
}
