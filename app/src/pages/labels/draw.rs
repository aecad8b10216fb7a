//! One label and the pages, drawn in millimetres.

use super::of_batch;
use crate::tell;
use crate::words::{Words, key};
use chrono::Timelike;
use leptos::prelude::*;
use pentally_domain::barn::Barn;
use pentally_domain::extender::MIXING;
use pentally_domain::farm::CountAs;
use pentally_domain::id::EntryId;
use pentally_domain::label::BatchLabel;
use pentally_domain::label::sheet::{Place, Stock};
use pentally_domain::label::symbol::{Fit, Level, QUIET_ZONE, fit};
use pentally_domain::time::{Stamp, Zone};
use qrcode::bits::Bits;
use qrcode::types::{QrError, Version};
use qrcode::{Color, EcLevel, QrCode};
use std::fmt::Write;

/// White kept at a label's edge, in mm: sheets are seldom fed straight.
const EDGE_MM: f64 = 1.5;
/// Letters from so small, which can still be read, to so large, in mm.
const LETTERS_MM: (f64, f64) = (1.8, 3.6);
/// A line takes so many times its letters.
const LEADING: f64 = 1.22;
/// An average letter is so wide, as a share of its height.
const LETTER_WIDE: f64 = 0.56;

/// The lines of a label, what matters most first; the code stands above them, larger.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Text {
    code: String,
    lines: Vec<String>,
}

/// A symbol as a path of square modules, quiet zone included.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drawn {
    side: usize,
    path: String,
}

/// What stands on the label, and the path its symbol leads to.
pub(super) fn label(w: &Words, barn: &Barn, id: EntryId) -> Option<(Text, String)> {
    let label = of_batch(barn, id)?;
    let path = label.path();
    Some((text(w, barn, &label), path))
}

fn text(w: &Words, barn: &Barn, label: &BatchLabel) -> Text {
    let moment = |at: Stamp| written(&barn.zone_at(at.ms()), at);
    let one = |key, name, value: String| w.tr_with(key, &[(name, value.into())]);
    let boars: Vec<_> = label
        .boars
        .iter()
        .map(|n| {
            n.as_ref()
                .map_or_else(|| w.tr(key::NOT_KNOWN), |n| n.as_str().to_owned())
        })
        .collect();
    let whose = match label.is_pool() {
        true => key::LABEL_POOL,
        false => key::LABEL_BOAR,
    };
    let ml = w.num(label.dose_volume.value(), 0);
    let technique = w.tr(tell::technique(label.technique));
    let sperm = match &label.sperm {
        None => w.tr(key::LABEL_NOT_COUNTED),
        Some(sperm) => {
            let counted = match sperm.count_as {
                CountAs::Total => key::LABEL_TOTAL,
                CountAs::Motile => key::LABEL_MOTILE,
                CountAs::MotileNormal => key::LABEL_MOTILE_NORMAL,
            };
            one(counted, "n", w.num(sperm.millions / 1000.0, 2))
        }
    };
    let store = label.store_c.map(|(low, high)| {
        let args = [
            ("low", w.num(low, 0).into()),
            ("high", w.num(high, 0).into()),
            ("at", w.num(MIXING.store_at_c, 0).into()),
        ];
        w.tr_with(key::LABEL_STORE, &args)
    });
    let antibiotic = w.tr(match label.antibiotic {
        Some(true) => key::LABEL_ANTIBIOTIC,
        Some(false) => key::LABEL_NO_ANTIBIOTIC,
        None => key::LABEL_ANTIBIOTIC_NOT_SAID,
    });
    let lines = [
        Some(one(whose, "boars", boars.join(", "))),
        Some(one(key::LABEL_USE_BY, "when", moment(label.use_by))),
        Some(sperm),
        Some(format!("{technique} · {ml} {}", w.tr(key::UNIT_ML))),
        store,
        Some(antibiotic),
        label
            .collected_at
            .map(|at| one(key::LABEL_COLLECTED, "when", moment(at))),
        Some(one(key::LABEL_MADE, "when", moment(label.made_at))),
    ];
    Text {
        code: label.code.to_string(),
        lines: lines.into_iter().flatten().collect(),
    }
}

/// A date (ISO 8601) with its time: a label is read days later, and has little room.
fn written(zone: &Zone, at: Stamp) -> String {
    let time = zone.local(at.ms());
    let day = zone.day(at.ms());
    format!("{day} {:02}:{:02}", time.hour(), time.minute())
}

/// The symbol that reads in such a square, or why none does.
pub(super) fn symbol(address: &str, side_mm: f64) -> Result<Drawn, Fit> {
    let fits = fit(address.len(), side_mm);
    let Fit::Reads { level, modules, .. } = fits else {
        return Err(fits);
    };
    let level = match level {
        Level::M => EcLevel::M,
        Level::Q => EcLevel::Q,
        Level::H => EcLevel::H,
    };
    let version = Version::Normal((i16::from(modules) - 17) / 4);
    let code = encoded(address, version, level).map_err(|_| fits)?;
    Ok(drawn(&code))
}

fn encoded(address: &str, version: Version, level: EcLevel) -> Result<QrCode, QrError> {
    let mut bits = Bits::new(version);
    bits.push_alphanumeric_data(address.as_bytes())?;
    bits.push_terminator(level)?;
    QrCode::with_bits(bits, level)
}

/// The dark modules: one rectangle for each run in a row.
fn drawn(code: &QrCode) -> Drawn {
    let (width, quiet) = (code.width(), usize::from(QUIET_ZONE));
    let mut path = String::new();
    for (y, row) in code.to_colors().chunks(width).enumerate() {
        let mut x = quiet;
        for run in row.chunk_by(|a, b| a == b) {
            if run.first() == Some(&Color::Dark) {
                let n = run.len();
                // Writing to a string never fails.
                let _ = write!(path, "M{x} {}h{n}v1h-{n}z", y + quiet);
            }
            x += run.len();
        }
    }
    Drawn {
        side: width + 2 * quiet,
        path,
    }
}

/// Every page at true size; on a screen as wide as it is.
pub(super) fn pages(
    stock: &Stock,
    text: &Text,
    symbol: Option<&Drawn>,
    places: &[Place],
) -> AnyView {
    let (wide, high) = match stock {
        Stock::Sheet(sheet) => sheet.mm().paper.size_mm(),
        Stock::Roll(roll) => (roll.mm().width_mm, roll.mm().height_mm),
    };
    let (label_wide, label_high) = stock.label_mm();
    let last = places.last().map_or(0, |p| p.page);
    let page = |n: u16| {
        let here: Vec<_> = places
            .iter()
            .filter(|p| p.page == n)
            .map(|p| {
                view! { <use href="#batch-label" x=p.left_mm y=p.top_mm width=label_wide height=label_high/> }
            })
            .collect();
        let defined = (n == 0).then(|| {
            view! {
                <symbol id="batch-label" viewBox=format!("0 0 {label_wide} {label_high}")>
                    {one(text, symbol, stock)}
                </symbol>
            }
        });
        view! {
            <svg class="label-page" width=format!("{wide}mm") height=format!("{high}mm") viewBox=format!("0 0 {wide} {high}")>
                {defined}{here}
            </svg>
        }
    };
    let paper = format!(
        "@page {{ size: {wide}mm {high}mm; margin: 0; }} @media print {{ .label-page {{ width: {wide}mm; height: {high}mm; }} }}"
    );
    view! {
        <style>{paper}</style>
        <div class="label-pages">{(0..=last).map(page).collect_view()}</div>
    }
    .into_any()
}

/// One label: the symbol to the left, words beside it.
fn one(text: &Text, symbol: Option<&Drawn>, stock: &Stock) -> AnyView {
    let (wide, high) = stock.label_mm();
    let side = stock.symbol_mm();
    let left = if symbol.is_some() { side } else { EDGE_MM };
    let room = (wide - left - EDGE_MM, high - 2.0 * EDGE_MM);
    let (letters, shown) = letters(text, room);
    let code = (letters * 1.5).min(room.0 / (text.code.chars().count() as f64 * LETTER_WIDE));
    let mut y = EDGE_MM + code;
    let mut lines = vec![line(&text.code, (left, y), code, room.0, true)];
    for words in text.lines.iter().take(shown) {
        y += letters * LEADING;
        lines.push(line(words, (left, y), letters, room.0, false));
    }
    let symbol = symbol.map(|drawn| {
        let all = drawn.side;
        let top = (high - side) / 2.0;
        view! {
            <svg x="0" y=top width=side height=side viewBox=format!("0 0 {all} {all}") shape-rendering="crispEdges">
                <path fill="#fff" d=format!("M0 0h{all}v{all}h-{all}z")/><path fill="#000" d=drawn.path.clone()/>
            </svg>
        }
    });
    view! { {symbol}{lines} }.into_any()
}

/// How large the letters are, and how many lines find room: the least important are left out
/// before letters get too small to read.
fn letters(text: &Text, (wide, high): (f64, f64)) -> (f64, usize) {
    let longest = |n: usize| {
        let lengths = text.lines.iter().take(n).map(|l| l.chars().count());
        lengths.max().unwrap_or(1).max(1) as f64
    };
    let (low, top) = LETTERS_MM;
    let fits = |n: usize| {
        let by_height = high / (1.5 + n as f64 * LEADING + 0.3);
        let by_width = wide / (longest(n) * LETTER_WIDE);
        // A line that is a little long is drawn closer together.
        by_height.min((by_width * 1.25).max(low)).min(top)
    };
    let all = text.lines.len();
    (1..=all)
        .rev()
        .map(|n| (fits(n), n))
        .find(|(size, _)| *size >= low)
        .unwrap_or((low, 1))
}

fn line(words: &str, (x, y): (f64, f64), size: f64, room: f64, strong: bool) -> AnyView {
    let wide = words.chars().count() as f64 * LETTER_WIDE * size;
    // Set closer where it would leave the label.
    let squeezed = (wide > room).then(|| format!("{room:.2}"));
    let adjust = squeezed.as_ref().map(|_| "spacingAndGlyphs");
    let weight = if strong { "700" } else { "400" };
    view! {
        <text x=format!("{x:.2}") y=format!("{y:.2}") font-size=format!("{size:.2}") font-weight=weight
            textLength=squeezed lengthAdjust=adjust fill="#000">{words.to_owned()}</text>
    }
    .into_any()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Version 2 has 25 modules, version 3 has 29 (ISO/IEC 18004): with four of white on each side
    /// 33 and 37 in the picture.
    #[test]
    fn the_symbol_has_the_side_that_was_reckoned_and_too_small_a_square_has_none() {
        let address = "HTTPS://BARN.EXAMPLE:8420/B/123450";
        assert_eq!(symbol(address, 37.0).map(|d| d.side), Ok(37));
        assert_eq!(symbol(address, 11.0).map(|d| d.side), Ok(33));
        assert!(matches!(symbol(address, 5.0), Err(Fit::TooSmall { .. })));
        assert!(matches!(
            symbol(&"A".repeat(300), 60.0),
            Err(Fit::TooLong { .. })
        ));
    }

    #[test]
    fn lines_leave_a_small_label_before_letters_get_too_small() {
        let text = Text {
            code: "123 450".to_owned(),
            lines: vec!["Use before 1 Jan 2026 12:00".to_owned(); 8],
        };
        let (large, all) = letters(&text, (60.0, 45.0));
        assert_eq!(all, 8);
        let (small, few) = letters(&text, (18.0, 15.0));
        assert!(
            few < 8 && small >= LETTERS_MM.0 && small < large,
            "{small} {few} {large}"
        );
    }
}
