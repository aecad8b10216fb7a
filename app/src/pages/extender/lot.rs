//! A lot of extender as it was bought: the label in hand, typed once.

use crate::act::use_act;
use crate::device::Draft;
use crate::pages::fields::{Day, Line, figure};
use crate::parts::{Action, Chips, Kind, Title};
use crate::tell;
use crate::words::{Key, Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::extender::ExtenderClass;
use pentally_domain::extender::mix::{ExtenderLot, Form};
use pentally_domain::fact::Fact;
use pentally_domain::said::Label;
use pentally_domain::units::{KeepsDays, MixVolumeMl};

const CLASSES: [ExtenderClass; 3] = [
    ExtenderClass::Short,
    ExtenderClass::Medium,
    ExtenderClass::Long,
];

/// What is being typed. Cheap to copy.
#[derive(Clone, Copy)]
struct Typed {
    product: RwSignal<String>,
    lot: RwSignal<String>,
    class: RwSignal<Option<ExtenderClass>>,
    form: RwSignal<Option<Form>>,
    best_before: RwSignal<String>,
    half: RwSignal<bool>,
    antibiotic: RwSignal<Option<bool>>,
    makes: RwSignal<String>,
    days: RwSignal<String>,
    wrong: Wrong,
}

/// What is wrong with each.
#[derive(Clone, Copy)]
struct Wrong {
    product: RwSignal<Option<String>>,
    lot: RwSignal<Option<String>>,
    day: RwSignal<Option<String>>,
    makes: RwSignal<Option<String>>,
    days: RwSignal<Option<String>>,
}

/// Asks for a lot and saves it.
#[component]
pub(super) fn NewLot(
    /// Back to the page.
    #[prop(into)]
    done: Callback<()>,
) -> impl IntoView {
    let (w, act) = (use_words(), use_act());
    let none = || RwSignal::new(None);
    let typed = Typed {
        product: RwSignal::new(String::new()),
        lot: RwSignal::new(String::new()),
        class: RwSignal::new(None),
        form: RwSignal::new(None),
        best_before: RwSignal::new(String::new()),
        half: RwSignal::new(false),
        antibiotic: RwSignal::new(None),
        makes: RwSignal::new(String::new()),
        days: RwSignal::new(String::new()),
        wrong: Wrong {
            product: none(),
            lot: none(),
            day: none(),
            makes: none(),
            days: none(),
        },
    };
    let take = move |()| match typed.read(&w) {
        Ok(lot) => act.save(vec![Draft::of(Fact::ExtenderLot(lot))], move |_| {
            done.run(())
        }),
        Err(Some(says)) => act.say(says),
        Err(None) => {}
    };
    let classes = CLASSES.map(|c| (c, w.tr(tell::extender_class(c)))).to_vec();
    let forms = vec![
        (Form::Powder, w.tr(key::LOT_POWDER)),
        (Form::Concentrate, w.tr(key::LOT_CONCENTRATE)),
    ];
    let yes_no = vec![(true, w.tr(key::YES)), (false, w.tr(key::NO))];
    let ml = [
        ("low", w.num(MixVolumeMl::LOW, 0).into()),
        ("high", w.num(MixVolumeMl::HIGH, 0).into()),
        ("unit", w.tr(key::UNIT_ML).into()),
    ];
    let makes = format!(
        "{} {}",
        w.tr_with(key::FIELD_FROM_TO, &ml),
        w.tr(key::FIELD_MAY_STAY_EMPTY)
    );
    let days = format!(
        "{} {}",
        w.tr(key::LOT_DAYS_WHY),
        w.tr(key::FIELD_MAY_STAY_EMPTY)
    );
    view! {
        <Title headline=w.tr(key::LOT_NEW) why=w.tr(key::LOT_NEW_WHY)/>
        <div class="words fields">
            <Line name=w.tr(key::LOT_PRODUCT) value=typed.product hint=w.tr(key::FIELD_LABEL) wrong=typed.wrong.product/>
            <Line name=w.tr(key::LOT_LOT) value=typed.lot hint=w.tr(key::FIELD_LABEL) wrong=typed.wrong.lot/>
            <Day name=w.tr(key::LOT_BEST_BEFORE) value=typed.best_before half=typed.half hint=w.tr(key::FIELD_MAY_STAY_EMPTY) wrong=typed.wrong.day/>
            <Line name=w.tr(key::LOT_MAKES) value=typed.makes figures=true hint=makes wrong=typed.wrong.makes/>
        </div>
        <div class="words">
            <Chips asked=w.tr(key::LOT_CLASS) options=classes chosen=typed.class/>
            <Line name=w.tr(key::LOT_DAYS) value=typed.days figures=true hint=days wrong=typed.wrong.days/>
            <Chips asked=w.tr(key::LOT_FORM) options=forms chosen=typed.form/>
            <Chips asked=w.tr(key::STANDARD_ANTIBIOTIC) options=yes_no chosen=typed.antibiotic/>
        </div>
        <div class="actions">
            <Action word=w.tr(key::LOT_SAVE) on_tap=take/>
            <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| done.run(())/>
        </div>
        <div class="grow"></div>
    }
}

impl Typed {
    /// The lot; or what is said once, where it is not said at a field.
    fn read(self, w: &Words) -> Result<ExtenderLot, Option<String>> {
        let label = |text: RwSignal<String>, wrong: RwSignal<Option<String>>| {
            let read = Label::parse(&text.get_untracked());
            wrong.set(read.as_ref().err().map(|e| {
                let args = [
                    ("chars", e.chars.into()),
                    ("low", e.low.into()),
                    ("high", e.high.into()),
                ];
                w.tr_with(key::TEXT_LENGTH, &args)
            }));
            read.ok()
        };
        let product = label(self.product, self.wrong.product);
        let lot = label(self.lot, self.wrong.lot);
        let day = self.best_before.get_untracked();
        let best_before = day.parse().ok();
        let half = self.half.get_untracked() || (!day.is_empty() && best_before.is_none());
        self.wrong.day.set(half.then(|| w.tr(key::FIELD_NOT_A_DAY)));
        let makes = self.makes(w);
        let days = self.days(w);
        let (Some(product), Some(lot), false, Ok(makes), Ok(days)) =
            (product, lot, half, makes, days)
        else {
            return Err(None);
        };
        let (Some(class), Some(form)) = (self.class.get_untracked(), self.form.get_untracked())
        else {
            return Err(Some(w.tr(key::LOT_INCOMPLETE)));
        };
        Ok(ExtenderLot {
            product,
            lot,
            class,
            form,
            best_before,
            antibiotic: self.antibiotic.get_untracked(),
            makes,
            days,
        })
    }

    fn makes(self, w: &Words) -> Result<Option<MixVolumeMl>, ()> {
        let read = |ml| MixVolumeMl::new(ml).ok();
        let bounds = (MixVolumeMl::LOW, MixVolumeMl::HIGH, key::UNIT_ML);
        optional(w, self.makes, self.wrong.makes, bounds, read)
    }

    /// Fewer days than the class, if the farm says so.
    fn days(self, w: &Words) -> Result<Option<KeepsDays>, ()> {
        let class = self.class.get_untracked().unwrap_or(ExtenderClass::Long);
        let most = class.most_days();
        let whole = |days: f64| (1..=most).find(|n| f64::from(*n) == days);
        let read = |days| KeepsDays::new(whole(days)?.into()).ok();
        let bounds = (1.0, most.into(), key::UNIT_DAYS);
        optional(w, self.days, self.wrong.days, bounds, read)
    }
}

/// What is typed in a field that may stay empty; what is wrong is said there.
fn optional<T>(
    w: &Words,
    typed: RwSignal<String>,
    wrong: RwSignal<Option<String>>,
    (low, high, unit): (f64, f64, Key),
    take: impl Fn(f64) -> Option<T>,
) -> Result<Option<T>, ()> {
    let typed = typed.get_untracked();
    wrong.set(None);
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let read = figure(&typed);
    if let Some(taken) = read.and_then(take) {
        return Ok(Some(taken));
    }
    let args = [
        ("read", typed.trim().into()),
        ("low", w.num(low, 0).into()),
        ("high", w.num(high, 0).into()),
        ("unit", w.tr(unit).into()),
    ];
    let key = match read {
        Some(_) => key::FIELD_OUTSIDE,
        None => key::FIELD_NO_FIGURE,
    };
    wrong.set(Some(w.tr_with(key, &args)));
    Err(())
}
