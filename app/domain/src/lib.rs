//! Entries, views, rules and arithmetic of the boar barn: no I/O, no clock, no chance.
