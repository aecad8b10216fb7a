//! An invented farm, told from a seed.
