//! The hand-written page sources, filled with the names of a set.

use crate::trouble::Trouble;

/// A source under `app/bundle/page/`.
pub struct Page {
    /// Its file name.
    pub name: &'static str,
    /// Its text, with `%name%` where a name of the set belongs.
    pub text: &'static str,
}

/// Starts the app.
pub const BOOT: Page = Page {
    name: "boot.js",
    text: include_str!("../page/boot.js"),
};
/// Takes frames from the camera.
pub const SCAN: Page = Page {
    name: "scan.js",
    text: include_str!("../page/scan.js"),
};
/// Reads them, on a thread of its own.
pub const SCAN_WORKER: Page = Page {
    name: "scan-worker.js",
    text: include_str!("../page/scan-worker.js"),
};
/// The shell that every navigation gets.
pub const SHELL: Page = Page {
    name: "shell.html",
    text: include_str!("../page/shell.html"),
};
/// The service worker.
pub const WORKER: Page = Page {
    name: "sw.js",
    text: include_str!("../page/sw.js"),
};
/// The web app manifest.
pub const WEB_APP: Page = Page {
    name: "app.webmanifest",
    text: include_str!("../page/app.webmanifest"),
};
/// The icon, taken as it is.
pub const ICON: &str = include_str!("../page/icon.svg");
/// The same drawing for iPhones, which take no vector: 180 × 180.
pub const ICON_180: &[u8] = include_bytes!("../page/icon-180.png");

impl Page {
    /// The text with every `%name%` replaced by what `named` gives for it.
    pub fn filled(&self, named: impl Fn(&str) -> Option<String>) -> Result<String, Trouble> {
        let mut out = String::new();
        let mut rest = self.text;
        while let Some((before, name, after)) = next_name(rest) {
            let unfilled = || Trouble::Unfilled {
                page: self.name,
                name: name.to_owned(),
            };
            out.push_str(before);
            out.push_str(&named(name).ok_or_else(unfilled)?);
            rest = after;
        }
        out.push_str(rest);
        Ok(out)
    }
}

/// What stands before the first `%name%`, the name, and what stands after it.
fn next_name(text: &str) -> Option<(&str, &str, &str)> {
    let mut from = 0;
    while let Some(open) = text[from..].find('%').map(|at| from + at) {
        let inner = &text[open + 1..];
        let len = inner
            .find(|c: char| !c.is_ascii_lowercase() && c != '-')
            .unwrap_or(inner.len());
        if len > 0 && inner[len..].starts_with('%') {
            return Some((&text[..open], &inner[..len], &inner[len + 1..]));
        }
        from = open + 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::Page;

    fn fill(text: &'static str) -> Result<String, crate::trouble::Trouble> {
        Page {
            name: "a page",
            text,
        }
        .filled(|name| (name == "css").then(|| "/b/x.css".to_owned()))
    }

    #[test]
    fn a_name_is_filled_and_a_lone_sign_stays() {
        assert_eq!(fill("100 % <%css%> 5%").unwrap(), "100 % </b/x.css> 5%");
    }

    #[test]
    fn an_unknown_name_is_said() {
        let why = fill("%csss%").unwrap_err().to_string();
        assert_eq!(
            why,
            "app/bundle/page/a page names %csss%, which is not in the set."
        );
    }
}
