//! The words a person reads: a key and its figures in, a sentence out.
//!
//! The catalogue in `app/locales` is compiled by `app/build.rs`; a key that does
//! not exist is a compile error here. Screens take [`use_words`], other code
//! [`Words::of`].

mod date;
mod message;
mod number;

pub use number::{DECIMAL_MARK_EN, DECIMAL_MARK_ES, num};

use leptos::prelude::{Get, GetUntracked, RwSignal, Set, Signal, provide_context, use_context};
use leptos::reactive::graph::Observer;
use message::Table;
use serde::{Deserialize, Serialize};

/// The keys of all messages; each constant is documented by its English text.
pub mod key {
    use super::Key;
    include!(concat!(env!("OUT_DIR"), "/keys.rs"));
}

mod table {
    use super::Table;
    include!(concat!(env!("OUT_DIR"), "/table.rs"));
}

/// A language of the screens.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Lang {
    /// English.
    #[default]
    En,
    /// Spanish.
    Es,
}

/// The name of one message; only [`key`] makes them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Key(u16);

/// A value for a variable of a message.
#[derive(Clone, Debug, PartialEq)]
pub enum Arg {
    /// Words or a code, set as they are.
    Text(String),
    /// A whole number; it also decides between "1 dose" and "2 doses".
    Count(i64),
    /// A measured value with its number of decimals.
    Figure(f64, u8),
}

/// The catalogue in the language of the person who reads. Cheap to copy; inside
/// a closure of a view it follows a change of language.
#[derive(Clone, Copy, Debug)]
pub struct Words(Source);

#[derive(Clone, Copy, Debug)]
enum Source {
    Fixed(Lang),
    Live(Signal<Lang>),
}

/// Lets all components below read words in a language that can change; the
/// signal returned changes it.
pub fn provide_words(first: Lang) -> RwSignal<Lang> {
    let lang = RwSignal::new(first);
    provide_context(Words(Source::Live(lang.into())));
    provide_context(lang);
    lang
}

/// The words of this part of the screen; English where none were provided.
pub fn use_words() -> Words {
    use_context().unwrap_or(Words::of(Lang::En))
}

/// Changes the language of all components below the one that provided words.
pub fn switch_language(to: Lang) {
    if let Some(lang) = use_context::<RwSignal<Lang>>() {
        lang.set(to);
    }
}

impl Lang {
    /// Both, in the order in which they are offered.
    pub const ALL: [Self; 2] = [Self::En, Self::Es];

    /// The language of a tag such as `es-MX`, where we have it.
    pub fn from_tag(tag: &str) -> Option<Self> {
        match tag
            .trim()
            .split(['-', '_'])
            .next()?
            .to_ascii_lowercase()
            .as_str()
        {
            "en" => Some(Self::En),
            "es" => Some(Self::Es),
            _ => None,
        }
    }

    /// The best of a list such as `es-MX,es;q=0.9,en;q=0.8` (RFC 9110, 12.5.4).
    pub fn preferred(list: &str) -> Option<Self> {
        let weighed = list.split(',').filter_map(|item| {
            let (tag, weight) = item.split_once(';').unwrap_or((item, "q=1"));
            let weight: f32 = weight.trim().strip_prefix("q=")?.parse().ok()?;
            Some((Self::from_tag(tag)?, weight))
        });
        let mut best: Option<(Self, f32)> = None;
        for (lang, weight) in weighed {
            if weight > best.map_or(0.0, |(_, most)| most) {
                best = Some((lang, weight));
            }
        }
        best.map(|(lang, _)| lang)
    }

    /// The tag for the page's `lang` attribute.
    pub const fn tag(self) -> &'static str {
        match self {
            Self::En => "en",
            Self::Es => "es",
        }
    }
}

impl Words {
    /// Words in one language, for code outside a component.
    pub const fn of(lang: Lang) -> Self {
        Self(Source::Fixed(lang))
    }

    /// The language now; inside a closure of a view this follows a change.
    pub fn lang(&self) -> Lang {
        match self.0 {
            Source::Fixed(lang) => lang,
            // Outside a closure nothing follows, and nothing should warn of it.
            Source::Live(lang) if Observer::get().is_some() => lang.get(),
            Source::Live(lang) => lang.get_untracked(),
        }
    }

    /// The text of a message without variables.
    pub fn tr(&self, key: Key) -> String {
        self.tr_with(key, &[])
    }

    /// The text of a message with its variables filled in. One that is not given
    /// shows as `{name}`.
    pub fn tr_with(&self, key: Key, args: &[(&'static str, Arg)]) -> String {
        let lang = self.lang();
        let table = match lang {
            Lang::En => &table::EN,
            Lang::Es => &table::ES,
        };
        let mut out = String::new();
        message::write(&mut out, table.message(key.0.into()), args, lang);
        out
    }

    /// A figure as this language writes it; see [`num`].
    pub fn num(&self, value: f64, decimals: u8) -> String {
        num(value, decimals, self.lang())
    }
}

impl From<&str> for Arg {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Arg {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

macro_rules! counts {
    ($($kind:ty),*) => {$(
        impl From<$kind> for Arg {
            fn from(count: $kind) -> Self {
                Self::Count(i64::from(count))
            }
        }
    )*};
}
counts!(i64, i32, i16, u32, u16, u8);

impl From<usize> for Arg {
    fn from(count: usize) -> Self {
        Self::Count(i64::try_from(count).unwrap_or(i64::MAX))
    }
}

#[cfg(test)]
mod tests;
