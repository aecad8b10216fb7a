//! Sperm in the squares of a chamber.

use super::Blocked;
use crate::agreement::{Agreement, last_agree};
use crate::counting::{
    COUNT_AT_LEAST, Chamber, Dilution, ErrorAsked, Errors, Further, Interval, Replicate, further,
    interval,
};
use crate::evaluation::ConcentrationBy;
use crate::explain::Origin;
use crate::units::{BoundError, Count, Squares};
use serde::{Deserialize, Serialize};

/// One tap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpermTap {
    /// One sperm more in this square.
    Sperm,
    /// This square is looked through; on to the next. An empty square is counted with it too.
    NextSquare,
    /// This filling is done; on to the next.
    NextFilling,
    /// The last tap was a mistake.
    Undo,
}

/// Where the eye is, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Place {
    /// The filling.
    pub filling: usize,
    /// The grid.
    pub grid: usize,
    /// The square within the grid.
    pub square: usize,
    /// Every square of the grids before was looked through, and none of this one: a whole grid ends here, and
    /// this is where to stop.
    pub at_a_whole_grid: bool,
}

/// Sperm counted square by square, filling by filling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct SpermTally(Written);

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Written {
    #[serde(default, skip_serializing_if = "Chamber::is_improved_neubauer")]
    chamber: Chamber,
    dilution: Dilution,
    error_asked_percent: ErrorAsked,
    /// Sperm of each square; the last square of a filling is the one under the eye.
    fillings: Vec<Vec<u16>>,
}

impl SpermTally {
    /// Begins with the first square.
    pub fn new(chamber: Chamber, dilution: Dilution, asked: ErrorAsked) -> Self {
        Self(Written {
            chamber,
            dilution,
            error_asked_percent: asked,
            fillings: vec![vec![0]],
        })
    }

    /// The chamber.
    pub const fn chamber(&self) -> &Chamber {
        &self.0.chamber
    }

    /// The dilution steps.
    pub const fn dilution(&self) -> &Dilution {
        &self.0.dilution
    }

    /// The error that counting is to reach.
    pub const fn error_asked(&self) -> ErrorAsked {
        self.0.error_asked_percent
    }

    /// With another error that counting is to reach; what was counted stays.
    #[must_use]
    pub const fn asking(mut self, asked: ErrorAsked) -> Self {
        self.0.error_asked_percent = asked;
        self
    }

    /// The state after a tap.
    pub fn tap(mut self, tap: SpermTap) -> Result<Self, Blocked> {
        match tap {
            SpermTap::Sperm => self.sperm()?,
            SpermTap::NextSquare => self.next_square()?,
            SpermTap::NextFilling => self.next_filling()?,
            SpermTap::Undo => self.undo()?,
        }
        Ok(self)
    }

    /// Where the eye is.
    pub fn place(&self) -> Place {
        let before = self.filling().len().saturating_sub(1);
        let grid = usize::from(self.0.chamber.grid_squares());
        // Behind the last square the eye has nowhere to go.
        let at = before.min(squares(&self.0.chamber).saturating_sub(1));
        Place {
            filling: self.0.fillings.len(),
            grid: at / grid + 1,
            square: at % grid + 1,
            at_a_whole_grid: before > 0 && before.is_multiple_of(grid) && self.in_square() == 0,
        }
    }

    /// Sperm in this square so far.
    pub fn in_square(&self) -> u16 {
        self.filling().last().copied().unwrap_or(0)
    }

    /// Sperm in this filling so far.
    pub fn in_filling(&self) -> u32 {
        sum(self.filling())
    }

    /// Sperm to count in each filling: the 200 of the WHO manual (5th ed. 2010), or half of what the
    /// error asked for takes where that is more.
    pub fn target(&self) -> u32 {
        let asked = self.0.error_asked_percent.sperm_needed();
        COUNT_AT_LEAST.max(asked.div_ceil(2))
    }

    /// This filling reached its target. Go on to the end of the grid.
    pub fn reached(&self) -> bool {
        self.in_filling() >= self.target()
    }

    /// What was counted so far, filling by filling. The square under the eye counts where sperm was
    /// found in it; an empty one counts once it is left for the next.
    pub fn replicates(&self) -> Vec<Replicate> {
        let of = |squares: &Vec<u16>| {
            let open = squares.last().is_none_or(|last| *last == 0);
            let looked = squares.len() - usize::from(open && !squares.is_empty());
            let looked = u32::try_from(looked).ok()?;
            Some(Replicate {
                count: Count::new(sum(squares)).ok()?,
                squares: Squares::new(looked).ok()?,
            })
        };
        self.0.fillings.iter().filter_map(of).collect()
    }

    /// Whether the last two fillings agree; none before there are two.
    pub fn agreement(&self) -> Option<Agreement> {
        last_agree(&self.replicates())
    }

    /// The interval so far, and how much further to count; none before a square was looked through.
    pub fn further(&self, errors: &Errors) -> Option<Result<(Interval, Further), BoundError>> {
        let (replicates, from) = (self.replicates(), Origin::Asked);
        if replicates.is_empty() {
            return None;
        }
        let Written {
            chamber,
            dilution,
            error_asked_percent: asked,
            ..
        } = &self.0;
        let found = interval(chamber, &replicates, dilution, errors, &from);
        Some(found.map(|interval| {
            let more = further(chamber, &replicates, &interval, *asked, &from);
            (interval, more)
        }))
    }

    /// The piece of the evaluation; none before a square was looked through.
    pub fn finished(&self) -> Option<ConcentrationBy> {
        let replicates = self.replicates();
        (!replicates.is_empty()).then(|| ConcentrationBy::Counts {
            chamber: self.0.chamber,
            replicates,
            dilution: self.0.dilution.clone(),
        })
    }

    fn filling(&self) -> &[u16] {
        self.0.fillings.last().map_or(&[], Vec::as_slice)
    }

    fn sperm(&mut self) -> Result<(), Blocked> {
        if self.filling().len() > squares(&self.0.chamber) {
            return Err(Blocked::Enough);
        }
        let most = self.0.chamber.holds(1.0);
        if f64::from(self.in_square()) + 1.0 > most {
            return Err(Blocked::SquareFull);
        }
        if self.in_filling() >= Count::HIGH || self.in_square() == u16::MAX {
            return Err(Blocked::Enough);
        }
        if let Some(square) = self.0.fillings.last_mut().and_then(|f| f.last_mut()) {
            *square += 1;
        }
        Ok(())
    }

    fn next_square(&mut self) -> Result<(), Blocked> {
        if self.filling().len() > squares(&self.0.chamber) {
            return Err(Blocked::Enough);
        }
        if let Some(filling) = self.0.fillings.last_mut() {
            filling.push(0);
        }
        Ok(())
    }

    fn next_filling(&mut self) -> Result<(), Blocked> {
        if self.0.fillings.len() >= ConcentrationBy::REPLICATES_HIGH {
            return Err(Blocked::NoMoreReplicates);
        }
        if self.filling().len() < 2 && self.in_square() == 0 {
            return Err(Blocked::NothingYet);
        }
        self.0.fillings.push(vec![0]);
        Ok(())
    }

    /// Sperm before square, square before filling: the order in which they were tapped.
    fn undo(&mut self) -> Result<(), Blocked> {
        let fillings = self.0.fillings.len();
        let Some(filling) = self.0.fillings.last_mut() else {
            return Err(Blocked::NothingToUndo);
        };
        match (filling.len(), filling.last_mut()) {
            (_, Some(square)) if *square > 0 => *square -= 1,
            (2.., _) => {
                filling.pop();
            }
            _ if fillings > 1 => {
                self.0.fillings.pop();
            }
            _ => return Err(Blocked::NothingToUndo),
        }
        Ok(())
    }
}

/// The squares that a filling of this chamber can show.
fn squares(chamber: &Chamber) -> usize {
    let all = usize::try_from(chamber.squares()).unwrap_or(usize::MAX);
    all.min(usize::from(Squares::HIGH))
}

fn sum(squares: &[u16]) -> u32 {
    squares.iter().map(|n| u32::from(*n)).sum()
}

impl TryFrom<Written> for SpermTally {
    type Error = BoundError;
    fn try_from(written: Written) -> Result<Self, BoundError> {
        let error = |field, read: usize, high: f64, unit| BoundError {
            field,
            read: read as f64,
            low: 1.0,
            high,
            unit,
        };
        let fillings = &written.fillings;
        let most = ConcentrationBy::REPLICATES_HIGH;
        if fillings.is_empty() || fillings.len() > most {
            return Err(error("fillings", fillings.len(), most as f64, "fillings"));
        }
        // One more than there are: the last is left for it, and is empty.
        let most = squares(&written.chamber) + 1;
        if let Some(filling) = fillings.iter().find(|f| f.is_empty() || f.len() > most) {
            return Err(error("fillings", filling.len(), most as f64, "squares"));
        }
        let most = written.chamber.holds(1.0);
        let full = fillings.iter().flatten().find(|n| f64::from(**n) > most);
        if let Some(full) = full {
            return Err(error("fillings", (*full).into(), most, "sperm in a square"));
        }
        fillings
            .iter()
            .try_for_each(|f| Count::new(sum(f)).map(|_| ()))?;
        Ok(Self(written))
    }
}

impl From<SpermTally> for Written {
    fn from(tally: SpermTally) -> Self {
        tally.0
    }
}
