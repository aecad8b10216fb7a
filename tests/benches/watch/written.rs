//! An invented boar's records: as the office reads them, and as a phone holds them.

use crate::barn::{Boar, Cup, day, start_ms};
use crate::dice::Dice;
use crate::trouble::{OFF_DAYS, Trouble};
use chrono::NaiveDate;
use pentally_domain::barn::{Barn, BoarFacts};
use pentally_domain::boar::{self, Before, OffCollection, OffReason, OnCollection};
use pentally_domain::collection::{self, Amount, Collection, Glove, Mount, Outcome};
use pentally_domain::counting::Dilution;
use pentally_domain::envelope::Order;
use pentally_domain::evaluation::{ConcentrationBy, Evaluation, Share};
use pentally_domain::fact::Fact;
use pentally_domain::id::{BarnId, DeviceId, EntryId, FarmId, PersonId};
use pentally_domain::ledger::Live;
use pentally_domain::output::{History, Measure};
use pentally_domain::said::{Label, Said};
use pentally_domain::time::{Clock, HOUR_MS, Stamp};
use pentally_domain::units::{Concentration, Count, Percent, VolumeMl};
use pentally_domain::writer::{Head, Moment};

/// A phone holds so many collections of a boar, and as many evaluations.
pub const WINDOW: usize = 24;
/// A time off that lies so many days back harms no more: six weeks after [`OFF_DAYS`], and some.
const LONG_OVER_DAYS: i64 = 60;
/// Two grids of a chamber.
const SQUARES: u16 = 50;

impl Boar {
    /// What his records up to a day, that one not among them, say.
    pub fn history(&self, until: i64) -> History {
        let mut history = History::default();
        history.take(&live(self.id_entry(), 0, &self.particulars()));
        for cup in self.cups.iter().filter(|c| c.day < until) {
            history.take(&live(cup.entry, cup.at_ms, &cup.collection(self)));
            if let Some(bench) = cup.evaluation(self) {
                history.take(&live(cup.bench, cup.at_ms + HOUR_MS, &bench));
            }
        }
        history
    }

    /// What a phone holds of him after his first `upto` ejaculates.
    pub fn on_phone(&self, upto: usize) -> BoarFacts {
        let (farm, barn) = (FarmId::v7(1, [1; 10]), BarnId::v7(1, [2; 10]));
        let mut phone = Phone {
            head: Head::new(farm, barn, DeviceId::v7(1, [3; 10])),
            barn: Barn::default(),
            dice: Dice::new(7),
        };
        let window = &self.cups[upto.saturating_sub(WINDOW)..upto];
        phone.say(self.id_entry(), &self.particulars(), 1, None);
        for (at_ms, fact) in window.first().into_iter().flat_map(|cup| self.was_off(cup)) {
            phone.note(&fact, at_ms);
        }
        for cup in window {
            if let Some((at_ms, off)) = self.off(cup) {
                phone.note(&off, at_ms);
            }
            phone.say(
                cup.entry,
                &cup.collection(self),
                cup.at_ms,
                Some(cup.person),
            );
            if let Some(bench) = cup.evaluation(self) {
                phone.say(cup.bench, &bench, cup.at_ms + HOUR_MS, None);
            }
        }
        phone.barn.boar(self.id).unwrap()
    }

    /// The time off that was entered before this cup and after the one before it.
    fn off(&self, cup: &Cup) -> Option<(i64, Fact)> {
        let plant = self.plant?;
        let off = self.goes_off(Some(day(plant.from + OFF_DAYS)))?;
        let first = self.cups.iter().find(|c| c.day >= plant.from)?;
        (first.entry == cup.entry).then(|| (start_ms(plant.from) + HOUR_MS, off))
    }

    /// The same had kept him off once before, until somebody put him back; over for longer than what
    /// it harms when this cup was filled.
    fn was_off(&self, cup: &Cup) -> Vec<(i64, Fact)> {
        let from = cup.day - LONG_OVER_DAYS;
        let back = Fact::OnCollection(OnCollection { boar: self.id });
        let off = self.goes_off(None).into_iter();
        off.flat_map(|off| [(from, off), (from + OFF_DAYS, back.clone())])
            .map(|(at, fact)| (start_ms(at), fact))
            .collect()
    }

    /// Off for what was planted, if that keeps a boar off.
    fn goes_off(&self, until: Option<NaiveDate>) -> Option<Fact> {
        let reason = match self.plant?.trouble {
            Trouble::Fever => OffReason::Fever,
            Trouble::Lame => OffReason::Lame,
            _ => return None,
        };
        Some(Fact::OffCollection(OffCollection {
            boar: self.id,
            reason,
            until,
            cull: None,
        }))
    }

    const fn id_entry(&self) -> EntryId {
        EntryId::from_uuid(self.id.uuid())
    }

    fn particulars(&self) -> Fact {
        Fact::Boar(boar::Boar {
            number: Label::parse("1").unwrap(),
            name: None,
            born: self.born_told.then(|| day(self.born)),
            line: self.line.clone(),
            ear: None,
            before: Before::Unknown,
            mind: None,
        })
    }
}

impl Cup {
    /// In the measure's own unit.
    pub fn value(&self, measure: Measure) -> Option<f64> {
        Some(measure.from_scale(self.scaled[measure.place()]?))
    }

    fn collection(&self, boar: &Boar) -> Fact {
        let volume = self.value(Measure::Volume);
        let poor_in = self.bearing.sperm_poor_in;
        Fact::Collection(Collection {
            boar: boar.id,
            outcome: Outcome::Collected,
            glove: Said::<Glove>::Confirmed(self.glove),
            mount: Said::Confirmed(Mount::Dummy),
            steps: vec![],
            sperm_poor_in: poor_in.map_or(Said::Unanswered, Said::Confirmed),
            amount: volume.map(|ml| Amount::Volume(VolumeMl::new(ml.min(1_500.0)).unwrap())),
            amount_confirmed: false,
            temper: None,
            trouble: self.trouble(),
            despite: None,
            note: None,
        })
    }

    fn trouble(&self) -> Vec<collection::Trouble> {
        let dirt = self.dirt.then_some(collection::Trouble::Dirt);
        let torn = self.torn.then_some(collection::Trouble::Filter);
        dirt.into_iter().chain(torn).collect()
    }

    fn evaluation(&self, boar: &Boar) -> Option<Fact> {
        let of = |measure| {
            let percent = Percent::new(self.value(measure)?).unwrap();
            Some(Share {
                percent,
                cells: Some(200),
            })
        };
        let [motile, abnormal] = [of(Measure::Motile), of(Measure::Abnormal)];
        let concentration = self.concentration();
        let any = motile.is_some() || abnormal.is_some() || concentration.is_some();
        any.then_some({
            Fact::Evaluation(Evaluation {
                concentration,
                motile,
                abnormal,
                ..Evaluation::begun(self.entry, boar.id)
            })
        })
    }

    fn concentration(&self) -> Option<ConcentrationBy> {
        let m_per_ml = 1_000.0 * self.value(Measure::Total)? / self.value(Measure::Volume)?;
        if self.by_instrument {
            let read = Concentration::new(m_per_ml.min(5_000.0)).unwrap();
            return Some(ConcentrationBy::Instrument(read));
        }
        // Thousands are counted: finer than anybody does, so that nothing is rounded away.
        let count = (m_per_ml * 4.0 * f64::from(SQUARES) / 10.0).round();
        Some(ConcentrationBy::Chamber {
            count: Count::new(count.min(100_000.0) as u32).unwrap(),
            squares: SQUARES,
            dilution: Dilution::new(vec![(1.0, 9.0)]).unwrap(),
        })
    }
}

struct Phone {
    head: Head,
    barn: Barn,
    dice: Dice,
}

impl Phone {
    /// An entry that nothing refers to.
    fn note(&mut self, fact: &Fact, at_ms: i64) {
        let id = EntryId::v7(1, self.dice.clone().ten());
        self.say(id, fact, at_ms, None);
    }

    fn say(&mut self, id: EntryId, fact: &Fact, at_ms: i64, person: Option<PersonId>) {
        let at = Stamp::new(at_ms, 0).unwrap();
        let uuid = *id.uuid().as_bytes();
        let moment = Moment {
            now: at,
            occurred_at: at,
            random: std::array::from_fn(|i| uuid[i + 6]),
            person,
        };
        let (entry, head) = self.head.write(fact, moment).unwrap();
        self.head = head;
        assert!(self.barn.apply(&entry));
    }
}

fn live(id: EntryId, at_ms: i64, fact: &Fact) -> Live<'_> {
    Live {
        order: Order {
            at_ms,
            clock: Clock::default(),
            id,
        },
        at: Stamp::new(at_ms, 0).unwrap(),
        person: None,
        device: DeviceId::v7(1, [3; 10]),
        seq: 1,
        fact,
        corrected_by: None,
    }
}
