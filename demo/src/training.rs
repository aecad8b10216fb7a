//! The afternoon with the young: visits first, then sessions, until they are collected.

use crate::TaleError;
use crate::boar::Boar;
use crate::devices::{Place, When};
use crate::story::Story;
use crate::year::is_working;
use pentally_domain::fact::Fact;
use pentally_domain::said::Said;
use pentally_domain::time::MINUTE_MS;
use pentally_domain::training::{Early, Lesson, Lure, Mishap, Touch, Training};
use pentally_domain::units::{Score, SessionMinutes};

/// Sessions begin so many days before somebody first means to collect him, visits some days earlier.
const SESSIONS_BEFORE: i64 = 12;
const VISITS_BEFORE: i64 = 16;

impl Story {
    /// One short lesson on each working day for each boar who has not learnt it yet.
    pub(crate) fn train_today(&mut self) -> Result<(), TaleError> {
        if !is_working(self.day) {
            return Ok(());
        }
        let mut begins_ms = self.at(16 * 60);
        for index in 0..self.boars.len() {
            let boar = &self.boars[index];
            let left = (boar.next - self.day).num_days();
            let pupil = boar.learnt == Some(0) && boar.off.is_none_or(|off| self.day > off);
            if !pupil || !(1..=VISITS_BEFORE).contains(&left) {
                continue;
            }
            let lesson = self.lesson(index, left)?;
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

    fn lesson(&mut self, index: usize, left: i64) -> Result<Training, TaleError> {
        let hot = self.weather.is_hot(self.day);
        let boar = &self.boars[index];
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
