//! The last days in figures.

use crate::parts::{Drawing, Mark};
use crate::tell;
use crate::words::{Words, key};
use chrono::{Days, NaiveDate};
use leptos::prelude::*;
use pentally_domain::climate::{Band, FarmDay, Heat, RoomDay};

/// So many days are listed.
const LISTED: u64 = 14;

/// Today and the days before it, each room on a line of its own.
pub(super) fn table(w: &Words, days: &[FarmDay], today: NaiveDate) -> AnyView {
    let listed = (0..LISTED).filter_map(|n| today.checked_sub_days(Days::new(n)));
    let rows = listed.map(|day| match days.iter().find(|d| d.day == day) {
        // Its readings are not at hand any more: the fit says what it was.
        Some(FarmDay { rooms, hot, .. }) if rooms.is_empty() => {
            let heat = match hot {
                Some(share) if *share > 0.0 => Heat::Hot,
                Some(_) => Heat::NotHot,
                None => Heat::Unknown,
            };
            view! { <tr><td>{head(w, day, heat)}</td><td colspan="3"></td></tr> }.into_any()
        }
        Some(known) => known
            .rooms
            .iter()
            .map(|room| line(w, room, known.rooms.len() > 1))
            .collect_view()
            .into_any(),
        None => view! {
            <tr><td>{head(w, day, Heat::Unknown)}</td><td colspan="3" class="quiet">{w.tr(key::CLIMATE_UNREAD)}</td></tr>
        }
        .into_any(),
    });
    view! {
        <div class="sheet tight"><table>
            <thead><tr>
                <th>{w.tr(key::CLIMATE_DAY)}</th><th class="number">{w.tr(key::CLIMATE_CELSIUS)}</th>
                <th>{w.tr(key::CLIMATE_INDEX)}</th><th class="number">{w.tr(key::CLIMATE_HOURS)}</th>
            </tr></thead>
            <tbody>{rows.collect_view()}</tbody>
        </table></div>
        <p class="small quiet">{w.tr(key::CLIMATE_TABLE_WHY)}</p>
    }
    .into_any()
}

fn line(w: &Words, room: &RoomDay, named: bool) -> AnyView {
    let [low, high] = [room.lowest, room.highest].map(|t| w.num(t.value(), 0));
    let degrees = if low == high {
        low
    } else {
        format!("{low}–{high}")
    };
    let named =
        named.then(|| view! { <br/><span class="quiet">{room.room.as_str().to_owned()}</span> });
    let index = room.highest_thi.map_or_else(
        || w.tr(key::NOT_MEASURED),
        |index| format!("{} {}", w.num(index, 0), w.tr(tell::band(Band::of(index)))),
    );
    let hours = format!(
        "{}/{}",
        w.num(room.hours_hot, 0),
        w.num(room.hours_known, 0)
    );
    view! {
        <tr>
            <td>{head(w, room.day, room.heat)}{named}</td>
            <td class="number">{degrees}</td>
            <td>{index}</td>
            <td class="number">{hours}</td>
        </tr>
    }
    .into_any()
}

/// The day, and whether it was hot by shape and word.
fn head(w: &Words, day: NaiveDate, heat: Heat) -> impl IntoView + use<> {
    let (drawing, word) = match heat {
        Heat::Hot => (Drawing::HalfDisc, key::HEAT_HOT),
        Heat::NotHot => (Drawing::Disc, key::HEAT_NOT_HOT),
        Heat::Unknown => (Drawing::Ring, key::HEAT_NOT_KNOWN),
    };
    view! { <Mark drawing/>" "{w.day_month(day)}<br/><span class="quiet">{w.tr(word)}</span> }
}
