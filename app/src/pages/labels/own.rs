//! A size of one's own, in millimetres as measured.

use super::paper::paper;
use crate::pages::fields::{Line, figure};
use crate::parts::{Action, Chips, Kind};
use crate::words::{Key, Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::label::sheet::{Paper, Roll, RollMm, Sheet, SheetMm, Stock};
use pentally_domain::units::BoundError;

/// What is measured: of a roll the first two, of a sheet all.
const MEASURED: [(&str, Key); 8] = [
    ("width_mm", key::LABELS_WIDTH),
    ("height_mm", key::LABELS_HEIGHT),
    ("columns", key::LABELS_COLUMNS),
    ("rows", key::LABELS_ROWS),
    ("left_mm", key::LABELS_LEFT),
    ("top_mm", key::LABELS_TOP),
    ("across_mm", key::LABELS_ACROSS),
    ("down_mm", key::LABELS_DOWN),
];
/// What stands there at first: a common sheet.
const FIRST: [&str; 8] = ["70", "37", "3", "8", "0", "0", "0", "0"];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum On {
    Sheet(Paper),
    Roll,
}

/// Asks for the sizes, and hands them over once they fit on the paper.
#[component]
pub(super) fn Own(
    /// Takes them.
    #[prop(into)]
    take: Callback<Stock>,
) -> impl IntoView {
    let w = use_words();
    let on = RwSignal::new(Some(On::Sheet(Paper::A4)));
    let typed = FIRST.map(|text| RwSignal::new(text.to_owned()));
    let wrong = FIRST.map(|_| RwSignal::new(None::<String>));
    let beyond = RwSignal::new(None::<String>);
    let papers = vec![
        (On::Sheet(Paper::A4), paper(Paper::A4).to_owned()),
        (On::Sheet(Paper::Letter), paper(Paper::Letter).to_owned()),
        (On::Roll, w.tr(key::LABELS_ON_ROLL)),
    ];
    let set = move |()| {
        for signal in wrong {
            signal.set(None);
        }
        beyond.set(None);
        let Some(on) = on.get_untracked() else {
            return;
        };
        let mut read = [0.0; 8];
        for ((value, typed), wrong) in read.iter_mut().zip(typed).zip(wrong) {
            let text = typed.get_untracked();
            match figure(&text) {
                Some(mm) => *value = mm,
                None => wrong.set(Some(
                    w.tr_with(key::LABELS_NO_FIGURE, &[("read", text.trim().into())]),
                )),
            }
        }
        if wrong
            .iter()
            .any(|signal| signal.with_untracked(Option::is_some))
        {
            return;
        }
        match stock(on, read) {
            Ok(stock) => take.run(stock),
            Err(error) => {
                let says = told(&w, &error);
                let at = MEASURED.iter().position(|(field, _)| *field == error.field);
                match at.and_then(|at| wrong.get(at)) {
                    Some(wrong) => wrong.set(Some(says)),
                    None => beyond.set(Some(says)),
                }
            }
        }
    };
    let lines = move || {
        let shown = if on.get() == Some(On::Roll) {
            2
        } else {
            MEASURED.len()
        };
        let each = MEASURED.iter().zip(typed).zip(wrong).take(shown);
        let line = |(((_, name), typed), wrong): ((&(&str, Key), _), RwSignal<Option<String>>)| {
            view! { <Line name=w.tr(*name) value=typed wrong=wrong figures=true/> }
        };
        each.map(line).collect_view()
    };
    view! {
        <Chips asked=w.tr(key::LABELS_OWN) options=papers chosen=on/>
        {lines}
        <p role="status">{move || beyond.get()}</p>
        <Action word=w.tr(key::LABELS_TAKE_OWN) kind=Kind::Quiet on_tap=set/>
    }
}

fn stock(on: On, read: [f64; 8]) -> Result<Stock, BoundError> {
    let [
        width_mm,
        height_mm,
        columns,
        rows,
        left_mm,
        top_mm,
        across_mm,
        down_mm,
    ] = read;
    match on {
        On::Roll => Ok(Stock::Roll(Roll::new(RollMm {
            width_mm,
            height_mm,
        })?)),
        On::Sheet(paper) => Ok(Stock::Sheet(Sheet::new(SheetMm {
            paper,
            columns: many("columns", columns)?,
            rows: many("rows", rows)?,
            width_mm,
            height_mm,
            left_mm,
            top_mm,
            across_mm,
            down_mm,
        })?)),
    }
}

/// A whole number of labels.
fn many(field: &'static str, read: f64) -> Result<u8, BoundError> {
    read.to_string().parse().map_err(|_| BoundError {
        field,
        read,
        low: 1.0,
        high: if field == "columns" { 20.0 } else { 40.0 },
        unit: field,
    })
}

fn told(w: &Words, error: &BoundError) -> String {
    let figure = |value: f64| w.num(value, u8::from(value.fract() != 0.0));
    let key = match error.field {
        "columns_end_mm" => key::LABELS_TOO_WIDE,
        "rows_end_mm" => key::LABELS_TOO_HIGH,
        _ => key::LABELS_OUTSIDE,
    };
    w.tr_with(
        key,
        &[
            ("read", figure(error.read).into()),
            ("low", figure(error.low).into()),
            ("high", figure(error.high).into()),
        ],
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_that_leave_the_paper_are_refused_and_whole_labels_are_counted() {
        let a4 = On::Sheet(Paper::A4);
        assert!(stock(a4, [70.0, 37.0, 3.0, 8.0, 0.0, 0.5, 0.0, 0.0]).is_ok());
        let field = |on, read| stock(on, read).unwrap_err().field;
        assert_eq!(
            field(a4, [71.0, 37.0, 3.0, 8.0, 0.0, 0.0, 0.0, 0.0]),
            "columns_end_mm"
        );
        assert_eq!(
            field(a4, [70.0, 38.0, 3.0, 8.0, 0.0, 0.0, 0.0, 0.0]),
            "rows_end_mm"
        );
        assert_eq!(
            field(a4, [70.0, 37.0, 2.5, 8.0, 0.0, 0.0, 0.0, 0.0]),
            "columns"
        );
        assert_eq!(
            field(On::Roll, [10.0, 25.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]),
            "width_mm"
        );
    }
}
