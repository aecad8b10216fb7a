//! What was given at this visit: the sow's row says it, takes it back, and asks before more.

use crate::act::Act;
use crate::parts::{Action, Drawing, Kind};
use crate::words::{Words, key};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::envelope::Entry;
use pentally_domain::fact::Fact;
use pentally_domain::id::SowId;

/// What one tap gave.
#[derive(Debug, Clone, PartialEq)]
struct Given {
    sow: SowId,
    doses: u8,
    /// Takes back all that the tap wrote down.
    voids: Vec<Fact>,
}

/// The taps of this visit, the latest last.
#[derive(Debug, Clone, Copy)]
pub(super) struct Visit {
    given: RwSignal<Vec<Given>>,
    /// Who is asked about: does she take more?
    asked: RwSignal<Option<SowId>>,
}

impl Visit {
    pub(super) fn new() -> Self {
        Self {
            given: RwSignal::new(vec![]),
            asked: RwSignal::new(None),
        }
    }

    /// The sows that were served, each once.
    pub(super) fn served(self) -> Vec<SowId> {
        let mut sows = vec![];
        self.given.with(|all| {
            for one in all {
                if !sows.contains(&one.sow) {
                    sows.push(one.sow);
                }
            }
        });
        sows
    }

    /// Keeps what a tap wrote down.
    pub(super) fn gave(self, sow: SowId, doses: u8, facts: &[Fact], entries: &[Entry]) {
        let void = |(entry, fact): (&Entry, &Fact)| Fact::Void(Void::of(entry.order(), fact));
        let voids = entries.iter().zip(facts).map(void).collect();
        self.asked.set(None);
        self.given
            .update(|all| all.push(Given { sow, doses, voids }));
    }

    /// The row of a sow that was served: what she got, and its undo. Another tap on it asks.
    pub(super) fn row(
        self,
        w: Words,
        act: Act,
        (sow, number): (SowId, String),
        (again, left): (i64, u32),
        more: impl Fn() + Send + Sync + 'static,
    ) -> AnyView {
        let got = self.given.with(|all| {
            let hers = all.iter().filter(|one| one.sow == sow);
            hers.map(|one| u32::from(one.doses)).sum::<u32>()
        });
        let asks = self.asked.get() == Some(sow);
        let says = if asks {
            let args = [("n", again.into()), ("number", number.into())];
            w.tr_with(key::SERVE_AGAIN, &args)
        } else {
            let args = [
                ("n", got.into()),
                ("number", number.into()),
                ("left", left.into()),
            ];
            w.tr_with(key::SERVE_GAVE, &args)
        };
        let drawing = match asks {
            true => Drawing::Sow,
            false => Drawing::Tick,
        };
        let tap = move |()| match self.asked.get_untracked() == Some(sow) {
            true => more(),
            false => self.asked.set(Some(sow)),
        };
        let back = move |()| self.take_back(act, sow);
        view! {
            <Action word=says kind=Kind::Quiet drawing=drawing on_tap=tap/>
            <Action word=w.tr(key::UNDO) kind=Kind::Quiet drawing=Drawing::Undo on_tap=back/>
        }
        .into_any()
    }

    /// Takes back the latest tap on her.
    fn take_back(self, act: Act, sow: SowId) {
        let latest = self
            .given
            .with_untracked(|all| all.iter().rev().find(|one| one.sow == sow).cloned());
        let Some(latest) = latest else {
            return;
        };
        let drafts = latest.voids.iter().cloned().map(Into::into).collect();
        act.save(drafts, move |_| {
            self.asked.set(None);
            self.given.update(|all| all.retain(|one| *one != latest));
        });
    }
}
