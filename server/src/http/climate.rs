//! Taking in a logger's file. As with a list of boars the file comes twice, once to be looked at
//! and once to be taken.

use super::body::{Asked, file_bytes, json_text};
use super::house::House;
use super::problem::{IMPOSSIBLE, NO_FARM, Problem};
use crate::climate::{
    Choices, ClimateError, DayFate, Plan, PlannedDay, Question, Shape, Told, held, plan,
};
use crate::moment::{now_ms, random};
use crate::store::{Saying, Store, StoreError};
use axum::Json;
use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::BytesRejection;
use chrono::NaiveDate;
use pentally_domain::fact::Fact;
use pentally_domain::said::Label;
use pentally_domain::time::Zone;
use serde::{Deserialize, Serialize};
use std::sync::{Mutex, PoisonError};

/// Two files taken in at the same moment would not see each other's days.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// What stands behind the `?`, a JSON text.
#[derive(Debug, Deserialize)]
pub(super) struct Said {
    choices: Option<String>,
}

/// What a file would do.
#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Preview {
    /// It reads.
    Reads(Box<Reads>),
    /// It does not; `detail` says why in English.
    Unread { why: ClimateError, detail: String },
}

/// A file that reads.
#[derive(Debug, Serialize)]
pub(super) struct Reads {
    shape: Shape,
    questions: Vec<Question>,
    rooms: Vec<OfRoom>,
    told: Told,
}

/// The days of one room.
#[derive(Debug, PartialEq, Eq, Serialize)]
struct OfRoom {
    room: Label,
    /// Its first day in the file.
    from: NaiveDate,
    /// Its last.
    to: NaiveDate,
    days: usize,
    /// Days of which the farm holds nothing.
    new: usize,
    /// Days of which it holds all.
    same: usize,
    /// Half hours that read otherwise there.
    changed: usize,
}

/// What was written.
#[derive(Debug, Default, PartialEq, Eq, Serialize)]
pub(super) struct Written {
    days: usize,
    readings: usize,
}

/// Tells what each room's days would become and writes nothing.
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

/// Writes all that the farm does not hold yet, or nothing.
pub(super) async fn commit(
    State(house): State<House>,
    Asked(said): Asked<Said>,
    file: Result<Bytes, BytesRejection>,
) -> Result<Json<Written>, Problem> {
    let choices = json_text(said.choices.as_deref(), "choices")?;
    let file = file_bytes(file)?;
    house
        .with_store(move |store| Ok(take(store, &file, &choices, now_ms())))
        .await?
        .map(Json)
}

fn look(store: &Store, file: &[u8], choices: &Choices, now_ms: i64) -> Result<Preview, Problem> {
    let zone = zone(store, now_ms)?;
    Ok(
        match plan(file, choices, &zone, now_ms, held(store.climate()?)) {
            Ok(plan) => Preview::Reads(Box::new(Reads::of(plan))),
            Err(why) => Preview::Unread {
                detail: why.to_string(),
                why,
            },
        },
    )
}

fn take(store: &Store, file: &[u8], choices: &Choices, now_ms: i64) -> Result<Written, Problem> {
    let _alone = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let zone = zone(store, now_ms)?;
    let plan = plan(file, choices, &zone, now_ms, held(store.climate()?))
        .map_err(|e| Problem::new(IMPOSSIBLE, e.to_string()))?;
    if !plan.questions.is_empty() {
        let detail = "something about the file must be answered first: ask /api/v1/climate/preview \
                      for its questions and put the answers into choices";
        return Err(Problem::new(IMPOSSIBLE, detail));
    }
    let stamp = |ms| {
        zone.stamp(ms)
            .map_err(|e| StoreError::Library(e.to_string()))
    };
    let (mut written, mut sayings) = (Written::default(), vec![]);
    for draft in plan.drafts() {
        written.days += 1;
        written.readings += draft.climate.readings.len();
        sayings.push(Saying {
            fact: Fact::Climate(draft.climate.clone()),
            occurred_at: Some(stamp(draft.at_ms)?),
            random: random()?,
        });
    }
    if !sayings.is_empty() {
        store.say(&sayings, stamp(now_ms)?)?;
    }
    Ok(written)
}

fn zone(store: &Store, now_ms: i64) -> Result<Zone, Problem> {
    let barn = store.barn()?;
    if barn.farm().is_none() {
        let detail = "start a farm first; how warm it was belongs to one";
        return Err(Problem::new(NO_FARM, detail));
    }
    Ok(barn.zone_at(now_ms))
}

impl Reads {
    fn of(plan: Plan) -> Self {
        // The days stand by room.
        let rooms = plan.days.chunk_by(|a, b| a.room == b.room);
        Self {
            rooms: rooms.filter_map(OfRoom::of).collect(),
            shape: plan.shape,
            questions: plan.questions,
            told: plan.told,
        }
    }
}

impl OfRoom {
    /// None without a day.
    fn of(days: &[PlannedDay]) -> Option<Self> {
        let (first, last) = (days.first()?, days.last()?);
        let count = |fate| days.iter().filter(|d| d.fate == fate).count();
        let changed = days.iter().map(|d| match d.fate {
            DayFate::Adds { changed, .. } => changed,
            DayFate::New | DayFate::Same => 0,
        });
        Some(Self {
            room: first.room.clone(),
            from: first.day,
            to: last.day,
            days: days.len(),
            new: count(DayFate::New),
            same: count(DayFate::Same),
            changed: changed.sum(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::http::import::tests::{NOW_MS, store};
    use crate::store::Birth;
    use pentally_domain::climate::days_of;
    use std::fmt::Write;

    /// 200 days of four readings, more than the farm's ledger keeps.
    fn long() -> String {
        let first = NaiveDate::from_ymd_opt(2025, 5, 1).unwrap();
        let mut text = "Time,Temp (°C),RH\n".to_owned();
        for day in first.iter_days().take(200) {
            for hour in [3, 9, 15, 21] {
                writeln!(text, "{day} {hour:02}:00,{},50", 10 + hour).unwrap();
            }
        }
        text
    }

    fn in_room(room: &str) -> Choices {
        Choices {
            room: Some(Label::parse(room).unwrap()),
            ..Choices::default()
        }
    }

    #[test]
    fn a_file_longer_than_the_ledger_is_taken_once_and_twice_changes_nothing() {
        let store = store();
        let take = |file: &str| take(&store, file.as_bytes(), &in_room("1"), NOW_MS).unwrap();
        let written = Written {
            days: 200,
            readings: 800,
        };
        assert_eq!(take(&long()), written);
        let entries = store.standing().unwrap().cursor.n;
        assert_eq!(take(&long()), Written::default());
        assert_eq!(store.standing().unwrap().cursor.n, entries);
        let corrected = long().replace("2025-05-01 15:00,25", "2025-05-01 15:00,31");
        let one = Written {
            days: 1,
            readings: 1,
        };
        assert_eq!(take(&corrected), one);
        // The old day came last and pushes no recent one out.
        let days = days_of(&store.barn().unwrap(), NOW_MS);
        assert_eq!(days.last().unwrap().day.to_string(), "2025-11-16");
    }

    #[test]
    fn a_preview_counts_and_asks_and_a_question_left_open_keeps_the_file_out() {
        let store = store();
        let file = "Time,Temp\n2025-07-01 15:00,88.1\n2025-07-01 16:00,89.2\n";
        let look = |choices: &Choices| look(&store, file.as_bytes(), choices, NOW_MS).unwrap();
        let Preview::Reads(asking) = look(&in_room("1")) else {
            panic!("it reads")
        };
        assert_eq!((asking.questions.len(), asking.rooms.len()), (1, 0));
        let refused = take(&store, file.as_bytes(), &in_room("1"), NOW_MS);
        assert_eq!(refused.unwrap_err().status, 422);
        let answered = Choices {
            unit: Some(crate::climate::Unit::Fahrenheit),
            ..in_room("1")
        };
        let Preview::Reads(reads) = look(&answered) else {
            panic!("it reads")
        };
        let [room] = &reads.rooms[..] else {
            panic!("one room")
        };
        assert_eq!((room.days, room.new, room.same, room.changed), (1, 1, 0, 0));
        assert_eq!(store.climate().unwrap(), [], "a preview writes nothing");
    }

    #[test]
    fn what_is_no_logger_s_file_says_so_and_before_the_first_start_there_is_no_farm() {
        let unread = look(&store(), b"Sow,Weight\n1,2\n", &Choices::default(), NOW_MS).unwrap();
        assert!(matches!(
            unread,
            Preview::Unread {
                why: ClimateError::NoTemperature { .. } | ClimateError::NoTime { .. },
                ..
            }
        ));
        let birth = Birth {
            now_ms: NOW_MS,
            random: [1; 10],
        };
        let empty = Store::in_memory(birth).unwrap();
        let refused = take(&empty, b"", &Choices::default(), NOW_MS);
        assert_eq!(refused.unwrap_err().status, 409);
    }
}
