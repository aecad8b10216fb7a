//! Pushes: nothing panics, each entry has its fate, and the store stays whole.

#![no_main]

#[path = "../bodies.rs"]
#[allow(dead_code, reason = "the other target uses the rest")]
mod bodies;

use libfuzzer_sys::fuzz_target;
use pentally_server::store::Store;
use std::cell::RefCell;

/// After so many pushes a new store begins, so that none grows without end.
const PUSHES: u32 = 500;

thread_local! {
    static STORE: RefCell<(u32, Store)> = RefCell::new((0, bodies::store()));
}

fuzz_target!(|body: &[u8]| {
    STORE.with_borrow_mut(|(pushes, store)| {
        if bodies::push(store, body) {
            *pushes += 1;
        }
        if *pushes >= PUSHES {
            store.check().expect("the store is whole");
            (*pushes, *store) = (0, bodies::store());
        }
    });
});
