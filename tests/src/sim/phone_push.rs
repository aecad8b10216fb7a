//! How a phone hands over what waits and does what the receipt says: transaction by transaction
//! as the app does it, with the app's own functions for every decision.

use super::bug::Bug;
use super::disk::{Held, Write};
use super::events::Ask;
use super::faults::{At, Crash, Fault};
use super::phone::{Hands, Phone};
use pentally_app::device::held::HeldKey;
use pentally_app::device::post::{self, Mark};
use pentally_app::device::reissue::reissue;
use pentally_app::device::show::SetAside;
use pentally_domain::envelope::{Entry, NUMBER_MAX};
use pentally_domain::id::{DeviceId, EntryId};
use pentally_domain::outbox::Input;
use pentally_domain::sync::Receipt;
use pentally_domain::writer::Head;
use std::rc::Rc;

/// The most held entries let go after one receipt, or marked in one transaction.
const AT_ONCE: usize = 50;

impl Phone {
    /// Packs the next page of what waits.
    pub fn push_request(&mut self, hands: &mut Hands<'_>) -> (u64, Ask) {
        let device = self.disk.head.device;
        let some = usize::try_from(hands.dice.between(1, 25)).unwrap();
        let upto = post::fits(self.waiting().map(|held| held.line.len())).min(some);
        let sent: Vec<Rc<Held>> = self.waiting().take(upto).collect();
        let (floor, _) = self.own_threads();
        let unsent = self.disk.waiting.len() as u64;
        let believed = self.disk.pulled.believed();
        let push = post::push(device, believed, floor, unsent, vec![]);
        let (before, after) = post::frame(&push).unwrap();
        let lines: Vec<_> = sent.iter().map(|held| held.line.as_str()).collect();
        let keys: Vec<_> = sent.iter().map(|held| HeldKey::of(&held.entry)).collect();
        if hands.has(Bug::ReceivedWhenSent) {
            self.disk
                .commit(keys.iter().map(|key| Write::Sent(*key)).collect());
        }
        let exchange = self.next_exchange(Some((device, keys)));
        (
            exchange,
            Ask::Push(format!("{before}{}{after}", lines.join(","))),
        )
    }

    fn waiting(&self) -> impl Iterator<Item = Rc<Held>> {
        let held = |key| self.disk.entries.get(key).cloned();
        self.disk.waiting.iter().filter_map(held)
    }

    /// The first of its own entries that it holds, and up to where the office has them.
    fn own_threads(&self) -> (u64, Option<u64>) {
        let Head { device, seq, .. } = self.disk.head;
        let own = |seq| HeldKey { device, seq };
        let all = own(0)..=own(NUMBER_MAX);
        let held = self.disk.entries.range(all.clone()).next();
        let floor = held.map_or(seq + 1, |(key, _)| key.seq);
        let waiting = self.disk.waiting.range(all).next().map(|key| key.seq);
        (floor, post::received_to(seq, floor, waiting))
    }

    /// Up to where the office said it has what this device wrote.
    pub fn received_to(&self, device: DeviceId, hands: &Hands<'_>) -> Option<u64> {
        let compares = !hands.bug.is_some_and(Bug::needs_no_comparing);
        let is_own = self.disk.head.device == device;
        self.own_threads().1.filter(|_| compares && is_own)
    }

    /// Takes in a receipt.
    pub fn take_receipt(
        &mut self,
        receipt: &Receipt,
        (device, keys): (DeviceId, Vec<HeldKey>),
        hands: &mut Hands<'_>,
    ) -> Result<Input, Crash> {
        let received_to = self.received_to(device, hands);
        let resends = post::resends(receipt, device, received_to);
        let Ok(marks) = post::marks(&keys, &receipt.fates, resends) else {
            return Ok(Input::Failed);
        };
        let mut writes = self.mark(&marks, hands);
        writes.extend(self.let_go(device, receipt, hands));
        let mut pulled = self.disk.pulled.after_receipt(receipt);
        if hands.has(Bug::CursorBeforeResend) {
            pulled.known = Some(receipt.cursor);
        }
        writes.push(Write::Pulled(pulled));
        hands.awaits(At::ReceiptInTransaction)?;
        let stored = marks.iter().filter(|(_, mark)| *mark == Mark::Received);
        let stored = stored.filter_map(|(key, _)| self.disk.entries.get(key));
        stored.for_each(|held| hands.oracle.receives(held.entry.envelope().id));
        self.disk.commit(writes);
        hands.awaits(At::ReceiptTaken)?;
        let own_seq = if self.disk.head.device == device {
            self.disk.head.seq
        } else {
            u64::MAX
        };
        let mut stand: Vec<_> = self.disk.aside.clone().into_iter().collect();
        if hands.has(Bug::ForkForgotten) {
            stand.retain(|(key, _)| keys.contains(key));
        }
        let mut orders = post::read_orders(receipt, device, own_seq, received_to, &stand);
        orders.resend &= !hands.has(Bug::NoResend);
        if orders.new_device {
            self.mind
                .iter_mut()
                .for_each(|mind| mind.rolled_back = Some(device));
        } else if self.disk.aside.values().any(SetAside::wants_reissue) {
            self.write_again(hands)?;
        }
        Ok(Input::Received {
            left: self.disk.waiting.len() as u64,
            orders,
        })
    }

    fn mark(&self, marks: &[(HeldKey, Mark)], hands: &mut Hands<'_>) -> Vec<Write> {
        let mut writes = vec![];
        for (key, mark) in marks {
            match (mark, self.disk.entries.get(key)) {
                (Mark::Aside(_), _) if hands.has(Bug::AsideNotReceived) => continue,
                (Mark::Aside(why), Some(held)) => {
                    hands.faults.count(Fault::SetAside);
                    writes.push(Write::Aside(
                        *key,
                        SetAside {
                            entry: held.entry.envelope().id,
                            why: why.clone(),
                            again: None,
                        },
                    ));
                }
                (Mark::Received, _) if hands.has(Bug::ForgetOnReceipt) => {
                    writes.push(Write::LetGo(*key))
                }
                _ => {}
            }
            writes.push(Write::Sent(*key));
        }
        writes
    }

    fn let_go(&self, device: DeviceId, receipt: &Receipt, hands: &mut Hands<'_>) -> Vec<Write> {
        let mut milestones = self.disk.milestones.clone();
        milestones.pass(
            receipt.now_ms,
            receipt.contiguous.get(&device).copied().unwrap_or(0),
        );
        let upto = milestones.may_go(receipt.now_ms, receipt.backed_up);
        let own = |seq| HeldKey { device, seq };
        let needed =
            |key: &HeldKey| self.disk.waiting.contains(key) || self.disk.aside.contains_key(key);
        let old = self
            .disk
            .entries
            .range(own(0)..=own(upto))
            .map(|(key, _)| *key)
            .take(AT_ONCE);
        let go: Vec<_> = old.filter(|key| !needed(key)).map(Write::LetGo).collect();
        go.iter().for_each(|_| hands.faults.count(Fault::LetGo));
        [vec![Write::Milestones(Some(milestones))], go].concat()
    }

    /// Everything held waits again, some at a time, but for what was written again.
    pub fn mark_all_unsent(
        &mut self,
        forget_cursor: bool,
        hands: &mut Hands<'_>,
    ) -> Result<(), Crash> {
        if hands.has(Bug::NoResend) {
            return Ok(());
        }
        let keys: Vec<_> = self.disk.entries.keys().copied().collect();
        for some in keys.chunks(AT_ONCE) {
            let again = |key: &&HeldKey| {
                self.disk
                    .aside
                    .get(key)
                    .is_none_or(|aside| aside.again.is_none())
            };
            let writes = some
                .iter()
                .filter(again)
                .flat_map(|key| [Write::NotAside(*key), Write::Wait(*key)]);
            let writes = writes.collect();
            hands.awaits(At::Marking)?;
            self.disk.commit(writes);
        }
        hands.awaits(At::Marked)?;
        let marked = self.disk.pulled.after_marking(forget_cursor);
        self.disk.commit(vec![Write::Pulled(marked)]);
        hands.awaits(At::MarkingNoted)
    }

    /// A rolled-back phone goes on under a new identity.
    pub fn new_device(&mut self, hands: &mut Hands<'_>) -> Result<(), Crash> {
        let head = self.disk.head;
        let found = self.mind.as_mut().and_then(|mind| mind.rolled_back.take());
        hands.awaits(At::NewIdentityInTransaction)?;
        if Some(head.device) == found {
            let device = DeviceId::v7(self.watch.shows(hands.now_ms), hands.dice.ten());
            let fresh = Head {
                clock: head.clock,
                seen: head.seen,
                ..Head::new(head.farm, head.barn, device)
            };
            self.disk
                .commit(vec![Write::Head(fresh), Write::Milestones(None)]);
        }
        hands.awaits(At::NewIdentityTaken)?;
        self.write_again(hands)
    }

    /// Writes again, each once, what conflicts under a former identity.
    pub fn write_again(&mut self, hands: &mut Hands<'_>) -> Result<(), Crash> {
        let wanting: Vec<_> = self
            .disk
            .aside
            .iter()
            .filter(|(_, aside)| aside.wants_reissue())
            .collect();
        let wanting: Vec<(HeldKey, SetAside)> = wanting
            .into_iter()
            .map(|(key, aside)| (*key, aside.clone()))
            .collect();
        let former: Vec<Entry> = wanting
            .iter()
            .filter_map(|(key, _)| Some(self.disk.entries.get(key)?.entry.clone()))
            .collect();
        if former.is_empty() {
            return Ok(());
        }
        let chance: Vec<_> = former.iter().map(|_| hands.dice.ten()).collect();
        let (new, head) =
            reissue(&self.disk.head, &former, self.now(hands.now_ms), &chance).unwrap();
        let mut writes = vec![Write::Head(head)];
        for ((key, aside), entry) in wanting.iter().zip(&new) {
            writes.extend(Write::new_entry(entry));
            if !hands.has(Bug::AgainWithoutNote) {
                writes.push(Write::Aside(
                    *key,
                    SetAside {
                        again: Some(entry.envelope().id),
                        ..aside.clone()
                    },
                ));
            }
        }
        hands.awaits(At::AgainInTransaction)?;
        self.disk.commit(writes);
        for (old, new) in former.iter().zip(&new) {
            hands.faults.count(Fault::WrittenAgain);
            self.remember_again(old.envelope().id, new, hands);
        }
        hands.awaits(At::AgainCommitted)
    }

    fn remember_again(&mut self, old: EntryId, new: &Entry, hands: &mut Hands<'_>) {
        hands.oracle.wrote(new);
        hands
            .oracle
            .again
            .entry(old)
            .or_default()
            .push(new.envelope().id);
        self.holds.insert(new.envelope().id);
    }
}
