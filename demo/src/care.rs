//! The morning round: what is looked after at intervals, and who learns under whom.

use crate::TaleError;
use crate::devices::{Place, When};
use crate::story::Story;
use crate::year::is_working;
use chrono::{Datelike, Weekday};
use pentally_domain::check::{Check, Found, Thing};
use pentally_domain::fact::Fact;
use pentally_domain::said::Remark;
use pentally_domain::teaching::{SignOff, Supervised, Work};

/// The newcomer collects on so many Tuesdays and Fridays with another standing by.
const UNDER_EYES: u16 = 11;
/// Looked at each Monday.
const WEEKLY: [Thing; 6] = [
    Thing::Footing,
    Thing::DummyStands,
    Thing::WayOut,
    Thing::Quiet,
    Thing::Cup,
    Thing::Stage,
];

impl Story {
    /// One look after the other before the work, and who stood by at it.
    pub(crate) fn look_after_today(&mut self) -> Result<(), TaleError> {
        if !is_working(self.day) {
            return Ok(());
        }
        let (since, _) = self.place_in_story();
        let mut things = vec![Thing::DummyClean];
        if self.day.weekday() == Weekday::Mon {
            things.extend(WEEKLY);
            things.extend((self.day.day() <= 7).then_some(Thing::Scale));
            things.extend((self.day.day() <= 7).then_some(Thing::Water));
            things.extend(
                (self.day.day() <= 7 && self.day.month0().is_multiple_of(3))
                    .then_some(Thing::Thermometer),
            );
        }
        for (minute, what) in (0..).zip(things) {
            let is_wet = what == Thing::Footing && self.training_chance.comes(0.08);
            let answer = if is_wet { Found::NotFine } else { Found::Fine };
            let remark = is_wet
                .then(|| Remark::parse("Wet by the door, sawdust spread"))
                .transpose()?;
            self.say_at(
                5 * 60 + 20 + minute,
                0,
                &Fact::Check(Check {
                    what,
                    answer,
                    remark,
                }),
            )?;
            if is_wet {
                let again = Fact::Check(Check {
                    what,
                    answer: Found::Fine,
                    remark: None,
                });
                self.say_at(5 * 60 + 50, 0, &again)?;
            }
        }
        self.teach_today(since)
    }

    fn teach_today(&mut self, since: i64) -> Result<(), TaleError> {
        let [by, _, person, ..] = self.people[..] else {
            return Ok(());
        };
        let is_lesson = matches!(self.day.weekday(), Weekday::Tue | Weekday::Fri);
        if !is_lesson || self.taught > UNDER_EYES {
            return Ok(());
        }
        if self.taught == UNDER_EYES {
            self.taught += 1;
            let signed = SignOff {
                person,
                by,
                work: Work::Collection,
                counted: UNDER_EYES,
                asked: self.standard.standard.supervised_times,
            };
            return self.say_at(10 * 60, 0, &Fact::SignOff(signed));
        }
        if since < 7 {
            return Ok(());
        }
        self.taught += 1;
        let seen = Supervised {
            person,
            by,
            work: Work::Collection,
            record: None,
            boar: None,
        };
        self.say_at(9 * 60, 1, &Fact::Supervised(seen))
    }

    fn say_at(&mut self, minutes: i64, person: usize, fact: &Fact) -> Result<(), TaleError> {
        let when = When {
            ms: self.at(minutes),
            happened_ms: None,
            person: self.people.get(person).copied(),
        };
        self.devices
            .say(Place::Phone(0), fact, when, &mut self.training_chance)
            .map(drop)
    }
}
