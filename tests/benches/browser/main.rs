//! A phone's side of the measures, in Chromium: what a first visit weighs, how soon the app stands
//! without a network, how long a tap waits for "saved", and what many unsent records cost.

#[path = "../../tests/store_hands/mod.rs"]
mod store_hands;

mod saved;
mod start;
mod unsent;

use pentally_tests::browser::Bundle;

/// How much slower than this machine the phone is taken to be.
const SLOWER: f64 = 4.0;

#[tokio::main]
async fn main() {
    let first_visit = Bundle::built().first_visit_bytes();
    println!("First visit without the scanner, in brotli: {first_visit} bytes.");
    start::measure().await;
    saved::measure().await;
    unsent::measure().await;
}

/// The value that this share of all (0 to 1) does not exceed.
fn quantile(sorted: &[f64], share: f64) -> f64 {
    sorted[((sorted.len() - 1) as f64 * share).round() as usize]
}
