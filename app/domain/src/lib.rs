//! Entries, views, rules and arithmetic of the boar barn: no I/O, no clock, no chance.
//!
//! The log of [`envelope::Entry`]s is the truth. A `fact::Fact` is what one entry says, a
//! `ledger::Ledger` is the order-free fold of all that is said about one subject, a
//! `barn::Barn` is the ledgers at hand, and every page is a pure function of it and of now.

pub mod code;
pub mod envelope;
pub mod id;
pub mod said;
pub mod time;
