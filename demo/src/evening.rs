//! Slips of the day, and the evening on which some of them are noticed.

use crate::TaleError;
use crate::barn::Work;
use crate::devices::{Place, When};
use crate::story::Story;
use pentally_domain::amend::{Correction, Note, Target, Void};
use pentally_domain::collection::{Amount, Collection, Glove, Outcome};
use pentally_domain::envelope::Order;
use pentally_domain::fact::{Fact, Subject};
use pentally_domain::id::PersonId;
use pentally_domain::said::{Remark, Said};
use pentally_domain::time::MINUTE_MS;
use pentally_domain::units::VolumeMl;

/// What somebody will look at again in the evening.
#[derive(Debug)]
pub struct Slip {
    record: Order,
    written: Collection,
    kind: SlipKind,
}

#[derive(Debug)]
enum SlipKind {
    /// It should read like this.
    Correct(Collection),
    /// The phone's clock was wrong; it happened then.
    Moved(i64),
    /// It should not be there.
    Void(Place, Option<PersonId>),
}

/// What handlers say about boars.
const WORDS: [&str; 6] = [
    "Scrape on the left shoulder, dry.",
    "New floor mat in front of the dummy, he likes it.",
    "Ate little this morning.",
    "Hoof trimmed.",
    "Poco interés hoy, mucho ruido fuera.",
    "Se monta enseguida.",
];

impl Story {
    /// The collection as it gets written: nearly always as it was.
    pub(crate) fn perhaps_slip(&mut self, work: &Work) -> Result<Collection, TaleError> {
        let mut written = work.right.clone();
        if self.chance.comes(1.0 / 140.0) {
            // A digit too many or too few on the keypad.
            let factor = if self.chance.comes(0.5) { 0.1 } else { 2.0 };
            if let Some(Amount::Volume(volume)) = written.amount {
                written.amount = Some(Amount::Volume(VolumeMl::new(
                    (volume.value() * factor).round(),
                )?));
                written.amount_confirmed = true;
            }
        } else if self.chance.comes(1.0 / 400.0)
            && let Some(neighbour) = self.boars.get(work.index + 1)
        {
            written.boar = neighbour.id;
        }
        Ok(written)
    }

    /// Plans what the evening does about a record.
    pub(crate) fn look_again_later(&mut self, work: &Work, record: Order, written: Collection) {
        let wrong_clock = (record.at_ms - work.began_ms).abs() > MINUTE_MS;
        if self.devices.is_offline(work.phone) {
            // Nobody else sees it for a week, and then nobody looks.
        } else if wrong_clock {
            self.slips.push(Slip {
                record,
                written,
                kind: SlipKind::Moved(work.began_ms),
            });
        } else if written != work.right {
            let kind = SlipKind::Correct(work.right.clone());
            self.slips.push(Slip {
                record,
                written,
                kind,
            });
        }
    }

    pub(crate) fn close_the_day(&mut self) -> Result<(), TaleError> {
        self.stray_taps()?;
        self.doubles()?;
        self.small_words()?;
        self.newer_version()?;
        for slip in std::mem::take(&mut self.slips) {
            self.mend(slip)?;
        }
        Ok(())
    }

    fn mend(&mut self, slip: Slip) -> Result<(), TaleError> {
        let Slip {
            record,
            written,
            kind,
        } = slip;
        let before = Fact::Collection(written);
        let ms = self.at(18 * 60);
        let when = When::now(ms, self.people.first().copied());
        let (place, fact, when) = match kind {
            SlipKind::Correct(right) => (
                Place::Office,
                Fact::Correction(Correction::of(record, &before, Fact::Collection(right))),
                when,
            ),
            SlipKind::Moved(began_ms) => {
                let occurred_at = Some(self.devices.zone().stamp(began_ms)?);
                let correction = Correction {
                    occurred_at,
                    ..Correction::of(record, &before, before.clone())
                };
                (Place::Office, Fact::Correction(correction), when)
            }
            SlipKind::Void(place, person) => (
                place,
                Fact::Void(Void::of(record, &before)),
                When::now(ms, person),
            ),
        };
        let order = self.devices.say(place, &fact, when, &mut self.chance)?;
        if let Fact::Void(void) = fact
            && self.chance.comes(0.1)
        {
            // Second thoughts: the undo is undone.
            let target = Target {
                amendment: Some(order.id),
                ..void.target
            };
            self.devices.say(
                place,
                &Fact::Void(Void {
                    target,
                    about: void.about,
                }),
                when,
                &mut self.chance,
            )?;
        }
        Ok(())
    }

    /// A collection saved in front of the wrong pen and taken back within a minute.
    fn stray_taps(&mut self) -> Result<(), TaleError> {
        let taps = self.count_of(1.0 / 250.0);
        for _ in 0..taps {
            let Some(boar) = self.chance.one(&self.boars).map(|b| b.id) else {
                continue;
            };
            let mut stray = nothing(boar);
            stray.glove = Said::ByDefault(Glove::Vinyl);
            let (phone, person) = (Place::Phone(0), self.somebody());
            let ms = self.at(13 * 60 + 20);
            let record = self.devices.say(
                phone,
                &Fact::Collection(stray.clone()),
                When::now(ms, person),
                &mut self.chance,
            )?;
            let void = Fact::Void(Void::of(record, &Fact::Collection(stray)));
            self.devices.say(
                phone,
                &void,
                When::now(ms + 40_000, person),
                &mut self.chance,
            )?;
        }
        Ok(())
    }

    /// Handler and helper both wrote the same collection down. Half of them are noticed.
    fn doubles(&mut self) -> Result<(), TaleError> {
        let (_, left) = self.place_in_story();
        let doubles = self.count_of(1.0 / 170.0) + i64::from(left == 2);
        for _ in 0..doubles {
            let today = self
                .boars
                .iter()
                .filter(|b| b.last == Some(self.day))
                .map(|b| b.id)
                .collect::<Vec<_>>();
            let Some(boar) = self.chance.one(&today).copied() else {
                continue;
            };
            let mut again = nothing(boar);
            again.outcome = Outcome::Collected;
            again.amount = Some(Amount::Volume(VolumeMl::new(
                self.chance.between(150.0, 300.0).round(),
            )?));
            let phone = Place::Phone(self.devices.phones() - 1);
            let happened_ms = Some(self.at(6 * 60 + 20));
            let when = When {
                ms: self.at(13 * 60 + 30),
                happened_ms,
                person: self.people.get(1).copied(),
            };
            let record = self.devices.say(
                phone,
                &Fact::Collection(again.clone()),
                when,
                &mut self.chance,
            )?;
            // An offline phone's record is not seen by anybody else that evening.
            if left > 3 && self.chance.comes(0.5) && !self.devices.is_offline(phone) {
                let kind = SlipKind::Void(Place::Office, self.people.first().copied());
                self.slips.push(Slip {
                    record,
                    written: again,
                    kind,
                });
            }
        }
        Ok(())
    }

    fn small_words(&mut self) -> Result<(), TaleError> {
        for _ in 0..self.count_of(1.0 / 160.0) {
            let boar = self.chance.one(&self.boars).map(|b| b.id);
            let words = self.chance.one(&WORDS).copied();
            if let (Some(boar), Some(words)) = (boar, words) {
                let note = Note {
                    about: Subject::Boar(boar),
                    text: Remark::parse(words)?,
                };
                let when = When::now(self.at(13 * 60 + 40), self.somebody());
                self.devices
                    .say(Place::Phone(0), &Fact::Note(note), when, &mut self.chance)?;
            }
        }
        Ok(())
    }

    /// In the last weeks the tablet runs a newer version that writes a kind unknown here.
    fn newer_version(&mut self) -> Result<(), TaleError> {
        let (_, left) = self.place_in_story();
        if !(3..45).contains(&left) || left % 7 != 0 {
            return Ok(());
        }
        let body = format!("{{\"litres\":{}}}", self.chance.whole(900, 1_400));
        let when = When::now(self.at(17 * 60), None);
        self.devices.write(
            Place::Laboratory,
            ("water_meter", 3, body),
            when,
            &mut self.chance,
        )?;
        Ok(())
    }

    /// How many of something that befalls each boar with that probability a day.
    fn count_of(&mut self, probability: f64) -> i64 {
        let boars = self.boars.len();
        (0..boars)
            .filter(|_| self.chance.comes(probability))
            .count()
            .try_into()
            .unwrap_or(0)
    }
}

/// A collection of which nothing is known.
fn nothing(boar: pentally_domain::id::BoarId) -> Collection {
    Collection {
        boar,
        outcome: Outcome::NoMount,
        glove: Said::Unanswered,
        mount: Said::Unanswered,
        steps: vec![],
        sperm_poor_in: Said::Unanswered,
        amount: None,
        amount_confirmed: false,
        temper: None,
        trouble: vec![],
        despite: None,
        note: None,
    }
}
