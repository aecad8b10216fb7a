//! Cells by zone: motile or not, or classes of morphology.

use super::Blocked;
use crate::agreement::{Agreement, Tally, percentages_agree};
use crate::evaluation::{Class, Morphology, Tallied};
use crate::units::{BoundError, Cells, Count, so_many};
use serde::{Deserialize, Serialize};

/// Cells of each replicate (WHO manual, 5th ed. 2010).
pub const CELLS_TARGET: u16 = 200;

/// How a sperm moves: the two zones of the motility screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Motion {
    /// It gets along.
    Motile,
    /// It does not.
    NotMotile,
}

/// One tap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CellTap<Zone> {
    /// One cell in this zone.
    Cell(Zone),
    /// This replicate is done; on to the next.
    NextReplicate,
    /// The last tap was a mistake.
    Undo,
}

/// Cells in the order in which they were tapped, replicate by replicate; at most
/// [`Tallied::REPLICATES_HIGH`] replicates and [`Cells::HIGH`] cells in all.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Written<Zone>", into = "Written<Zone>")]
#[serde(bound(
    serialize = "Zone: Clone + Serialize",
    deserialize = "Zone: Deserialize<'de>"
))]
pub struct CellTally<Zone>(Vec<Vec<Zone>>);

#[derive(Serialize, Deserialize)]
struct Written<Zone>(Vec<Vec<Zone>>);

impl<Zone> Default for CellTally<Zone> {
    fn default() -> Self {
        Self(vec![vec![]])
    }
}

impl<Zone: Copy + PartialEq> CellTally<Zone> {
    /// The state after a tap.
    pub fn tap(mut self, tap: CellTap<Zone>) -> Result<Self, Blocked> {
        match tap {
            CellTap::Cell(zone) => self.cell(zone)?,
            CellTap::NextReplicate => self.next_replicate()?,
            CellTap::Undo => self.undo()?,
        }
        Ok(self)
    }

    /// The replicate under the eye, counted from 1.
    pub fn replicate(&self) -> usize {
        self.0.len()
    }

    /// Cells of this replicate so far.
    pub fn cells(&self) -> usize {
        self.now().len()
    }

    /// Cells in a zone of this replicate so far.
    pub fn in_zone(&self, zone: Zone) -> usize {
        self.now().iter().filter(|z| **z == zone).count()
    }

    /// The zone that was tapped last in this replicate.
    pub fn last(&self) -> Option<Zone> {
        self.now().last().copied()
    }

    /// This replicate reached its 200 cells.
    pub fn reached(&self) -> bool {
        self.cells() >= usize::from(CELLS_TARGET)
    }

    fn now(&self) -> &[Zone] {
        self.0.last().map_or(&[], Vec::as_slice)
    }

    fn cell(&mut self, zone: Zone) -> Result<(), Blocked> {
        if self.0.iter().map(Vec::len).sum::<usize>() >= usize::from(Cells::HIGH) {
            return Err(Blocked::Enough);
        }
        if let Some(replicate) = self.0.last_mut() {
            replicate.push(zone);
        }
        Ok(())
    }

    fn next_replicate(&mut self) -> Result<(), Blocked> {
        if self.0.len() >= Tallied::REPLICATES_HIGH {
            return Err(Blocked::NoMoreReplicates);
        }
        if self.now().is_empty() {
            return Err(Blocked::NothingYet);
        }
        self.0.push(vec![]);
        Ok(())
    }

    fn undo(&mut self) -> Result<(), Blocked> {
        let several = self.0.len() > 1;
        match self.0.last_mut().map(Vec::pop) {
            Some(Some(_)) => Ok(()),
            _ if several => {
                self.0.pop();
                Ok(())
            }
            _ => Err(Blocked::NothingToUndo),
        }
    }

    /// Of each replicate with cells, how many lie in zones that `hit` takes.
    fn shares(&self, hit: impl Fn(Zone) -> bool) -> Vec<Tally> {
        let of = |replicate: &Vec<Zone>| {
            let hits = replicate.iter().filter(|zone| hit(**zone)).count();
            let hits = Count::new(u32::try_from(hits).ok()?).ok()?;
            let cells = Cells::new(u32::try_from(replicate.len()).ok()?).ok()?;
            Tally::new(hits, cells).ok()
        };
        self.0.iter().filter_map(of).collect()
    }
}

impl CellTally<Motion> {
    /// Motile of cells, replicate by replicate.
    pub fn tallies(&self) -> Vec<Tally> {
        self.shares(|zone| zone == Motion::Motile)
    }

    /// Whether the motile shares of the last two replicates agree; none before there are two.
    pub fn agreement(&self) -> Option<Agreement> {
        last_two(&self.tallies())
    }
}

impl CellTally<Class> {
    /// Cells by class, replicate by replicate.
    pub fn classes(&self) -> Vec<Morphology> {
        let of = |replicate: &Vec<Class>| {
            let cells = Class::ALL.map(|class| {
                let of_class = replicate.iter().filter(|c| **c == class).count();
                // At most 2000, by the bound on all cells.
                u16::try_from(of_class).unwrap_or(u16::MAX)
            });
            Morphology::new(cells).ok()
        };
        self.0.iter().filter_map(of).collect()
    }

    /// Whether the normal shares of the last two replicates agree; none before there are two.
    pub fn agreement(&self) -> Option<Agreement> {
        last_two(&self.shares(|class| class == Class::Normal))
    }
}

fn last_two(tallies: &[Tally]) -> Option<Agreement> {
    match tallies {
        [.., first, second] => Some(percentages_agree(*first, *second)),
        _ => None,
    }
}

impl<Zone> TryFrom<Written<Zone>> for CellTally<Zone> {
    type Error = BoundError;
    fn try_from(Written(replicates): Written<Zone>) -> Result<Self, BoundError> {
        let within = |read, high, unit| so_many("replicates", read, 1..=high, unit);
        within(replicates.len(), Tallied::REPLICATES_HIGH, "replicates")?;
        let cells: usize = replicates.iter().map(Vec::len).sum();
        within(cells.max(1), Cells::HIGH.into(), "cells")?;
        Ok(Self(replicates))
    }
}

impl<Zone> From<CellTally<Zone>> for Written<Zone> {
    fn from(tally: CellTally<Zone>) -> Self {
        Self(tally.0)
    }
}
