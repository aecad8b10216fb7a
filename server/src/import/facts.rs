//! From an accepted plan to everything that is to be written, or to nothing.

use super::plan::{Fate, Plan, PlannedPen};
use chrono::NaiveDate;
use pentally_domain::boar::{Boar, Move, Pen, PenTag};
use pentally_domain::code::Code;
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, EntryId, PenId};
use pentally_domain::said::Label;
use serde::{Deserialize, Serialize};
use std::collections::HashMap;

/// What the person decided about the plan as a whole.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Decision {
    /// Bring in the rest although some rows are refused, or say different things about one number.
    pub leave_out: bool,
    /// Write what the file says over the particulars of boars already there.
    pub overwrite: bool,
}

/// Why nothing is written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error, Serialize)]
#[serde(tag = "error", rename_all = "snake_case")]
pub enum FactsError {
    /// A question about a column is open.
    #[error("{} question(s) about columns of dates are open; answer them and bring in the list again", .columns.len())]
    Questions {
        /// The columns asked about.
        columns: Vec<usize>,
    },
    /// Some rows cannot be taken, and nobody said to leave them out.
    #[error(
        "{rows} row(s) cannot be taken, the first on line {line}; mend them, or say that they are to be left out"
    )]
    NotTaken {
        /// How many.
        rows: usize,
        /// The line of the first.
        line: u64,
    },
}

/// Everything to be written, in this order and in one go.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facts {
    /// New pens, their tags, new boars and moves.
    pub drafts: Vec<Draft>,
    /// Corrections of boars already there; none unless asked for.
    pub changes: Vec<Change>,
}

/// A boar's particulars as they should read from now on. The writer makes a correction of it,
/// because only the store knows the record that is corrected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Who.
    pub boar: BoarId,
    /// His particulars.
    pub to: Boar,
}

/// A fact to be written that may refer to one before it in the same list, by that one's place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Draft {
    /// A new pen.
    Pen(Pen),
    /// A tag for a pen.
    PenTag {
        /// The pen.
        pen: PenRef,
        /// The code on the tag.
        code: Code,
    },
    /// A new boar.
    Boar(Boar),
    /// A boar's place.
    Move {
        /// Who.
        boar: BoarRef,
        /// Where he was.
        from: Option<PenId>,
        /// Where he is; none when only the day he came is known.
        to: Option<PenRef>,
        /// The farm day on which it happened; none means now.
        on: Option<NaiveDate>,
    },
}

/// A pen of the barn, or of the draft at that place in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PenRef {
    /// Already there.
    Known(PenId),
    /// To be made.
    Draft(usize),
}

/// A boar of the barn, or of the draft at that place in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoarRef {
    /// Already there.
    Known(BoarId),
    /// To be made.
    Draft(usize),
}

/// A draft was written before the one it refers to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("draft {place} has no entry yet; drafts are written in the order of the list")]
pub struct Unmade {
    /// The place referred to.
    pub place: usize,
}

impl Draft {
    /// The fact, once the drafts before it are entries: `made` holds their identities in order.
    pub fn fact(&self, made: &[EntryId]) -> Result<Fact, Unmade> {
        let entry = |place: usize| made.get(place).copied().ok_or(Unmade { place });
        let pen = |pen: PenRef| match pen {
            PenRef::Known(id) => Ok(id),
            PenRef::Draft(place) => entry(place).map(EntryId::as_pen),
        };
        Ok(match self {
            Self::Pen(new) => Fact::Pen(new.clone()),
            Self::Boar(new) => Fact::Boar(new.clone()),
            Self::PenTag { pen: at, code } => Fact::PenTag(PenTag {
                pen: pen(*at)?,
                code: *code,
            }),
            Self::Move { boar, from, to, .. } => {
                let boar = match boar {
                    BoarRef::Known(id) => *id,
                    BoarRef::Draft(place) => entry(*place)?.as_boar(),
                };
                Fact::Move(Move {
                    boar,
                    from: *from,
                    to: to.map(pen).transpose()?,
                    gone: false,
                })
            }
        })
    }

    /// The farm day on which it happened; none means now. A new boar is always entered now,
    /// whenever he came: his history before this entry is not known here.
    pub const fn on(&self) -> Option<NaiveDate> {
        match self {
            Self::Move { on, .. } => *on,
            Self::Pen(_) | Self::PenTag { .. } | Self::Boar(_) => None,
        }
    }
}

/// All facts of the plan, or why there are none. `code` gives a tag's code for each new pen,
/// or none where the pen is to have no tag yet.
pub fn facts(
    plan: &Plan,
    decision: Decision,
    code: &mut dyn FnMut(&Label) -> Option<Code>,
) -> Result<Facts, FactsError> {
    refuse(plan, decision)?;
    let mut writing = Writing {
        pens: &plan.pens,
        at: HashMap::new(),
        facts: Facts::default(),
        code,
    };
    for row in &plan.rows {
        match &row.fate {
            Fate::New { boar, pen, arrived } => writing.boar(boar, *pen, *arrived),
            Fate::Differs {
                boar, to, moves, ..
            } if decision.overwrite => {
                writing.facts.changes.extend(to.as_ref().map(|to| Change {
                    boar: *boar,
                    to: (**to).clone(),
                }));
                if let Some((from, pen)) = *moves {
                    let to = writing.pen(pen);
                    writing.facts.drafts.push(Draft::Move {
                        boar: BoarRef::Known(*boar),
                        from,
                        to,
                        on: None,
                    });
                }
            }
            _ => {}
        }
    }
    Ok(writing.facts)
}

fn refuse(plan: &Plan, decision: Decision) -> Result<(), FactsError> {
    if !plan.questions.is_empty() {
        return Err(FactsError::Questions {
            columns: plan.questions.iter().map(|q| q.column).collect(),
        });
    }
    let bad = |fate: &Fate| {
        matches!(
            fate,
            Fate::Refused { .. } | Fate::Waits { .. } | Fate::DuplicateInFile { differs: true, .. }
        )
    };
    let mut not_taken = plan.rows.iter().filter(|row| bad(&row.fate));
    match not_taken.next() {
        Some(first) if !decision.leave_out => Err(FactsError::NotTaken {
            rows: not_taken.count() + 1,
            line: first.line,
        }),
        _ => Ok(()),
    }
}

struct Writing<'a> {
    pens: &'a [PlannedPen],
    at: HashMap<usize, PenRef>,
    facts: Facts,
    code: &'a mut dyn FnMut(&Label) -> Option<Code>,
}

impl Writing<'_> {
    fn boar(&mut self, boar: &Boar, pen: Option<usize>, arrived: Option<NaiveDate>) {
        let to = pen.and_then(|pen| self.pen(pen));
        let place = self.facts.drafts.len();
        self.facts.drafts.push(Draft::Boar(boar.clone()));
        if to.is_some() || arrived.is_some() {
            let boar = BoarRef::Draft(place);
            self.facts.drafts.push(Draft::Move {
                boar,
                from: None,
                to,
                on: arrived,
            });
        }
    }

    /// The pen at a place of the plan, drafted when it is first needed.
    fn pen(&mut self, planned: usize) -> Option<PenRef> {
        if let Some(made) = self.at.get(&planned) {
            return Some(*made);
        }
        let pen = self.pens.get(planned)?;
        let made = if let Some(id) = pen.known {
            PenRef::Known(id)
        } else {
            self.new_pen(&pen.name)
        };
        self.at.insert(planned, made);
        Some(made)
    }

    fn new_pen(&mut self, name: &Label) -> PenRef {
        let pen = PenRef::Draft(self.facts.drafts.len());
        self.facts
            .drafts
            .push(Draft::Pen(Pen { name: name.clone() }));
        self.facts
            .drafts
            .extend((self.code)(name).map(|code| Draft::PenTag { pen, code }));
        pen
    }
}
