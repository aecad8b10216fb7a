//! The pens, who is in them, and the codes on their tags.

use crate::act::use_act;
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::pages::fields::{Line, empty};
use crate::pages::rows;
use crate::pages::which::WhichBoar;
use crate::parts::{Action, Drawing, Kind, Title};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::amend::Correction;
use pentally_domain::barn::{Barn, BoarFacts, PenFacts};
use pentally_domain::boar::{Move, Pen, PenTag};
use pentally_domain::code::Code;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, PenId};
use pentally_domain::rest::standing;
use pentally_domain::said::Label;
use std::collections::BTreeSet;

/// The sheet of tags, which the office prints.
const TAGS: &str = "/tags";

/// `/pens`
#[component]
pub fn PensPage() -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let name = RwSignal::new(String::new());
    let wrong = RwSignal::new(None::<String>);
    let asked = RwSignal::new(None::<Label>);
    let list = move || {
        let row = |barn: &Barn, pen: &PenFacts| {
            let codes = pen
                .codes
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join(", ");
            rows::link(
                paths::pen(pen.id),
                Some(Drawing::PenGate),
                name_of(pen),
                inside(&w, barn, pen),
                codes,
            )
        };
        feed.barn
            .with(|barn| known(barn).iter().map(|pen| row(barn, pen)).collect_view())
    };
    let take = move |()| {
        let Some(pen) = check(&w, feed, &name.get_untracked(), asked, wrong) else {
            return;
        };
        let (id, code) = (device::new_id(), unused_code(feed));
        let tag = code.map(|code| {
            Draft::of(Fact::PenTag(PenTag {
                pen: id.id().as_pen(),
                code,
            }))
        });
        let drafts = std::iter::once(Draft::of(Fact::Pen(Pen { name: pen })).with_id(id))
            .chain(tag)
            .collect();
        let typed = name.get_untracked();
        act.save(drafts, move |_| empty(name, &typed));
    };
    let count = move || {
        w.tr_with(
            key::PENS_COUNT,
            &[("n", feed.barn.with(|b| known(b).len()).into())],
        )
    };
    view! {
        <Title headline=w.tr(key::MORE_PENS) why=Signal::derive(count)/>
        <div class="words"><Line name=w.tr(key::PENS_NEW) value=name hint=w.tr(key::FIELD_LABEL) wrong=wrong/></div>
        <div class="actions">
            <Action word=w.tr(key::PENS_ADD) drawing=Drawing::PenGate on_tap=take/>
            <a class="action quiet" href=TAGS rel="external">{w.tr(key::PENS_PRINT)}</a>
        </div>
        <ul class="rows">{list}</ul>
        <p class="words small quiet">{w.tr(key::PENS_PRINT_WHY)}</p>
        <div class="grow"></div>
    }
    .into_any()
}

/// The name, once it reads and a name that exists was asked about.
fn check(
    w: &Words,
    feed: Feed,
    typed: &str,
    asked: RwSignal<Option<Label>>,
    wrong: RwSignal<Option<String>>,
) -> Option<Label> {
    let name = match Label::parse(typed) {
        Ok(name) => name,
        Err(error) => {
            wrong.set(Some(w.tr_with(
                key::TEXT_LENGTH,
                &[
                    ("chars", error.chars.into()),
                    ("low", error.low.into()),
                    ("high", error.high.into()),
                ],
            )));
            return None;
        }
    };
    let is_same = |pen: &PenFacts| name_of(pen).to_lowercase() == name.as_str().to_lowercase();
    let exists = feed.barn.with_untracked(|b| known(b).iter().any(is_same));
    if exists && asked.get_untracked().as_ref() != Some(&name) {
        wrong.set(Some(
            w.tr_with(key::PENS_TWICE, &[("pen", name.as_str().into())]),
        ));
        asked.set(Some(name));
        return None;
    }
    wrong.set(None);
    Some(name)
}

/// The pens that count: not those taken back.
fn known(barn: &Barn) -> Vec<PenFacts> {
    barn.pens()
        .into_iter()
        .filter(|p| p.pen.is_some())
        .collect()
}

fn name_of(pen: &PenFacts) -> String {
    pen.pen
        .as_ref()
        .map(|p| p.fact.name.as_str().to_owned())
        .unwrap_or_default()
}

fn inside(w: &Words, barn: &Barn, pen: &PenFacts) -> String {
    let boars: Vec<_> = barn.boars_in(pen).iter().map(BoarFacts::number).collect();
    if boars.is_empty() {
        w.tr(key::PENS_EMPTY)
    } else {
        w.tr_with(key::PENS_HOLDS, &[("boars", boars.join(", ").into())])
    }
}

/// A code that no pen and no batch known here bears.
fn unused_code(feed: Feed) -> Option<Code> {
    let taken = feed.barn.with_untracked(|barn| {
        let rows = barn.ledgers().flat_map(|ledger| ledger.rows());
        rows.filter_map(|row| match &row.fact {
            Fact::PenTag(tag) => Some(tag.code),
            Fact::SemenBatch(batch) => Some(batch.code),
            _ => None,
        })
        .collect()
    });
    // The end of a fresh identity is chance; its beginning is the time.
    let (_, chance) = device::new_id().id().uuid().as_u64_pair();
    free_from(chance, &taken)
}

/// The first code from a place on, round the ring of all codes, that is not taken.
fn free_from(chance: u64, taken: &BTreeSet<Code>) -> Option<Code> {
    let ring = u64::from(Code::COUNT);
    let numbers = (0..ring).map(|step| (chance % ring + step) % ring);
    numbers
        .filter_map(|n| Code::from_number(u32::try_from(n).ok()?))
        .find(|code| !taken.contains(code))
}

/// `/pen/ID`
#[component]
pub fn PenPage(
    /// Which.
    id: PenId,
) -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let chosen = RwSignal::new(None::<BoarId>);
    let pen = Memo::new(move |_| feed.barn.with(|b| b.pen(id)).filter(|p| p.pen.is_some()));
    (move || match pen.get() {
        Some(pen) => view! { <Inside feed pen chosen/> }.into_any(),
        None => {
            view! { <p class="words quiet">{w.tr(key::PENS_MISSING)}</p><div class="grow"></div> }
                .into_any()
        }
    })
    .into_any()
}

#[component]
fn Inside(feed: Feed, pen: PenFacts, chosen: RwSignal<Option<BoarId>>) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let id = pen.id;
    let tag = move |()| {
        if let Some(code) = unused_code(feed) {
            act.save_quietly(Fact::PenTag(PenTag { pen: id, code }));
        }
    };
    let codes = pen.codes.iter().rev().map(|code| {
        view! { <li class="row"><span class="code">{code.to_string()}</span></li> }.into_any()
    });
    let codes = codes.collect();
    let title = w.tr_with(key::PEN_TITLE, &[("pen", name_of(&pen).into())]);
    let (holding, rows, named) = (pen.clone(), pen.clone(), pen);
    let holds = move || feed.barn.with(|b| inside(&w, b, &holding));
    view! {
        <Title headline=title why=Signal::derive(holds)/>
        <ul class="rows">{move || occupants(&w, feed, &rows)}</ul>
        <MoveIn feed id chosen/>
        <Rename feed pen=named/>
        {rows::section(w.tr(key::PENS_CODES), codes)}
        <div class="actions two">
            <Action word=w.tr(key::PENS_NEW_TAG) kind=Kind::Quiet drawing=Drawing::Tag on_tap=tag/>
            <a class="action quiet" href=TAGS rel="external">{w.tr(key::PENS_PRINT)}</a>
        </div>
        <div class="grow"></div>
    }
}

#[component]
fn MoveIn(feed: Feed, id: PenId, chosen: RwSignal<Option<BoarId>>) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let others = Memo::new(move |_| feed.barn.with(|b| candidates(b, id)));
    let boars = Signal::derive(move || {
        let others = others.get().into_iter();
        others.map(|(id, number, _)| (id, number)).collect()
    });
    let take = move |()| {
        let Some(boar) = chosen.get_untracked() else {
            return;
        };
        let from = others.with_untracked(|o| {
            o.iter()
                .find(|(id, ..)| *id == boar)
                .and_then(|(_, _, from)| *from)
        });
        let here = Move {
            boar,
            from,
            to: Some(id),
            gone: false,
        };
        act.save(vec![Draft::of(Fact::Move(here))], move |_| chosen.set(None));
    };
    view! {
        <div class="words"><WhichBoar asked=w.tr(key::PENS_WHO) boars=boars chosen=chosen/></div>
        <div class="actions">
            <Action word=w.tr(key::PEN_MOVE_IN) drawing=Drawing::Boar waits=w.tr(key::ANSWER_FIRST) off=Signal::derive(move || chosen.get().is_none()) on_tap=take/>
        </div>
    }
}

/// The gate was painted anew.
#[component]
fn Rename(feed: Feed, pen: PenFacts) -> impl IntoView {
    let w = use_words();
    let act = use_act();
    let name = RwSignal::new(name_of(&pen));
    let wrong = RwSignal::new(None::<String>);
    let asked = RwSignal::new(None::<Label>);
    let take = move |()| {
        let Some(seen) = &pen.pen else { return };
        if let Some(name) = check(&w, feed, &name.get_untracked(), asked, wrong) {
            let before = Fact::Pen(seen.fact.clone());
            let after = Fact::Pen(Pen { name });
            act.save_quietly(Fact::Correction(Correction::of(seen.order, &before, after)));
        }
    };
    view! {
        <details class="words how">
            <summary>{w.tr(key::PEN_RENAME)}</summary>
            <Line name=w.tr(key::PEN_NAME) value=name hint=w.tr(key::FIELD_LABEL) wrong=wrong/>
            <Action word=w.tr(key::SAVE) kind=Kind::Quiet on_tap=take/>
        </details>
    }
}

/// Boars who could come in, those out of the pens first: who, his number, where he is.
fn candidates(barn: &Barn, pen: PenId) -> Vec<(BoarId, String, Option<PenId>)> {
    let here = barn
        .boars()
        .into_iter()
        .filter(|b| b.boar.is_some() && b.gone().is_none() && b.pen() != Some(pen));
    let mut list: Vec<_> = here.map(|b| (b.id, b.number(), b.pen())).collect();
    list.sort_by_key(|(_, _, from)| from.is_some());
    list
}

fn occupants(w: &Words, feed: Feed, pen: &PenFacts) -> Vec<AnyView> {
    let now_ms = feed.now_ms.get();
    feed.barn.with(|barn| {
        let row = |boar: &BoarFacts| {
            let stands = standing(
                boar,
                &barn.standard().standard,
                &barn.zone_at(now_ms),
                now_ms,
            );
            let told = tell::standing(w, &stands, None);
            rows::link(
                paths::boar(boar.id),
                Some(told.role.drawing()),
                boar.number(),
                told.headline,
                String::new(),
            )
        };
        barn.boars_in(pen).iter().map(row).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_free_code_is_found_round_the_end() {
        let last = Code::from_number(Code::COUNT - 1).unwrap();
        assert_eq!(
            free_from(u64::from(Code::COUNT) - 1, &BTreeSet::new()),
            Some(last)
        );
        assert_eq!(
            free_from(u64::from(Code::COUNT) - 1, &BTreeSet::from([last])),
            Code::from_number(0)
        );
    }

    #[test]
    fn a_barn_out_of_codes_gets_none() {
        let all = (0..Code::COUNT).filter_map(Code::from_number).collect();
        assert_eq!(free_from(7, &all), None);
    }
}
