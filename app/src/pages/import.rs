//! Bringing in a list of boars: choose a file, look at each row's fate, bring all in or nothing.

pub(super) mod answer;
pub(crate) mod desk;
pub(super) mod file;
mod row;
pub(super) mod tell;

use crate::act::use_act;
use crate::pages::fields::{Choice, Tick};
use crate::parts::{Action, Chips, Drawing, Kind, Title};
use crate::paths;
use crate::words::{Words, key, use_words};
use answer::{
    Ask, Choices, Column, DayOrder, Decision, Field, Preview, Question, Reads, Summary, Why,
    Written,
};
use leptos::prelude::*;
use leptos::task::spawn_local;
use row::Row;
use std::collections::BTreeMap;

/// A list of boars at hand.
type Desk = desk::Desk<Choices, Preview, Written>;

/// `/import`
#[component]
pub fn ImportPage() -> impl IntoView {
    let w = use_words();
    let desk = Desk::new(use_act(), "/api/v1/import");
    let choose = move |event: leptos::ev::Event| {
        spawn_local(async move {
            if let Some(bytes) = file::chosen(event).await {
                desk.open(bytes);
            }
        });
    };
    let shown = move || {
        desk.preview.get().map(|preview| match preview {
            Preview::Reads(reads) => view! { <Sheet desk reads/> }.into_any(),
            Preview::Unread { why, detail } => view! { <Unread desk why detail/> }.into_any(),
        })
    };
    view! {
        <Title headline=w.tr(key::MORE_IMPORT) why=w.tr(key::IMPORT_WHY)/>
        <div class="words">
            <label class="field"><span class="name">{w.tr(key::IMPORT_FILE)}</span>
                <input type="file" accept=".csv,.tsv,.txt,text/csv,text/plain" on:change=choose/>
                <span class="bounds">{w.tr(key::IMPORT_FILE_WHY)}</span></label>
        </div>
        <Show when=move || desk.busy.get()><p class="words" role="status">{w.tr(key::IMPORT_BUSY)}</p></Show>
        {shown}
        {move || desk.written.get().map(|written| done(&w, written))}
        <div class="grow"></div>
    }
}

fn done(w: &Words, written: Written) -> AnyView {
    let args = [
        ("boars", written.boars.into()),
        ("pens", written.pens.into()),
        ("changes", written.changes.into()),
    ];
    let says = if written == Written::default() {
        w.tr(key::IMPORT_DONE_NOTHING)
    } else {
        w.tr_with(key::IMPORT_DONE, &args)
    };
    view! {
        <p class="words big" role="status">{says}</p>
        <div class="actions"><Action word=w.tr(key::MORE_BOARS) drawing=Drawing::Boar href=paths::BOARS/></div>
    }
    .into_any()
}

#[component]
fn Unread(desk: Desk, why: Why, detail: String) -> impl IntoView {
    let w = use_words();
    let says = match &why {
        Why::Workbook => w.tr(key::IMPORT_WORKBOOK),
        Why::Empty => w.tr(key::IMPORT_EMPTY),
        Why::NoNumber { .. } => w.tr(key::IMPORT_NO_NUMBER),
        why => tell::unread(&w, why, &detail),
    };
    let columns = if let Why::NoNumber { columns } = why {
        Some(columns)
    } else {
        None
    };
    view! {
        <p class="words" role="alert">{says}</p>
        {columns.map(|columns| view! { <Columns desk columns/> })}
    }
}

/// Says by hand what each column holds.
#[component]
fn Columns(desk: Desk, columns: Vec<Column>) -> impl IntoView {
    let w = use_words();
    let name = |f: Field| {
        serde_json::to_value(f)
            .ok()
            .and_then(|v| v.as_str().map(str::to_owned))
            .unwrap_or_default()
    };
    let chosen: Vec<_> = columns
        .iter()
        .map(|c| {
            (
                c.index,
                RwSignal::new(c.field.map(name).unwrap_or_default()),
            )
        })
        .collect();
    let fields = Field::ALL.map(|f| (name(f), w.tr(tell::field(f))));
    let options: Vec<_> = std::iter::once((String::new(), w.tr(key::IMPORT_NOT_READ)))
        .chain(fields)
        .collect();
    let lines = columns
        .into_iter()
        .zip(&chosen)
        .map(|(column, (_, value))| {
            let hint = column.samples.join(" · ");
            view! { <Choice name=column.header options=options.clone() value=*value hint=hint/> }
        });
    let lines = lines.collect_view();
    let again = move |()| {
        let field = |text: String| serde_json::from_value(serde_json::Value::String(text)).ok();
        let mapping = chosen
            .iter()
            .filter_map(|(index, value)| Some((*index, field(value.get_untracked())?)));
        let mapping: BTreeMap<_, _> = mapping.collect();
        desk.choose(|c| c.mapping = Some(mapping));
    };
    view! {
        <div class="words fields">{lines}</div>
        <div class="actions"><Action word=w.tr(key::IMPORT_LOOK_AGAIN) on_tap=again/></div>
    }
}

#[component]
fn Sheet(desk: Desk, reads: Reads) -> impl IntoView {
    let w = use_words();
    let asks: Vec<_> = reads
        .questions
        .iter()
        .map(|q| question(w, desk, q))
        .collect();
    let open = !asks.is_empty();
    let rows = reads.rows.iter().map(|r| row(&w, r)).collect_view();
    let more = (reads.more > 0).then(|| view! { <p class="words quiet">{w.tr_with(key::IMPORT_MORE, &[("n", reads.more.into())])}</p> });
    view! {
        <section class="words"><h2>{w.tr(key::IMPORT_LOOK)}</h2><p>{counts(&w, &reads.summary)}</p></section>
        {asks}
        <Take desk sum=reads.summary open/>
        <div class="words sheet"><table>
            <thead><tr>
                <th class="number">{w.tr(key::IMPORT_LINE)}</th><th>{w.tr(key::BOARS_NUMBER)}</th><th>{w.tr(key::IMPORT_FATE)}</th>
            </tr></thead>
            <tbody>{rows}</tbody>
        </table></div>
        {more}
        <details class="words how"><summary>{w.tr(key::IMPORT_COLUMNS)}</summary><Columns desk columns=reads.shape.columns/></details>
    }
}

fn counts(w: &Words, sum: &Summary) -> String {
    let parts = [
        (sum.new, key::IMPORT_COUNT_NEW),
        (sum.pens, key::IMPORT_COUNT_PENS),
        (sum.same, key::IMPORT_COUNT_SAME),
        (sum.differs, key::IMPORT_COUNT_DIFFERS),
        (sum.duplicates, key::IMPORT_COUNT_TWICE),
        (sum.refused, key::IMPORT_COUNT_REFUSED),
    ];
    let said = parts
        .iter()
        .filter(|(n, _)| *n > 0)
        .map(|(n, key)| w.tr_with(*key, &[("n", (*n).into())]));
    let all = w.tr_with(key::IMPORT_COUNT_ROWS, &[("n", sum.rows.into())]);
    std::iter::once(all)
        .chain(said)
        .collect::<Vec<_>>()
        .join(" · ")
}

fn row(w: &Words, row: &Row) -> AnyView {
    view! { <tr><td class="number">{row.line.to_string()}</td><td>{row.number.clone()}</td><td>{tell::row(w, row)}</td></tr> }.into_any()
}

/// Asked once for the whole column.
fn question(w: Words, desk: Desk, q: &Question) -> AnyView {
    let column = q.column;
    let header = q.header.as_str();
    let order = move |answer: DayOrder| {
        desk.choose(|c| c.dates.entry(column).or_default().order = Some(answer));
    };
    let serials = move |answer: bool| {
        desk.choose(|c| c.dates.entry(column).or_default().serials = Some(answer));
    };
    match &q.ask {
        Ask::Order {
            example,
            day_first,
            month_first,
        } => {
            let asked = w.tr_with(
                key::IMPORT_ASK_ORDER,
                &[("column", header.into()), ("read", example.as_str().into())],
            );
            let options = vec![
                (DayOrder::DayFirst, w.day_month_year(*day_first)),
                (DayOrder::MonthFirst, w.day_month_year(*month_first)),
            ];
            ask(asked, options, order)
        }
        Ask::Mixed {
            day_first,
            month_first,
        } => {
            let args = [
                ("column", header.into()),
                ("one", day_first.as_str().into()),
                ("other", month_first.as_str().into()),
            ];
            let options = vec![
                (DayOrder::DayFirst, w.tr(key::IMPORT_DAY_FIRST)),
                (DayOrder::MonthFirst, w.tr(key::IMPORT_MONTH_FIRST)),
            ];
            ask(w.tr_with(key::IMPORT_ASK_MIXED, &args), options, order)
        }
        Ask::Serials { example, day } => {
            let args = [
                ("column", header.into()),
                ("read", example.as_str().into()),
                ("day", w.day_month_year(*day).into()),
            ];
            ask(
                w.tr_with(key::IMPORT_ASK_SERIALS, &args),
                vec![(true, w.tr(key::YES)), (false, w.tr(key::NO))],
                serials,
            )
        }
    }
}

/// A question of which each answer is followed at once.
pub(super) fn ask<T: Clone + PartialEq + Send + Sync + 'static>(
    asked: String,
    options: Vec<(T, String)>,
    then: impl Fn(T) + 'static,
) -> AnyView {
    let chosen = RwSignal::new(None::<T>);
    Effect::new(move |_| {
        if let Some(answer) = chosen.get() {
            then(answer);
        }
    });
    view! { <div class="words"><Chips asked=asked options=options chosen=chosen/></div> }.into_any()
}

/// The one button, and what must be said before it.
#[component]
fn Take(desk: Desk, sum: Summary, open: bool) -> impl IntoView {
    let w = use_words();
    let leave_out = RwSignal::new(false);
    let overwrite = RwSignal::new(false);
    let bad = sum.refused + sum.duplicates;
    let n = [("n", sum.new.into())];
    let word = if sum.new > 0 {
        w.tr_with(key::IMPORT_TAKE, &n)
    } else {
        w.tr(key::IMPORT_TAKE_CHANGES)
    };
    let nothing = sum.new == 0;
    let off = move || {
        open || desk.busy.get() || (nothing && !overwrite.get()) || (bad > 0 && !leave_out.get())
    };
    let take = move |()| {
        let decision = Decision {
            leave_out: leave_out.get_untracked(),
            overwrite: overwrite.get_untracked(),
        };
        let decision = serde_json::to_string(&decision).unwrap_or_default();
        desk.commit(Some(("decision", decision)));
    };
    view! {
        <div class="words">
            {open.then(|| view! { <p>{w.tr(key::IMPORT_ANSWER_FIRST)}</p> })}
            {(bad > 0).then(|| view! { <Tick name=w.tr_with(key::IMPORT_LEAVE_OUT, &[("n", bad.into())]) value=leave_out/> })}
            {(sum.differs > 0).then(|| view! { <Tick name=w.tr_with(key::IMPORT_OVERWRITE, &[("n", sum.differs.into())]) value=overwrite/> })}
        </div>
        <div class="actions"><Action word=word kind=Kind::Primary off=Signal::derive(off) on_tap=take/></div>
    }
}
