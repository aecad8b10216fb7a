//! A logger's file: choose it, look at what would be written, answer what it leaves open, take it in.

mod answer;
mod tell;

use super::rooms;
use crate::act::use_act;
use crate::feed::Feed;
use crate::pages::fields::{Choice, Line};
use crate::pages::import::answer::Why as FileWhy;
use crate::pages::import::tell::unread;
use crate::pages::import::{ask, desk, file};
use crate::parts::{Action, Kind};
use crate::words::{Words, key, use_words};
use answer::{
    Ask, Choices, Column, DayOrder, Field, LoggerClock, OfRoom, Preview, Question, Reads, Unit,
    Why, Written,
};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pentally_domain::said::Label;
use std::collections::BTreeMap;

/// A logger's file at hand.
type Desk = desk::Desk<Choices, Preview, Written>;

/// Where a file is taken in.
#[component]
pub(super) fn Load(feed: Feed) -> impl IntoView {
    let w = use_words();
    let desk = Desk::new(use_act(), "/api/v1/climate");
    let choose = move |event: leptos::ev::Event| {
        spawn_local(async move {
            if let Some(bytes) = file::chosen(event).await {
                desk.open(bytes);
            }
        });
    };
    let shown = move || {
        desk.preview.get().map(|preview| match preview {
            Preview::Reads(reads) => view! { <Sheet desk feed reads/> }.into_any(),
            Preview::Unread { why, detail } => view! { <Unread desk why detail/> }.into_any(),
        })
    };
    let done = move || {
        desk.written.get().map(|written| {
            let args = [
                ("days", written.days.into()),
                ("readings", written.readings.into()),
            ];
            let says = w.tr_with(key::CLIMATE_TAKEN, &args);
            view! { <p class="words" role="status">{says}</p> }
        })
    };
    view! {
        <section class="words">
            <h2>{w.tr(key::CLIMATE_FILE)}</h2>
            <label class="field"><span class="name">{w.tr(key::CLIMATE_FILE_CHOOSE)}</span>
                <input type="file" accept=".csv,.tsv,.txt,text/csv,text/plain" on:change=choose/>
                <span class="bounds">{w.tr(key::CLIMATE_FILE_WHY)}</span></label>
        </section>
        <Show when=move || desk.busy.get()><p class="words" role="status">{w.tr(key::CLIMATE_FILE_BUSY)}</p></Show>
        {shown}
        {done}
    }
}

#[component]
fn Unread(desk: Desk, why: Why, detail: String) -> impl IntoView {
    let w = use_words();
    let (says, columns) = match why {
        Why::Empty => (w.tr(key::CLIMATE_EMPTY), None),
        Why::NoTemperature { columns } => (w.tr(key::CLIMATE_NO_TEMPERATURE), Some(columns)),
        Why::NoTime { columns } => (w.tr(key::CLIMATE_NO_TIME), Some(columns)),
        Why::File { why } => (unread(&w, &why, &detail), None),
        Why::LineTooLong { line } => (unread(&w, &FileWhy::LineTooLong { line }, &detail), None),
        Why::TooManyColumns { line, columns } => {
            let why = FileWhy::TooManyColumns { line, columns };
            (unread(&w, &why, &detail), None)
        }
        Why::TooManyRows => (w.tr(key::CLIMATE_TOO_MANY_ROWS), None),
        Why::Other => (unread(&w, &FileWhy::Other, &detail), None),
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
    let fields = Field::ALL.map(|f| (f.name().to_owned(), w.tr(tell::field(f))));
    let options: Vec<_> = std::iter::once((String::new(), w.tr(key::IMPORT_NOT_READ)))
        .chain(fields)
        .collect();
    let line = |column: Column| {
        let known = column.field.map_or("", Field::name).to_owned();
        (column.index, RwSignal::new(known), column)
    };
    let chosen: Vec<_> = columns.into_iter().map(line).collect();
    let lines = chosen.iter().map(|(_, value, column)| {
        let (name, hint) = (column.header.clone(), column.samples.join(" · "));
        view! { <Choice name=name options=options.clone() value=*value hint=hint/> }
    });
    let lines = lines.collect_view();
    let again = move |()| {
        let named = chosen.iter().filter_map(|(index, value, _)| {
            let name = value.get_untracked();
            let field = Field::ALL.into_iter().find(|f| f.name() == name);
            Some((*index, field?))
        });
        let mapping: BTreeMap<_, _> = named.collect();
        desk.choose(|c| c.mapping = Some(mapping));
    };
    view! {
        <div class="words fields">{lines}</div>
        <div class="actions"><Action word=w.tr(key::IMPORT_LOOK_AGAIN) kind=Kind::Quiet on_tap=again/></div>
    }
}

#[component]
fn Sheet(desk: Desk, feed: Feed, reads: Reads) -> impl IntoView {
    let w = use_words();
    let open = !reads.questions.is_empty();
    let asks: Vec<_> = reads
        .questions
        .iter()
        .map(|q| question(w, desk, feed, q))
        .collect();
    let fresh: usize = reads.rooms.iter().map(|r| r.days - r.same).sum();
    let told = tell::told(&w, &reads).into_iter();
    let told = told.map(|says| view! { <li>{says}</li> }).collect_view();
    let row = |room: &OfRoom| {
        let days = [
            ("n", room.days.into()),
            ("from", w.day_month_year(room.from).into()),
            ("to", w.day_month_year(room.to).into()),
        ];
        view! {
            <li class="row"><div class="rest-of">
                <p class="name">{room.room.clone()}</p>
                <p class="small">{w.tr_with(key::CLIMATE_ROOM_DAYS, &days)}</p>
                <p class="small quiet">{tell::fate(&w, room)}</p>
            </div></li>
        }
    };
    let rooms = reads.rooms.iter().map(row).collect_view();
    let off = Signal::derive(move || open || desk.busy.get());
    let take = (!open && fresh > 0).then(|| {
        let word = w.tr_with(key::CLIMATE_TAKE, &[("n", fresh.into())]);
        view! { <div class="actions"><Action word=word off=off on_tap=move |()| desk.commit(None)/></div> }
    });
    let nothing = (!open && fresh == 0)
        .then(|| view! { <p class="words">{w.tr(key::CLIMATE_NOTHING_NEW)}</p> });
    view! {
        {asks}
        {open.then(|| view! { <p class="words">{w.tr(key::IMPORT_ANSWER_FIRST)}</p> })}
        <ul class="rows">{rooms}</ul>
        <div class="words small"><ul class="reasons">{told}</ul></div>
        {take}
        {nothing}
        <details class="words how"><summary>{w.tr(key::IMPORT_COLUMNS)}</summary><Columns desk columns=reads.shape.columns/></details>
    }
}

fn question(w: Words, desk: Desk, feed: Feed, q: &Question) -> AnyView {
    let header = q.header.clone().unwrap_or_default();
    let of_column = |name, text: &str| [("column", header.as_str().into()), (name, text.into())];
    let order = move |order: DayOrder| desk.choose(|c| c.order = Some(order));
    match &q.ask {
        Ask::Room => view! { <WhichRoom desk feed/> }.into_any(),
        Ask::Order {
            example,
            day_first,
            month_first,
        } => {
            let options = vec![
                (DayOrder::DayFirst, w.day_month_year(*day_first)),
                (DayOrder::MonthFirst, w.day_month_year(*month_first)),
            ];
            let asked = w.tr_with(key::IMPORT_ASK_ORDER, &of_column("read", example));
            ask(asked, options, order)
        }
        Ask::Mixed {
            day_first,
            month_first,
        } => {
            let args = [
                ("column", header.as_str().into()),
                ("one", day_first.as_str().into()),
                ("other", month_first.as_str().into()),
            ];
            let options = vec![
                (DayOrder::DayFirst, w.tr(key::IMPORT_DAY_FIRST)),
                (DayOrder::MonthFirst, w.tr(key::IMPORT_MONTH_FIRST)),
            ];
            ask(w.tr_with(key::IMPORT_ASK_MIXED, &args), options, order)
        }
        Ask::Unit {
            lowest, highest, ..
        } => {
            let args = [
                ("low", w.num(*lowest, 1).into()),
                ("high", w.num(*highest, 1).into()),
            ];
            let options = vec![
                (Unit::Celsius, w.tr(key::UNIT_CELSIUS)),
                (Unit::Fahrenheit, w.tr(key::CLIMATE_FAHRENHEIT)),
            ];
            let asked = w.tr_with(key::CLIMATE_ASK_UNIT, &args);
            ask(asked, options, move |unit| {
                desk.choose(|c| c.unit = Some(unit))
            })
        }
        Ask::Proportion { highest } => {
            let asked = of_column("high", &w.num(*highest, 2));
            let asked = w.tr_with(key::CLIMATE_ASK_PROPORTION, &asked);
            let options = vec![(true, w.tr(key::YES)), (false, w.tr(key::NO))];
            ask(asked, options, move |is| {
                desk.choose(|c| c.proportion = Some(is))
            })
        }
        Ask::Clock {
            line,
            read,
            offset_min,
        } => {
            let args = [
                ("line", line.to_string().into()),
                ("read", read.as_str().into()),
            ];
            let options = vec![
                (
                    LoggerClock::Offset(*offset_min),
                    w.tr(key::CLIMATE_CLOCK_WINTER),
                ),
                (LoggerClock::Farm, w.tr(key::CLIMATE_CLOCK_FARM)),
            ];
            let asked = w.tr_with(key::CLIMATE_ASK_CLOCK, &args);
            ask(asked, options, move |clock| {
                desk.choose(|c| c.clock = Some(clock))
            })
        }
    }
}

/// Which room the logger hung in: one that is known, or another by name.
#[component]
fn WhichRoom(desk: Desk, feed: Feed) -> impl IntoView {
    let w = use_words();
    let name = RwSignal::new(String::new());
    let wrong = RwSignal::new(None);
    let known = feed.barn.with_untracked(|b| rooms(b)).into_iter();
    let options: Vec<_> = known
        .map(|room| (room.clone(), room.as_str().to_owned()))
        .collect();
    let chips = (!options.is_empty()).then(|| {
        ask(w.tr(key::CLIMATE_ASK_ROOM), options, move |room: Label| {
            desk.choose(|c| c.room = Some(room));
        })
    });
    let take = move |()| match Label::parse(&name.get_untracked()) {
        Ok(room) => desk.choose(|c| c.room = Some(room)),
        Err(e) => {
            let args = [
                ("chars", e.chars.into()),
                ("low", e.low.into()),
                ("high", e.high.into()),
            ];
            wrong.set(Some(w.tr_with(key::TEXT_LENGTH, &args)));
        }
    };
    view! {
        {chips}
        <div class="words fields"><Line name=w.tr(key::CLIMATE_ROOM_NAME) value=name hint=w.tr(key::FIELD_LABEL) wrong=wrong/></div>
        <div class="actions"><Action word=w.tr(key::CLIMATE_ROOM_TAKE) kind=Kind::Quiet on_tap=take/></div>
    }
}
