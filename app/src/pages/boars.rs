//! The boars as a list; for the office also a new one, and a boar's particulars.

#[cfg(feature = "office")]
mod form;
#[cfg(feature = "office")]
mod typed;
#[cfg(feature = "office")]
mod write;

use crate::feed::use_feed;
use crate::pages::fields::Line;
use crate::pages::rows;
use crate::parts::{Action, Drawing, Kind, Title};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, BoarFacts};
use pentally_domain::id::BoarId;
use pentally_domain::rest::standing;
use pentally_domain::training::state::progress;
#[cfg(feature = "office")]
pub use write::{EditBoarPage, NewBoarPage};

/// How many rows are shown at once; a filter finds the others.
const SHOWN: usize = 200;

/// A boar of the list.
#[derive(Debug, Clone, PartialEq)]
struct Listed {
    id: BoarId,
    drawing: Drawing,
    number: String,
    says: String,
    pen: String,
    gone: bool,
    found_by: String,
}

/// `/boars`
#[component]
pub fn BoarsPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let typed = RwSignal::new(String::new());
    let all = Memo::new(move |_| {
        let now_ms = feed.now_ms.get();
        feed.barn.with(|barn| {
            barn.boars()
                .into_iter()
                .map(|boar| listed(&w, barn, &boar, now_ms))
                .collect::<Vec<_>>()
        })
    });
    let list = move || {
        let wanted = typed.with(|t| t.trim().to_lowercase());
        let found = all
            .get()
            .into_iter()
            .filter(|b| b.found_by.contains(&wanted));
        let (gone, here): (Vec<_>, Vec<_>) = found.partition(|b| b.gone);
        let more = (here.len() + gone.len())
            .saturating_sub(2 * SHOWN)
            .max(here.len().saturating_sub(SHOWN));
        view! {
            <ul class="rows">{here.into_iter().take(SHOWN).map(row).collect_view()}</ul>
            {(more > 0).then(|| view! { <p class="words quiet">{w.tr_with(key::BOARS_MORE, &[("n", more.into())])}</p> })}
            {rows::section(w.tr(key::BOARS_GONE), gone.into_iter().take(SHOWN).map(row).collect())}
        }
    };
    let count = move || {
        w.tr_with(
            key::BOARS_COUNT,
            &[(
                "n",
                all.with(|a| a.iter().filter(|b| !b.gone).count()).into(),
            )],
        )
    };
    view! {
        <Title headline=w.tr(key::MORE_BOARS) why=Signal::derive(count)/>
        <div class="actions">
            <Action word=w.tr(key::BOARS_NEW) drawing=Drawing::Boar href=paths::BOAR_NEW/>
            <Action word=w.tr(key::MORE_IMPORT) kind=Kind::Quiet href=paths::IMPORT/>
        </div>
        <div class="words"><Line name=w.tr(key::BOARS_FILTER) value=typed/></div>
        {list}
        <div class="grow"></div>
    }
    .into_any()
}

fn row(boar: Listed) -> AnyView {
    rows::link(
        paths::boar(boar.id),
        Some(boar.drawing),
        boar.number,
        boar.says,
        boar.pen,
    )
}

fn listed(w: &Words, barn: &Barn, boar: &BoarFacts, now_ms: i64) -> Listed {
    let zone = barn.zone_at(now_ms);
    let gone_on = boar.gone().map(|m| zone.day(m.at.ms()));
    let standard = barn.standard().standard;
    let standing = standing(boar, &standard, &zone, now_ms);
    let told = tell::standing(w, &standing, gone_on);
    let lessons = progress(boar, &standard, &zone, now_ms);
    let (role, headline) = match tell::pupil_first(w, standing.answer, &lessons) {
        Some((role, headline, _)) => (role, headline),
        None => (told.role, told.headline),
    };
    let pen = pen_of(w, barn, boar).unwrap_or_default();
    let particulars = boar.boar.as_ref().map(|b| &b.fact);
    let labels = particulars
        .into_iter()
        .flat_map(|b| [&b.name, &b.line, &b.ear])
        .flatten()
        .map(|l| l.as_str());
    let mut says = vec![headline];
    says.extend(
        particulars
            .and_then(|b| b.name.as_ref())
            .map(|n| n.as_str().to_owned()),
    );
    let found_by = labels
        .chain([pen.as_str()])
        .fold(boar.number(), |all, next| format!("{all} {next}"));
    Listed {
        id: boar.id,
        drawing: role.drawing(),
        number: boar.number(),
        says: says.join(" · "),
        found_by: format!("{found_by} {}", says[0]).to_lowercase(),
        pen,
        gone: gone_on.is_some(),
    }
}

fn pen_of(w: &Words, barn: &Barn, boar: &BoarFacts) -> Option<String> {
    let pen = barn.pen(boar.pen()?)?.pen?;
    Some(w.tr_with(key::BOAR_OF_PEN, &[("pen", pen.fact.name.as_str().into())]))
}
