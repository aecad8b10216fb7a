//! The history: events one after the other, until the network heals and everything must agree.

use super::bug::Bug;
use super::dice::Dice;
use super::events::{Ask, Calendar, Event, Request};
use super::faults::{Crash, Fault, Faults};
use super::judge::{Broken, judge};
use super::network;
use super::office::Office;
use super::oracle::Oracle;
use super::phone::{Hands, Mind, Phone};
use pentally_domain::id::{DeviceId, EntryId};
use pentally_domain::outbox::{Effect, Input};
use pentally_domain::time::{DAY_MS, HOUR_MS, MINUTE_MS};
use pentally_domain::writer::Head;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// 2026-03-02 06:00 UTC.
const START_MS: i64 = 1_772_431_200_000;
/// A phone waits so long for an answer.
const PATIENCE_MS: i64 = 30_000;
const TEN_YEARS_DAYS: i64 = 3_652;
/// A healed world settles within so many events.
const SETTLES_WITHIN: usize = 40_000;

/// What a history was like.
#[derive(Debug, Clone)]
pub struct Report {
    /// How many devices wrote, the office and abandoned identities included.
    pub devices: usize,
    /// How many entries the log had at the end.
    pub entries: usize,
    /// What went wrong, counted.
    pub faults: BTreeMap<Fault, u64>,
    /// How many entries a disaster took before anything but one phone had them.
    pub excused: usize,
}

/// Plays one history. An invariant that does not hold is the error.
pub fn history(seed: u64, bug: Option<Bug>) -> Result<Report, Broken> {
    let mut world = World::new(seed, bug);
    world.play();
    world.heal()?;
    judge(&world.office, &world.phones, &world.oracle)?;
    let log = world.office.log();
    Ok(Report {
        devices: log
            .iter()
            .map(|e| e.envelope().device)
            .collect::<BTreeSet<_>>()
            .len(),
        entries: log.len(),
        faults: world.faults.counts().clone(),
        excused: world.oracle.excused.len(),
    })
}

struct World {
    dice: Dice,
    faults: Faults,
    oracle: Oracle,
    calendar: Calendar,
    office: Office,
    phones: Vec<Phone>,
    now_ms: i64,
    end_ms: i64,
    pace_ms: i64,
    bug: Option<Bug>,
}

impl World {
    fn new(seed: u64, bug: Option<Bug>) -> Self {
        let mut dice = Dice::new(seed);
        let office = Office::new(seed, START_MS, bug, &mut dice);
        let phones = (0..dice.between(5, 8)).map(|_| {
            let device = DeviceId::v7(START_MS, dice.ten());
            Phone::new(Head::new(office.home.farm, office.home.barn, device))
        });
        let phones: Vec<_> = phones.collect();
        // One history in four is long enough for entries to grow old.
        let days = if seed % 4 == 0 {
            dice.between(120, 180)
        } else {
            dice.between(10, 40)
        };
        let count = i64::try_from(phones.len()).unwrap();
        // About 130 times somebody writes one to three things down.
        let pace_ms = days * DAY_MS * count / 130;
        let mut world = Self {
            faults: Faults::default(),
            oracle: Oracle::default(),
            calendar: Calendar::default(),
            office,
            phones,
            now_ms: START_MS,
            end_ms: START_MS + days * DAY_MS,
            pace_ms,
            bug,
            dice,
        };
        for phone in 0..world.phones.len() {
            world.plan(world.pace_ms, Event::Write(phone));
            world.plan(world.pace_ms, Event::Wake(phone));
        }
        world.plan(world.pace_ms, Event::Chance);
        world
    }

    fn plan(&mut self, within_ms: i64, event: Event) {
        let at_ms = self.now_ms + self.dice.between(1, within_ms * 2);
        self.calendar.plan(at_ms, event);
    }

    fn play(&mut self) {
        while let Some((at_ms, event)) = self.calendar.next_before(self.end_ms) {
            self.now_ms = at_ms;
            self.happens(event);
        }
    }

    /// The network heals, clocks stay as they are, everybody opens the app until nothing moves.
    fn heal(&mut self) -> Result<(), Broken> {
        self.now_ms = self.now_ms.max(self.end_ms);
        self.faults.healed = true;
        self.calendar.heal();
        for phone in 0..self.phones.len() {
            self.phones[phone].offline_until_ms = 0;
            self.calendar.plan(self.now_ms, Event::Boot(phone));
        }
        let mut left = SETTLES_WITHIN;
        // Twice after all is quiet: the first round hands over, the others fetch what all did.
        for _ in 0..4 {
            for phone in 0..self.phones.len() {
                self.calendar.plan(self.now_ms + DAY_MS, Event::Wake(phone));
            }
            while let Some((at_ms, event)) = self.calendar.next() {
                self.now_ms = at_ms;
                self.happens(event);
                left = left.checked_sub(1).ok_or(Broken::NeverSettles)?;
            }
        }
        Ok(())
    }

    fn happens(&mut self, event: Event) {
        match event {
            Event::Write(phone) => {
                self.plan(self.pace_ms, Event::Write(phone));
                self.live(phone, |phone, hands| {
                    phone.save(hands).map(|()| Some(Input::Saved))
                });
            }
            Event::Wake(phone) => {
                if !self.faults.healed {
                    self.plan(self.pace_ms / 2, Event::Wake(phone));
                }
                self.wake(phone);
            }
            Event::Boot(phone) => {
                self.phones[phone].mind.get_or_insert_with(Mind::default);
                self.wake(phone);
            }
            Event::Rested(phone, pause) => {
                let due = self.phones[phone]
                    .mind
                    .as_ref()
                    .is_some_and(|mind| mind.pause == pause);
                self.live(phone, |_, _| Ok(due.then_some(Input::Rested)));
            }
            Event::Timeout(phone, exchange) => self.answered(phone, exchange, None),
            Event::Arrives(request) => {
                let text = self
                    .office
                    .answer(&request.ask, self.now_ms, &mut self.dice);
                network::answer(
                    &request,
                    &text,
                    self.now_ms,
                    &mut self.calendar,
                    &mut self.faults,
                    &mut self.dice,
                );
            }
            Event::Answered(phone, exchange, text) => self.answered(phone, exchange, text),
            Event::Chance => {
                self.plan(self.pace_ms / 4, Event::Chance);
                self.chance();
            }
        }
    }

    fn wake(&mut self, phone: usize) {
        self.live(phone, |phone, _| {
            Ok(Some(Input::Wake {
                unsent: phone.disk.waiting.len() as u64,
            }))
        });
    }

    /// An answer, or the end of patience; what comes after that is nobody's any more.
    fn answered(&mut self, phone: usize, exchange: u64, text: Option<String>) {
        self.live(phone, |phone, hands| {
            let flight = phone
                .mind
                .as_mut()
                .and_then(|mind| mind.flight.take_if(|f| f.exchange == exchange));
            let Some(flight) = flight else {
                return Ok(None);
            };
            match (text, flight.sent) {
                (None, _) => Ok(Some(Input::Failed)),
                (Some(text), Some(sent)) => {
                    let receipt = serde_json::from_str(&text).unwrap();
                    phone.take_receipt(&receipt, sent, hands).map(Some)
                }
                (Some(text), None) => {
                    let page = serde_json::from_str(&text).unwrap();
                    let (input, restored) = phone.take_page(&page, hands)?;
                    if restored {
                        // The machine is pulling; this lets it push when it is through.
                        phone
                            .mind
                            .iter_mut()
                            .for_each(|mind| drop(mind.outbox.on(Input::Saved)));
                    }
                    Ok(Some(input))
                }
            }
        });
    }

    /// Lets a living phone do something, and then what its outbox says; it may die of it.
    fn live(
        &mut self,
        phone: usize,
        work: impl FnOnce(&mut Phone, &mut Hands<'_>) -> Result<Option<Input>, Crash>,
    ) {
        if self.phones[phone].mind.is_none() {
            return;
        }
        let mut hands = Hands {
            dice: &mut self.dice,
            faults: &mut self.faults,
            oracle: &mut self.oracle,
            now_ms: self.now_ms,
            bug: self.bug,
        };
        let done = work(&mut self.phones[phone], &mut hands);
        let died = match done {
            Ok(Some(input)) => self.carry_out(phone, input).is_err(),
            Ok(None) => false,
            Err(Crash) => true,
        };
        if died {
            self.phones[phone].mind = None;
            self.plan(3 * HOUR_MS, Event::Boot(phone));
        }
    }

    fn carry_out(&mut self, phone: usize, input: Input) -> Result<(), Crash> {
        let mut inputs = VecDeque::from([input]);
        while let Some(input) = inputs.pop_front() {
            let Some(mind) = &mut self.phones[phone].mind else {
                return Ok(());
            };
            for effect in mind.outbox.on(input) {
                self.act(phone, effect)?;
            }
        }
        Ok(())
    }

    fn act(&mut self, index: usize, effect: Effect) -> Result<(), Crash> {
        let mut hands = Hands {
            dice: &mut self.dice,
            faults: &mut self.faults,
            oracle: &mut self.oracle,
            now_ms: self.now_ms,
            bug: self.bug,
        };
        let phone = &mut self.phones[index];
        match effect {
            Effect::Push => {
                hands.awaits()?;
                let (exchange, ask) = phone.push_request(&mut hands);
                self.send(index, exchange, ask);
            }
            Effect::Pull => {
                hands.awaits()?;
                let (exchange, ask) = phone.pull_request();
                self.send(index, exchange, ask);
            }
            Effect::MarkAllUnsent => phone.mark_all_unsent(true, &mut hands)?,
            Effect::NewDevice => phone.new_device(&mut hands)?,
            Effect::Rest { ms } => {
                let pause = phone.mind.as_mut().map_or(0, |mind| {
                    mind.pause += 1;
                    mind.pause
                });
                self.calendar
                    .plan(self.now_ms + ms, Event::Rested(index, pause));
            }
            Effect::Warn(_) => {}
        }
        Ok(())
    }

    fn send(&mut self, phone: usize, exchange: u64, ask: Ask) {
        self.calendar
            .plan(self.now_ms + PATIENCE_MS, Event::Timeout(phone, exchange));
        if self.phones[phone].offline_until_ms > self.now_ms {
            return;
        }
        let request = Request {
            phone,
            exchange,
            ask,
        };
        network::request(
            &request,
            self.now_ms,
            &mut self.calendar,
            &mut self.faults,
            &mut self.dice,
        );
    }

    /// The larger misfortunes, and what people do against them.
    fn chance(&mut self) {
        let phone = self.dice.below(self.phones.len());
        match self.dice.below(100) {
            0..=11 => self.office.back_up(self.now_ms, &mut self.dice),
            12..=19 => self.office.copy_file(),
            20..=27 => {
                for entry in self.office.say(self.now_ms, &mut self.dice) {
                    self.oracle.wrote(&entry);
                    self.oracle.saved.insert(entry.envelope().id);
                }
            }
            28..=33 => self.office_goes_back(Fault::OfficeRestored),
            34..=37 => self.office_goes_back(Fault::OfficeFileCopied),
            38..=49 => {
                let phone = &mut self.phones[phone];
                phone.copy = Some((phone.disk.clone(), phone.holds.clone()));
            }
            50..=55 => self.phone_goes_back(phone),
            56..=65 => {
                let days = self.dice.between(1, 8);
                self.phones[phone].offline_until_ms = self.now_ms + days * DAY_MS;
                self.faults.count(Fault::OfflineForDays);
            }
            66..=75 => {
                self.phones[phone].skew_ms = self.skew_ms();
                self.faults.count(Fault::ClockOfPhoneJumped);
            }
            76..=77 => {
                self.office.skew_ms = self.skew_ms();
                self.faults.count(Fault::ClockOfOfficeJumped);
            }
            _ => {}
        }
    }

    /// Right again, minutes off, or anything within ten years.
    fn skew_ms(&mut self) -> i64 {
        match self.dice.below(4) {
            0 | 1 => 0,
            2 => self.dice.between(-20, 20) * MINUTE_MS,
            _ => self.dice.between(-TEN_YEARS_DAYS, TEN_YEARS_DAYS) * DAY_MS,
        }
    }

    fn office_goes_back(&mut self, how: Fault) {
        let before = self.office.has();
        let done = match how {
            Fault::OfficeRestored => self.office.restore(self.now_ms, &mut self.dice),
            _ => self.office.take_copy(self.now_ms, &mut self.dice),
        };
        if done {
            self.faults.count(how);
            self.calendar.break_connections();
            let held: BTreeSet<EntryId> = self
                .phones
                .iter()
                .flat_map(|phone| phone.holds.iter().copied())
                .collect();
            let lost = before.difference(&self.office.has()).copied().collect();
            self.oracle.restored(&lost, &held);
        }
    }

    fn phone_goes_back(&mut self, phone: usize) {
        let safe = self.office.has();
        if self.phones[phone].roll_back(&safe, &mut self.oracle) {
            self.faults.count(Fault::PhoneRolledBack);
            self.plan(HOUR_MS, Event::Boot(phone));
        }
    }
}
