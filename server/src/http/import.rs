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
pub(super) mod tests {
    use super::*;
    use crate::store::{Birth, Home};
    use pentally_domain::farm::Farm;
    use pentally_domain::id::{BarnId, FarmId};
    use pentally_domain::said::Label;
    use pentally_domain::time::Stamp;

    /// 2026-01-01T00:00:00Z.
    pub const NOW_MS: i64 = 1_767_225_600_000;

    /// A store whose farm was just started, on a clock of UTC.
    pub fn store() -> Store {
        let birth = Birth {
            now_ms: NOW_MS,
            random: [1; 10],
        };
        let store = Store::in_memory(birth).unwrap();
        let farm = Farm {
            name: Label::parse("Invented").unwrap(),
            zone: Zone::default(),
            origin: None,
            invented: false,
        };
        let home = Home {
            farm: FarmId::v7(NOW_MS, [2; 10]),
            barn: BarnId::v7(NOW_MS, [3; 10]),
        };
        let saying = Saying {
            fact: Fact::Farm(farm),
            occurred_at: None,
            random: [4; 10],
        };
        store
            .begin(home, &saying, Stamp::new(NOW_MS, 0).unwrap(), birth)
            .unwrap();
        store
    }

    fn take_plain(store: &Store, file: &str) -> Result<Written, Problem> {
        take(
            store,
            file.as_bytes(),
            &Choices::default(),
            Decision::default(),
            NOW_MS,
        )
    }

    const LIST: &str = "Number,Born,Pen,Arrived\n12,2024-05-01,A1,2025-12-01\n13,2024-06-01,A1,\n14,2024-07-01,A2,\n";

    #[test]
    fn a_list_brings_boars_pens_tags_and_places_and_twice_changes_nothing() {
        let store = store();
        assert_eq!(
            take_plain(&store, LIST).unwrap(),
            Written {
                boars: 3,
                pens: 2,
                moves: 3,
                changes: 0
            }
        );
        let barn = store.barn().unwrap();
        let pens = barn.pens();
        assert_eq!(
            pens.iter()
                .map(|p| barn.boars_in(p).len())
                .collect::<Vec<_>>(),
            [2, 1]
        );
        let codes: BTreeSet<_> = pens.iter().flat_map(|p| p.codes.clone()).collect();
        assert_eq!(codes.len(), 2, "each new pen has a code of its own");
        let entries = store.standing().unwrap().cursor.n;
        assert_eq!(take_plain(&store, LIST).unwrap(), Written::default());
        assert_eq!(store.standing().unwrap().cursor.n, entries);
    }

    #[test]
    fn a_row_that_cannot_be_taken_keeps_the_whole_list_out_until_somebody_says_otherwise() {
        let store = store();
        let list = "Number,Born\n12,2024-05-01\n13,soon\n";
        let before = store.standing().unwrap().cursor.n;
        assert_eq!(take_plain(&store, list).unwrap_err().status, 422);
        assert_eq!(store.standing().unwrap().cursor.n, before);
        let decision = Decision {
            leave_out: true,
            ..Decision::default()
        };
        let written = take(
            &store,
            list.as_bytes(),
            &Choices::default(),
            decision,
            NOW_MS,
        )
        .unwrap();
        assert_eq!(
            written,
            Written {
                boars: 1,
                ..Written::default()
            }
        );
    }

    #[test]
    fn particulars_are_corrected_only_when_asked() {
        let store = store();
        take_plain(&store, "Number,Line\n12,North\n").unwrap();
        let list = "Number,Line\n12,South\n";
        assert_eq!(take_plain(&store, list).unwrap(), Written::default());
        let decision = Decision {
            overwrite: true,
            ..Decision::default()
        };
        let written = take(
            &store,
            list.as_bytes(),
            &Choices::default(),
            decision,
            NOW_MS,
        )
        .unwrap();
        assert_eq!(
            written,
            Written {
                changes: 1,
                ..Written::default()
            }
        );
        let boar = store.barn().unwrap().boars().pop().unwrap().boar.unwrap();
        assert_eq!(boar.fact.line, Some(Label::parse("South").unwrap()));
        assert!(boar.corrected_by.is_some());
    }

    #[test]
    fn a_preview_shows_what_is_wrong_first_and_tells_why_a_file_does_not_read() {
        let store = store();
        let look = |file: &str| look(&store, file.as_bytes(), &Choices::default(), NOW_MS).unwrap();
        let Preview::Reads { summary, rows, .. } = look("Number,Born\n12,2024-05-01\n13,soon\n")
        else {
            panic!("it reads")
        };
        assert_eq!((summary.new, summary.refused), (1, 1));
        assert!(matches!(rows[0].fate, Fate::Refused { .. }));
        assert!(matches!(
            look("Weight,Colour\n1,2\n"),
            Preview::Unread {
                why: ImportError::NoNumber { .. },
                ..
            }
        ));
    }

    #[test]
    fn before_the_first_start_there_is_no_farm_for_a_list() {
        let empty = Store::in_memory(Birth {
            now_ms: NOW_MS,
            random: [1; 10],
        })
        .unwrap();
        assert_eq!(take_plain(&empty, LIST).unwrap_err().status, 409);
    }
}
