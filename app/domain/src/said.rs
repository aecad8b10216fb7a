//! Words people enter, and whether they said them at all.

use serde::{Deserialize, Serialize};

/// The text had no place to go.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{read}' has {chars} characters; from {low} to {high} are taken")]
pub struct TextError {
    /// The beginning of what was read.
    pub read: String,
    /// How many characters it had, trimmed.
    pub chars: usize,
    /// The fewest that are taken.
    pub low: usize,
    /// The most that are taken.
    pub high: usize,
}

macro_rules! texts {
    ($($(#[$doc:meta])* $name:ident $low:literal ..= $high:literal),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub struct $name(String);

        impl $name {
            /// Trims, folds white space and control characters into single spaces, and checks the length.
            pub fn parse(text: &str) -> Result<Self, TextError> {
                let clean = text.split(|c: char| c.is_whitespace() || c.is_control())
                    .filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ");
                let chars = clean.chars().count();
                if ($low..=$high).contains(&chars) {
                    Ok(Self(clean))
                } else {
                    Err(TextError { read: clean.chars().take(60).collect(), chars, low: $low, high: $high })
                }
            }

            /// The text.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl TryFrom<String> for $name {
            type Error = TextError;
            fn try_from(text: String) -> Result<Self, TextError> {
                Self::parse(&text)
            }
        }

        impl From<$name> for String {
            fn from(text: $name) -> Self {
                text.0
            }
        }
    )+};
}

texts! {
    /// A number or name that is read at a glance: 1 to 40 characters.
    Label 1..=40,
    /// Free text, never needed: 1 to 2,000 characters.
    Remark 1..=2000,
}

impl Label {
    /// As it is compared: case tells neither rooms nor lines apart.
    pub fn folded(&self) -> String {
        self.0.to_lowercase()
    }
}

/// An answer that was not given, taken from a default, or confirmed by a person.
/// The three are different facts and stay so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Said<T> {
    /// Nobody answered.
    #[default]
    Unanswered,
    /// The default stood on the screen and nobody changed it.
    ByDefault(T),
    /// A person chose it.
    Confirmed(T),
}

impl<T> Said<T> {
    /// The value, however it came.
    pub fn value(&self) -> Option<&T> {
        match self {
            Self::Unanswered => None,
            Self::ByDefault(value) | Self::Confirmed(value) => Some(value),
        }
    }

    /// Whether nobody answered.
    pub fn is_unanswered(&self) -> bool {
        matches!(self, Self::Unanswered)
    }
}
