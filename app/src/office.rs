//! Questions only the office can answer: first start, imports, other phones, the log.
//!
//! These need a network and say so; everything the barn needs goes through [`crate::device`].

use pentally_domain::json;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

/// Why the office gave no answer that helps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OfficeError {
    /// It was not reached.
    NotReached,
    /// It answered with a problem document.
    Refused(Problem),
    /// It answered with something that does not read.
    Says(String),
}

/// What is wrong, as the office says it (RFC 9457).
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Problem {
    /// The kind.
    #[serde(rename = "type")]
    pub kind: String,
    /// Which of several things of the kind it is; younger than the kind, and not always said.
    #[serde(default)]
    pub code: Option<String>,
    /// The same in English.
    pub detail: String,
}

/// Asks the office for a path; the answer is its text.
#[cfg(not(target_arch = "wasm32"))]
pub async fn ask(_method: &str, _path: &str, _body: Option<Body>) -> Result<String, OfficeError> {
    std::future::ready(Err(OfficeError::NotReached)).await
}

/// What is sent along.
#[derive(Debug, Clone)]
pub enum Body {
    /// A JSON text.
    Json(String),
    /// The bytes of a file.
    File(Vec<u8>),
}

/// Says something at a path; the answer is its text.
pub async fn post(path: &str, said: &impl Serialize) -> Result<String, OfficeError> {
    let said = serde_json::to_string(said).map_err(|e| OfficeError::Says(e.to_string()))?;
    ask("POST", path, Some(Body::Json(said))).await
}

/// Asks for a path and reads the answer.
#[cfg(feature = "office")]
pub async fn get<T: DeserializeOwned>(path: &str) -> Result<T, OfficeError> {
    read(&ask("GET", path, None).await?)
}

/// Reads an answer.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, OfficeError> {
    json::read(text).map_err(|e| OfficeError::Says(e.to_string()))
}

/// Now, by this device's clock (ms since 1970); 0 where pages are only painted.
pub fn now_ms() -> i64 {
    side::now_ms()
}

/// The IANA name of the zone this device is set to.
pub fn zone_name() -> String {
    side::zone_name()
}

/// Offers a text as a file to keep.
pub fn keep_file(name: &str, text: &str) {
    side::keep_file(name, text);
}

#[cfg(not(target_arch = "wasm32"))]
mod side {
    pub const fn now_ms() -> i64 {
        0
    }
    pub fn zone_name() -> String {
        "UTC".to_owned()
    }
    pub const fn keep_file(_name: &str, _text: &str) {}
}

#[cfg(target_arch = "wasm32")]
pub use side::ask;

#[cfg(target_arch = "wasm32")]
mod side {
    use super::{Body, OfficeError};
    use js_sys::{Array, Intl, Object, Reflect, Uint8Array};
    use wasm_bindgen::{JsCast, JsValue};
    use wasm_bindgen_futures::JsFuture;
    use web_sys::{Blob, HtmlAnchorElement, RequestInit, Response, Url};

    #[allow(
        clippy::cast_possible_truncation,
        reason = "a browser's clock counts whole milliseconds below 2^53"
    )]
    pub fn now_ms() -> i64 {
        js_sys::Date::now() as i64
    }

    pub fn zone_name() -> String {
        let format = Intl::DateTimeFormat::new(&Array::new(), &Object::new());
        let zone = Reflect::get(&format.resolved_options(), &"timeZone".into());
        zone.ok()
            .and_then(|z| z.as_string())
            .unwrap_or_else(|| "UTC".to_owned())
    }

    /// Asks the office for a path; the answer is its text.
    pub async fn ask(method: &str, path: &str, body: Option<Body>) -> Result<String, OfficeError> {
        let (ok, text) = attempt(method, path, body)
            .await
            .map_err(|_| OfficeError::NotReached)?;
        if ok {
            return Ok(text);
        }
        Err(match serde_json::from_str(&text) {
            Ok(problem) => OfficeError::Refused(problem),
            Err(_) => OfficeError::Says(text),
        })
    }

    async fn attempt(
        method: &str,
        path: &str,
        body: Option<Body>,
    ) -> Result<(bool, String), JsValue> {
        let window = web_sys::window().ok_or(JsValue::NULL)?;
        let init = RequestInit::new();
        init.set_method(method);
        let headers = Object::new();
        let kind = match &body {
            Some(Body::Json(_)) => "application/json",
            Some(Body::File(_)) => "application/octet-stream",
            None => "text/plain",
        };
        Reflect::set(&headers, &"content-type".into(), &kind.into())?;
        init.set_headers(&headers);
        match body {
            Some(Body::Json(text)) => init.set_body(&text.into()),
            Some(Body::File(bytes)) => init.set_body(&Uint8Array::from(&bytes[..])),
            None => {}
        }
        let response: Response = JsFuture::from(window.fetch_with_str_and_init(path, &init))
            .await?
            .dyn_into()?;
        let text = JsFuture::from(response.text()?)
            .await?
            .as_string()
            .unwrap_or_default();
        Ok((response.ok(), text))
    }

    pub fn keep_file(name: &str, text: &str) {
        // A browser that offers no download has no place to keep the file either.
        let _ = offer(name, text);
    }

    fn offer(name: &str, text: &str) -> Result<(), JsValue> {
        let blob = Blob::new_with_str_sequence(&Array::of1(&text.into()))?;
        let address = Url::create_object_url_with_blob(&blob)?;
        let document = web_sys::window()
            .and_then(|w| w.document())
            .ok_or(JsValue::NULL)?;
        let link: HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
        link.set_href(&address);
        link.set_download(name);
        link.click();
        Url::revoke_object_url(&address)
    }
}
