//! The one table of everything the server answers to: it yields the router and the `OpenAPI`
//! document together, so that neither can forget the other.

mod rows;

use super::house::House;
use crate::access::Who;
use axum::routing::MethodRouter;
use pentally_domain::pairing::Role;
pub use rows::{FILE, TABLE};

/// Who may ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum May {
    /// Anybody who reaches the server.
    Anyone,
    /// A device with this part, or with one that may more; see [`Role`].
    As(Role),
    /// A device that was let in, also one that was shut out since: what it brings is set aside.
    Bring,
}

impl May {
    /// Who that is, in a word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Anyone => "anyone",
            Self::As(Role::Barn) => "barn",
            Self::As(Role::Laboratory) => "laboratory",
            Self::As(Role::Office) => "office",
            Self::Bring => "any device that was ever let in",
        }
    }

    /// Whether whoever asks may.
    pub fn admits(self, who: &Who) -> bool {
        match self {
            Self::Anyone => true,
            Self::As(least) => who.role() >= Some(least),
            Self::Bring => !matches!(who, Who::Nobody),
        }
    }
}

/// One row.
pub struct Route {
    /// The path, with `{names}`.
    pub path: &'static str,
    /// The method, in lower case.
    pub method: &'static str,
    /// Who may ask.
    pub may: May,
    /// What it does, in one sentence.
    pub summary: &'static str,
    /// What stands behind the `?`: name, and what it means.
    pub query: &'static [(&'static str, &'static str)],
    /// What the body holds, if there is one, and the most bytes of it that are taken.
    pub body: Option<(&'static str, usize)>,
    /// The media type of the answer, and what it holds.
    pub answer: (&'static str, &'static str),
    /// Makes the handler.
    pub handler: fn() -> MethodRouter<House>,
}
