//! Pentally's binary: store, sync, pages and command line.
