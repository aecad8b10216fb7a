//! Boars side by side, those first who stand out by what was asked, and whom to think of replacing.

use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Chips, Drawing, Title};
use crate::paths;
use crate::words::{Key, Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::compare::{Compared, Evidence, Own, compare};
use pentally_domain::output::Looker;
use std::cmp::Ordering;

/// Days of a month on average, for an age in months.
const MONTH_DAYS: f64 = 30.44;

/// One column beside the boar's number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Column {
    Sperm,
    Motile,
    Danger,
    Lame,
    Sows,
    Age,
    Collections,
}

/// `/compare`
#[component]
pub fn ComparePage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let first = RwSignal::new(Some(Column::Sperm));
    let found = Memo::new(move |_| {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        compare(&barn, &Looker::of(&barn, now_ms), now_ms)
    });
    let table = move || found.with(|all| table(&w, all, first.get()));
    let replace = move || found.with(|all| replace(&w, all));
    let columns = Column::ALL.map(|c| (c, w.tr(c.heading()))).to_vec();
    view! {
        <Title headline=w.tr(key::MORE_COMPARE) why=w.tr(key::COMPARE_WHY)/>
        <div class="words screen-only"><Chips asked=w.tr(key::COMPARE_SORT) options=columns chosen=first/></div>
        <section class="words">{table}<p class="small quiet">{w.tr(key::COMPARE_LEGEND)}</p></section>
        {replace}
        <div class="grow"></div>
    }
    .into_any()
}

fn table(w: &Words, all: &[Compared], first: Option<Column>) -> AnyView {
    if all.is_empty() {
        return view! { <p>{w.tr(key::COMPARE_NONE)}</p> }.into_any();
    }
    let mut all: Vec<&Compared> = all.iter().collect();
    if let Some(column) = first {
        // A sort that is stable leaves those alike by number.
        all.sort_by(|a, b| column.order(a, b));
    }
    // A phone has room for four; a desk and paper hold all of them.
    let third = first.filter(|c| !c.is_own()).unwrap_or(Column::Danger);
    let class = move |column: Column| {
        if column.is_own() || column == third {
            "number"
        } else {
            "number wide-only"
        }
    };
    let head =
        Column::ALL.map(|c| view! { <th scope="col" class=class(c)>{w.tr(c.heading())}</th> });
    let head = Vec::from(head);
    let row = |boar: &Compared| {
        let cells = Column::ALL.map(|c| view! { <td class=class(c)>{c.cell(w, boar)}</td> });
        let cells = Vec::from(cells);
        view! { <tr><th scope="row"><a href=paths::boar(boar.boar.id)>{boar.boar.number()}</a></th>{cells}</tr> }
    };
    let rows: Vec<_> = all.into_iter().map(row).collect();
    view! {
        <div class="sheet tight"><table>
            <thead><tr><th scope="col">{w.tr(key::COMPARE_BOAR)}</th>{head}</tr></thead>
            <tbody>{rows}</tbody>
        </table></div>
    }
    .into_any()
}

/// Whom to look at for replacement, who has most against him first; a tap leads to his going off.
fn replace(w: &Words, all: &[Compared]) -> AnyView {
    let mut spoken: Vec<&Compared> = all.iter().filter(|c| !c.speaks.is_empty()).collect();
    spoken.sort_by_key(|c| std::cmp::Reverse(c.speaks.len()));
    let (leave, look): (Vec<_>, Vec<_>) = spoken.into_iter().partition(|c| c.leaves);
    let title = |c: &Compared| w.tr_with(key::BOAR_TITLE, &[("number", c.boar.number().into())]);
    let why = |c: &Compared| {
        let says = c.speaks.iter().map(|e| speaks(w, *e));
        says.collect::<Vec<_>>().join(" · ")
    };
    let row = |c: &&Compared| {
        let first = c.speaks.first()?;
        let href = paths::cull(c.boar.id, first.cull());
        Some(rows::link(
            href,
            Some(Drawing::Warning),
            title(c),
            why(c),
            String::new(),
        ))
    };
    let gone = |c: &&Compared| {
        rows::link(
            paths::boar(c.boar.id),
            None,
            title(c),
            why(c),
            String::new(),
        )
    };
    let look: Vec<_> = look.iter().filter_map(row).collect();
    let says = if look.is_empty() {
        key::COMPARE_LOOK_NONE
    } else {
        key::COMPARE_LOOK_WHY
    };
    view! {
        <h2 class="heading">{w.tr(key::COMPARE_LOOK)}</h2>
        {(!look.is_empty()).then(|| view! { <ul class="rows">{look}</ul> })}
        <p class="words small quiet">{w.tr(says)}</p>
        {rows::section(w.tr(key::COMPARE_LEAVES), leave.iter().map(gone).collect())}
    }
    .into_any()
}

fn speaks(w: &Words, evidence: Evidence) -> String {
    let n = |key, n: f64| w.tr_with(key, &[("n", w.num(n, 0).into())]);
    match evidence {
        Evidence::Output(percent) => n(key::SPEAKS_OUTPUT, percent),
        Evidence::Quality(points) => n(key::SPEAKS_QUALITY, points),
        Evidence::Temper(times) => w.tr_with(key::SPEAKS_TEMPER, &[("n", times.into())]),
        Evidence::Legs(times) => w.tr_with(key::SPEAKS_LEGS, &[("n", times.into())]),
        Evidence::Fertility(served) => w.tr_with(
            key::SPEAKS_FERTILITY,
            &[
                ("n", served.returned.into()),
                ("all", served.known().into()),
            ],
        ),
    }
}

impl Column {
    const ALL: [Self; 7] = [
        Self::Sperm,
        Self::Motile,
        Self::Danger,
        Self::Lame,
        Self::Sows,
        Self::Age,
        Self::Collections,
    ];

    const fn is_own(self) -> bool {
        matches!(self, Self::Sperm | Self::Motile)
    }

    const fn heading(self) -> Key {
        match self {
            Self::Sperm => key::COMPARE_SPERM,
            Self::Motile => key::COMPARE_MOTILE,
            Self::Danger => key::COMPARE_DANGER,
            Self::Lame => key::COMPARE_LAME,
            Self::Sows => key::COMPARE_SOWS,
            Self::Age => key::COMPARE_AGE,
            Self::Collections => key::COMPARE_COLLECTIONS,
        }
    }

    fn cell(self, w: &Words, boar: &Compared) -> String {
        match self {
            Self::Sperm => own(w, boar.total, |n| format!("{n}\u{202f}%")),
            Self::Motile => own(w, boar.motile, |n| {
                w.tr_with(key::COMPARE_POINTS, &[("n", n.into())])
            }),
            Self::Danger => boar.dangers.to_string(),
            Self::Lame => boar.lame.to_string(),
            Self::Sows => boar.served.filter(|s| s.known() > 0).map_or_else(
                || w.tr(key::NOT_KNOWN),
                |s| {
                    let args = [("n", s.returned.into()), ("all", s.known().into())];
                    w.tr_with(key::COMPARE_OF, &args)
                },
            ),
            Self::Age => boar.age_days.map_or_else(
                || w.tr(key::NOT_KNOWN),
                |days| w.num((days as f64 / MONTH_DAYS).floor(), 0),
            ),
            Self::Collections if boar.boar.collections_whole => boar.collections.to_string(),
            Self::Collections => {
                w.tr_with(key::COMPARE_AT_LEAST, &[("n", boar.collections.into())])
            }
        }
    }

    /// Who stands first: the one with least of what is good, and most of what is not. Of whom it
    /// cannot be told stands last.
    fn order(self, a: &Compared, b: &Compared) -> Ordering {
        let (a, b) = (self.weighs(a), self.weighs(b));
        b.is_some().cmp(&a.is_some()).then_with(|| match (a, b) {
            (Some(a), Some(b)) => b.total_cmp(&a),
            _ => Ordering::Equal,
        })
    }

    fn weighs(self, boar: &Compared) -> Option<f64> {
        let below = |own: Own| match own {
            Own::TooFew => None,
            Own::Alike => Some(0.0),
            Own::Apart(by) => Some(-by),
        };
        match self {
            Self::Sperm => below(boar.total),
            Self::Motile => below(boar.motile),
            Self::Danger => Some(boar.dangers as f64),
            Self::Lame => Some(boar.lame as f64),
            Self::Sows => {
                let served = boar.served.filter(|s| s.known() > 0)?;
                Some(served.returned as f64 / served.known() as f64)
            }
            Self::Age => boar.age_days.map(|days| days as f64),
            Self::Collections => Some(boar.collections as f64),
        }
    }
}

fn own(w: &Words, own: Own, unit: impl Fn(String) -> String) -> String {
    match own {
        Own::TooFew => w.tr(key::COMPARE_FEW),
        Own::Alike => w.tr(key::COMPARE_ALIKE),
        Own::Apart(by) => {
            let sign = if by < 0.0 { "−" } else { "+" };
            unit(format!("{sign}{}", w.num(by.abs(), 0)))
        }
    }
}
