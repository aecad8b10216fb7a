//! Boars come, fall ill, recover and leave.

use crate::TaleError;
use crate::boar::Boar;
use crate::devices::{Place, When};
use crate::story::Story;
use chrono::{Days, NaiveDate};
use pentally_domain::amend::Note;
use pentally_domain::boar::{Move, OffCollection, OffReason, OnCollection};
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::id::BoarId;
use pentally_domain::said::Remark;

/// A young boar in isolation, and whose place he takes.
#[derive(Debug)]
pub struct Coming {
    boar: Boar,
    instead_of: BoarId,
    free_on: NaiveDate,
}

/// Incoming boars stay isolated at least 30 days.
const ISOLATION_DAYS: u64 = 31;

/// The last fever of the story lies so many days back: its signs stand in the last collections.
const LAST_FEVER_DAYS: i64 = 30;

impl Story {
    pub(crate) fn mind_the_herd(&mut self) -> Result<(), TaleError> {
        for index in 0..self.boars.len() {
            self.perhaps_replace(index)?;
            self.perhaps_ill(index)?;
            self.perhaps_back(index)?;
        }
        self.let_in()
    }

    /// His successor arrives a month before he leaves.
    fn perhaps_replace(&mut self, index: usize) -> Result<(), TaleError> {
        let leaves = self.boars[index].leaves;
        if self.day + Days::new(ISOLATION_DAYS) != leaves {
            return Ok(());
        }
        let Some(pen) = self.isolation else {
            return Ok(());
        };
        let age = self.chance.whole(190, 225).cast_unsigned();
        let mut boar = self.introduce(pen, age)?;
        let free_on = leaves;
        let until = Some(free_on - Days::new(1));
        self.office(&Fact::OffCollection(OffCollection {
            boar: boar.id,
            reason: OffReason::Isolation,
            until,
            cull: None,
        }))?;
        boar.off = until;
        self.coming.push(Coming {
            boar,
            instead_of: self.boars[index].id,
            free_on,
        });
        Ok(())
    }

    /// Who leaves makes room for who comes.
    fn let_in(&mut self) -> Result<(), TaleError> {
        let (now, later) = std::mem::take(&mut self.coming)
            .into_iter()
            .partition(|c: &Coming| c.free_on <= self.day);
        self.coming = later;
        for mut coming in now {
            let Some(index) = self.boars.iter().position(|b| b.id == coming.instead_of) else {
                continue;
            };
            let pen = self.boars[index].pen;
            self.office(&Fact::Move(Move {
                boar: coming.instead_of,
                from: Some(pen),
                to: None,
                gone: true,
            }))?;
            let from = Some(coming.boar.pen);
            self.office(&Fact::Move(Move {
                boar: coming.boar.id,
                from,
                to: Some(pen),
                gone: false,
            }))?;
            coming.boar.pen = pen;
            coming.boar.next = coming.boar.next.max(self.day + Days::new(2));
            self.boars[index] = coming.boar;
        }
        Ok(())
    }

    /// Fever about once in two years, lameness a little more often.
    fn perhaps_ill(&mut self, index: usize) -> Result<(), TaleError> {
        if self.boars[index].off.is_some() {
            return Ok(());
        }
        if self.chance.comes(1.0 / 700.0) || self.is_the_last_fever(index) {
            self.boars[index].fever = Some(self.day);
            self.put_off(
                index,
                OffReason::Fever,
                10,
                "40.6 °C, off his feed. Veterinarian informed.",
            )
        } else if self.chance.comes(1.0 / 500.0) {
            let days = self.chance.whole(4, 12).cast_unsigned();
            self.put_off(index, OffReason::Lame, days, "Cojea de la mano derecha.")
        } else {
            Ok(())
        }
    }

    /// Whoever looks around finds one boar whose output fell, and why.
    fn is_the_last_fever(&self, index: usize) -> bool {
        let left = (self.last - self.day).num_days();
        left == LAST_FEVER_DAYS && index == self.boars.len() / 3
    }

    /// Takes a boar off collection with a note.
    pub(crate) fn put_off(
        &mut self,
        index: usize,
        reason: OffReason,
        days: u64,
        words: &str,
    ) -> Result<(), TaleError> {
        let boar = self.boars[index].id;
        let until = Some(self.day + Days::new(days));
        let when = When::now(self.at(6 * 60), self.somebody());
        let phone = Place::Phone(0);
        self.devices.say(
            phone,
            &Fact::OffCollection(OffCollection {
                boar,
                reason,
                until,
                cull: None,
            }),
            when,
            &mut self.chance,
        )?;
        let note = Note {
            about: Subject::Boar(boar),
            text: Remark::parse(words)?,
        };
        self.devices
            .say(phone, &Fact::Note(note), when, &mut self.chance)?;
        self.boars[index].off = until;
        Ok(())
    }

    /// Some are put back a day early by a person, the others when their time is over.
    fn perhaps_back(&mut self, index: usize) -> Result<(), TaleError> {
        let Some(off) = self.boars[index].off else {
            return Ok(());
        };
        let early = self.day == off && self.chance.comes(0.4);
        if early {
            let fact = Fact::OnCollection(OnCollection {
                boar: self.boars[index].id,
            });
            let when = When::now(self.at(6 * 60), self.somebody());
            self.devices
                .say(Place::Phone(0), &fact, when, &mut self.chance)?;
        }
        if early || self.day > off {
            self.boars[index].off = None;
        }
        Ok(())
    }
}
