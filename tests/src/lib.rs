//! Barns, phones and a network that misbehaves.
