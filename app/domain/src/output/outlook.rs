//! What each boar is expected to give, fitted on the herd's own entries, and carried to phones.
//!
//! The office fits now and then. A phone takes an [`Outlook`] and the boar's records it holds: what
//! came after the fit is added to his sums there, so each ejaculate is shown beside what was
//! expected of it at once, without network.

use super::columns::LINES_MAX;
use super::{Columns, Given, History, Measure};
use crate::id::{BoarId, EntryId};
use crate::mixed::{Fit, FitError, Predicted, Prior, RowError, Sums, Totals, fit};
use crate::said::Label;
use crate::time::{DAY_MS, Zone};
use crate::watch::{Chart, Signal};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// See the module's words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Outlook {
    /// When it was fitted, in ms since 1970; none for what is known before any entry.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub made_at_ms: Option<i64>,
    /// The columns.
    pub columns: Columns,
    /// One fit for each of [`Measure::ALL`].
    pub fits: Vec<Fit>,
    /// Each boar as he was then.
    pub boars: BTreeMap<BoarId, Past>,
    /// How hot the days before were; see [`crate::climate::carried()`].
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub heat: BTreeMap<NaiveDate, f64>,
}

/// A boar's ejaculates up to a fit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Past {
    /// The last of them that he was followed through.
    pub through: Option<(i64, EntryId)>,
    /// His rows, summed, for each of [`Measure::ALL`].
    pub sums: Vec<Sums>,
    /// His charts.
    pub charts: Vec<Chart>,
    /// The signals of the last months before the fit.
    pub signals: Vec<Signal>,
}

/// One ejaculate beside what was expected of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// What he gave.
    pub given: Given,
    /// What was expected, of each of [`Measure::ALL`], on its scale.
    pub expected: Vec<Predicted>,
    /// By how many standard deviations it was worse than a rested boar in the cool would have given.
    pub worse: [Option<f64>; 4],
}

/// Where the histories of a herd are: in a store that is larger than memory, perhaps.
pub trait Herd {
    /// Why they could not be read.
    type Error: From<FitError>;

    /// The line of each boar who has one.
    fn lines(&self) -> Result<Vec<Label>, Self::Error>;

    /// Shows every boar's history, one at a time, each time in the same order.
    fn each(&self, see: &mut Sees<'_, Self::Error>) -> Result<(), Self::Error>;
}

/// Whoever looks at one history after the other.
pub type Sees<'a, E> = dyn FnMut(BoarId, &History) -> Result<(), E> + 'a;

impl Herd for BTreeMap<BoarId, History> {
    type Error = FitError;

    fn lines(&self) -> Result<Vec<Label>, FitError> {
        Ok(self.values().filter_map(History::line).cloned().collect())
    }

    fn each(&self, see: &mut Sees<'_, FitError>) -> Result<(), FitError> {
        self.iter()
            .try_for_each(|(boar, history)| see(*boar, history))
    }
}

/// Signals older than this are history, in days.
const SIGNALS_DAYS: i64 = 120;

/// The bench has so many days to say what it found in an ejaculate (common practice, no source: doses
/// are made on the same day).
const BENCH_DAYS: i64 = 2;

/// Whether the bench may still say of an ejaculate what no chart has seen. Then he is left where he
/// stood before it, and phones go on from there: what a fit has gone past is charted no more.
fn waits(given: &Given, made_at_ms: i64) -> bool {
    let from_bench = |m: &Measure| *m != Measure::Volume;
    let unseen = |m| given.value(m).is_none();
    made_at_ms - given.at_ms < BENCH_DAYS * DAY_MS
        && Measure::ALL.into_iter().filter(from_bench).all(unseen)
}

/// Nothing can go wrong with the prior that the program brings; if it did, nothing is expected.
fn nothing() -> Fit {
    Fit {
        beta: vec![],
        cov: vec![],
        between: 1.0,
        residual: 1.0,
        n: 0,
        groups: 0,
        log_likelihood: 0.0,
    }
}

impl Outlook {
    /// What is known before any entry.
    pub fn start() -> Self {
        let columns = Columns::default();
        let of = |measure| {
            let totals = Totals::new(columns.count());
            fit(&totals, &[], &columns.prior(measure)).unwrap_or_else(|_| nothing())
        };
        Self {
            made_at_ms: None,
            fits: Measure::ALL.map(of).into(),
            columns,
            boars: BTreeMap::new(),
            heat: BTreeMap::new(),
        }
    }

    /// Fits the herd's entries. `hot_days` says for one of the farm's days how many hot days may still
    /// show then.
    pub fn fitted<H: Herd>(
        herd: &H,
        zone: &Zone,
        hot_days: &dyn Fn(NaiveDate) -> Option<f64>,
        made_at_ms: i64,
    ) -> Result<Self, H::Error> {
        let columns = Columns {
            lines: commonest(herd.lines()?),
        };
        let mut rows = Rows::new(&columns);
        herd.each(&mut |_, history| Ok(rows.take(history, &columns, zone, hot_days)?))?;
        let mut outlook = Self {
            made_at_ms: Some(made_at_ms),
            fits: rows.fits(&columns)?,
            columns,
            boars: BTreeMap::new(),
            heat: BTreeMap::new(),
        };
        let mut boars = BTreeMap::new();
        herd.each(&mut |boar, history| {
            let mut past = outlook.nobody();
            let given = history.given(zone, hot_days).into_iter();
            for given in given.take_while(|given| !waits(given, made_at_ms)) {
                outlook.step(&mut past, given).map_err(FitError::from)?;
            }
            let recent = |s: &Signal| made_at_ms - s.at_ms < SIGNALS_DAYS * DAY_MS;
            past.signals.retain(recent);
            boars.insert(boar, past);
            Ok(())
        })?;
        outlook.boars = boars;
        Ok(outlook)
    }

    /// A boar's ejaculates at hand beside what was expected of each, oldest first, and where he
    /// stands after them.
    pub fn beside(&self, boar: BoarId, given: Vec<Given>) -> Result<(Vec<Beside>, Past), RowError> {
        let known = self.boars.get(&boar).cloned();
        let mut past = known.unwrap_or_else(|| self.nobody());
        let through = past.through;
        let (old, new): (Vec<_>, Vec<_>) = given
            .into_iter()
            .partition(|g| Some((g.at_ms, g.collection)) <= through);
        let mut list = self.before_fit(&past, old)?;
        for given in new {
            list.push(self.step(&mut past, given)?);
        }
        Ok((list, past))
    }

    /// What an ejaculate would be like, of each of [`Measure::ALL`], on its scale.
    pub fn forecast(&self, past: &Past, on: &super::Bearing) -> Result<Vec<Predicted>, RowError> {
        let row = self.columns.row(on);
        let of = |(fit, sums): (&Fit, &Sums)| fit.predict(&row, sums);
        self.fits.iter().zip(&past.sums).map(of).collect()
    }

    /// What is the boar's own of a measure, beside what bears on all, on the measure's scale.
    pub fn own(&self, measure: Measure, past: &Past) -> Result<Predicted, RowError> {
        self.fits[measure.place()].effect(&past.sums[measure.place()])
    }

    /// A boar of whom nothing is known.
    pub fn nobody(&self) -> Past {
        Past {
            through: None,
            sums: none(&self.columns),
            charts: vec![Chart::default(); Measure::ALL.len()],
            signals: vec![],
        }
    }

    /// Ejaculates that the fit has seen: each is shown as it was expected before it. A record
    /// that was corrected since is off by what was corrected, until the next fit.
    fn before_fit(&self, past: &Past, old: Vec<Given>) -> Result<Vec<Beside>, RowError> {
        let mut sums = past.sums.clone();
        let mut list = vec![];
        for given in old.into_iter().rev() {
            let row = self.columns.row(&given.bearing);
            for measure in Measure::ALL {
                let Some(y) = given.scaled(measure) else {
                    continue;
                };
                let sums = &mut sums[measure.place()];
                if sums.take_away(&row, y).is_err() {
                    // Measured after the fit.
                    *sums = Sums::new(self.columns.count());
                }
            }
            list.push(self.against(&sums, given)?);
        }
        list.reverse();
        Ok(list)
    }

    /// Takes in one ejaculate.
    fn step(&self, past: &mut Past, given: Given) -> Result<Beside, RowError> {
        let beside = self.against(&past.sums, given)?;
        let given = &beside.given;
        let row = self.columns.row(&given.bearing);
        let watched = self.columns.row_watched(&given.bearing);
        for measure in Measure::ALL {
            let place = measure.place();
            let (Some(y), Some(worse)) = (given.scaled(measure), beside.worse[place]) else {
                continue;
            };
            let apart = y - self.fits[place].predict(&watched, &past.sums[place])?.mean;
            let fall = past.charts[place].next(given.at_ms, worse, apart);
            past.signals.extend(fall.map(|fall| Signal {
                measure,
                collection: given.collection,
                at_ms: given.at_ms,
                fall,
            }));
            past.sums[place].add(&row, y)?;
        }
        past.through = Some((given.at_ms, given.collection));
        Ok(beside)
    }

    fn against(&self, sums: &[Sums], given: Given) -> Result<Beside, RowError> {
        let row = self.columns.row(&given.bearing);
        let watched = self.columns.row_watched(&given.bearing);
        let (mut expected, mut worse) = (vec![], [None; 4]);
        for ((measure, fit), sums) in Measure::ALL.into_iter().zip(&self.fits).zip(sums) {
            expected.push(fit.predict(&row, sums)?);
            if let Some(y) = given.scaled(measure) {
                let watched = fit.predict(&watched, sums)?;
                worse[measure.place()] = Some(measure.worse(watched.distance(y)));
            }
        }
        Ok(Beside {
            given,
            expected,
            worse,
        })
    }
}

/// The rows of a herd, summed.
struct Rows {
    totals: Vec<Totals>,
    boars: Vec<Vec<Sums>>,
}

impl Rows {
    fn new(columns: &Columns) -> Self {
        Self {
            totals: Measure::ALL.map(|_| Totals::new(columns.count())).into(),
            boars: vec![vec![]; Measure::ALL.len()],
        }
    }

    fn take(
        &mut self,
        history: &History,
        columns: &Columns,
        zone: &Zone,
        hot_days: &dyn Fn(NaiveDate) -> Option<f64>,
    ) -> Result<(), FitError> {
        let mut sums = none(columns);
        for given in history.given(zone, hot_days) {
            let row = columns.row(&given.bearing);
            for measure in Measure::ALL {
                let Some(y) = given.scaled(measure) else {
                    continue;
                };
                self.totals[measure.place()].add(&row, y)?;
                sums[measure.place()].add(&row, y)?;
            }
        }
        for (boars, sums) in self.boars.iter_mut().zip(sums) {
            boars.push(sums);
        }
        Ok(())
    }

    fn fits(&self, columns: &Columns) -> Result<Vec<Fit>, FitError> {
        let of = |measure: Measure| {
            let (place, prior) = (measure.place(), columns.prior(measure));
            let fitted = fit(&self.totals[place], &self.boars[place], &prior);
            or_known(fitted, columns, &prior)
        };
        Measure::ALL.into_iter().map(of).collect()
    }
}

/// Where a herd's figures of one measure fit nothing, what is known before any entry stands in,
/// told by its `n` of 0, and the other measures keep their fits.
fn or_known(
    fitted: Result<Fit, FitError>,
    columns: &Columns,
    prior: &Prior,
) -> Result<Fit, FitError> {
    match fitted {
        Err(FitError::DidNotConverge { .. } | FitError::NoResidual | FitError::BetweenUnknown) => {
            fit(&Totals::new(columns.count()), &[], prior)
        }
        other => other,
    }
}

/// The commonest lines; with one line alone there is nothing to compare. Case does not tell lines
/// apart.
fn commonest(lines: Vec<Label>) -> Vec<Label> {
    let mut boars: BTreeMap<String, (usize, Label)> = BTreeMap::new();
    for line in lines {
        boars.entry(line.folded()).or_insert((0, line)).0 += 1;
    }
    if boars.len() < 2 {
        return vec![];
    }
    let mut lines: Vec<_> = boars.into_values().collect();
    lines.sort_by(|(of_a, a), (of_b, b)| of_b.cmp(of_a).then(a.cmp(b)));
    lines.truncate(LINES_MAX);
    lines.into_iter().map(|(_, line)| line).collect()
}

fn none(columns: &Columns) -> Vec<Sums> {
    Measure::ALL.map(|_| Sums::new(columns.count())).into()
}

#[cfg(test)]
mod tests;
