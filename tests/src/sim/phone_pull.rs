//! How a phone fetches the ledgers that changed, and what it shows.

use super::bug::Bug;
use super::disk::{Pulled, Write};
use super::faults::Crash;
use super::phone::{Hands, Phone};
use pentally_app::device::post;
use pentally_app::device::show::goes_on_top;
use pentally_domain::barn::Barn;
use pentally_domain::fact::Fact;
use pentally_domain::ledger::{Ledger, Row, keeps};
use pentally_domain::outbox::Input;
use pentally_domain::sync::{Cursor, Page};
use pentally_domain::time::Clock;
use pentally_domain::writer::Head;
use std::collections::BTreeMap;

impl Phone {
    /// Takes in a page of ledgers. Says what the outbox must hear, and whether this phone now has
    /// something to send again.
    pub fn take_page(
        &mut self,
        page: &Page,
        hands: &mut Hands<'_>,
    ) -> Result<(Input, bool), Crash> {
        let before = self.disk.pulled.clone();
        let stands_before = |known: &Cursor| !page.more && post::stands_before(&page.cursor, known);
        let restored = (page.restart && before.cursor.is_some())
            || before.known.as_ref().is_some_and(stands_before);
        let anew = page.restart || before.cursor.is_none();
        if restored && !hands.has(Bug::CursorBeforeResend) {
            // First, because the page's cursor wipes out what says that the office went back.
            self.mark_all_unsent(false, hands)?;
        }
        let ledgers: Vec<Ledger> = page
            .ledgers
            .iter()
            .map(|raw| serde_json::from_str(raw.get()).unwrap())
            .collect();
        let includes = match (page.more, anew) {
            (false, _) => page.includes.clone(),
            (true, true) => BTreeMap::default(),
            (true, false) => before.includes.clone(),
        };
        let pulled = Pulled {
            cursor: Some(page.cursor),
            known: if page.more {
                before.known.filter(|_| !restored)
            } else {
                Some(page.cursor)
            },
            includes,
        };
        let mut writes = vec![];
        if anew && !hands.has(Bug::OldLedgersKept) {
            writes.push(Write::ForgetLedgers);
        }
        hands.awaits()?;
        if hands.has(Bug::CursorFirst) {
            self.disk.commit(vec![Write::Pulled(pulled.clone())]);
            hands.awaits()?;
        }
        writes.extend(
            ledgers
                .iter()
                .map(|ledger| Write::Ledger(Box::new(stored(ledger, hands)))),
        );
        let latest = ledgers
            .iter()
            .flat_map(Ledger::rows)
            .map(|row| row.order.clock)
            .fold(Clock::default(), Clock::max);
        let now_ms = hands.now_ms + self.skew_ms;
        let head = self.disk.head;
        writes.push(Write::Pulled(pulled));
        writes.push(Write::Head(Head {
            clock: head.clock.witness(latest, now_ms),
            seen: page.cursor.n,
            ..head
        }));
        self.disk.commit(writes);
        hands.awaits()?;
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
        for (key, entry) in &self.disk.entries {
            let aside = self.disk.aside.get(key);
            if aside.is_none() && goes_on_top(*key, &self.disk.pulled.includes, aside) {
                barn.apply(entry);
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
