//! Builds the phone's half and runs the project's errands.
fn main() {}
