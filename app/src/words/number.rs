//! Figures as each language writes them.

use super::Lang;

/// The sign between whole and part in English.
pub const DECIMAL_MARK_EN: char = '.';
/// The sign between whole and part in Spanish.
pub const DECIMAL_MARK_ES: char = ',';

/// A thin space that does not break a line.
const THIN: char = '\u{202F}';

/// A figure rounded to `decimals`, in groups of three with a thin space from five
/// digits on (SI Brochure, 9th ed., 5.4.4); a dash where there is no number.
pub fn num(value: f64, decimals: u8, lang: Lang) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let plain = format!("{:.*}", usize::from(decimals), value.abs());
    let (whole, part) = plain.split_once('.').unwrap_or((&plain, ""));
    let mut out = String::with_capacity(plain.len() + 8);
    if value < 0.0 && plain.bytes().any(|b| (b'1'..=b'9').contains(&b)) {
        out.push('−');
    }
    push_grouped(&mut out, whole);
    if !part.is_empty() {
        out.push(lang.decimal_mark());
        out.push_str(part);
    }
    out
}

impl Lang {
    /// The sign between whole and part of a figure.
    pub const fn decimal_mark(self) -> char {
        match self {
            Self::En => DECIMAL_MARK_EN,
            Self::Es => DECIMAL_MARK_ES,
        }
    }
}

fn push_grouped(out: &mut String, digits: &str) {
    for (index, digit) in digits.chars().enumerate() {
        if digits.len() > 4 && index > 0 && (digits.len() - index).is_multiple_of(3) {
            out.push(THIN);
        }
        out.push(digit);
    }
}
