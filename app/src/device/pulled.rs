//! How far the ledgers held on a phone go, and what each answer of the office makes of that.

use super::post;
use pentally_domain::id::DeviceId;
use pentally_domain::pairing::Role;
use pentally_domain::sync::{Cursor, Page, Receipt};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// See the module's words.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pulled {
    /// Where to go on; none when everything must come again.
    pub cursor: Option<Cursor>,
    /// The furthest place at which the office was seen, by an answer of any kind: a restored
    /// office stands before it.
    #[serde(default)]
    pub known: Option<Cursor>,
    /// The ledgers are being replaced by those of another history, and not all have come.
    #[serde(default)]
    pub replacing: bool,
    /// Per device, up to where the ledgers include everything.
    pub includes: BTreeMap<DeviceId, u64>,
    /// When the office wrote them (ms since 1970).
    pub as_of_ms: Option<i64>,
    /// The part under which the office handed them out.
    #[serde(default)]
    pub role: Option<Role>,
}

impl Pulled {
    /// Where the office stands as far as this phone knows; every push says it.
    pub fn believed(&self) -> Option<Cursor> {
        self.known.or(self.cursor)
    }

    /// Whether a page shows that the office's history is not the one that was pulled and pushed to
    /// before. Then all that is held is marked to be sent again *before* the page is stored: its
    /// cursor wipes out what tells the two histories apart, and a phone that died in between would
    /// never send what the office has lost.
    pub fn sees_office_went_back(&self, page: &Page) -> bool {
        let stands_before = |known| !page.more && post::stands_before(&page.cursor, known);
        page.apart
            || (page.restart && self.cursor.is_some())
            || self.known.as_ref().is_some_and(stands_before)
    }

    /// Whether the office knows this phone under another part than before: other ledgers are handed out
    /// then, so all come again.
    pub fn is_another_part(&self, page: &Page) -> bool {
        self.cursor.is_some() && self.role != page.role
    }

    /// After the part changed: everything comes again, and replaces what is here once it is whole.
    #[must_use]
    pub fn of_another_part(&self, page: &Page) -> Self {
        Self {
            cursor: None,
            role: page.role,
            ..self.clone()
        }
    }

    /// Whether a page begins a history: the ledgers stored so far go when it is stored.
    pub fn begins_anew(&self, page: &Page) -> bool {
        page.restart || self.cursor.is_none()
    }

    /// Whether ledgers of another history are being replaced by this page and those that follow.
    pub fn is_replaced_by(&self, page: &Page) -> bool {
        self.replacing || (self.begins_anew(page) && self.as_of_ms.is_some())
    }

    /// After a page was taken in.
    #[must_use]
    pub fn after_page(&self, page: &Page) -> Self {
        let includes = match (page.more, self.begins_anew(page)) {
            (false, _) => page.includes.clone(),
            // Until all ledgers came again, all that is held goes on top.
            (true, true) => BTreeMap::default(),
            (true, false) => self.includes.clone(),
        };
        let known = if page.more {
            let before = self.known.filter(|_| !self.sees_office_went_back(page));
            page.end.or(before)
        } else {
            Some(page.cursor)
        };
        Self {
            cursor: Some(page.cursor),
            known,
            replacing: self.is_replaced_by(page) && page.more,
            includes,
            as_of_ms: Some(page.as_of_ms),
            role: page.role,
        }
    }

    /// After a receipt was taken in. One that orders all to be sent again leaves what said so in
    /// place until that is done ([`Pulled::after_marking`]): a phone that dies first is told again.
    #[must_use]
    pub fn after_receipt(&self, receipt: &Receipt) -> Self {
        let known = if receipt.resend {
            self.known
        } else {
            Some(receipt.cursor)
        };
        Self {
            known,
            ..self.clone()
        }
    }

    /// After everything held was marked to be sent again. What was pulled of the history that is
    /// gone is forgotten, unless the new history's first page is at hand.
    #[must_use]
    pub fn after_marking(&self, forget_cursor: bool) -> Self {
        let kept = |cursor: Option<Cursor>| cursor.filter(|_| !forget_cursor);
        Self {
            cursor: kept(self.cursor),
            known: kept(self.known),
            ..self.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::envelope::Hash;
    use pentally_domain::id::{Epoch, FarmId};
    use pentally_domain::sync::PROTOCOL;

    fn cursor(epoch: u8, n: u64) -> Cursor {
        Cursor {
            epoch: Epoch::v7(1, [epoch; 10]),
            n,
            hash: Hash::NONE,
        }
    }

    fn before() -> Pulled {
        Pulled {
            cursor: Some(cursor(1, 5)),
            known: Some(cursor(1, 9)),
            includes: BTreeMap::from([(DeviceId::v7(1, [1; 10]), 4)]),
            as_of_ms: Some(7),
            ..Pulled::default()
        }
    }

    fn page(cursor: Cursor, restart: bool, more: bool) -> Page {
        Page {
            protocol: PROTOCOL,
            cursor,
            restart,
            apart: false,
            end: None,
            more,
            includes: BTreeMap::from([(DeviceId::v7(1, [1; 10]), 8)]),
            ledgers: vec![],
            beside: vec![],
            as_of_ms: 70,
            role: None,
            outlook: None,
        }
    }

    fn receipt(cursor: Cursor, resend: bool) -> Receipt {
        Receipt {
            protocol: PROTOCOL,
            farm: FarmId::v7(1, [1; 10]),
            fates: vec![],
            contiguous: BTreeMap::new(),
            highest: 0,
            cursor,
            resend,
            backed_up: 0,
            now_ms: 0,
        }
    }

    #[test]
    fn a_phone_that_dies_before_it_marked_all_is_told_again() {
        let told = before().after_receipt(&receipt(cursor(2, 3), true));
        assert_eq!(told.believed(), before().believed());
        assert_eq!(told.after_marking(true).believed(), None);
        let calm = before().after_receipt(&receipt(cursor(1, 12), false));
        assert_eq!(calm.believed(), Some(cursor(1, 12)));
    }

    #[test]
    fn a_page_of_another_history_is_seen_until_it_was_stored() {
        let other = page(cursor(2, 3), true, true);
        assert!(before().sees_office_went_back(&other));
        assert!(before().after_marking(false).sees_office_went_back(&other));
        let stored = before().after_page(&other);
        assert!(!stored.sees_office_went_back(&page(cursor(2, 6), false, false)));
        assert!(
            stored.replacing && stored.includes.is_empty(),
            "all that is held goes on top"
        );
        let whole = stored.after_page(&page(cursor(2, 6), false, false));
        assert!(!whole.replacing && whole.includes.len() == 1);
        assert_eq!(whole.believed(), Some(cursor(2, 6)));
    }

    #[test]
    fn an_office_that_stands_before_what_a_receipt_said_was_restored() {
        let last = page(cursor(1, 8), false, false);
        assert!(before().sees_office_went_back(&last), "9 were known");
        let first_of_several = page(cursor(1, 8), false, true);
        assert!(!before().sees_office_went_back(&first_of_several));
        assert!(!before().sees_office_went_back(&page(cursor(1, 9), false, false)));
    }

    #[test]
    fn under_another_part_everything_comes_again_and_what_is_held_stays_on_top() {
        let as_laboratory = Page {
            role: Some(Role::Laboratory),
            ..page(cursor(1, 12), false, false)
        };
        assert!(before().is_another_part(&as_laboratory));
        let asks = before().of_another_part(&as_laboratory);
        assert_eq!((asks.cursor, asks.believed()), (None, before().believed()));
        assert!(asks.begins_anew(&as_laboratory) && asks.is_replaced_by(&as_laboratory));
        let done = asks.after_page(&as_laboratory);
        assert!(!done.is_another_part(&as_laboratory) && !done.replacing);
    }

    #[test]
    fn a_page_that_others_follow_leaves_what_is_included_as_it_was() {
        let some = before().after_page(&page(cursor(1, 7), false, true));
        assert_eq!(some.cursor, Some(cursor(1, 7)));
        assert_eq!(some.includes, before().includes);
        assert_eq!(some.believed(), before().believed());
        assert_eq!(some.cursor, Some(cursor(1, 7)));
    }

    #[test]
    fn a_walk_that_broke_off_is_worth_nothing_once_the_end_it_saw_is_gone() {
        let first = Page {
            end: Some(cursor(1, 12)),
            ..page(cursor(1, 7), false, true)
        };
        let walking = before().after_page(&first);
        assert_eq!(walking.cursor, Some(cursor(1, 7)));
        assert_eq!(
            walking.believed(),
            Some(cursor(1, 12)),
            "the next pull says so"
        );
    }
}
