//! The answer to a fall, of a boar or of the herd: one tap, or what was found, with a line of words
//! where somebody has any.

use crate::act::{Act, use_act};
use crate::device::Draft;
use crate::pages::fields::Line;
use crate::parts::{Action, Chips, Drawing, Kind};
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::output::Measure;
use pentally_domain::said::{Remark, TextError};
use pentally_domain::watch::{Answered, CAUSES, Cause, SignalAnswer};

/// What is being answered. It stands above the page, which is drawn anew each minute. Cheap to copy.
#[derive(Clone, Copy)]
pub struct Answering {
    w: Words,
    act: Act,
    /// The fall of which somebody is about to say the cause.
    finding: RwSignal<Option<(EntryId, Measure)>>,
    cause: RwSignal<Option<Cause>>,
    words: RwSignal<String>,
    wrong: RwSignal<Option<String>>,
}

impl Answering {
    /// Nothing is answered yet.
    pub fn begun() -> Self {
        Self {
            w: use_words(),
            act: use_act(),
            finding: RwSignal::new(None),
            cause: RwSignal::new(None),
            words: RwSignal::new(String::new()),
            wrong: RwSignal::new(None),
        }
    }

    /// The answers to one fall; `to` says whose, and its answer is the one that is chosen here.
    pub fn ask(self, to: &SignalAnswer) -> AnyView {
        let (w, this) = (self.w, (to.collection, to.measure));
        if self.finding.get() == Some(this) {
            return self.found(to);
        }
        let say = |answer: Answered| {
            let to = to.clone();
            move |()| {
                let said = SignalAnswer {
                    answer,
                    ..to.clone()
                };
                self.act.save_quietly(Fact::SignalAnswer(said));
            }
        };
        view! {
            <div class="actions two">
                <Action word=w.tr(key::ANSWERED_SEEN) kind=Kind::Quiet on_tap=say(Answered::Seen)/>
                <Action word=w.tr(key::ANSWERED_CAUSE_FOUND) kind=Kind::Quiet drawing=Drawing::Tick on_tap=move |()| self.to(Some(this))/>
                <Action word=w.tr(key::ANSWERED_FALSE) kind=Kind::Quiet on_tap=say(Answered::False)/>
            </div>
        }
        .into_any()
    }

    fn to(self, finding: Option<(EntryId, Measure)>) {
        self.finding.set(finding);
        self.cause.set(None);
        self.words.set(String::new());
        self.wrong.set(None);
    }

    /// The cause and the words; of a fall of the herd the cause is the herd's.
    fn found(self, to: &SignalAnswer) -> AnyView {
        let (w, to) = (self.w, to.clone());
        let all = to.boar.is_none();
        let cause = move || {
            if all {
                Some(Cause::Herd)
            } else {
                self.cause.get()
            }
        };
        let chips = (!all).then(|| {
            let causes = CAUSES.into_iter().chain([Cause::Age, Cause::Other]);
            let options = causes.map(|c| (c, w.tr(tell::cause(c)))).collect();
            view! { <Chips asked=w.tr(key::SIGNAL_WHICH_CAUSE) options chosen=self.cause/> }
        });
        let take = move |()| {
            let Some(cause) = untrack(cause) else { return };
            let note = match remark(&self.words.get_untracked()) {
                Ok(note) => note,
                Err(error) => return self.wrong.set(Some(too_long(&w, &error))),
            };
            let said = SignalAnswer {
                answer: Answered::CauseFound,
                cause: Some(cause),
                note,
                ..to.clone()
            };
            let draft = Draft::of(Fact::SignalAnswer(said));
            self.act.save(vec![draft], move |_| self.to(None));
        };
        view! {
            <div class="words">
                {chips}
                <Line name=w.tr(key::SIGNAL_WORDS) value=self.words hint=w.tr(key::SIGNAL_WORDS_WHY) wrong=self.wrong/>
            </div>
            <div class="actions two">
                <Action word=w.tr(key::SAVE) kind=Kind::Quiet drawing=Drawing::Tick waits=w.tr(key::ANSWER_FIRST)
                    off=Signal::derive(move || cause().is_none()) on_tap=take/>
                <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| self.to(None)/>
            </div>
        }
        .into_any()
    }
}

fn too_long(w: &Words, error: &TextError) -> String {
    let args = [
        ("chars", error.chars.into()),
        ("low", error.low.into()),
        ("high", error.high.into()),
    ];
    w.tr_with(key::TEXT_LENGTH, &args)
}

/// The words, if somebody wrote any.
fn remark(written: &str) -> Result<Option<Remark>, TextError> {
    if written.trim().is_empty() {
        return Ok(None);
    }
    Remark::parse(written).map(Some)
}

#[cfg(test)]
mod tests {
    use super::remark;

    #[test]
    fn nobody_has_to_write_and_nothing_longer_than_a_remark_is_taken() {
        assert_eq!(remark(" \n "), Ok(None));
        let said = remark(" the  scale \n stood askew ").unwrap().unwrap();
        assert_eq!(said.as_str(), "the scale stood askew");
        assert!(remark(&"x".repeat(2000)).is_ok());
        let error = remark(&"x".repeat(2001)).unwrap_err();
        assert_eq!((error.chars, error.high), (2001, 2000));
    }
}
