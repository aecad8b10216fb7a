//! The phone's half: embedded at build time, served under hashed names, and kept
//! for phones that still run an older set.

mod kept;
mod negotiate;

use axum::Router;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use rust_embed::RustEmbed;
use serde::Deserialize;
use std::borrow::Cow;
use std::path::Path as FsPath;
use std::sync::{Arc, LazyLock};

pub use kept::{Kept, keep};
use negotiate::Coding;

/// The page around a painted screen.
#[derive(Clone, Copy, Debug)]
pub struct Shell {
    /// All up to the place of the painted screen.
    pub before: &'static str,
    /// All after it.
    pub after: &'static str,
}

/// The embedded set's name, where this binary was built with one.
pub fn set_id() -> Option<&'static str> {
    Some(env!("PENTALLY_SET")).filter(|id| !id.is_empty())
}

/// The shell to put a painted screen into; none in a binary built without a bundle.
pub fn shell() -> Option<Shell> {
    static PAGE: LazyLock<Option<String>> = LazyLock::new(|| {
        let page = Files::get(name_of("shell")?)?.data.into_owned();
        String::from_utf8(page).ok()
    });
    let (before, after) = PAGE.as_deref()?.split_once("<!--paint-->")?;
    Some(Shell { before, after })
}

/// The file name that plays a role in the embedded set, such as `drawings`; it is
/// served as `/b/NAME`.
pub fn name_of(role: &str) -> Option<&'static str> {
    let files = &MANIFEST.as_ref()?.files;
    files
        .iter()
        .find(|file| file.role == role)
        .map(|file| file.name.as_str())
}

/// Serves `/b/NAME`, `/sw.js` and `/app.webmanifest`: this binary's set, and the
/// sets kept from earlier ones.
pub fn router(kept: Kept) -> Router {
    Router::new()
        .route("/b/{name}", get(hashed))
        .route(
            "/sw.js",
            get(async |asked: HeaderMap| named("sw.js", &asked)),
        )
        .route(
            "/app.webmanifest",
            get(async |asked: HeaderMap| named("app.webmanifest", &asked)),
        )
        .with_state(Arc::new(kept))
}

#[derive(RustEmbed)]
#[folder = "../target/bundle"]
#[allow_missing = true]
struct Files;

static MANIFEST: LazyLock<Option<Manifest>> = LazyLock::new(|| {
    let file = Files::get("manifest.json")?;
    serde_json::from_slice(&file.data).ok()
});

/// What the builder says of a set.
#[derive(Deserialize)]
struct Manifest {
    files: Vec<Listed>,
}

#[derive(Deserialize)]
struct Listed {
    role: String,
    name: String,
}

impl Listed {
    /// Whether its name changes with its content, so that it may be cached for ever.
    fn is_hashed(&self) -> bool {
        !matches!(self.role.as_str(), "worker" | "web-app")
    }
}

async fn hashed(
    State(kept): State<Arc<Kept>>,
    Path(name): Path<String>,
    asked: HeaderMap,
) -> Response {
    const FOR_EVER: &str = "public, max-age=31536000, immutable";
    let embedded = MANIFEST.iter().flat_map(|manifest| &manifest.files);
    if embedded
        .filter(|file| file.is_hashed())
        .any(|file| file.name == name)
    {
        return answer(&name, &asked, FOR_EVER, |twin| {
            Files::get(twin).map(|file| file.data)
        });
    }
    let Some(path) = kept.path_of(&name).map(FsPath::to_owned) else {
        return missing();
    };
    let read = move || {
        answer(&name, &asked, FOR_EVER, |twin| {
            std::fs::read(path.with_file_name(twin))
                .ok()
                .map(Cow::Owned)
        })
    };
    tokio::task::spawn_blocking(read)
        .await
        .unwrap_or_else(|_| missing())
}

fn named(name: &str, asked: &HeaderMap) -> Response {
    answer(name, asked, "no-cache", |twin| {
        Files::get(twin).map(|file| file.data)
    })
}

/// The file in the best coding that the asker takes and that is no longer than
/// the file itself. A missing file is a 404, never a page: a page taken for a
/// script is a white screen.
fn answer(
    name: &str,
    asked: &HeaderMap,
    caching: &'static str,
    read: impl Fn(&str) -> Option<Cow<'static, [u8]>>,
) -> Response {
    let Some(plain) = read(name) else {
        return missing();
    };
    let accepted = asked
        .get(header::ACCEPT_ENCODING)
        .and_then(|value| value.to_str().ok());
    let twin = Coding::best(accepted.unwrap_or_default()).and_then(|coding| {
        let data = read(&format!("{name}.{}", coding.ending()))?;
        (data.len() < plain.len()).then_some((coding, data))
    });
    let (coding, data) = twin.map_or((None, plain), |(coding, data)| (Some(coding), data));
    let mut response = data.into_owned().into_response();
    let headers = response.headers_mut();
    headers.insert(
        header::CONTENT_TYPE,
        HeaderValue::from_static(content_type(name)),
    );
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static(caching));
    headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
    if let Some(coding) = coding {
        headers.insert(
            header::CONTENT_ENCODING,
            HeaderValue::from_static(coding.name()),
        );
    }
    response
}

fn missing() -> Response {
    (
        StatusCode::NOT_FOUND,
        "This file belongs to no set that is kept here.\n",
    )
        .into_response()
}

fn content_type(name: &str) -> &'static str {
    match name.rsplit_once('.').map(|(_, ending)| ending) {
        Some("css") => "text/css; charset=utf-8",
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("wasm") => "application/wasm",
        Some("webmanifest") => "application/manifest+json",
        _ => "application/octet-stream",
    }
}
