//! The form of a boar's particulars: what is wrong stands beside its field.

use super::typed::{Doubt, Field, Typed, Worked, Written, Wrong, doubts};
use crate::feed::Feed;
use crate::pages::fields::{Day, Line};
use crate::parts::Chips;
use crate::words::{Words, key, use_words};
use chrono::NaiveDate;
use leptos::prelude::*;
use pentally_domain::boar::Boar;
use pentally_domain::id::BoarId;
use std::collections::BTreeMap;

/// A form's signals. Cheap to copy.
#[derive(Debug, Clone, Copy)]
pub struct Form {
    typed: [RwSignal<String>; 7],
    half: [RwSignal<bool>; 2],
    worked: RwSignal<Option<Worked>>,
    said: RwSignal<BTreeMap<Field, String>>,
    asked: RwSignal<Vec<(Field, Doubt)>>,
}

const FIELDS: [Field; 7] = [
    Field::Number,
    Field::Name,
    Field::Born,
    Field::Line,
    Field::Ear,
    Field::Mind,
    Field::Last,
];

impl Form {
    /// A form in which a boar stands.
    pub fn of(typed: Typed) -> Self {
        let worked = RwSignal::new(typed.worked);
        let texts = [
            typed.number,
            typed.name,
            typed.born.text,
            typed.line,
            typed.ear,
            typed.mind,
            typed.last.text,
        ];
        Self {
            typed: texts.map(RwSignal::new),
            half: [RwSignal::new(false), RwSignal::new(false)],
            worked,
            said: RwSignal::default(),
            asked: RwSignal::default(),
        }
    }

    fn typed(self) -> Typed {
        let [number, name, born, line, ear, mind, last] = self.typed.map(|t| t.get_untracked());
        let [born_half, last_half] = self.half.map(|h| h.get_untracked());
        Typed {
            number,
            name,
            born: Written {
                text: born,
                half: born_half,
            },
            line,
            ear,
            mind,
            worked: self.worked.get_untracked(),
            last: Written {
                text: last,
                half: last_half,
            },
        }
    }

    /// The boar, once nothing is wrong and each doubt was put once.
    /// What was doubted of him as he stood before is not asked again.
    pub fn check(self, w: &Words, feed: Feed, own: Option<(BoarId, &Boar)>) -> Option<Boar> {
        let now_ms = feed.now_ms.get_untracked();
        let (today, others) = feed.barn.with_untracked(|barn| {
            let others = barn
                .boars()
                .into_iter()
                .filter(|b| own.is_none_or(|(id, _)| id != b.id) && b.gone().is_none())
                .map(|b| b.number());
            (barn.zone_at(now_ms).day(now_ms), others.collect::<Vec<_>>())
        });
        let boar = match self.typed().read(today) {
            Ok(boar) => boar,
            Err(wrong) => {
                self.said.set(
                    wrong
                        .iter()
                        .map(|(field, why)| (*field, tell_wrong(w, why, today)))
                        .collect(),
                );
                return None;
            }
        };
        let settled = own
            .map(|(_, before)| doubts(before, &others, today))
            .unwrap_or_default();
        let mut doubts = doubts(&boar, &others, today);
        doubts.retain(|doubt| !settled.contains(doubt));
        let put = self.asked.get_untracked() == doubts;
        self.said.set(
            doubts
                .iter()
                .map(|(field, doubt)| (*field, tell_doubt(w, doubt)))
                .collect(),
        );
        self.asked.set(doubts);
        (put || self.said.with_untracked(BTreeMap::is_empty)).then_some(boar)
    }
}

fn tell_wrong(w: &Words, why: &Wrong, today: NaiveDate) -> String {
    let day = |key, day: NaiveDate| {
        w.tr_with(
            key,
            &[
                ("read", w.day_month_year(day).into()),
                ("today", w.day_month_year(today).into()),
            ],
        )
    };
    match why {
        Wrong::Text(error) => w.tr_with(
            key::TEXT_LENGTH,
            &[
                ("chars", error.chars.into()),
                ("low", error.low.into()),
                ("high", error.high.into()),
            ],
        ),
        Wrong::NotADay => w.tr(key::FIELD_NOT_A_DAY),
        Wrong::Future(read) => day(key::FIELD_FUTURE, *read),
        Wrong::BeforeBirth(read) => day(key::BOARS_BEFORE_BIRTH, *read),
    }
}

fn tell_doubt(w: &Words, doubt: &Doubt) -> String {
    match doubt {
        Doubt::Old(years) => w.tr_with(key::BOARS_OLD, &[("n", (*years).into())]),
        Doubt::Twice => w.tr(key::BOARS_TWICE),
    }
}

/// The fields of a boar.
#[component]
pub fn Fields(
    /// The form.
    form: Form,
) -> impl IntoView {
    let w = use_words();
    let [number, name, born, line, ear, mind, last] = form.typed;
    let [born_half, last_half] = form.half;
    let wrong = FIELDS
        .map(|field| Signal::derive(move || form.said.with(|said| said.get(&field).cloned())));
    let [
        number_wrong,
        name_wrong,
        born_wrong,
        line_wrong,
        ear_wrong,
        mind_wrong,
        last_wrong,
    ] = wrong;
    let worked = [
        (Worked::Unknown, key::BOARS_WORKED_UNKNOWN),
        (Worked::NotYet, key::BOARS_WORKED_NOT_YET),
        (Worked::On, key::BOARS_WORKED_ON),
    ];
    let worked = worked.map(|(worked, key)| (worked, w.tr(key))).to_vec();
    view! {
        <div class="words fields">
            <Line name=w.tr(key::BOARS_NUMBER) value=number hint=w.tr(key::FIELD_LABEL) wrong=number_wrong/>
            <Line name=w.tr(key::BOARS_NAME) value=name hint=w.tr(key::FIELD_MAY_STAY_EMPTY) wrong=name_wrong/>
            <Day name=w.tr(key::BOARS_BORN) value=born half=born_half hint=w.tr(key::BOARS_BORN_WHY) wrong=born_wrong/>
            <Line name=w.tr(key::BOARS_LINE) value=line hint=w.tr(key::FIELD_MAY_STAY_EMPTY) wrong=line_wrong/>
            <Line name=w.tr(key::BOARS_EAR) value=ear hint=w.tr(key::BOARS_EAR_WHY) wrong=ear_wrong/>
            <Line name=w.tr(key::BOARS_MIND) value=mind hint=w.tr(key::BOARS_MIND_WHY) wrong=mind_wrong/>
        </div>
        <div class="words">
            <Chips asked=w.tr(key::BOARS_WORKED) options=worked chosen=form.worked/>
            <Show when=move || form.worked.get() == Some(Worked::On)>
                <Day name=w.tr(key::BOARS_LAST) value=last half=last_half wrong=last_wrong/>
            </Show>
        </div>
    }
}
