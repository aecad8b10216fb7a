//! What happens next, and when.

use std::collections::BTreeMap;

/// One thing that happens.
#[derive(Debug, Clone)]
pub enum Event {
    /// A person writes something down on a phone.
    Write(usize),
    /// A phone's screen lights up.
    Wake(usize),
    /// A phone's pause is over.
    Rested(usize, u64),
    /// A phone has waited long enough for an answer.
    Timeout(usize, u64),
    /// A dead phone is switched on.
    Boot(usize),
    /// A request reaches the office.
    Arrives(Request),
    /// An answer reaches a phone.
    Answered(usize, u64, Option<String>),
    /// A misfortune of the larger sort, or a backup.
    Chance,
    /// A copy of the office's file is put in its place.
    PutBack,
}

/// What a phone asks of the office.
#[derive(Debug, Clone)]
pub struct Request {
    /// Who asks.
    pub phone: usize,
    /// Which exchange of that phone.
    pub exchange: u64,
    /// What.
    pub ask: Ask,
}

/// The two questions.
#[derive(Debug, Clone)]
pub enum Ask {
    /// The text of a push.
    Push(String),
    /// The text of two cursors: of the ledgers, and of where the office was seen.
    Pull(String),
}

/// Events by time; those of one instant in the order they were planned.
#[derive(Debug, Default)]
pub struct Calendar {
    events: BTreeMap<(i64, u64), Event>,
    planned: u64,
}

impl Calendar {
    /// Plans an event.
    pub fn plan(&mut self, at_ms: i64, event: Event) {
        self.planned += 1;
        self.events.insert((at_ms, self.planned), event);
    }

    /// The next event.
    pub fn next(&mut self) -> Option<(i64, Event)> {
        self.events.pop_first().map(|((at, _), event)| (at, event))
    }

    /// All connections break.
    pub fn break_connections(&mut self) {
        self.events
            .retain(|_, e| !matches!(e, Event::Arrives(_) | Event::Answered(..)));
    }

    /// Whether a request of that phone is still on its way at that time.
    pub fn overtakes(&self, phone: usize, at_ms: i64) -> bool {
        self.events
            .range((at_ms, 0)..)
            .any(|(_, e)| matches!(e, Event::Arrives(r) if r.phone == phone))
    }

    /// Keeps only what a healed world needs.
    pub fn heal(&mut self) {
        self.events.retain(|_, e| {
            matches!(
                e,
                Event::Rested(..)
                    | Event::Timeout(..)
                    | Event::Boot(_)
                    | Event::Arrives(_)
                    | Event::Answered(..)
            )
        });
    }
}
