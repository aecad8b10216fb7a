//! One question to the office and its answer, within a time.

use super::moment::now_ms;
use crate::feed::Feed;
use js_sys::{Function, JsString};
use leptos::prelude::Update;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{AbortController, RequestInit, Response};

const PATIENCE_MS: i32 = 30_000;

/// What came back.
#[derive(Debug)]
pub enum Answer {
    /// 200, with its text.
    Text(JsString),
    /// Another status.
    Status(u16),
    /// Nothing, or not within the time.
    Nothing,
}

/// Asks for a path.
pub async fn get(feed: Feed, path: &str) -> Answer {
    ask(feed, path, "GET", None).await
}

/// Hands over a JSON text.
pub async fn post(feed: Feed, path: &str, json: &JsString) -> Answer {
    ask(feed, path, "POST", Some(json)).await
}

async fn ask(feed: Feed, path: &str, method: &str, json: Option<&JsString>) -> Answer {
    let answer = attempt(path, method, json).await.unwrap_or(Answer::Nothing);
    feed.link.update(|link| {
        link.offline = matches!(answer, Answer::Nothing);
        if !link.offline {
            link.last_contact_ms = Some(now_ms());
        }
    });
    answer
}

async fn attempt(path: &str, method: &str, json: Option<&JsString>) -> Result<Answer, JsValue> {
    let window = web_sys::window().ok_or(JsValue::NULL)?;
    let abort = AbortController::new()?;
    let init = RequestInit::new();
    init.set_method(method);
    init.set_signal(Some(&abort.signal()));
    if let Some(json) = json {
        init.set_body(json);
        let headers = js_sys::Object::new();
        js_sys::Reflect::set(&headers, &"content-type".into(), &"application/json".into())?;
        init.set_headers(&headers);
    }
    let give_up = Closure::<dyn FnMut()>::new(move || abort.abort());
    let give_up_js: &Function = give_up.as_ref().unchecked_ref();
    let timer =
        window.set_timeout_with_callback_and_timeout_and_arguments_0(give_up_js, PATIENCE_MS)?;
    let answer = read(JsFuture::from(window.fetch_with_str_and_init(path, &init))).await;
    window.clear_timeout_with_handle(timer);
    answer
}

async fn read(asked: JsFuture) -> Result<Answer, JsValue> {
    let response: Response = asked.await?.dyn_into()?;
    let text = JsFuture::from(response.text()?).await?;
    Ok(if response.ok() {
        Answer::Text(text.dyn_into()?)
    } else {
        Answer::Status(response.status())
    })
}
