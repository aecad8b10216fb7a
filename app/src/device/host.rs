//! The host's side: pages are painted for reading, nothing is saved.

use super::{Draft, SaveError};
use crate::feed::{Feed, Hello};
use pentally_domain::envelope::Entry;
use pentally_domain::id::{DeviceId, EntryId, PersonId};
use std::future::{Future, Ready, ready};

type Not<T> = Ready<Result<T, SaveError>>;

fn not_here<T>() -> Not<T> {
    ready(Err(SaveError::NotHere))
}

pub(super) const fn moment() -> (i64, [u8; 10]) {
    (0, [0; 10])
}

pub(super) fn start(_: Feed) -> impl Future<Output = ()> {
    ready(())
}

pub(super) fn hello() -> Ready<Option<Hello>> {
    ready(None)
}

pub(super) fn forget_farm() -> Not<()> {
    not_here()
}

pub(super) fn save(_: Vec<Draft>, _: Option<&str>) -> Not<Vec<Entry>> {
    not_here()
}

pub(super) fn draft_text(_: &str) -> Not<Option<String>> {
    not_here()
}

pub(super) fn put_draft_text(_: &str, _: String) -> Not<()> {
    not_here()
}

pub(super) fn remove_draft(_: &str) -> Not<()> {
    not_here()
}

pub(super) fn set_name(_: EntryId, _: Option<String>) -> Not<()> {
    not_here()
}

pub(super) fn pick_person(_: Option<PersonId>) -> Not<()> {
    not_here()
}

pub(super) fn identity() -> Ready<Option<DeviceId>> {
    ready(None)
}

pub(super) const fn wake() {}

pub(super) fn held_lines() -> Not<String> {
    not_here()
}

pub(super) fn ask_persist() -> Ready<Option<bool>> {
    ready(None)
}

pub(super) const fn entry_allowed() -> bool {
    false
}

pub(super) const fn take_update() {}

pub(super) const fn to_office(_: &str) {}

pub(super) fn is_trusted() -> Ready<bool> {
    ready(false)
}

pub(super) const fn is_beside_home_screen() -> bool {
    false
}

pub(super) const fn load_page(_: Option<&str>) {}

pub(super) const fn can_shake() -> bool {
    false
}

pub(super) const fn shake() {}

#[cfg(feature = "office")]
pub(super) const fn has_voice(_: &str) -> bool {
    false
}

#[cfg(feature = "office")]
pub(super) const fn read_aloud(_: &str, _: &str) {}

#[cfg(feature = "office")]
pub(super) const fn signal(_: f64, _: u32, _: bool) {}

#[cfg(feature = "office")]
pub(super) const fn keep_lit(_: bool) {}

pub(super) const fn bring_into_view(_: &str) {}

pub(super) fn pause(_: i32) -> Ready<()> {
    ready(())
}

pub(super) const fn office_missing() -> bool {
    false
}
