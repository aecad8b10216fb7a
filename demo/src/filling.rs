//! The filling table: doses of what the bench found fit, through the reckoning the screens use.

use crate::TaleError;
use crate::barn::Work;
use crate::devices::{Place, When};
use crate::sows::Fresh;
use crate::story::Story;
use pentally_domain::collection::Collection;
use pentally_domain::doses::Technique;
use pentally_domain::envelope::Order;
use pentally_domain::evaluation::Evaluation;
use pentally_domain::fact::Fact;
use pentally_domain::filling::{Barred, Chosen, Cup, Filling, fill};
use pentally_domain::id::EntryId;
use pentally_domain::plain::PlainRoute;
use pentally_domain::time::MINUTE_MS;
use pentally_domain::units::{SpermBillions, TemperatureC};

/// Below so many boars each ejaculate makes a batch of its own, mostly; above, they are pooled.
const POOLS_FROM: u32 = 60;

/// What stands at the filling table.
#[derive(Debug, Default)]
pub struct Table {
    /// Cups that wait to be poured together.
    cups: Vec<Cup>,
    /// How many make this pool.
    wanted: usize,
    /// When the last of them was ready (ms since 1970).
    ready_ms: i64,
}

impl Story {
    /// A cup comes from the bench. One that nobody at the bench can see yet is left out: of a phone
    /// without network, of a phone whose clock is wrong, or written down for the wrong boar.
    pub(crate) fn bring_to_table(
        &mut self,
        work: &Work,
        (record, written): (Order, Collection),
        evaluated: Option<(EntryId, Evaluation)>,
    ) -> Result<(), TaleError> {
        let late = (record.at_ms - work.began_ms).abs() > MINUTE_MS;
        if late || self.devices.is_offline(work.phone) || written.boar != work.right.boar {
            return Ok(());
        }
        // Of the last days some still wait, for whoever looks around.
        let (_, left) = self.place_in_story();
        if left <= 2 && self.table_chance.comes(0.5) {
            return Ok(());
        }
        let cup = Cup {
            boar: written.boar,
            collection: record.id,
            at: self.devices.zone().stamp(record.at_ms)?,
            collected: written,
            evaluated,
        };
        let ready_ms = work.ended_ms + 26 * MINUTE_MS;
        let standard = &self.standard.standard;
        match cup.barred(Chosen::default().count_as(standard), standard) {
            None => self.pour(cup, ready_ms),
            Some(Barred::NotMeasured(_)) if self.table_chance.comes(0.5) => {
                // Nobody looked: the plain route, marked as not counted.
                let chosen = Chosen {
                    route: Some(PlainRoute::Extended),
                    ..self.warmth()?
                };
                self.make(&[cup], chosen, ready_ms)
            }
            Some(_) => Ok(()),
        }
    }

    fn pour(&mut self, cup: Cup, ready_ms: i64) -> Result<(), TaleError> {
        if self.table.cups.is_empty() {
            let few = i64::from(self.table_chance.comes(0.25)) + 1;
            let wanted = match self.plan.boars >= POOLS_FROM {
                true => self.table_chance.whole(3, 5),
                false => few,
            };
            self.table.wanted = usize::try_from(wanted).unwrap_or(1);
        }
        self.table.cups.push(cup);
        self.table.ready_ms = ready_ms;
        if self.table.cups.len() >= self.table.wanted {
            self.fill_the_rest()?;
        }
        Ok(())
    }

    /// What waits for others that do not come today is filled as it is.
    pub(crate) fn fill_the_rest(&mut self) -> Result<(), TaleError> {
        let table = std::mem::take(&mut self.table);
        if table.cups.is_empty() {
            return Ok(());
        }
        let chosen = self.chosen()?;
        self.make(&table.cups, chosen, table.ready_ms)
    }

    /// Most leave what stands there; some choose.
    fn chosen(&mut self) -> Result<Chosen, TaleError> {
        let chance = &mut self.table_chance;
        let technique = match chance.share() {
            ..0.1 => Some(Technique::Intracervical),
            ..0.18 => Some(Technique::PostCervical),
            _ => None,
        };
        let weaker = technique.is_none() && chance.comes(0.15);
        Ok(Chosen {
            technique,
            target: weaker.then(|| SpermBillions::new(2.5)).transpose()?,
            ..self.warmth()?
        })
    }

    /// Both temperatures, where somebody measured them; now and then the extender was not waited for.
    fn warmth(&mut self) -> Result<Chosen, TaleError> {
        let chance = &mut self.table_chance;
        if chance.comes(0.3) {
            return Ok(Chosen::default());
        }
        let semen = chance.between(32.8, 34.6);
        let apart = if chance.comes(0.02) {
            -chance.between(2.3, 4.0)
        } else {
            chance.between(-1.4, 0.8)
        };
        let read = |celsius: f64| TemperatureC::new(crate::chance::tenth(celsius));
        Ok(Chosen {
            semen: Some(read(semen)?),
            extender_is: Some(read(semen + apart)?),
            ..Chosen::default()
        })
    }

    fn make(&mut self, cups: &[Cup], mut chosen: Chosen, ms: i64) -> Result<(), TaleError> {
        chosen.extender_mix = self.poured();
        let mut filling: Filling = fill(cups, &self.standard, &chosen, ms)?;
        // What is odd is asked about, and people say that it is right.
        while let Some(odd) = filling.odd.first() {
            chosen.kept.push(*odd);
            filling = fill(cups, &self.standard, &chosen, ms)?;
        }
        let code = self.code();
        let Some(batch) = code.and_then(|code| filling.batch(code)) else {
            return Ok(());
        };
        let fresh = Fresh {
            batch: EntryId::from_uuid(uuid::Uuid::nil()),
            boars: batch.sources.iter().map(|s| s.boar).collect(),
            doses: batch.doses,
            technique: batch.technique,
            made: self.day,
        };
        let when = When::now(ms, self.people.last().copied());
        let kept = batch.clone();
        let fact = Fact::SemenBatch(batch);
        let order = self
            .devices
            .say(Place::Laboratory, &fact, when, &mut self.table_chance)?;
        self.keep_a_sample(order.id, &kept);
        self.fresh.push(Fresh {
            batch: order.id,
            ..fresh
        });
        Ok(())
    }
}
