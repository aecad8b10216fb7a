//! Sows come into heat, are served, return or farrow.

use crate::TaleError;
use crate::devices::{Place, When};
use crate::story::Story;
use chrono::{Days, NaiveDate};
use pentally_domain::doses::Technique;
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
pub struct Fresh {
    /// The batch.
    pub batch: EntryId,
    /// Whose semen.
    pub boars: Vec<BoarId>,
    /// How many are left.
    pub doses: u16,
    /// Where they are to be placed.
    pub technique: Technique,
    /// When it was made.
    pub made: NaiveDate,
}

/// A sow who gets her second dose tomorrow.
#[derive(Debug, Clone, Copy)]
pub struct Again {
    sow: SowId,
    gilt: bool,
}

/// A sow leaves after so many litters and a gilt takes her place.
const LITTERS_MAX: i64 = 7;

impl Story {
    pub(crate) fn mind_the_sows(&mut self) -> Result<(), TaleError> {
        let day = self.day;
        self.fresh
            .retain(|f| f.doses > 0 && (day - f.made).num_days() < 3);
        // Again 12–24 h after the first service (common practice, no source).
        for again in std::mem::take(&mut self.again) {
            self.inseminate(again, self.at(7 * 60 + 40))?;
        }
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
            self.serve(index, n)?;
        }
        self.go_on_with(index);
        Ok(())
    }

    /// By a boar, or with the oldest doses that keep; the second dose comes tomorrow.
    fn serve(&mut self, index: usize, n: i64) -> Result<(), TaleError> {
        let (sow, gilt) = (self.sows[index].id, self.sows[index].gilt);
        let ms = self.at(14 * 60) + n * 3 * HOUR_MS;
        let Some(by) = self.natural() else {
            let again = Again { sow, gilt };
            if n == 0 {
                return self.inseminate(again, ms + HOUR_MS);
            }
            self.again.push(again);
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

    fn inseminate(&mut self, Again { sow, gilt }: Again, ms: i64) -> Result<(), TaleError> {
        // In gilts the catheter for behind the cervix may not pass.
        let fits = |f: &&mut Fresh| f.doses > 0 && !(gilt && f.technique != Technique::default());
        let Some(fresh) = self.fresh.iter_mut().find(fits) else {
            return Ok(());
        };
        fresh.doses -= 1;
        let by = By::Doses {
            batch: fresh.batch,
            boars: fresh.boars.clone(),
            doses: 1,
            technique: fresh.technique,
        };
        let person = self.table_chance.one(&self.people).copied();
        let service = Fact::Service(Service { sow, by });
        let when = When::now(ms, person);
        self.devices
            .say(Place::Phone(0), &service, when, &mut self.table_chance)?;
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
