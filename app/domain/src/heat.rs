//! Is she in heat, as far as the looks tell?

use crate::barn::Seen;
use crate::sow::Heat;
use crate::time::DAY_MS;

/// A look that is older says nothing of today: sows stand for two to three days
/// (common practice, no source).
const HEAT_LASTS_MS: i64 = 3 * DAY_MS;

/// A heat that goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HeatNow {
    /// Since when she stands: her onset where known, else the first look that found it (ms since 1970).
    pub ms: i64,
    /// Whether that is her onset.
    pub known: bool,
}

/// The heat she is in, as far as the looks tell.
pub fn heat_now(heats: &[Seen<Heat>], now_ms: i64) -> Option<HeatNow> {
    let mut now: Option<HeatNow> = None;
    let mut last_ms = i64::MIN;
    for heat in heats {
        let ms = heat.at.ms();
        let goes_on = now.filter(|_| ms.saturating_sub(last_ms) <= HEAT_LASTS_MS);
        now = heat
            .fact
            .standing
            .then(|| match (heat.fact.onset, goes_on) {
                (Some(onset), _) => HeatNow {
                    ms: onset.ms(),
                    known: true,
                },
                (None, Some(before)) => before,
                (None, None) => HeatNow { ms, known: false },
            });
        last_ms = ms;
    }
    now.filter(|_| now_ms.saturating_sub(last_ms) <= HEAT_LASTS_MS)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::envelope::Order;
    use crate::id::{DeviceId, EntryId};
    use crate::time::{Clock, HOUR_MS, Stamp};

    fn look(at_h: i64, standing: bool, onset_h: Option<i64>) -> Seen<Heat> {
        let stamp = |h: i64| Stamp::new(h * HOUR_MS, 0).unwrap();
        let at = stamp(at_h);
        Seen {
            order: Order {
                at_ms: at.ms(),
                clock: Clock::default(),
                id: EntryId::v7(at.ms(), [1; 10]),
            },
            at,
            person: None,
            device: DeviceId::v7(0, [1; 10]),
            seq: 1,
            corrected_by: None,
            fact: Heat {
                sow: EntryId::v7(0, [2; 10]).as_sow(),
                standing,
                onset: onset_h.map(stamp),
            },
        }
    }

    fn since(heats: &[Seen<Heat>], now_h: i64) -> Option<(i64, bool)> {
        heat_now(heats, now_h * HOUR_MS).map(|h| (h.ms / HOUR_MS, h.known))
    }

    #[test]
    fn the_onset_said_once_holds_for_the_whole_heat() {
        let heats = [look(100, true, Some(94)), look(112, true, None)];
        assert_eq!(since(&heats, 120), Some((94, true)));
        assert_eq!(since(&heats, 112 + 72), Some((94, true)));
        assert_eq!(
            since(&heats, 112 + 73),
            None,
            "a look three days old says nothing of today"
        );
    }

    #[test]
    fn without_an_onset_the_first_look_stands_for_it_and_says_so() {
        assert_eq!(
            since(&[look(100, true, None), look(124, true, None)], 125),
            Some((100, false))
        );
    }

    #[test]
    fn one_look_that_finds_her_not_standing_ends_it() {
        assert_eq!(
            since(&[look(100, true, Some(94)), look(124, false, None)], 125),
            None
        );
        let next = [
            look(100, true, Some(94)),
            look(124, false, None),
            look(600, true, None),
        ];
        assert_eq!(since(&next, 601), Some((600, false)));
    }
}
