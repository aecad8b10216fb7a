//! The device's clock, its chance, and waiting.

use js_sys::{Date, Function, Promise};
use pentally_domain::time::{Stamp, TimeError};
use std::future::poll_fn;
use std::pin::pin;
use std::task::Poll;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Now, by this phone (ms since 1970).
#[allow(
    clippy::cast_possible_truncation,
    reason = "a browser's clock counts whole milliseconds below 2^53"
)]
pub fn now_ms() -> i64 {
    Date::now() as i64
}

/// An instant with the offset this phone believes in.
#[allow(
    clippy::cast_possible_truncation,
    reason = "offsets lie within a day of minutes"
)]
pub fn stamp(ms: i64) -> Result<Stamp, TimeError> {
    let offset_min = -Date::new(&JsValue::from_f64(ms as f64)).get_timezone_offset();
    Stamp::new(ms, offset_min as i16)
}

/// Ten random bytes.
pub fn random() -> [u8; 10] {
    let mut bytes = [0; 10];
    let filled = web_sys::window().and_then(|w| w.crypto().ok());
    if filled.is_none_or(|c| c.get_random_values_with_u8_array(&mut bytes).is_err()) {
        bytes.fill_with(weaker);
    }
    bytes
}

/// Waits so many ms.
pub async fn sleep(ms: i32) {
    let waited = Promise::new(&mut |resolve: Function, _| {
        if let Some(window) = web_sys::window() {
            // Without a timer there is no waiting: the promise stays open and nothing goes on.
            let _ = window.set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, ms);
        }
    });
    let _ = JsFuture::from(waited).await;
}

/// Waits for something, but not longer than so many ms.
pub async fn within<T>(ms: i32, hoped: impl Future<Output = T>) -> Option<T> {
    let (mut hoped, mut over) = (pin!(hoped), pin!(sleep(ms)));
    poll_fn(|context| {
        if let Poll::Ready(value) = hoped.as_mut().poll(context) {
            return Poll::Ready(Some(value));
        }
        over.as_mut().poll(context).map(|()| None)
    })
    .await
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "below 256 and not negative"
)]
fn weaker() -> u8 {
    (js_sys::Math::random() * 256.0) as u8
}
