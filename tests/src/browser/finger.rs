//! Touching the glass.

use chromiumoxide::cdp::browser_protocol::input::{DispatchTouchEventReturns, TouchPoint};
use chromiumoxide::types::{Command, Method, MethodId};
use serde::Serialize;

/// A finger that comes down or goes up. The library's own command leaves an empty
/// list of fingers out, which Chromium refuses: yet none is what a lifted hand has.
#[derive(Debug, Serialize)]
pub struct Finger {
    r#type: &'static str,
    #[serde(rename = "touchPoints")]
    points: Vec<TouchPoint>,
}

impl Finger {
    /// Comes down at this place (CSS px).
    pub fn down(x: f64, y: f64) -> Self {
        Self {
            r#type: "touchStart",
            points: vec![TouchPoint::new(x, y)],
        }
    }

    /// Goes up.
    pub const fn up() -> Self {
        Self {
            r#type: "touchEnd",
            points: Vec::new(),
        }
    }
}

impl Method for Finger {
    fn identifier(&self) -> MethodId {
        "Input.dispatchTouchEvent".into()
    }
}

impl Command for Finger {
    type Response = DispatchTouchEventReturns;
}
