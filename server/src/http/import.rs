//! Bringing in a list of boars. The file comes twice, once to be looked at and once to be taken:
//! nothing half-read waits here in between.

use super::body::{Asked, file_bytes, json_text};
use super::house::House;
use super::problem::{IMPOSSIBLE, NO_FARM, Problem};
use crate::import::{
    Choices, Decision, Fate, ImportError, Known, KnownBoar, KnownPen, Plan, Question, Row, Shape,
    Summary, facts, plan,
};
use crate::moment::{now_ms, random};
use crate::store::{Saying, Store, StoreError};
use axum::Json;
use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::BytesRejection;
use pentally_domain::amend::Correction;
use pentally_domain::barn::Barn;
use pentally_domain::code::Code;
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::time::Zone;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

/// How many rows a preview shows; those to be looked at come first.
const ROWS_SHOWN: usize = 300;

/// Two lists brought in at the same moment would not see each other's boars.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// What stands behind the `?`, each a JSON text.
#[derive(Debug, Deserialize)]
pub(super) struct Said {
    choices: Option<String>,
    decision: Option<String>,
}

/// What a list would do.
#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Preview {
    /// It reads.
    Reads {
        summary: Summary,
        shape: Shape,
        questions: Vec<Question>,
        rows: Vec<Row>,
        /// Rows not shown.
        more: usize,
    },
    /// It does not; `detail` says why in English.
    Unread { why: ImportError, detail: String },
}

/// What was written.
#[derive(Debug, Default, PartialEq, Eq, Serialize)]
pub(super) struct Written {
    boars: usize,
    pens: usize,
    moves: usize,
    changes: usize,
}

/// Tells each row's fate and writes nothing.
pub(super) async fn preview(
    State(house): State<House>,
    Asked(said): Asked<Said>,
    file: Result<Bytes, BytesRejection>,
) -> Result<Json<Preview>, Problem> {
    let choices = json_text(said.choices.as_deref(), "choices")?;
    let file = file_bytes(file)?;
    house
        .with_store(move |store| Ok(look(store, &file, &choices, now_ms())))
        .await?
        .map(Json)
}

/// Writes all that the list says, or nothing.
pub(super) async fn commit(
    State(house): State<House>,
    Asked(said): Asked<Said>,
    file: Result<Bytes, BytesRejection>,
) -> Result<Json<Written>, Problem> {
    let (choices, decision) = (
        json_text(said.choices.as_deref(), "choices")?,
        json_text(said.decision.as_deref(), "decision")?,
    );
    let file = file_bytes(file)?;
    house
        .with_store(move |store| Ok(take(store, &file, &choices, decision, now_ms())))
        .await?
        .map(Json)
}

fn look(store: &Store, file: &[u8], choices: &Choices, now_ms: i64) -> Result<Preview, Problem> {
    Ok(match Seen::of(store, now_ms)?.plan(file, choices) {
        Ok(plan) => shown(plan),
        Err(why) => Preview::Unread {
            detail: why.to_string(),
            why,
        },
    })
}

fn shown(plan: Plan) -> Preview {
    let summary = plan.summary();
    let mut rows = plan.rows;
    // A person looks for what is wrong; what is plainly new or the same can wait.
    rows.sort_by_key(|row| match row.fate {
        Fate::Refused { .. } => 0,
        Fate::Waits { .. } => 1,
        Fate::DuplicateInFile { .. } => 2,
        Fate::Differs { .. } => 3,
        _ if !row.flags.is_empty() => 4,
        Fate::New { .. } => 5,
        Fate::Same { .. } => 6,
    });
    let more = rows.len().saturating_sub(ROWS_SHOWN);
    rows.truncate(ROWS_SHOWN);
    Preview::Reads {
        summary,
        shape: plan.shape,
        questions: plan.questions,
        rows,
        more,
    }
}

fn take(
    store: &Store,
    file: &[u8],
    choices: &Choices,
    decision: Decision,
    now_ms: i64,
) -> Result<Written, Problem> {
    let _alone = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let seen = Seen::of(store, now_ms)?;
    let plan = seen
        .plan(file, choices)
        .map_err(|e| Problem::new(IMPOSSIBLE, e.to_string()))?;
    let mut codes = Codes::of(&seen.barn)?;
    let facts = facts(&plan, decision, &mut |_| codes.next())
        .map_err(|e| Problem::new(IMPOSSIBLE, e.to_string()))?;
    let mut desk = Desk {
        zone: &seen.zone,
        now_ms,
        made: vec![],
        sayings: vec![],
    };
    let mut written = Written::default();
    for draft in &facts.drafts {
        let fact = draft
            .fact(&desk.made)
            .map_err(|e| StoreError::Library(e.to_string()))?;
        written.count(&fact);
        desk.say(fact, draft.on())?;
    }
    for change in facts.changes {
        let Some(boar) = seen.barn.boar(change.boar).and_then(|b| b.boar) else {
            continue;
        };
        let correction = Correction::of(boar.order, &Fact::Boar(boar.fact), Fact::Boar(change.to));
        written.changes += 1;
        desk.say(Fact::Correction(correction), None)?;
    }
    let now = seen
        .zone
        .stamp(now_ms)
        .map_err(|e| StoreError::Library(e.to_string()))?;
    store.say(&desk.sayings, now)?;
    Ok(written)
}

/// The barn as a list meets it.
struct Seen {
    barn: Barn,
    zone: Zone,
    now_ms: i64,
}

impl Seen {
    fn of(store: &Store, now_ms: i64) -> Result<Self, Problem> {
        let barn = store.barn()?;
        if barn.farm().is_none() {
            return Err(Problem::new(
                NO_FARM,
                "start a farm first; a list of boars belongs to one",
            ));
        }
        Ok(Self {
            zone: barn.zone_at(now_ms),
            barn,
            now_ms,
        })
    }

    fn plan(&self, file: &[u8], choices: &Choices) -> Result<Plan, ImportError> {
        let boars = self.barn.boars().into_iter().filter_map(|b| {
            let (id, pen, gone) = (b.id, b.pen(), b.gone().is_some());
            Some(KnownBoar {
                id,
                boar: b.boar?.fact,
                pen,
                gone,
            })
        });
        let pens = self.barn.pens().into_iter().filter_map(|p| {
            Some(KnownPen {
                id: p.id,
                name: p.pen?.fact.name,
            })
        });
        let (boars, pens) = (boars.collect::<Vec<_>>(), pens.collect::<Vec<_>>());
        plan(
            file,
            choices,
            Known {
                boars: &boars,
                pens: &pens,
            },
            self.zone.day(self.now_ms),
        )
    }
}

/// Writes sayings down in order, so that a later one may name an earlier one's entry.
struct Desk<'a> {
    zone: &'a Zone,
    now_ms: i64,
    made: Vec<EntryId>,
    sayings: Vec<Saying>,
}

impl Desk<'_> {
    fn say(&mut self, fact: Fact, on: Option<chrono::NaiveDate>) -> Result<(), StoreError> {
        let stamp = on
            .map(|day| self.zone.stamp(self.zone.day_start_ms(day)))
            .transpose();
        let occurred_at = stamp.map_err(|e| StoreError::Library(e.to_string()))?;
        let random = random()?;
        self.made.push(EntryId::v7(self.now_ms, random));
        self.sayings.push(Saying {
            fact,
            occurred_at,
            random,
        });
        Ok(())
    }
}

impl Written {
    const fn count(&mut self, fact: &Fact) {
        match fact {
            Fact::Boar(_) => self.boars += 1,
            Fact::Pen(_) => self.pens += 1,
            Fact::Move(_) => self.moves += 1,
            _ => {}
        }
    }
}

/// Codes for the tags of new pens: none that a pen or a batch bears.
struct Codes {
    taken: BTreeSet<Code>,
    from: u32,
}

impl Codes {
    fn of(barn: &Barn) -> Result<Self, StoreError> {
        let rows = barn.ledgers().flat_map(|ledger| ledger.rows());
        let codes = rows.filter_map(|row| match &row.fact {
            Fact::PenTag(tag) => Some(tag.code),
            Fact::SemenBatch(batch) => Some(batch.code),
            _ => None,
        });
        let [a, b, c, d, ..] = random()?;
        Ok(Self {
            taken: codes.collect(),
            from: u32::from_le_bytes([a, b, c, d]) % Code::COUNT,
        })
    }

    fn next(&mut self) -> Option<Code> {
        let ring = (0..Code::COUNT).map(|step| (self.from + step) % Code::COUNT);
        let code = ring
            .filter_map(Code::from_number)
            .find(|code| !self.taken.contains(code))?;
        self.taken.insert(code);
        // Neighbours would be easy to mistake for each other.
        self.from = (code.number() + 7_919) % Code::COUNT;
        Some(code)
    }
}

#[cfg(test)]
pub(super) mod tests;
