//! The screens, one module each.

#[cfg(feature = "office")]
mod answering;
#[cfg(feature = "office")]
pub mod aside;
#[cfg(feature = "office")]
pub mod backup;
pub mod bad_moment;
#[cfg(feature = "office")]
pub mod batch;
#[cfg(feature = "office")]
pub mod bench;
pub mod boar;
pub mod boar_do;
pub mod boars;
#[cfg(feature = "office")]
pub mod checks;
#[cfg(feature = "office")]
pub mod climate;
pub mod collect;
#[cfg(feature = "office")]
pub mod compare;
#[cfg(feature = "office")]
pub mod doses;
#[cfg(not(feature = "office"))]
pub mod elsewhere;
#[cfg(feature = "office")]
pub mod evaluate;
#[cfg(feature = "office")]
pub mod evidence;
#[cfg(feature = "office")]
pub mod extender;
mod fields;
pub mod first;
#[cfg(feature = "office")]
pub mod import;
#[cfg(feature = "office")]
pub mod instruments;
#[cfg(feature = "office")]
pub mod labels;
#[cfg(feature = "office")]
pub mod learn;
#[cfg(feature = "office")]
pub mod log;
pub mod more;
#[cfg(feature = "office")]
pub mod network;
#[cfg(feature = "office")]
pub mod output;
pub mod pair;
pub mod pens;
#[cfg(feature = "office")]
pub mod people;
#[cfg(feature = "office")]
pub mod phones;
mod rows;
pub mod scan;
mod send;
#[cfg(feature = "office")]
pub mod serve;
#[cfg(feature = "office")]
pub mod sows;
#[cfg(feature = "office")]
pub mod standard;
pub mod supervised;
pub mod tag;
pub mod today;
pub mod train;
pub mod training;
#[cfg(feature = "office")]
pub mod watch;
#[cfg(feature = "office")]
pub mod week;
mod which;

/// Whether an address is an office screen: closer rows, smaller reach.
pub fn is_office(path: &str) -> bool {
    let first = path.split('/').nth(1).unwrap_or_default();
    matches!(
        first,
        "boars"
            | "pens"
            | "sows"
            | "log"
            | "standard"
            | "people"
            | "import"
            | "backup"
            | "aside"
            | "phones"
            | "network"
            | "instruments"
    ) || path.ends_with("/edit")
        || path.ends_with("/labels")
        || path == crate::paths::EVIDENCE
        || path == crate::paths::WATCH
        || path == crate::paths::COMPARE
}
