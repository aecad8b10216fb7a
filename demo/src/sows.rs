//! Sows come into heat, are served, return or farrow.

use crate::TaleError;
use crate::devices::{Place, When};
use crate::story::Story;
use chrono::{Days, NaiveDate};
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, EntryId, SowId};
use pentally_domain::sow::{By, Heat, Service};
use pentally_domain::time::HOUR_MS;

/// One sow.
#[derive(Debug)]
pub struct Mother {
    /// Who.
    pub id: SowId,
    /// Has not farrowed yet.
    pub gilt: bool,
    /// The day she next stands.
    pub heat: NaiveDate,
    /// Services in a row without a litter.
    pub served: i64,
    /// Litters so far.
    pub litters: i64,
}

/// Doses in the cold store.
#[derive(Debug)]
#[allow(
    dead_code,
    reason = "the story tells no semen batches yet, so nothing names their entry"
)]
pub struct Fresh {
    /// The batch.
    pub batch: EntryId,
    /// Whose semen.
    pub boar: BoarId,
    /// How many are left.
    pub doses: u16,
    /// When it was made.
    pub made: NaiveDate,
}

/// A sow leaves after so many litters and a gilt takes her place.
const LITTERS_MAX: i64 = 7;

impl Story {
    pub(crate) fn mind_the_sows(&mut self) -> Result<(), TaleError> {
        let day = self.day;
        self.fresh
            .retain(|f| f.doses > 0 && (day - f.made).num_days() < 3);
        for index in 0..self.sows.len() {
            if self.sows[index].heat == day {
                self.stands(index)?;
            }
        }
        Ok(())
    }

    fn stands(&mut self, index: usize) -> Result<(), TaleError> {
        if self.sows[index].litters >= LITTERS_MAX {
            self.sows[index] = self.sow(true)?;
            return Ok(());
        }
        let (sow, person) = (self.sows[index].id, self.somebody());
        let looked_ms = self.at(7 * 60 + 15);
        let onset = self
            .chance
            .comes(0.7)
            .then(|| self.devices.zone().stamp(looked_ms - 12 * HOUR_MS))
            .transpose()?;
        let heat = Fact::Heat(Heat {
            sow,
            standing: true,
            onset,
        });
        self.devices.say(
            Place::Phone(0),
            &heat,
            When::now(looked_ms, person),
            &mut self.chance,
        )?;
        let services = self.chance.whole(1, 2);
        for n in 0..services {
            self.serve(sow, self.at(14 * 60) + n * 3 * HOUR_MS)?;
        }
        self.go_on_with(index);
        Ok(())
    }

    fn serve(&mut self, sow: SowId, ms: i64) -> Result<(), TaleError> {
        let Some(by) = self.natural() else {
            return Ok(());
        };
        let when = When::now(ms, self.somebody());
        self.devices.say(
            Place::Phone(0),
            &Fact::Service(Service { sow, by }),
            when,
            &mut self.chance,
        )?;
        Ok(())
    }

    /// A boar who is free may serve by himself; it counts in his rest.
    fn natural(&mut self) -> Option<By> {
        if !self.chance.comes(0.15) {
            return None;
        }
        let day = self.day;
        let boar = self
            .boars
            .iter_mut()
            .find(|b| b.is_free(day) && b.learnt.is_none_or(|n| n > 3))?;
        boar.last = Some(day);
        boar.next = day + Days::new(4);
        Some(By::Boar(boar.id))
    }

    /// Some return after 18–24 days; the others farrow after 114, are weaned and stand again.
    fn go_on_with(&mut self, index: usize) {
        let returns = self.chance.comes(0.13);
        let days = if returns {
            self.chance.whole(18, 24)
        } else {
            114 + self.chance.whole(21, 28) + self.chance.whole(4, 6)
        };
        let sow = &mut self.sows[index];
        sow.heat = self.day + Days::new(days.cast_unsigned());
        sow.served = if returns { sow.served + 1 } else { 0 };
        sow.litters += i64::from(!returns);
        sow.gilt &= returns;
    }
}
