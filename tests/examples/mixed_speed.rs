//! How long a fit takes, on the table that `tests/mixed/speed.py` writes and fits by statsmodels.
//!
//! With the Python packages of `tests/mixed/requirements.txt` installed, one command writes the table,
//! fits it by both and prints how many times as fast this is:
//!
//! ```sh
//! python3 tests/mixed/speed.py /tmp/table.csv
//! ```
//!
//! Both print the seconds of the fit, from rows in memory to effects and variances, and what they
//! found, so that it can be seen that it is the same fit. Reading the table is not counted.

use pentally_domain::mixed::{Fit, Normal, Prior, Sums, Totals, Variance, fit};
use std::error::Error;
use std::time::Instant;

/// Group, columns, measured.
type Row = (usize, Vec<f64>, f64);

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args().nth(1);
    let path = path.ok_or("name the table that tests/mixed/speed.py wrote")?;
    let text = std::fs::read_to_string(&path)?;
    let rows: Vec<Row> = text.lines().map(row).collect::<Result<_, _>>()?;
    let columns = rows.first().ok_or("the table is empty")?.1.len();
    say("flat", &rows, &Prior::flat(columns))?;
    say("known", &rows, &known(columns))
}

fn row(line: &str) -> Result<Row, Box<dyn Error>> {
    let mut cells = line.split(',');
    let group = cells.next().ok_or("no group")?.parse()?;
    let y = cells.next().ok_or("nothing measured")?.parse()?;
    let x = cells.map(|cell| cell.parse()).collect::<Result<_, _>>()?;
    Ok((group, x, y))
}

/// A prior of everything, which makes the search one over both variances.
fn known(columns: usize) -> Prior {
    let normal = Normal {
        mean: 0.0,
        sd: 300.0,
    };
    Prior {
        columns: vec![Some(normal); columns],
        between: Some(Variance {
            guess: 900.0,
            weight: 5.0,
        }),
        residual: Some(Variance {
            guess: 2500.0,
            weight: 5.0,
        }),
    }
}

fn say(name: &str, rows: &[Row], prior: &Prior) -> Result<(), Box<dyn Error>> {
    let start = Instant::now();
    let (totals, groups) = summed(rows, prior.columns.len())?;
    let summed = start.elapsed().as_secs_f64();
    let found: Fit = fit(&totals, &groups, prior)?;
    let all = start.elapsed().as_secs_f64();
    println!(
        "{name}: {all:.6} s, of them {summed:.6} s to sum {} rows",
        found.n
    );
    println!("between {} residual {}", found.between, found.residual);
    println!(
        "log-likelihood {} effects {:?}",
        found.log_likelihood, found.beta
    );
    Ok(())
}

fn summed(rows: &[Row], columns: usize) -> Result<(Totals, Vec<Sums>), Box<dyn Error>> {
    let mut totals = Totals::new(columns);
    let most = rows.iter().map(|row| row.0 + 1).max().unwrap_or(0);
    let mut groups = vec![Sums::new(columns); most];
    for (group, x, y) in rows {
        totals.add(x, *y)?;
        groups[*group].add(x, *y)?;
    }
    Ok((totals, groups))
}
