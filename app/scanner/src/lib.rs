//! Reads a pen tag from a camera frame, in the browser.
//!
//! A camera gives many frames and a phone has little time for each, so a call takes one
//! [`Look`] at one frame, and the caller goes through [`Look::ALL`] frame by frame. Which
//! looks are worth their time was measured on blurred, tilted and dirty tags; a look at half
//! scale added nothing. Sharpening ends in a threshold of its own: with the decoder's, noise
//! and straw look like finder patterns, and one frame took seconds.

use pentally_domain::code::Symbol;
use rqrr::{BitGrid, Grid, PreparedImage};

mod luma;
#[cfg(target_arch = "wasm32")]
mod wasm;

pub use luma::Luma;

/// One way to make a frame black and white.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// As it is, with the decoder's own running threshold.
    Plain,
    /// Black is what is under 65 % of its surroundings: mud turns white, the finder patterns
    /// that it touched come apart from it.
    Darkest,
    /// The middle of the frame at twice its size: small or far tags.
    Enlarged,
    /// Black is what is under 80 % of its surroundings.
    Darker,
    /// As [`Look::Enlarged`], edges drawn sharper: far and blurred tags.
    Sharpened,
}

impl Look {
    /// Every look, in the order worth trying.
    pub const ALL: [Self; 5] = [
        Self::Plain,
        Self::Darkest,
        Self::Enlarged,
        Self::Darker,
        Self::Sharpened,
    ];

    /// The look for the frame of this number, so that five frames see all of them.
    pub const fn of_turn(turn: u32) -> Self {
        Self::ALL[turn as usize % Self::ALL.len()]
    }
}

/// What [`Look::Enlarged`] takes from the middle of a frame, pixels across and down.
const MIDDLE: (usize, usize) = (640, 480);

/// The text of a tag in the frame; else that of another symbol, so that the screen can say
/// that it is no tag; else `None`.
pub fn read(frame: &Luma, look: Look) -> Option<String> {
    match look {
        Look::Plain => symbols(frame),
        Look::Darkest => symbols_in_black(frame, &frame.darker_than_near(frame.width() / 16, 65)),
        Look::Enlarged => symbols(&frame.middle(MIDDLE).doubled()),
        Look::Darker => symbols_in_black(frame, &frame.darker_than_near(frame.width() / 26, 80)),
        Look::Sharpened => {
            let frame = frame.middle(MIDDLE).doubled().sharpened(4);
            symbols_in_black(&frame, &frame.darker_than_near(frame.width() / 26, 70))
        }
    }
}

/// Takes every look until one finds a tag: for a still picture.
pub fn read_still(frame: &Luma) -> Option<String> {
    pick(Look::ALL.into_iter().filter_map(|look| read(frame, look)))
}

fn symbols(frame: &Luma) -> Option<String> {
    let at = |x, y| frame.at(x, y);
    let mut image = PreparedImage::prepare_from_greyscale(frame.width(), frame.height(), at);
    text_of(&image.detect_grids())
}

fn symbols_in_black(frame: &Luma, black: &[bool]) -> Option<String> {
    let at = |x, y| black[y * frame.width() + x];
    let mut image = PreparedImage::prepare_from_bitmap(frame.width(), frame.height(), at);
    text_of(&image.detect_grids())
}

fn text_of(grids: &[Grid<impl BitGrid>]) -> Option<String> {
    pick(grids.iter().filter_map(|grid| Some(grid.decode().ok()?.1)))
}

/// The first text that is a tag's, else the first.
fn pick(texts: impl Iterator<Item = String>) -> Option<String> {
    let mut other = None;
    for text in texts {
        if Symbol::scanned(&text).is_ok() {
            return Some(text);
        }
        other.get_or_insert(text);
    }
    other
}
