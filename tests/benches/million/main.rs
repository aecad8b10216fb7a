//! A barn as it is after years, beside a new one, and one of two boars whose pages hold as much as an
//! old barn's: how the store keeps up with 7,000 entries of one phone against the same rows straight
//! into redb; how a boar's page and the opening of the file fare; and the server as a process.
//!
//! `PENTALLY_BENCH_ENTRIES` sets how old the old barn is; a million without it.

#[path = "../../tests/store_hands/mod.rs"]
mod store_hands;

mod filled;
mod push;
mod server;

use filled::Barn;
use pentally_domain::fact::Subject;
use std::fs;
use std::time::{Duration, Instant};

fn main() {
    let folder = std::env::temp_dir().join(format!("pentally-million-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let old =
        std::env::var("PENTALLY_BENCH_ENTRIES").map_or(1_000_000, |text| text.parse().unwrap());
    let new = Barn::fill(&folder.join("new.redb"), 250, 2_000);
    // Two boars alone, each with years behind him: their pages hold what an old barn's hold.
    let few = Barn::fill(&folder.join("few.redb"), 2, 2_000);
    let old = Barn::fill(&folder.join("old.redb"), 250, old);
    let binary = std::env::var_os("PENTALLY_BINARY").expect("run `cargo xtask bench`");
    let seen = [&new, &few, &old].map(|barn| server::measure(barn, binary.as_ref()));
    server::print(&seen);
    let [page_new, page_few, page_old] = [&new, &few, &old].map(Barn::page);
    println!(
        "a boar's page read from the store: {page_new:?} new, {page_few:?} few boars, {page_old:?} old, {:.2} times few boars'",
        ratio(page_old, page_few)
    );
    let (open_new, open_old) = (new.opening(), old.opening());
    println!(
        "opening the file: {open_new:?} new, {open_old:?} old, {:.2} times",
        ratio(open_old, open_new)
    );
    for barn in [&new, &old] {
        barn.measure_push();
    }
    fs::remove_dir_all(&folder).unwrap();
}

impl Barn {
    fn page(&self) -> Duration {
        let store = self.store();
        let mut times: Vec<_> = self
            .boars
            .iter()
            .cycle()
            .take(1_000)
            .map(|boar| {
                timed(|| {
                    let barn = store.barn_for(&[Subject::Boar(*boar)]).unwrap();
                    assert!(barn.boar(*boar).is_some());
                })
            })
            .collect();
        median(&mut times)
    }

    fn opening(&self) -> Duration {
        let mut times: Vec<_> = (0..10)
            .map(|_| timed(|| assert!(self.store().standing().unwrap().cursor.n > 0)))
            .collect();
        median(&mut times)
    }
}

fn timed(work: impl FnOnce()) -> Duration {
    let began = Instant::now();
    work();
    began.elapsed()
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

fn ratio(a: Duration, b: Duration) -> f64 {
    a.as_secs_f64() / b.as_secs_f64()
}
