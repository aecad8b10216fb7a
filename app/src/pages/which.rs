//! Which boar? Chips, and a line to write on where they are many.

use crate::pages::fields::Line;
use crate::parts::Chips;
use crate::words::{key, use_words};
use leptos::prelude::*;
use pentally_domain::id::BoarId;

/// More chips than this are a wall.
const MANY: usize = 24;

/// Boars to choose from, each with his number.
pub type Boars = Vec<(BoarId, String)>;

/// One of them, or none yet.
#[component]
pub fn WhichBoar(
    /// The question.
    #[prop(into)]
    asked: String,
    /// In the order in which they are offered.
    #[prop(into)]
    boars: Signal<Boars>,
    /// Who was chosen.
    chosen: RwSignal<Option<BoarId>>,
) -> impl IntoView {
    let w = use_words();
    let typed = RwSignal::new(String::new());
    let many = move || boars.with(|b| b.len() > MANY);
    let fits = Memo::new(move |_| boars.with(|b| typed.with(|t| fitting(b, t))));
    view! {
        <Show when=many><Line name=w.tr(key::SOWS_FILTER) value=typed/></Show>
        {move || view! { <Chips asked=asked.clone() options=fits.get() chosen=chosen/> }}
    }
}

/// Those whose number holds what was typed; the first few.
fn fitting(boars: &Boars, typed: &str) -> Boars {
    let wanted = typed.trim().to_lowercase();
    boars
        .iter()
        .filter(|(_, number)| number.to_lowercase().contains(&wanted))
        .take(MANY)
        .cloned()
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use pentally_domain::id::EntryId;

    #[test]
    fn a_few_are_offered_and_typing_finds_the_others() {
        let boars: Boars = (1..=99)
            .map(|n| {
                (
                    EntryId::v7(i64::from(n), [1; 10]).as_boar(),
                    format!("B{n}"),
                )
            })
            .collect();
        assert_eq!(fitting(&boars, "").len(), MANY);
        let numbers = |typed| {
            fitting(&boars, typed)
                .into_iter()
                .map(|(_, n)| n)
                .collect::<Vec<_>>()
        };
        assert_eq!(
            numbers(" b9 "),
            [
                "B9", "B90", "B91", "B92", "B93", "B94", "B95", "B96", "B97", "B98", "B99"
            ]
        );
        assert_eq!(numbers("x"), Vec::<String>::new());
    }
}
