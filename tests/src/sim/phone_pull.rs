//! How a phone fetches the ledgers that changed, and what it shows.

use super::bug::Bug;
use super::disk::Write;
use super::faults::{At, Crash};
use super::phone::{Hands, Phone};
use pentally_app::device::post;
use pentally_app::device::show::goes_on_top;
use pentally_domain::barn::Barn;
use pentally_domain::fact::Fact;
use pentally_domain::ledger::{Ledger, Row, keeps};
use pentally_domain::outbox::Input;
use pentally_domain::sync::Page;
use pentally_domain::time::Clock;
use pentally_domain::writer::Head;
use std::rc::Rc;

impl Phone {
    /// Takes in a page of ledgers. Says what the outbox must hear, and whether this phone now has
    /// something to send again.
    pub fn take_page(
        &mut self,
        page: &Page,
        hands: &mut Hands<'_>,
    ) -> Result<(Input, bool), Crash> {
        let before = self.disk.pulled.clone();
        let own = self.disk.head.device;
        let received_to = self.received_to(own, hands);
        let lacks = !page.more && post::lacks(&page.includes, own, received_to);
        let restored = lacks || before.sees_office_went_back(page);
        if restored && !hands.has(Bug::CursorBeforeResend) {
            self.mark_all_unsent(false, hands)?;
        }
        let ledgers: Vec<Ledger> = page
            .ledgers
            .iter()
            .map(|raw| serde_json::from_str(raw.get()).unwrap())
            .collect();
        let pulled = before.after_page(page);
        let mut writes = vec![];
        if before.begins_anew(page) && !hands.has(Bug::OldLedgersKept) {
            writes.push(Write::ForgetLedgers);
        }
        if hands.has(Bug::CursorFirst) {
            self.disk.commit(vec![Write::Pulled(pulled.clone())]);
        }
        hands.awaits(At::PageInTransaction)?;
        writes.extend(
            ledgers
                .iter()
                .map(|ledger| Write::Ledger(Rc::new(stored(ledger, hands)))),
        );
        let latest = ledgers
            .iter()
            .flat_map(Ledger::rows)
            .map(|row| row.order.clock)
            .fold(Clock::default(), Clock::max);
        let now_ms = self.watch.shows(hands.now_ms);
        let head = self.disk.head;
        writes.push(Write::Pulled(pulled));
        writes.push(Write::Head(Head {
            clock: head.clock.witness(latest, now_ms),
            seen: page.cursor.n,
            ..head
        }));
        self.disk.commit(writes);
        hands.awaits(At::PageTaken)?;
        self.look_at(&ledgers, hands);
        if restored && hands.has(Bug::CursorBeforeResend) {
            self.mark_all_unsent(false, hands)?;
        }
        Ok((Input::Pulled { more: page.more }, restored))
    }

    /// People see some of what came.
    fn look_at(&mut self, ledgers: &[Ledger], hands: &mut Hands<'_>) {
        for ledger in ledgers {
            let rows: Vec<&Row> = ledger.rows().collect();
            if let Some(row) = hands.dice.one(&rows) {
                self.seen
                    .insert(row.order.id, (row.order, row.fact.clone()));
            }
        }
    }

    /// What its pages show: the pulled ledgers with its own entries on top, without what the
    /// office did not accept.
    pub fn shows(&self) -> Barn {
        let mut barn = Barn::default();
        self.disk
            .summaries
            .values()
            .for_each(|ledger| barn.put(ledger));
        for (key, held) in &self.disk.entries {
            let aside = self.disk.aside.get(key);
            if aside.is_none() && goes_on_top(*key, &self.disk.pulled.includes, aside) {
                barn.apply(&held.entry);
            }
        }
        barn
    }
}

/// The ledger as it is stored.
fn stored(ledger: &Ledger, hands: &Hands<'_>) -> Ledger {
    if !hands.has(Bug::WindowDropsNewest) {
        return ledger.clone();
    }
    let mut stored = Ledger::new(ledger.subject());
    let of_kind = |row: &Row| {
        ledger
            .rows()
            .filter(|r| r.fact.kind() == row.fact.kind())
            .count()
    };
    let newest = |row: &Row| {
        ledger
            .rows()
            .filter(|r| r.fact.kind() == row.fact.kind())
            .all(|r| r.order <= row.order)
    };
    let amends = |row: &Row| matches!(row.fact, Fact::Void(_) | Fact::Correction(_));
    let kept = ledger
        .rows()
        .filter(|row| amends(row) || of_kind(row) < keeps(row.fact.kind()) || !newest(row));
    kept.for_each(|row| stored.insert(row.clone()));
    stored
}
