//! The screens, one module each.

pub mod bad_moment;
pub mod boar;
pub mod boar_do;
pub mod collect;
pub mod first;
pub mod more;
mod rows;
pub mod scan;
pub mod tag;
pub mod today;

/// Whether an address is an office screen: closer rows, smaller reach.
pub fn is_office(path: &str) -> bool {
    let first = path.split('/').nth(1).unwrap_or_default();
    matches!(first, "boars" | "pens" | "sows" | "log" | "standard" | "people" | "import" | "backup" | "aside")
        || path.ends_with("/edit")
}
