//! What a phone writes to the office and how it reads the answer; no I/O here.

use super::held::HeldKey;
use super::show::SetAside;
use pentally_domain::id::DeviceId;
use pentally_domain::outbox::Input;
use pentally_domain::sync::{
    Aside, Beside, Cursor, Fate, Orders, PAGE_MAX_BYTES, PROTOCOL, Push, Receipt, orders,
};
use std::collections::BTreeMap;
use std::fmt::Write;

/// The most entries in one push.
pub const PUSH_MAX_ENTRIES: u32 = 2_000;
/// Kept free in a push for everything but the entries.
const FRAME_BYTES: usize = 64 * 1024;

/// What became of one entry that was sent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mark {
    /// It is in the office's log.
    Received,
    /// It was set aside there.
    Aside(Aside),
}

/// The answer does not fit what was sent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("{sent} entries were sent and {judged} judged; the receipt must hold one fate for each")]
pub struct Unfit {
    /// Entries sent.
    pub sent: usize,
    /// Fates that came back.
    pub judged: usize,
}

/// How many of the first entries, by their sizes in bytes, fit into one push. At least one,
/// because no entry within its bounds is larger than a page.
pub fn fits(sizes: impl Iterator<Item = usize>) -> usize {
    let room = PAGE_MAX_BYTES - FRAME_BYTES;
    let mut used = 0;
    let within = sizes.take(PUSH_MAX_ENTRIES as usize).take_while(|size| {
        used += size + 1;
        used <= room
    });
    within.count().max(1)
}

/// A push's text around its entries: what stands before and after their comma-separated lines.
/// So the lines never pass through this program's memory.
pub fn frame(push: &Push) -> Option<(String, String)> {
    let whole = serde_json::to_string(push).ok()?;
    let at = whole.find("\"entries\":[]")? + "\"entries\":[".len();
    let (head, tail) = whole.split_at(at);
    Some((head.to_owned(), tail.to_owned()))
}

/// A push without its entries.
pub fn push(
    device: DeviceId,
    cursor: Option<Cursor>,
    floor: u64,
    unsent: u64,
    beside: Vec<Beside>,
) -> Push {
    Push {
        protocol: PROTOCOL,
        device,
        cursor,
        floor: Some(floor),
        unsent,
        entries: vec![],
        beside,
    }
}

/// Whether the office now stands where it cannot, given where it was seen: it was restored.
pub fn stands_before(now: &Cursor, known: &Cursor) -> bool {
    now.epoch != known.epoch || now.n < known.n || (now.n == known.n && now.hash != known.hash)
}

/// Where the ledgers after a cursor are asked for, by who last saw the log at `seen`.
pub fn summaries_path(
    cursor: Option<&Cursor>,
    seen: Option<&Cursor>,
    outlook: Option<i64>,
) -> String {
    let mut path = format!("/api/v1/summaries?protocol={PROTOCOL}");
    if let Some(made_at_ms) = outlook {
        // Writing to a string cannot fail.
        let _ = write!(path, "&outlook={made_at_ms}");
    }
    for (before, place) in [("", cursor), ("seen_", seen)] {
        if let Some(c) = place {
            let (epoch, n, hash) = (c.epoch, c.n, c.hash);
            // Writing to a string cannot fail.
            let _ = write!(
                path,
                "&{before}epoch={epoch}&{before}n={n}&{before}hash={hash}"
            );
        }
    }
    path
}

/// What a status other than 200 means for the outbox.
pub const fn status(code: u16) -> Input {
    match code {
        401 | 403 => Input::Refused,
        426 => Input::Outdated,
        507 => Input::Full,
        _ => Input::Failed,
    }
}

/// Pairs what was sent with what became of it. Nothing of a push after which all is sent again: it
/// goes on waiting. Else, with this office gone for an older copy of another history and the phone
/// dead before it marked anything, nobody would know that it has to be sent.
pub fn marks(
    sent: &[HeldKey],
    fates: &[Fate],
    resends: bool,
) -> Result<Vec<(HeldKey, Mark)>, Unfit> {
    if sent.len() != fates.len() {
        return Err(Unfit {
            sent: sent.len(),
            judged: fates.len(),
        });
    }
    if resends {
        return Ok(vec![]);
    }
    let mark = |fate: &Fate| match fate {
        Fate::Stored | Fate::Duplicate => Mark::Received,
        Fate::Conflict { reason } | Fate::SetAside { reason } => Mark::Aside(reason.clone()),
    };
    Ok(sent.iter().copied().zip(fates.iter().map(mark)).collect())
}

/// Up to which of its own entries a phone was told that the office has everything; none when it
/// holds nothing of that. `floor` is the first it holds, `first_waiting` the first that waits.
pub fn received_to(own_seq: u64, floor: u64, first_waiting: Option<u64>) -> Option<u64> {
    let to = first_waiting.map_or(own_seq, |seq| seq.saturating_sub(1));
    (floor <= to).then_some(to)
}

/// Whether the office has less of a device than it once said. What was set aside leaves no trace
/// in the log, so an office that went back may stand at the same place of the same history.
pub fn lacks(has: &BTreeMap<DeviceId, u64>, own: DeviceId, received_to: Option<u64>) -> bool {
    let has = has.get(&own).copied().unwrap_or(0);
    received_to.is_some_and(|to| has < to)
}

/// Whether a receipt has all that is held sent again. `received_to` is what held before this
/// receipt; see [`received_to`].
pub fn resends(receipt: &Receipt, own: DeviceId, received_to: Option<u64>) -> bool {
    receipt.resend || lacks(&receipt.contiguous, own, received_to)
}

/// What the receipt orders. A conflict of this device's own sequence that was not written again
/// says, as clearly as a higher number at the office does, that this phone was rolled back; also
/// when an earlier receipt brought it and the phone died over it. `received_to` as in [`resends`].
pub fn read_orders(
    receipt: &Receipt,
    own: DeviceId,
    own_seq: u64,
    received_to: Option<u64>,
    aside: &[(HeldKey, SetAside)],
) -> Orders {
    let split = aside
        .iter()
        .any(|(key, set)| key.device == own && set.wants_reissue());
    let told = orders(receipt, own_seq);
    Orders {
        new_device: told.new_device || split,
        resend: resends(receipt, own, received_to),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::envelope::Hash;
    use pentally_domain::id::{EntryId, Epoch, FarmId};
    use std::collections::BTreeMap;

    fn device() -> DeviceId {
        DeviceId::v7(1, [1; 10])
    }

    fn cursor() -> Cursor {
        Cursor {
            epoch: Epoch::v7(1, [1; 10]),
            n: 3,
            hash: Hash::NONE,
        }
    }

    fn receipt(highest: u64) -> Receipt {
        Receipt {
            protocol: PROTOCOL,
            farm: FarmId::v7(1, [1; 10]),
            fates: vec![],
            contiguous: BTreeMap::new(),
            highest,
            cursor: cursor(),
            resend: false,
            backed_up: 0,
            now_ms: 0,
        }
    }

    #[test]
    fn a_push_stays_within_a_page_and_takes_at_least_one() {
        assert_eq!(fits(std::iter::repeat_n(10, 7_000)), 2_000);
        assert_eq!(fits(std::iter::repeat_n(100_000, 50)), 9);
        assert_eq!(fits(std::iter::once(PAGE_MAX_BYTES)), 1);
    }

    #[test]
    fn the_frame_and_the_lines_make_the_push_that_was_meant() {
        let push = push(device(), Some(cursor()), 4, 2, vec![]);
        let (head, tail) = frame(&push).unwrap();
        let whole = format!("{head}{}{tail}", [r#"{"v":1}"#, r#"{"v":2}"#].join(","));
        let read: Push = serde_json::from_str(&whole).unwrap();
        assert_eq!(
            read.entries.iter().map(|e| e.get()).collect::<Vec<_>>(),
            [r#"{"v":1}"#, r#"{"v":2}"#]
        );
        assert_eq!(
            (read.device, read.floor, read.unsent, read.cursor),
            (device(), Some(4), 2, Some(cursor()))
        );
    }

    #[test]
    fn a_name_that_looks_like_the_frame_does_not_split_it() {
        let text = Some("\"entries\":[]".to_owned());
        let entry = EntryId::v7(1, [1; 10]);
        let push = push(
            device(),
            None,
            1,
            0,
            vec![Beside {
                entry,
                text: text.clone(),
                set_at_ms: 1,
            }],
        );
        let (head, tail) = frame(&push).unwrap();
        let read: Push = serde_json::from_str(&format!("{head}{tail}")).unwrap();
        assert_eq!(read.beside[0].text, text);
    }

    #[test]
    fn every_entry_has_its_fate_or_the_receipt_is_refused() {
        let keys = [1, 2].map(|seq| HeldKey {
            device: device(),
            seq,
        });
        assert_eq!(
            marks(&keys, &[Fate::Stored], false),
            Err(Unfit { sent: 2, judged: 1 })
        );
        let fates = [
            Fate::Duplicate,
            Fate::SetAside {
                reason: Aside::OtherFarm,
            },
        ];
        let marked = marks(&keys, &fates, false).unwrap();
        assert_eq!(
            marked,
            [
                (keys[0], Mark::Received),
                (keys[1], Mark::Aside(Aside::OtherFarm))
            ]
        );
    }

    #[test]
    fn nothing_of_a_push_counts_where_all_is_sent_again() {
        let key = HeldKey {
            device: device(),
            seq: 1,
        };
        assert_eq!(marks(&[key], &[Fate::Stored], true), Ok(vec![]));
        assert!(
            resends(&receipt(5), device(), Some(5)),
            "it has nothing of this device"
        );
        assert!(!resends(&receipt(5), device(), None));
    }

    #[test]
    fn a_rolled_back_phone_is_known_by_the_number_or_by_the_conflict() {
        assert!(read_orders(&receipt(9), device(), 5, None, &[]).new_device);
        assert!(!read_orders(&receipt(5), device(), 5, None, &[]).new_device);
        let aside = |device, again| {
            let entry = EntryId::v7(5, [5; 10]);
            let why = Aside::SameSequence;
            [(HeldKey { device, seq: 5 }, SetAside { entry, why, again })]
        };
        let split = |device| aside(device, None);
        let done = aside(device(), Some(EntryId::v7(6, [6; 10])));
        assert!(!read_orders(&receipt(5), device(), 5, None, &done).new_device);
        assert!(read_orders(&receipt(5), device(), 5, None, &split(device())).new_device);
        let former = DeviceId::v7(9, [9; 10]);
        assert!(!read_orders(&receipt(5), device(), 5, None, &split(former)).new_device);
    }

    #[test]
    fn a_restored_office_is_known_by_where_it_stands() {
        let known = cursor();
        assert!(!stands_before(&known, &known));
        assert!(
            !stands_before(&Cursor { n: 4, ..known }, &known),
            "it went on"
        );
        assert!(stands_before(&Cursor { n: 2, ..known }, &known));
        let other = Hash::of(&[b"another log"]);
        assert!(stands_before(
            &Cursor {
                hash: other,
                ..known
            },
            &known
        ));
        let epoch = Epoch::v7(2, [2; 10]);
        assert!(stands_before(
            &Cursor {
                epoch,
                n: 9,
                ..known
            },
            &known
        ));
    }

    #[test]
    fn the_cursor_travels_in_the_address() {
        assert_eq!(
            summaries_path(None, None, None),
            "/api/v1/summaries?protocol=1"
        );
        let path = summaries_path(Some(&cursor()), None, None);
        assert!(
            path.contains(&format!("&epoch={}&n=3&hash=00", cursor().epoch)),
            "{path}"
        );
    }

    #[test]
    fn an_office_that_has_less_than_it_said_is_sent_everything_again() {
        assert_eq!(received_to(9, 4, None), Some(9));
        assert_eq!(received_to(9, 4, Some(7)), Some(6));
        assert_eq!(received_to(9, 4, Some(4)), None, "all that is held waits");
        assert_eq!(received_to(9, 10, None), None, "nothing is held");
        let has = |seq| BTreeMap::from([(device(), seq)]);
        assert!(lacks(&has(5), device(), Some(6)) && lacks(&BTreeMap::new(), device(), Some(1)));
        assert!(!lacks(&has(6), device(), Some(6)) && !lacks(&has(0), device(), None));
        let told = Receipt {
            contiguous: has(5),
            ..receipt(9)
        };
        assert!(read_orders(&told, device(), 9, Some(6), &[]).resend);
        assert!(!read_orders(&told, device(), 9, Some(5), &[]).resend);
    }
}
