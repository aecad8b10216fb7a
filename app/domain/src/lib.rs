//! Entries, views, rules and arithmetic of the boar barn: no I/O, no clock, no chance.
//!
//! The log of [`envelope::Entry`]s is the truth. A [`fact::Fact`] is what one entry says, a
//! [`ledger::Ledger`] is the order-free fold of all that is said about one subject, a
//! [`barn::Barn`] is the ledgers at hand, and every page is a pure function of it and of now.

pub mod agreement;
pub mod amend;
pub mod assured;
pub mod barn;
pub mod batch;
pub mod boar;
pub mod check;
pub mod climate;
pub mod code;
pub mod collecting;
pub mod collection;
pub mod coming;
pub mod compare;
pub mod counting;
pub mod curve;
pub mod doses;
pub mod envelope;
pub mod evaluation;
pub mod explain;
pub mod extender;
pub mod fact;
pub mod farm;
pub mod filling;
pub mod gestation;
pub mod heat;
pub mod id;
pub mod intervals;
pub mod json;
pub mod label;
pub mod ledger;
pub mod mixed;
pub mod outbox;
pub mod output;
pub mod pairing;
pub mod plain;
pub mod reckon;
pub mod rest;
pub mod retained;
pub mod said;
pub mod serving;
pub mod sow;
pub mod survival;
pub mod sync;
pub mod tallying;
pub mod teaching;
pub mod time;
pub mod today;
pub mod training;
pub mod units;
pub mod verdict;
pub mod watch;
pub mod writer;
