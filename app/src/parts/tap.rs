//! One tap is one tap: a wet finger that bounces, a second tap that lands on the
//! screen after, or one more while the first is still being saved, does nothing.

use leptos::ev::MouseEvent;
use std::cell::Cell;

/// A tap: when, in milliseconds of the page's clock, and where, in CSS px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tap {
    /// Milliseconds of the page's clock.
    pub at_ms: f64,
    /// CSS px from the left.
    pub x_px: i32,
    /// CSS px from the top.
    pub y_px: i32,
}

/// Two taps closer in time are one.
const ONE_TAP_MS: f64 = 400.0;
/// A bouncing finger stays within this; another button is further away.
const ONE_TAP_PX: i32 = 48;

thread_local! {
    static LAST: Cell<Option<Tap>> = const { Cell::new(None) };
    /// How much that taps began is not through yet.
    static UNDER_WAY: Cell<usize> = const { Cell::new(0) };
}

/// While it lives, any tap is the one that began it once more, however late and wherever the screen
/// has moved.
#[derive(Debug)]
pub struct UnderWay(());

impl Tap {
    /// Whether this is `last` once more.
    pub fn repeats(self, last: Self) -> bool {
        let soon = (0.0..ONE_TAP_MS).contains(&(self.at_ms - last.at_ms));
        let near = |one: i32, other: i32| one.abs_diff(other) < ONE_TAP_PX.unsigned_abs();
        soon && near(self.x_px, last.x_px) && near(self.y_px, last.y_px)
    }
}

impl UnderWay {
    /// What the last tap began.
    pub fn begin() -> Self {
        UNDER_WAY.set(UNDER_WAY.get() + 1);
        Self(())
    }
}

impl Drop for UnderWay {
    fn drop(&mut self) {
        UNDER_WAY.set(UNDER_WAY.get() - 1);
    }
}

/// Whether a click repeats the last one taken, on whatever screen that was, or what
/// the last one began is under way; then it is also kept from the router. Clicks without a
/// pointer (a key, a reading aid) are never too soon. Keypads and tallies do not ask.
pub fn is_repeat(click: &MouseEvent) -> bool {
    let tap = Tap {
        at_ms: click.time_stamp(),
        x_px: click.client_x(),
        y_px: click.client_y(),
    };
    let pointed = click.detail() != 0;
    let soon = pointed && LAST.get().is_some_and(|last| tap.repeats(last));
    let repeat = soon || UNDER_WAY.get() > 0;
    if repeat {
        click.prevent_default();
        click.stop_propagation();
    } else if pointed {
        LAST.set(Some(tap));
    }
    repeat
}

#[cfg(test)]
mod tests {
    use super::Tap;

    const FIRST: Tap = Tap {
        at_ms: 1000.0,
        x_px: 100,
        y_px: 500,
    };

    #[test]
    fn within_400_ms_and_a_finger_it_is_the_same_tap() {
        assert!(
            Tap {
                at_ms: 1399.0,
                x_px: 110,
                y_px: 490
            }
            .repeats(FIRST)
        );
        assert!(
            !Tap {
                at_ms: 1400.0,
                ..FIRST
            }
            .repeats(FIRST)
        );
    }

    #[test]
    fn another_button_at_once_is_another_tap() {
        assert!(
            !Tap {
                at_ms: 1100.0,
                x_px: 240,
                y_px: 500
            }
            .repeats(FIRST)
        );
    }

    #[test]
    fn a_new_page_whose_clock_began_again_takes_its_first_tap() {
        assert!(
            !Tap {
                at_ms: 20.0,
                ..FIRST
            }
            .repeats(FIRST)
        );
    }
}
