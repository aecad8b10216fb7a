//! The one door for the page's script.

use crate::{Look, Luma, read};
use wasm_bindgen::prelude::wasm_bindgen;

/// Looks at one frame of `width × height` pixels of a canvas (four bytes each), in the way of
/// the frame's number. The text of a tag, else of another symbol, else nothing; nothing too
/// for a frame whose bytes do not fit its size.
#[wasm_bindgen]
pub fn look(rgba: &[u8], width: u32, height: u32, turn: u32) -> Option<String> {
    let frame = Luma::of_rgba(
        rgba,
        usize::try_from(width).ok()?,
        usize::try_from(height).ok()?,
    )?;
    read(&frame, Look::of_turn(turn))
}
