//! Every pair of colours by role is legible in wet light: at least 7:1.
//!
//! Formula: WCAG 2.2, definitions of "relative luminance" and "contrast ratio"
//! (<https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio>); 7:1 is its criterion 1.4.6.

#![allow(clippy::unwrap_used)] // a test may stop where the sheet is not as it must be

use std::collections::BTreeMap;

const TOKENS: &str = include_str!("../../style/tokens.css");
const LEAST: f64 = 7.0;

type Theme = BTreeMap<String, [u8; 3]>;

#[test]
fn each_role_is_legible_in_both_themes() {
    for theme in [light(), dark()] {
        let pairs = pairs(&theme);
        assert_eq!(pairs.len(), 9, "eight roles and the quiet words: {pairs:?}");
        for (name, on, under) in pairs {
            let ratio = ratio(on, under);
            assert!(
                ratio >= LEAST,
                "{name}: {ratio:.2} was computed, {LEAST} is the least"
            );
        }
    }
}

#[test]
fn dark_by_choice_is_dark_by_the_phone() {
    assert_eq!(colours("  :root:not([data-theme=\"light\"]) {"), dark());
    assert_eq!(
        light().keys().collect::<Vec<_>>(),
        dark().keys().collect::<Vec<_>>()
    );
}

// Black on white is 21:1 by definition; #777777 on white is the usual example of
// a grey that just misses 4.5:1 (4.48, from memory).
#[test]
fn the_formula_gives_the_known_ratios() {
    assert!((ratio([0; 3], [255; 3]) - 21.0).abs() < 1e-9);
    assert!((ratio([0x77; 3], [255; 3]) - 4.48).abs() < 0.005);
}

fn light() -> Theme {
    colours(":root {\n  color-scheme: light;")
}

fn dark() -> Theme {
    colours("\n:root[data-theme=\"dark\"] {")
}

/// The colours declared in the block that starts so.
fn colours(start: &str) -> Theme {
    let from = TOKENS.find(start).unwrap() + start.len();
    let block = TOKENS[from..].split('}').next().unwrap();
    let declared = block.lines().filter_map(|line| {
        let (name, value) = line.trim().strip_prefix("--")?.split_once(": #")?;
        Some((name.to_owned(), rgb(value.trim_end_matches(';'))))
    });
    declared.collect()
}

fn rgb(hex: &str) -> [u8; 3] {
    assert_eq!(hex.len(), 6, "#{hex} was read; #RRGGBB is right");
    [0, 2, 4].map(|at| u8::from_str_radix(&hex[at..at + 2], 16).unwrap())
}

/// Each role's words on its colour, and the quiet words on the ground.
fn pairs(theme: &Theme) -> Vec<(String, [u8; 3], [u8; 3])> {
    let roles = theme.iter().filter_map(|(name, on)| {
        let role = name.strip_prefix("on-")?;
        Some((role.to_owned(), *on, theme[role]))
    });
    let quiet = ("quiet".to_owned(), theme["quiet"], theme["ground"]);
    roles.chain([quiet]).collect()
}

fn ratio(one: [u8; 3], other: [u8; 3]) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

fn luminance(rgb: [u8; 3]) -> f64 {
    let linear = rgb.map(|channel| {
        let share = f64::from(channel) / 255.0;
        if share <= 0.04045 {
            share / 12.92
        } else {
            ((share + 0.055) / 1.055).powf(2.4)
        }
    });
    0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
}
