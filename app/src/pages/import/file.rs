//! The bytes of a file that a person chose.

use leptos::ev::Event;

#[cfg(target_arch = "wasm32")]
pub use side::chosen;

/// The bytes of the file chosen last; none where none was.
#[cfg(not(target_arch = "wasm32"))]
pub async fn chosen(_event: Event) -> Option<Vec<u8>> {
    std::future::ready(None).await
}

#[cfg(target_arch = "wasm32")]
mod side {
    use super::Event;
    use js_sys::Uint8Array;
    use leptos::prelude::event_target;
    use wasm_bindgen_futures::JsFuture;
    use web_sys::HtmlInputElement;

    /// The bytes of the file chosen last; none where none was.
    pub async fn chosen(event: Event) -> Option<Vec<u8>> {
        let input: HtmlInputElement = event_target(&event);
        let file = input.files()?.get(0)?;
        let buffer = JsFuture::from(file.array_buffer()).await.ok()?;
        // The same file may be mended and chosen again.
        input.set_value("");
        Some(Uint8Array::new(&buffer).to_vec())
    }
}
