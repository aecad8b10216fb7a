//! Lists, loggers' files and questions to the pure functions: nothing panics.

#![no_main]

#[path = "../bodies.rs"]
#[allow(dead_code, reason = "the other target uses the rest")]
mod bodies;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| bodies::paper(bytes));
