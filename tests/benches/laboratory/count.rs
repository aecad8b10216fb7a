//! How often the 95 % interval of a counted concentration holds the truth.

use pentally_domain::counting::{Bench, Dilution, Errors, coverage};

/// Step and filling errors in %.
const ERRORS: [(f64, f64); 3] = [(1.0, 2.0), (4.7, 4.6), (8.0, 10.0)];
const SPERM: [f64; 5] = [10.0, 30.0, 100.0, 300.0, 1_000.0];

/// What a row is to hold, in %.
const HELD: std::ops::RangeInclusive<f64> = 93.0..=97.0;

/// Prints a row for each set of errors and number of sperm, over fillings and dilutions; whether all hold.
pub fn report() -> bool {
    let runs = u32::try_from(crate::cases(4_000)).unwrap();
    println!("95 % intervals of a concentration; {runs} counts of each bench, four benches a row");
    println!("step %  filling %  sperm a filling  held %  truth below %  above %");
    let mut seed = crate::seed();
    let (mut held, mut all, mut kept) = (0.0, 0.0, true);
    for (step, filling) in ERRORS {
        for sperm_each in SPERM {
            let (mut missed, mut counts) = ([0_u32; 2], 0);
            for fillings in [1, 2] {
                for steps in [1, 2] {
                    seed += 1;
                    let bench = Bench {
                        sperm_each,
                        fillings,
                        dilution: Dilution::new(vec![(1.0, 19.0); steps]).unwrap(),
                        errors: Errors::new(step, filling, false).unwrap(),
                    };
                    let covered = coverage(&bench, runs, seed);
                    missed[0] += covered.truth_below;
                    missed[1] += covered.truth_above;
                    counts += covered.runs;
                }
            }
            let percent = |n: u32| 100.0 * f64::from(n) / f64::from(counts);
            let [below, above] = missed.map(percent);
            let in_it = 100.0 - below - above;
            held += in_it;
            all += 1.0;
            kept &= HELD.contains(&in_it);
            println!("{step:6} {filling:10} {sperm_each:16} {in_it:7.2} {below:14.2} {above:8.2}");
        }
    }
    println!("all together {:.2} %, meant 95", held / all);
    kept
}
