//! How he was, what went wrong, and save.

use super::{Flow, choice, head, leave};
use crate::parts::{Action, Chips, Kind, ManyChips};
use crate::tell;
use crate::words::key;
use leptos::prelude::*;
use pentally_domain::collecting::{Collecting, Tap};
use pentally_domain::collection::{Outcome, Temper, Trouble};
use pentally_domain::said::Said;

const MOODS: [Temper; 4] = [
    Temper::Calm,
    Temper::Restless,
    Temper::Slow,
    Temper::Dangerous,
];
const TROUBLES: [Trouble; 12] = [
    Trouble::BackedOff,
    Trouble::Slipped,
    Trouble::Soft,
    Trouble::Noise,
    Trouble::Dirt,
    Trouble::Filter,
    Trouble::Blood,
    Trouble::Lame,
    Trouble::Hot,
    Trouble::Bite,
    Trouble::Charge,
    Trouble::PersonHurt,
];

pub(super) fn screen(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let moods = MOODS.iter().map(|t| (*t, w.tr(tell::temper(*t)))).collect();
    let troubles = TROUBLES
        .iter()
        .map(|t| (*t, w.tr(tell::trouble(*t))))
        .collect();
    let mood = choice(open.record.temper, move |t| flow.tap(Tap::Temper(t)));
    let trouble = RwSignal::new(open.record.trouble.clone());
    Effect::new(move |before: Option<Vec<Trouble>>| {
        let now = trouble.get();
        if before.is_some_and(|b| b != now) {
            flow.tap(Tap::Trouble(now.clone()));
        }
        now
    });
    let semen = open.outcome == Some(Outcome::Collected);
    view! {
        {head(flow, open.boar)}
        <p class="words big">{tell::collected(&w, &open.finished())}</p>
        <Chips asked=w.tr(key::COLLECT_FINISH) options=moods chosen=mood/>
        {semen.then(|| cup(flow, open))}
        <ManyChips asked=w.tr(key::COLLECT_TROUBLE) options=troubles chosen=trouble/>
        <div class="actions stays">
            <Action word=w.tr(key::COLLECT_SAVE) on_tap=move |()| flow.save()/>
        </div>
        <div class="actions">
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| flow.tap(Tap::Back)/>
        </div>
        {leave(flow, open.boar)}
    }
    .into_any()
}

/// Whether sperm-poor went in: a default is said in words and can be changed; what was left
/// open is asked, and may stay unanswered.
fn cup(flow: Flow, open: &Collecting) -> AnyView {
    let w = flow.w;
    let asks = RwSignal::new(open.record.sperm_poor_in.is_unanswered());
    let chosen = match open.record.sperm_poor_in {
        Said::Confirmed(v) => Some(v),
        _ => None,
    };
    let is = w.tr_with(
        key::COLLECT_CUP_IS,
        &[("what", tell::in_the_cup(&w, &open.record).into())],
    );
    view! {
        <section class="words">
            {move || if asks.get() {
                let chosen = choice(chosen, move |v| if let Some(v) = v { flow.tap(Tap::PoorIn(v)) });
                let options = vec![(false, w.tr(key::COLLECTED_RICH)), (true, w.tr(key::COLLECTED_RICH_AND_POOR))];
                view! { <Chips asked=w.tr(key::COLLECT_CUP_ASK) options=options chosen=chosen/> }.into_any()
            } else {
                view! {
                    <p class="said">{is.clone()}</p>
                    <Action word=w.tr(key::COLLECT_CHANGE) kind=Kind::Quiet on_tap=move |()| asks.set(true)/>
                }.into_any()
            }}
        </section>
    }
    .into_any()
}
