//! A small number, one tap a step.

use crate::words::{key, use_words};
use leptos::prelude::*;

/// Steps between `low` and `high`. Unanswered until the first tap, which lands on
/// `start`. Each tap counts: nothing is taken for a repeat here.
#[component]
pub fn Stepper(
    #[prop(into)] asked: Signal<String>,
    value: RwSignal<Option<i64>>,
    start: i64,
    low: i64,
    high: i64,
) -> impl IntoView {
    let words = use_words();
    let step = move |by: i64| value.update(|v| *v = Some(after(*v, by, start, (low, high))));
    let shown = move || match value.get() {
        Some(value) => words.num(value as f64, 0),
        None => words.tr(key::NOT_ANSWERED),
    };
    view! {
        <section class="ask">
            <h3>{asked}</h3>
            <div class="stepper" role="group" aria-label=asked>
                <button
                    type="button"
                    class="step"
                    aria-label=move || words.tr(key::STEPPER_LESS)
                    disabled=move || value.get() == Some(low)
                    on:click=move |_| step(-1)
                >
                    "−"
                </button>
                <output class:unanswered=move || value.get().is_none()>{shown}</output>
                <button
                    type="button"
                    class="step"
                    aria-label=move || words.tr(key::STEPPER_MORE)
                    disabled=move || value.get() == Some(high)
                    on:click=move |_| step(1)
                >
                    "+"
                </button>
            </div>
        </section>
    }
}

fn after(value: Option<i64>, by: i64, start: i64, (low, high): (i64, i64)) -> i64 {
    value.map_or(start, |value| value + by).clamp(low, high)
}

#[cfg(test)]
mod tests {
    use super::after;

    #[test]
    fn the_first_tap_lands_on_the_start_and_the_ends_hold() {
        assert_eq!(after(None, 1, 3, (0, 10)), 3);
        assert_eq!(after(None, -1, 3, (0, 10)), 3);
        assert_eq!(after(Some(3), -1, 3, (0, 10)), 2);
        assert_eq!(after(Some(10), 1, 3, (0, 10)), 10);
        assert_eq!(after(Some(0), -1, 3, (0, 10)), 0);
    }
}
