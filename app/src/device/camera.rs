//! The camera over a tag: what it reads, and why it does not.
//!
//! `app/bundle/page/scan.js` holds the camera and hands its frames to a worker; nothing of that
//! is in the app's own code, which a first visit has to fetch.

/// What the camera tells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Told {
    /// The picture is there.
    Looking,
    /// The text of a symbol, of a tag or not.
    Read(String),
    /// Nothing will be read.
    Fault(Fault),
}

/// Why nothing will be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// The person or the browser does not allow it.
    Refused,
    /// There is no camera.
    Missing,
    /// It did not start, or another app took it.
    Busy,
    /// A page on plain http has no camera.
    NotSecure,
    /// The reader of tags did not load.
    NotLoaded,
}

pub use side::{Watching, watch};

#[cfg(not(target_arch = "wasm32"))]
mod side {
    use super::Told;
    use leptos::web_sys::HtmlVideoElement;

    /// The camera at work.
    #[derive(Debug)]
    pub struct Watching;

    /// The painted page has no camera.
    pub fn watch(_: &HtmlVideoElement, _: impl Fn(Told) + 'static) -> Option<Watching> {
        None
    }
}

#[cfg(target_arch = "wasm32")]
mod side {
    use super::{Fault, Told};
    use leptos::web_sys::HtmlVideoElement;
    use wasm_bindgen::JsValue;
    use wasm_bindgen::prelude::{Closure, wasm_bindgen};
    use web_sys::{AbortController, AbortSignal};

    #[wasm_bindgen]
    extern "C" {
        #[wasm_bindgen(catch, js_namespace = ["window", "pentally"], js_name = watch)]
        fn begin(
            video: &HtmlVideoElement,
            tell: &JsValue,
            over: &AbortSignal,
        ) -> Result<JsValue, JsValue>;
    }

    /// The camera at work; it stops when this is dropped.
    #[derive(Debug)]
    pub struct Watching(AbortController);

    impl Drop for Watching {
        fn drop(&mut self) {
            self.0.abort();
        }
    }

    /// Shows the camera in the page and tells what it reads, till the answer is dropped.
    pub fn watch(video: &HtmlVideoElement, told: impl Fn(Told) + 'static) -> Option<Watching> {
        let watching = Watching(AbortController::new().ok()?);
        let tell = move |what: String, text: Option<String>| told(read(&what, text));
        let tell = Closure::<dyn Fn(String, Option<String>)>::new(tell).into_js_value();
        begin(video, &tell, &watching.0.signal()).ok()?;
        Some(watching)
    }

    /// The words of `scan.js`.
    fn read(what: &str, text: Option<String>) -> Told {
        Told::Fault(match (what, text) {
            ("looking", _) => return Told::Looking,
            ("read", Some(text)) => return Told::Read(text),
            ("refused", _) => Fault::Refused,
            ("missing", _) => Fault::Missing,
            ("busy", _) => Fault::Busy,
            ("not secure", _) => Fault::NotSecure,
            _ => Fault::NotLoaded,
        })
    }
}
