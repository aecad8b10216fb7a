//! The afternoon with the young: visits first, then sessions, until they are collected.

use crate::TaleError;
use crate::boar::Boar;
use crate::devices::{Place, When};
use crate::story::Story;
use crate::year::is_working;
use chrono::Days;
use pentally_domain::boar::{Move, OffCollection, OffReason};
use pentally_domain::fact::Fact;
use pentally_domain::said::Said;
use pentally_domain::time::MINUTE_MS;
use pentally_domain::training::{Early, Lesson, Lure, Mishap, Touch, Training};
use pentally_domain::units::{Score, SessionMinutes};

/// Sessions begin so many days before somebody first means to collect him, visits some days earlier.
const SESSIONS_BEFORE: i64 = 12;
const VISITS_BEFORE: i64 = 16;

/// How many days before the story ends a group of young boars arrives, so that whoever looks at the
/// barn finds some in training; and when they leave isolation.
const ARRIVES: i64 = 50;
const LEAVES_ISOLATION: i64 = 18;
/// From so many boars on a farm has them.
const GROUP_FROM: u32 = 20;
/// Their ages on arrival: in training they are over eight months old.
const AGES: [u64; 4] = [214, 217, 221, 226];

impl Story {
    /// The group that arrives before the end of the story. It is trained and not collected yet.
    fn the_young(&mut self) -> Result<(), TaleError> {
        let (_, left) = self.place_in_story();
        if left == ARRIVES
            && let Some(pen) = self.isolation
            && self.plan.boars >= GROUP_FROM
        {
            let many = usize::try_from(self.plan.boars / 8).unwrap_or(0);
            for (n, age) in (0..).zip(AGES).take(many) {
                let mut boar = self.introduce(pen, age)?;
                boar.next = self.day + Days::new(ARRIVES.unsigned_abs() + 2 + n);
                let until = self.day + Days::new((ARRIVES - LEAVES_ISOLATION - 1).unsigned_abs());
                self.office(&Fact::OffCollection(OffCollection {
                    boar: boar.id,
                    reason: OffReason::Isolation,
                    until: Some(until),
                    cull: None,
                }))?;
                self.young.push(boar);
            }
        }
        if left == LEAVES_ISOLATION && !self.young.is_empty() {
            let pen = self.pen("Y1")?;
            for n in 0..self.young.len() {
                let boar = &mut self.young[n];
                let moved = Move {
                    boar: boar.id,
                    from: Some(boar.pen),
                    to: Some(pen),
                    gone: false,
                };
                boar.pen = pen;
                self.office(&Fact::Move(moved))?;
            }
        }
        Ok(())
    }

    /// One short lesson on each working day for each boar who has not learnt it yet.
    pub(crate) fn train_today(&mut self) -> Result<(), TaleError> {
        self.the_young()?;
        if !is_working(self.day) {
            return Ok(());
        }
        let mut begins_ms = self.at(16 * 60);
        let all: Vec<Boar> = self.boars.iter().chain(&self.young).cloned().collect();
        for boar in all {
            let left = (boar.next - self.day).num_days();
            let pupil = boar.learnt == Some(0) && boar.off.is_none_or(|off| self.day > off);
            if !pupil || !(1..=VISITS_BEFORE).contains(&left) {
                continue;
            }
            let lesson = self.lesson(&boar, left)?;
            let minutes = lesson.minutes.value().map_or(10, |m| m.value());
            let ends_ms = begins_ms + i64::from(minutes) * MINUTE_MS;
            let when = When {
                ms: ends_ms,
                happened_ms: Some(begins_ms),
                person: self.people.get(1).copied(),
            };
            let phone = Place::Phone(1 % self.devices.phones());
            let fact = Fact::Training(lesson);
            self.devices
                .say(phone, &fact, when, &mut self.training_chance)?;
            begins_ms = ends_ms + 4 * MINUTE_MS;
        }
        Ok(())
    }

    fn lesson(&mut self, boar: &Boar, left: i64) -> Result<Training, TaleError> {
        let hot = self.weather.is_hot(self.day);
        let chance = &mut self.training_chance;
        if left > SESSIONS_BEFORE {
            let minutes = whole(chance.whole(5, 10));
            return Ok(Training {
                minutes: Said::ByDefault(SessionMinutes::new(minutes)?),
                ..Training::new(boar.id, Lesson::Visit)
            });
        }
        // He comes a little further from day to day, and now and then falls back.
        let learnt = (SESSIONS_BEFORE - left) as f64 / SESSIONS_BEFORE as f64;
        let reached = (4.6 * learnt + chance.normal()).clamp(0.0, 4.0);
        let score = Score::new(whole(rounded(reached)))?;
        let minutes = if score.value() == 0 {
            chance.whole(7, 11)
        } else {
            chance.whole(9, 17)
        };
        let mut touch = vec![];
        touch.extend(chance.comes(0.5 + learnt / 2.0).then_some(Touch::Body));
        touch.extend(chance.comes(learnt * 0.7).then_some(Touch::Sheath));
        let mut lures = vec![];
        lures.extend(chance.comes(0.4).then_some(Lure::SowScent));
        lures.extend(chance.comes(0.3).then_some(Lure::OthersWatched));
        let mut mishaps = vec![];
        mishaps.extend(chance.comes(0.06).then_some(Mishap::Noise));
        mishaps.extend(chance.comes(0.03).then_some(Mishap::Slip));
        mishaps.extend(chance.comes(0.02).then_some(Mishap::Rough));
        mishaps.extend((hot && chance.comes(0.5)).then_some(Mishap::Hot));
        mishaps.extend(chance.comes(0.01).then_some(Mishap::Charge));
        let helped = chance.comes(0.6);
        Ok(Training {
            score: Said::Confirmed(score),
            minutes: Said::ByDefault(SessionMinutes::new(whole(minutes))?),
            touch,
            lures,
            mishaps,
            helper: self.people.get(2).copied().filter(|_| helped),
            early: early(boar, self.day, self.standard.standard.young_days),
            ..Training::new(boar.id, Lesson::Session)
        })
    }
}

/// The reason they give for one who is under the farm's age: he shows that he wants to.
fn early(boar: &Boar, day: chrono::NaiveDate, young_days: u16) -> Option<Early> {
    (boar.age_days(day) < i64::from(young_days)).then_some(Early::Keen)
}

fn whole(n: i64) -> u32 {
    u32::try_from(n).unwrap_or(0)
}

/// The nearest whole number of one from 0 to 4.
#[allow(clippy::cast_possible_truncation, reason = "a score")]
fn rounded(x: f64) -> i64 {
    (x + 0.5).floor() as i64
}
