//! A visit or session of training, in words.

use super::trouble;
use crate::words::{Key, Words, key};
use pentally_domain::collection::Trouble;
use pentally_domain::training::{Early, Lesson, Lure, Mishap, Touch, Training};
use pentally_domain::units::Score;

/// A visit or a session.
pub const fn lesson(lesson: Lesson) -> Key {
    match lesson {
        Lesson::Visit => key::LESSON_VISIT,
        Lesson::Session => key::LESSON_SESSION,
    }
}

/// How far he came.
pub const fn score(score: Score) -> Key {
    match score.value() {
        0 => key::SCORE_0,
        1 => key::SCORE_1,
        2 => key::SCORE_2,
        3 => key::SCORE_3,
        4 => key::SCORE_4,
        _ => key::SCORE_5,
    }
}

/// Something that went wrong.
pub const fn mishap(mishap: Mishap) -> Key {
    match mishap {
        Mishap::Noise => trouble(Trouble::Noise),
        Mishap::Slip => key::MISHAP_SLIP,
        Mishap::Rough => key::MISHAP_ROUGH,
        Mishap::Hot => trouble(Trouble::Hot),
        Mishap::Lame => trouble(Trouble::Lame),
        Mishap::Aggressive => key::SCORE_2,
        Mishap::Bite => trouble(Trouble::Bite),
        Mishap::Charge => trouble(Trouble::Charge),
        Mishap::PersonHurt => trouble(Trouble::PersonHurt),
    }
}

/// Where he let himself be touched.
pub const fn touch(touch: Touch) -> Key {
    match touch {
        Touch::Body => key::TOUCH_BODY,
        Touch::Sheath => key::TOUCH_SHEATH,
    }
}

/// What drew him.
pub const fn lure(lure: Lure) -> Key {
    match lure {
        Lure::SowScent => key::LURE_SOW_SCENT,
        Lure::BoarScent => key::LURE_BOAR_SCENT,
        Lure::OthersWatched => key::LURE_OTHERS,
    }
}

/// Why he began early.
pub const fn early(early: Early) -> Key {
    match early {
        Early::Keen => key::EARLY_KEEN,
        Early::Needed => key::EARLY_NEEDED,
        Early::Advised => key::EARLY_ADVISED,
        Early::AgeWrong => key::EARLY_AGE_WRONG,
    }
}

/// What came of it, in a few words: "Session: mounts (3), noise".
pub fn trained(w: &Words, t: &Training) -> String {
    let what = w.tr(lesson(t.what));
    let mut words = vec![match (t.what, t.reached()) {
        (Lesson::Visit, _) => what,
        (Lesson::Session, Some(score)) => format!("{what}: {}", scored(w, score)),
        (Lesson::Session, None) => format!("{what}, {}", w.tr(key::SCORE_UNSAID)),
    }];
    words.extend(t.mishaps.iter().map(|m| w.tr(mishap(*m)).to_lowercase()));
    words.join(", ")
}

/// "mounts (3)".
pub fn scored(w: &Words, reached: Score) -> String {
    let what = w.tr(score(reached)).to_lowercase();
    format!("{what} ({})", reached.value())
}

/// The rest of what was said of it, one thing each.
pub fn trained_how(w: &Words, t: &Training) -> Vec<String> {
    let minutes = t.minutes.value();
    let minutes = minutes.map(|m| w.tr_with(key::SPAN_MINUTES, &[("n", m.value().into())]));
    let mut words = vec![minutes.unwrap_or_else(|| w.tr(key::TRAINED_NOT_TIMED))];
    words.extend(t.touch.iter().map(|x| w.tr(touch(*x)).to_lowercase()));
    words.extend(t.lures.iter().map(|x| w.tr(lure(*x)).to_lowercase()));
    words.extend(t.early.map(|x| w.tr(early(x)).to_lowercase()));
    words
}
