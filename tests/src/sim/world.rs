//! The history: events one after the other, until the network heals and everything must agree.

use super::bug::Bug;
use super::dice::Dice;
use super::events::{Ask, Calendar, Event, Request};
use super::faults::{At, Counts, Crash, Fault, Faults};
use super::judge::{Broken, judge};
use super::network;
use super::office::Office;
use super::oracle::Oracle;
use super::phone::{Hands, Mind, Phone};
use pentally_domain::id::DeviceId;
use pentally_domain::outbox::{Effect, Input};
use pentally_domain::time::{DAY_MS, HOUR_MS, MINUTE_MS};
use pentally_domain::writer::Head;
use std::collections::{BTreeSet, VecDeque};

/// 2026-03-02 06:00 UTC.
const START_MS: i64 = 1_772_431_200_000;
/// A phone waits so long for an answer.
const PATIENCE_MS: i64 = 30_000;
/// A history has so many entries at least; some that are expected end up aside.
const ENTRIES: usize = 230;
/// A healed world settles within so many events.
const SETTLES_WITHIN: usize = 5_000;

/// What a history was like.
#[derive(Debug, Clone)]
pub struct Report {
    /// How many devices wrote, the office and abandoned identities included.
    pub devices: usize,
    /// How many entries the office had at the end, those that stand aside included.
    pub entries: usize,
    /// What went wrong, counted.
    pub counts: Counts,
    /// How many entries a disaster took before anything but one phone had them.
    pub excused: usize,
}

/// Plays one history. Twice the network heals and all comes to rest: halfway and at the end. An
/// invariant that does not hold then is the error.
pub fn history(seed: u64, bug: Option<Bug>) -> Result<Report, Broken> {
    let mut world = World::new(seed, bug);
    for entries in [ENTRIES / 2, ENTRIES] {
        world.play(entries);
        world.heal()?;
        judge(&world.office, &world.phones, &world.oracle)?;
    }
    let log = world.office.log();
    let devices: BTreeSet<DeviceId> = log.iter().map(|e| e.envelope().device).collect();
    Ok(Report {
        devices: devices.len(),
        entries: log.len() + world.office.aside().len(),
        counts: world.faults.counts().clone(),
        excused: world.oracle.excused.len(),
    })
}

/// Everything at one moment.
pub struct World {
    /// Chance.
    pub dice: Dice,
    /// Misfortune.
    pub faults: Faults,
    /// Truth.
    pub oracle: Oracle,
    /// What is to happen.
    pub calendar: Calendar,
    /// The office.
    pub office: Office,
    /// The phones.
    pub phones: Vec<Phone>,
    /// The true time.
    pub now_ms: i64,
    act_ms: i64,
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
        let days = if seed.is_multiple_of(4) {
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
            act_ms: days * DAY_MS / 2,
            pace_ms,
            bug,
            dice,
        };
        world.faults.healed = true;
        world
    }

    /// Plans an event that comes after so long on average.
    pub fn plan(&mut self, within_ms: i64, event: Event) {
        let at_ms = self.now_ms + self.dice.between(1, within_ms * 2);
        self.calendar.plan(at_ms, event);
    }

    /// Life and misfortune for half a history's time, and then on until there are so many entries.
    fn play(&mut self, entries: usize) {
        self.faults.healed = false;
        for phone in 0..self.phones.len() {
            self.plan(self.pace_ms, Event::Write(phone));
            self.plan(self.pace_ms, Event::Wake(phone));
        }
        self.plan(self.pace_ms / 4, Event::Chance);
        let end_ms = self.now_ms + self.act_ms;
        while self.now_ms < end_ms || self.oracle.expects() < entries {
            let Some((at_ms, event)) = self.calendar.next() else {
                return;
            };
            self.now_ms = at_ms;
            self.happens(event);
        }
    }

    /// The network heals, clocks stay as they are, everybody opens the app until nothing moves.
    fn heal(&mut self) -> Result<(), Broken> {
        self.faults.healed = true;
        self.calendar.heal();
        for phone in 0..self.phones.len() {
            self.phones[phone].offline_until_ms = 0;
            self.calendar.plan(self.now_ms, Event::Boot(phone));
        }
        let mut left = SETTLES_WITHIN;
        // Twice after all is quiet: the first round hands over, the others fetch what all did.
        for _ in 0..3 {
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
                self.lights_up(phone);
                self.live(phone, |phone, hands| {
                    phone.save(hands).map(|()| Some(Input::Saved))
                });
            }
            Event::Wake(phone) => {
                if !self.faults.healed {
                    self.plan(self.pace_ms, Event::Wake(phone));
                }
                self.wake(phone);
            }
            Event::Boot(phone) => {
                self.phones[phone].mind.get_or_insert_with(Mind::default);
                self.wake(phone);
            }
            Event::Rested(phone, pause) => {
                let lit = self.phones[phone].lit_until_ms >= self.now_ms;
                let this = |mind: &Mind| mind.pause == pause;
                let due = lit && self.phones[phone].mind.as_ref().is_some_and(this);
                self.live(phone, |_, _| Ok(due.then_some(Input::Rested)));
            }
            Event::Timeout(phone, exchange) => self.answered(phone, exchange, None),
            Event::Arrives(request) => self.arrives(&request),
            Event::Answered(phone, exchange, text) => self.answered(phone, exchange, text),
            Event::PutBack => self.office_goes_back(Fault::OfficeFileCopied),
            Event::Chance => {
                self.plan(self.pace_ms / 4, Event::Chance);
                self.chance();
            }
        }
    }

    /// A request reaches the office, which may die before it did anything or before it answered.
    fn arrives(&mut self, request: &Request) {
        let dies = self.faults.strikes(Fault::OfficeDied, 8, &mut self.dice);
        if dies && self.dice.in_thousand(500) {
            return self.office_dies();
        }
        let text = self
            .office
            .answer(&request.ask, self.now_ms, &mut self.dice);
        if dies {
            return self.office_dies();
        }
        network::answer(
            request,
            &text,
            self.now_ms,
            &mut self.calendar,
            &mut self.faults,
            &mut self.dice,
        );
    }

    fn office_dies(&mut self) {
        self.calendar.break_connections();
        self.office.starts_again(self.now_ms, &mut self.dice);
    }

    fn lights_up(&mut self, phone: usize) {
        let lit_ms = self.dice.between(1, 20) * MINUTE_MS;
        self.phones[phone].lit_until_ms = self.now_ms + lit_ms;
    }

    fn wake(&mut self, phone: usize) {
        self.lights_up(phone);
        self.live(phone, |phone, _| {
            let unsent = phone.unsent();
            Ok(Some(Input::Wake { unsent }))
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
                    let Ok(receipt) = serde_json::from_str(&text) else {
                        return Ok(Some(Input::Outdated));
                    };
                    phone.take_receipt(&receipt, sent, hands).map(Some)
                }
                (Some(text), None) => {
                    let Ok(page) = serde_json::from_str(&text) else {
                        return Ok(Some(Input::Outdated));
                    };
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
                hands.awaits(At::BeforeExchange)?;
                let (exchange, ask) = phone.push_request(&mut hands);
                self.send(index, exchange, ask);
            }
            Effect::Pull => {
                hands.awaits(At::BeforeExchange)?;
                let (exchange, ask) = phone.pull_request(&hands);
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
}
