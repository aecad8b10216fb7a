//! The larger misfortunes, and what people do against them.

use super::events::Event;
use super::faults::Fault;
use super::watch::Wrong;
use super::world::World;
use pentally_domain::id::EntryId;
use pentally_domain::time::{DAY_MS, HOUR_MS};
use std::collections::BTreeSet;

impl World {
    /// Something happens that is neither work nor network.
    pub fn chance(&mut self) {
        let phone = self.dice.below(self.phones.len());
        match self.dice.below(100) {
            0..=11 => self.office.back_up(self.now_ms, &mut self.dice),
            12..=19 => self.office.copy_file(),
            20..=27 => self.office_says(),
            28..=33 => self.office_goes_back(Fault::OfficeRestored),
            34..=37 => self.office_goes_back(Fault::OfficeFileCopied),
            38..=49 => {
                let phone = &mut self.phones[phone];
                phone.copy = Some((phone.disk.clone(), phone.holds.clone()));
            }
            50..=55 | 84..=92 => self.phone_goes_back(phone),
            56..=65 => {
                let days = self.dice.between(1, 8);
                self.phones[phone].offline_until_ms = self.now_ms + days * DAY_MS;
                self.faults.count(Fault::OfflineForDays);
            }
            66..=79 => {
                let watch = &mut self.phones[phone].watch;
                let wrong = watch.changes(self.now_ms, &mut self.dice);
                let fault = wrong.map(|wrong| match wrong {
                    Wrong::Ahead => Fault::PhoneClockAhead,
                    Wrong::Behind => Fault::PhoneClockBehind,
                    Wrong::SteppedBack => Fault::PhoneClockSteppedBack,
                    Wrong::Froze => Fault::PhoneClockFroze,
                });
                fault.into_iter().for_each(|fault| self.faults.count(fault));
            }
            80..=83 => {
                let wrong = self.office.watch.changes(self.now_ms, &mut self.dice);
                let fault = wrong.map(|wrong| match wrong {
                    Wrong::Ahead => Fault::OfficeClockAhead,
                    Wrong::Behind => Fault::OfficeClockBehind,
                    Wrong::SteppedBack => Fault::OfficeClockSteppedBack,
                    Wrong::Froze => Fault::OfficeClockFroze,
                });
                fault.into_iter().for_each(|fault| self.faults.count(fault));
            }
            93..=96 => {
                // So soon that at times only what stands aside came in between.
                self.office.copy_file();
                self.plan(3 * HOUR_MS, Event::PutBack);
            }
            _ => {}
        }
    }

    fn office_says(&mut self) {
        for entry in self.office.say(self.now_ms, &mut self.dice) {
            self.oracle.wrote(&entry);
            self.oracle.saved.insert(entry.envelope().id);
        }
    }

    /// The office stands where it stood before.
    pub fn office_goes_back(&mut self, how: Fault) {
        let before = self.office.has();
        let done = match how {
            Fault::OfficeRestored => self.office.restore(self.now_ms, &mut self.dice),
            _ => self.office.take_copy(self.now_ms, &mut self.dice),
        };
        if done {
            self.faults.count(how);
            self.calendar.break_connections();
            let now = self.office.has();
            self.oracle.office_lost(before.difference(&now).copied());
            self.take_stock(&now);
        }
    }

    fn phone_goes_back(&mut self, phone: usize) {
        if self.phones[phone].roll_back(&mut self.oracle) {
            self.faults.count(Fault::PhoneRolledBack);
            self.plan(HOUR_MS, Event::Boot(phone));
            self.take_stock(&self.office.has());
        }
    }

    fn take_stock(&mut self, log: &BTreeSet<EntryId>) {
        let held: BTreeSet<EntryId> = self
            .phones
            .iter()
            .flat_map(|phone| phone.holds.iter().copied())
            .collect();
        self.oracle.takes_stock(&held, log);
    }
}
