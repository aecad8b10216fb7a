//! Which paper, and which places of a started sheet are gone.

use crate::parts::is_repeat;
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::label::sheet::{Paper, Stock};

/// The value of a size of one's own.
pub(super) const OWN: &str = "own";

/// The papers to choose from, in words, by their places in the list.
pub(super) fn options(w: &Words, list: &[Stock]) -> Vec<(String, String)> {
    let each = list.iter().enumerate();
    let each = each.map(|(at, stock)| (at.to_string(), named(w, stock)));
    each.chain([(OWN.to_owned(), w.tr(key::LABELS_OWN))])
        .collect()
}

/// "A4, 24 labels of 70 × 37 mm"
fn named(w: &Words, stock: &Stock) -> String {
    let mm = |value: f64| w.num(value, u8::from(value.fract() != 0.0));
    let (wide, high) = stock.label_mm();
    let size = [("wide", mm(wide).into()), ("high", mm(high).into())];
    match stock {
        Stock::Sheet(sheet) => {
            let paper = paper(sheet.mm().paper);
            let [wide, high] = size;
            let args = [
                ("paper", paper.into()),
                ("n", sheet.fits().into()),
                wide,
                high,
            ];
            w.tr_with(key::LABELS_SHEET, &args)
        }
        Stock::Roll(_) => w.tr_with(key::LABELS_ROLL, &size),
    }
}

/// As it is called everywhere.
pub(super) const fn paper(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "A4",
        Paper::Letter => "Letter",
    }
}

/// The places of the first sheet: a tap takes one out, another brings it back.
pub(super) fn places(w: &Words, stock: &Stock, gone: RwSignal<Vec<u16>>) -> Option<AnyView> {
    let Stock::Sheet(sheet) = stock else {
        return None;
    };
    let (w, columns) = (*w, sheet.mm().columns);
    let place = move |at: u16| {
        let is_gone = Memo::new(move |_| gone.with(|g| g.contains(&at)));
        let tap = move |click| {
            if !is_repeat(&click) {
                gone.update(|g| match g.iter().position(|one| *one == at) {
                    Some(found) => drop(g.remove(found)),
                    None => g.push(at),
                });
            }
        };
        view! {
            <button type="button" class="place" aria-pressed=move || is_gone.get().to_string() on:click=tap>{at + 1}</button>
        }
    };
    let all: Vec<_> = (0..sheet.fits()).map(place).collect();
    Some(
        view! {
            <details class="gone"><summary>{move || w.tr_with(key::LABELS_GONE, &[("n", gone.with(Vec::len).into())])}</summary>
                <p class="small quiet">{w.tr(key::LABELS_GONE_WHY)}</p>
                <div class="places-of" style=format!("grid-template-columns: repeat({columns}, 1fr)")>{all}</div>
            </details>
        }
        .into_any(),
    )
}
