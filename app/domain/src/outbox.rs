//! When to send: a pure machine. Input in, effects out; a dumb driver carries them out.
//!
//! It holds no entries. The store knows what waits; the machine only knows how many, and
//! what the last attempt said.

use serde::{Deserialize, Serialize};

/// The first pause after a failure, in ms; it doubles up to [`LONGEST_PAUSE_MS`].
pub const FIRST_PAUSE_MS: i64 = 2_000;
/// The longest pause between attempts, in ms.
pub const LONGEST_PAUSE_MS: i64 = 5 * 60_000;

/// What the driver tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Input {
    /// The app opened, came online, became visible, or the person asked; `unsent` entries wait.
    Wake {
        /// How many wait.
        unsent: u64,
    },
    /// An entry was saved.
    Saved,
    /// The pause is over.
    Rested,
    /// The server answered a push; `left` entries still wait.
    Received {
        /// How many still wait.
        left: u64,
        /// See [`crate::sync::Orders`].
        orders: crate::sync::Orders,
    },
    /// A page came; another may follow.
    Pulled {
        /// Another follows.
        more: bool,
    },
    /// Nothing came back, or the server failed; trying again may help.
    Failed,
    /// The office's disk is full; trying again helps once somebody made room there.
    Full,
    /// The server does not know this device any more.
    Refused,
    /// The server speaks another protocol; a reload may help.
    Outdated,
}

/// What the driver is to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effect {
    /// Send the next page of what waits.
    Push,
    /// Fetch the next page of ledgers.
    Pull,
    /// Wake the machine after so many ms.
    Rest {
        /// Milliseconds.
        ms: i64,
    },
    /// Mark all that is held as unsent.
    MarkAllUnsent,
    /// Take a new device identity and re-issue what the office does not have.
    NewDevice,
    /// Tell the person.
    Warn(Warning),
}

/// What a person should know.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Warning {
    /// The office refuses this device; the entries are kept.
    Refused,
    /// The office's disk is full; the entries are kept.
    Full,
    /// The app is older or newer than the office.
    Outdated,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Phase {
    #[default]
    Idle,
    Pushing,
    Pulling,
    Resting,
    Stopped,
}

/// The machine.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Outbox {
    phase: Phase,
    failures: u32,
    saved_meanwhile: bool,
}

impl Outbox {
    /// Takes one input and returns what to do, in order.
    pub fn on(&mut self, input: Input) -> Vec<Effect> {
        match (input, self.phase) {
            (Input::Wake { unsent }, Phase::Idle | Phase::Resting | Phase::Stopped) => {
                self.start(unsent > 0)
            }
            (Input::Saved, Phase::Idle) | (Input::Rested, Phase::Resting) => self.start(true),
            (Input::Saved | Input::Wake { .. }, Phase::Pushing | Phase::Pulling) => {
                self.saved_meanwhile = true;
                vec![]
            }
            (Input::Received { left, orders }, Phase::Pushing) => self.received(left, orders),
            (Input::Pulled { more }, Phase::Pulling) => self.pulled(more),
            (Input::Failed, Phase::Pushing | Phase::Pulling) => vec![self.rest()],
            (Input::Full, Phase::Pushing | Phase::Pulling) => {
                vec![Effect::Warn(Warning::Full), self.rest()]
            }
            (Input::Refused, Phase::Pushing | Phase::Pulling) => self.stop(Warning::Refused),
            (Input::Outdated, Phase::Pushing | Phase::Pulling) => self.stop(Warning::Outdated),
            // Late answers to questions no longer asked, and saves while paused, change nothing.
            _ => vec![],
        }
    }

    /// Whether an exchange is under way.
    pub const fn is_busy(&self) -> bool {
        matches!(self.phase, Phase::Pushing | Phase::Pulling)
    }

    fn start(&mut self, push: bool) -> Vec<Effect> {
        self.saved_meanwhile = false;
        self.phase = if push { Phase::Pushing } else { Phase::Pulling };
        vec![if push { Effect::Push } else { Effect::Pull }]
    }

    fn received(&mut self, left: u64, orders: crate::sync::Orders) -> Vec<Effect> {
        self.failures = 0;
        let mut effects = vec![];
        if orders.new_device {
            effects.push(Effect::NewDevice);
        }
        if orders.resend {
            effects.push(Effect::MarkAllUnsent);
        }
        let more = left > 0 || self.saved_meanwhile || !effects.is_empty();
        effects.extend(self.start(more));
        effects
    }

    fn pulled(&mut self, more: bool) -> Vec<Effect> {
        self.failures = 0;
        if more {
            return vec![Effect::Pull];
        }
        self.phase = Phase::Idle;
        if self.saved_meanwhile {
            self.start(true)
        } else {
            vec![]
        }
    }

    fn rest(&mut self) -> Effect {
        let pause = FIRST_PAUSE_MS.saturating_mul(1 << self.failures.min(10));
        self.failures += 1;
        self.phase = Phase::Resting;
        Effect::Rest {
            ms: pause.min(LONGEST_PAUSE_MS),
        }
    }

    fn stop(&mut self, warning: Warning) -> Vec<Effect> {
        self.phase = Phase::Stopped;
        vec![Effect::Warn(warning)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sync::Orders;

    const CALM: Orders = Orders {
        resend: false,
        new_device: false,
    };

    #[test]
    fn sends_until_nothing_waits_then_pulls() {
        let mut outbox = Outbox::default();
        assert_eq!(outbox.on(Input::Wake { unsent: 3 }), [Effect::Push]);
        assert_eq!(
            outbox.on(Input::Received {
                left: 1,
                orders: CALM
            }),
            [Effect::Push]
        );
        assert_eq!(
            outbox.on(Input::Received {
                left: 0,
                orders: CALM
            }),
            [Effect::Pull]
        );
        assert_eq!(outbox.on(Input::Pulled { more: true }), [Effect::Pull]);
        assert_eq!(outbox.on(Input::Pulled { more: false }), []);
        assert!(!outbox.is_busy());
    }

    #[test]
    fn a_save_during_a_pull_is_sent_after_it() {
        let mut outbox = Outbox::default();
        outbox.on(Input::Wake { unsent: 0 });
        assert_eq!(outbox.on(Input::Saved), []);
        assert_eq!(outbox.on(Input::Pulled { more: false }), [Effect::Push]);
    }

    #[test]
    fn pauses_double_and_end() {
        let mut outbox = Outbox::default();
        outbox.on(Input::Wake { unsent: 1 });
        let mut last = 0;
        for _ in 0..20 {
            let [Effect::Rest { ms }] = outbox.on(Input::Failed)[..] else {
                panic!("a pause follows a failure")
            };
            assert!(ms >= last && ms <= LONGEST_PAUSE_MS);
            last = ms;
            assert_eq!(outbox.on(Input::Rested), [Effect::Push]);
        }
        assert_eq!(last, LONGEST_PAUSE_MS);
    }

    #[test]
    fn a_refusal_stops_and_a_person_starts_again() {
        let mut outbox = Outbox::default();
        outbox.on(Input::Wake { unsent: 1 });
        assert_eq!(outbox.on(Input::Refused), [Effect::Warn(Warning::Refused)]);
        assert_eq!(outbox.on(Input::Saved), []);
        assert_eq!(outbox.on(Input::Wake { unsent: 2 }), [Effect::Push]);
    }

    #[test]
    fn a_full_office_is_told_and_asked_again() {
        let mut outbox = Outbox::default();
        outbox.on(Input::Wake { unsent: 1 });
        let told = outbox.on(Input::Full);
        assert_eq!(
            told,
            [
                Effect::Warn(Warning::Full),
                Effect::Rest { ms: FIRST_PAUSE_MS }
            ]
        );
        assert_eq!(outbox.on(Input::Rested), [Effect::Push]);
    }

    #[test]
    fn a_restored_server_gets_everything_again() {
        let mut outbox = Outbox::default();
        outbox.on(Input::Wake { unsent: 1 });
        let orders = Orders {
            resend: true,
            new_device: false,
        };
        assert_eq!(
            outbox.on(Input::Received { left: 0, orders }),
            [Effect::MarkAllUnsent, Effect::Push]
        );
    }
}
