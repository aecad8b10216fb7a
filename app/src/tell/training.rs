//! Where a boar stands in training, and what his sessions suggest, in words.

use super::lesson::{mishap, scored};
use super::trouble;
use crate::parts::Role;
use crate::words::{Key, Words, key};
use chrono::NaiveDate;
use pentally_domain::rest::Answer;
use pentally_domain::training::advice::Advice;
use pentally_domain::training::group::Turn;
use pentally_domain::training::state::{Progress, State};
use pentally_domain::units::Score;

/// Where he stands, told only while it is more than "may he be collected" answers: a headline of
/// its own, and why.
pub fn pupil(w: &Words, p: &Progress) -> Option<(Role, String, String)> {
    let day = |d: NaiveDate| w.near_day(d, p.today);
    let on = |key: Key, d: NaiveDate| w.tr_with(key, &[("day", day(d).into())]);
    let best = |best: Option<Score>| best.map_or_else(|| w.tr(key::NOT_KNOWN), |s| scored(w, s));
    let (role, headline, why) = match &p.state {
        State::TooYoung(until) => (
            Role::Stop,
            w.tr(key::STAND_YOUNG),
            on(key::STAND_YOUNG_WHY, *until),
        ),
        State::Acclimatising { visits } => {
            let n = [("n", (*visits).into())];
            let why = w.tr_with(key::TRAINING_VISITS_WHY, &n);
            (Role::Ready, w.tr(key::TRAINING_VISITS), why)
        }
        State::InTraining {
            since,
            best: best_so,
            ..
        } => {
            let args = [
                ("day", day(*since).into()),
                ("n", p.sessions.len().into()),
                ("best", best(*best_so).into()),
            ];
            let why = w.tr_with(key::TRAINING_GOES_WHY, &args);
            (Role::Ready, w.tr(key::TRAINING_GOES), why)
        }
        State::Repeating { first, plan } => {
            let next = plan.iter().find(|(d, kept)| *d >= p.today && !kept);
            let next = next.map(|(d, _)| on(key::TRAINING_NEXT, *d));
            let why = on(key::TRAINING_REPEATS_WHY, *first);
            let why = [Some(why), next].into_iter().flatten().collect::<Vec<_>>();
            (Role::Rest, w.tr(key::TRAINING_REPEATS), why.join(" "))
        }
        State::Settling { first } => (
            Role::Unknown,
            w.tr(key::TRAINING_SETTLES),
            on(key::TRAINING_SETTLES_WHY, *first),
        ),
        State::Retraining {
            since,
            best: best_so,
        } => {
            let args = [("day", day(*since).into()), ("best", best(*best_so).into())];
            let why = w.tr_with(key::TRAINING_AGAIN_WHY, &args);
            (Role::Rest, w.tr(key::TRAINING_AGAIN), why)
        }
        _ => return None,
    };
    Some((role, headline, why))
}

/// The same, where training answers before rest does: he is not collected yet, and nothing keeps him off.
pub fn pupil_first(w: &Words, answer: Answer, p: &Progress) -> Option<(Role, String, String)> {
    let open = matches!(answer, Answer::Yes | Answer::Unknown(_));
    let taught = matches!(
        p.state,
        State::Acclimatising { .. } | State::InTraining { .. } | State::Retraining { .. }
    );
    pupil(w, p).filter(|_| open && taught)
}

/// One thing his sessions suggest.
pub fn advice(w: &Words, advice: &Advice, today: NaiveDate) -> String {
    let day = |d: &NaiveDate| w.near_day(*d, today);
    match advice {
        Advice::TwoPeople { what, day: on, .. } => w.tr_with(
            key::ADVICE_TWO_PEOPLE,
            &[
                ("what", w.tr(trouble(*what)).to_lowercase().into()),
                ("day", day(on).into()),
            ],
        ),
        Advice::HadToday(_) => w.tr(key::ADVICE_HAD_TODAY),
        Advice::HotToday(_) => w.tr(key::ADVICE_HOT),
        Advice::RestUntil {
            until, sessions, ..
        } => w.tr_with(
            key::ADVICE_REST,
            &[("n", (*sessions).into()), ("day", day(until).into())],
        ),
        Advice::Falling(scores) => {
            let scores: Vec<_> = scores.iter().map(|s| s.value().to_string()).collect();
            w.tr_with(key::ADVICE_FALLING, &[("scores", scores.join(", ").into())])
        }
        Advice::AfterMishap { what, .. } => w.tr_with(
            key::ADVICE_MISHAP,
            &[("what", w.tr(mishap(*what)).to_lowercase().into())],
        ),
        Advice::Slow {
            days,
            sessions,
            best,
        } => {
            let best = best.map_or_else(|| w.tr(key::NOT_KNOWN), |s| scored(w, s));
            w.tr_with(
                key::ADVICE_SLOW,
                &[
                    ("days", (*days).into()),
                    ("n", (*sessions).into()),
                    ("best", best.into()),
                ],
            )
        }
    }
}

/// Whether it is his turn.
pub fn turn(w: &Words, turn: Turn, today: NaiveDate) -> String {
    let till = |day| w.tr_with(key::TURN_WAITS, &[("day", w.near_day(day, today).into())]);
    match turn {
        Turn::Planned => w.tr(key::TURN_PLANNED),
        Turn::Free => w.tr(key::TURN_FREE),
        Turn::Waits(day) => till(day),
        Turn::Hot => w.tr(key::TROUBLE_HOT),
        Turn::Done => w.tr(key::TURN_DONE),
        Turn::NotYet(Some(day)) => till(day),
        Turn::NotYet(None) => w.tr(key::OFF_ISOLATION),
    }
}
