//! "Mix now": lot, water and volume stand as they were last time; what is measured is asked. Each can
//! be changed on a screen of its own, and what is odd is asked about once.

use super::asked::{ASKED, Ask, about, figure, says, set, title, unit};
use crate::act::{Act, to_top, use_act};
use crate::device::Draft;
use crate::feed::Feed;
use crate::parts::{Action, Drawing, Keypad, Kind, PadKey, Title};
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, Seen};
use pentally_domain::extender::MIXING;
use pentally_domain::extender::mix::{
    ExtenderLot, ExtenderMix, MIX_KEEPS_HOURS, MixOdd, Water, WaterSource,
};
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::units::{Conductivity, KeepsHours, MixVolumeMl, ReadyMinutes, TemperatureC};

const WATERS: [WaterSource; 5] = [
    WaterSource::Distilled,
    WaterSource::Deionised,
    WaterSource::ReverseOsmosis,
    WaterSource::Bought,
    WaterSource::Tap,
];

/// The mix as it stands. What nobody touched is as last time.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mix {
    pub(super) lot: Option<EntryId>,
    pub(super) water: Option<WaterSource>,
    pub(super) volume: Option<MixVolumeMl>,
    pub(super) conductivity: Option<Conductivity>,
    pub(super) temperature: Option<TemperatureC>,
    pub(super) ready_after: Option<ReadyMinutes>,
    pub(super) keeps: Option<KeepsHours>,
    touched: Vec<Ask>,
    odd_kept: Vec<MixOdd>,
}

impl Mix {
    /// As the last one was, or as the lot says; what is measured is not known yet.
    fn as_last(barn: &Barn, today: chrono::NaiveDate) -> Self {
        let last = barn.extender_mixes().pop().map(|m| m.fact);
        let lots = barn.extender_lots();
        let good = |l: &&Seen<ExtenderLot>| l.fact.best_before.is_none_or(|day| day >= today);
        let same = lots
            .iter()
            .find(|l| last.as_ref().is_some_and(|m| m.lot == l.entry()));
        let lot = same
            .filter(good)
            .or(lots.iter().rev().find(good))
            .or(lots.last());
        let id = lot.map(Seen::entry);
        // Another lot may keep otherwise.
        let same = last.as_ref().filter(|m| Some(m.lot) == id);
        Self {
            lot: id,
            water: last.as_ref().map(|m| m.water.source),
            volume: same.map(|m| m.volume).or(lot.and_then(|l| l.fact.makes)),
            conductivity: None,
            temperature: None,
            ready_after: same.and_then(|m| m.ready_after),
            keeps: same.and_then(|m| m.keeps),
            touched: vec![],
            odd_kept: vec![],
        }
    }

    fn fact(&self) -> Option<ExtenderMix> {
        Some(ExtenderMix {
            lot: self.lot?,
            water: Water {
                source: self.water?,
                conductivity: self.conductivity,
                supplier: None,
            },
            volume: self.volume?,
            temperature: self.temperature,
            ready_after: self.ready_after,
            keeps: self.keeps,
        })
    }
}

/// The screen. Cheap to copy.
#[derive(Clone, Copy)]
struct Table {
    w: Words,
    act: Act,
    feed: Feed,
    mix: RwSignal<Mix>,
    asking: RwSignal<Option<Ask>>,
    odd: RwSignal<Option<MixOdd>>,
    done: Callback<()>,
}

/// Asks for a mix and saves it as mixed now.
#[component]
pub(super) fn Mixing(
    /// The barn.
    feed: Feed,
    /// Back to the page.
    #[prop(into)]
    done: Callback<()>,
) -> impl IntoView {
    let now_ms = feed.now_ms.get_untracked();
    let mix = feed
        .barn
        .with_untracked(|b| Mix::as_last(b, b.zone_at(now_ms).day(now_ms)));
    let table = Table {
        w: use_words(),
        act: use_act(),
        feed,
        mix: RwSignal::new(mix),
        asking: RwSignal::new(None),
        odd: RwSignal::new(None),
        done,
    };
    move || match (table.odd.get(), table.asking.get()) {
        (Some(odd), _) => table.question(odd),
        (None, Some(ask)) => table.screen(ask),
        (None, None) => table.rows(),
    }
}

impl Table {
    fn to(self, ask: Option<Ask>) {
        self.act.hush();
        self.asking.set(ask);
        to_top();
    }

    fn rows(self) -> AnyView {
        let w = self.w;
        let mix = self.mix.get();
        let row = |ask: Ask| {
            let known = self.value(&mix, ask);
            let as_last = known.is_some() && !mix.touched.contains(&ask);
            let value = known.unwrap_or_else(|| self.open(ask));
            let value = match as_last {
                true => format!("{value} · {}", w.tr(key::MIX_AS_LAST)),
                false => value,
            };
            view! {
                <li><button type="button" class="row" on:click=move |_| self.to(Some(ask))>
                    <span class="rest-of"><span class="small quiet">{w.tr(title(ask))}</span><br/><span class="name">{value}</span></span>
                </button></li>
            }
        };
        let save = move |()| self.save();
        view! {
            <Title headline=w.tr(key::MIX_NOW) why=w.tr(key::MIX_NOW_WHY)/>
            <ul class="rows">{ASKED.map(row).collect_view()}</ul>
            <div class="grow"></div>
            <div class="actions">
                <Action word=w.tr(key::MIX_SAVE) drawing=Drawing::Tick on_tap=save/>
                <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| self.done.run(())/>
            </div>
        }
        .into_any()
    }

    /// What stands; none where nothing does.
    fn value(self, mix: &Mix, ask: Ask) -> Option<String> {
        let w = self.w;
        let number = |value: f64| {
            let decimals = u8::from(value.fract() != 0.0);
            format!("{} {}", w.num(value, decimals), w.tr(unit(ask)))
        };
        match ask {
            Ask::Lot => {
                let lot = self
                    .feed
                    .barn
                    .with_untracked(|b| b.extender_lot(mix.lot?))?;
                Some(format!(
                    "{} · {}",
                    lot.fact.product.as_str(),
                    lot.fact.lot.as_str()
                ))
            }
            Ask::Volume => mix.volume.map(|v| number(v.value())),
            Ask::Water => mix.water.map(|s| w.tr(tell::water(s))),
            Ask::Conductivity => mix.conductivity.map(|c| number(c.value())),
            Ask::Temperature => mix.temperature.map(|t| number(t.value())),
            Ask::Ready => mix.ready_after.map(|m| number(m.value().into())),
            Ask::Keeps => mix.keeps.map(|h| number(h.value().into())),
        }
    }

    /// What holds where nobody said.
    fn open(self, ask: Ask) -> String {
        let w = self.w;
        let default = |n: u16| {
            let by = w.tr(key::DOSES_BY_DEFAULT);
            format!("{} {} · {by}", w.num(n.into(), 0), w.tr(unit(ask)))
        };
        match ask {
            Ask::Ready => default(MIXING.extender_ahead_min.0.into()),
            Ask::Keeps => default(MIX_KEEPS_HOURS),
            Ask::Conductivity | Ask::Temperature => w.tr(key::NOT_MEASURED),
            Ask::Lot | Ask::Volume | Ask::Water => w.tr(key::NOT_ANSWERED),
        }
    }

    fn screen(self, ask: Ask) -> AnyView {
        match ask {
            Ask::Lot => self.lots(),
            Ask::Water => {
                let words = WATERS.map(|s| (self.w.tr(tell::water(s)), s));
                let is = self.mix.with_untracked(|m| m.water);
                self.options(ask, words.to_vec(), is, |mix, water| {
                    mix.water = Some(water)
                })
            }
            _ => self.number(ask),
        }
    }

    fn lots(self) -> AnyView {
        let lots = self.feed.barn.with_untracked(|b| b.extender_lots());
        let word = |l: &Seen<ExtenderLot>| {
            let name = format!("{} · {}", l.fact.product.as_str(), l.fact.lot.as_str());
            (name, (l.entry(), l.fact.makes))
        };
        let words = lots.iter().rev().map(word).collect();
        let id = self.mix.with_untracked(|m| m.lot);
        let is = lots
            .iter()
            .find(|l| Some(l.entry()) == id)
            .map(|l| (l.entry(), l.fact.makes));
        self.options(Ask::Lot, words, is, |mix, (lot, makes)| {
            mix.lot = Some(lot);
            if makes.is_some() && !mix.touched.contains(&Ask::Volume) {
                mix.volume = makes;
            }
        })
    }

    fn options<T: Copy + PartialEq + Send + Sync + 'static>(
        self,
        ask: Ask,
        words: Vec<(String, T)>,
        is: Option<T>,
        set: fn(&mut Mix, T),
    ) -> AnyView {
        let w = self.w;
        let one = |(word, value): (String, T)| {
            let tap = move |()| self.take(ask, |mix| set(mix, value));
            match is == Some(value) {
                true => view! { <Action word=word drawing=Drawing::Tick on_tap=tap/> }.into_any(),
                false => view! { <Action word=word on_tap=tap/> }.into_any(),
            }
        };
        view! {
            <Title headline=w.tr(title(ask))/>
            <div class="actions">
                {words.into_iter().map(one).collect_view()}
                <Action word=w.tr(key::COLLECT_BACK) kind=Kind::Quiet on_tap=move |()| self.to(None)/>
            </div>
            <div class="grow"></div>
        }
        .into_any()
    }

    fn number(self, ask: Ask) -> AnyView {
        let (w, figure) = (self.w, figure(ask));
        let typed = RwSignal::new(String::new());
        let take = PadKey::take(w.tr(key::COLLECT_AMOUNT_OK), move |value| {
            self.take(ask, |mix| set(mix, ask, Some(value)));
        });
        let skip = (ask != Ask::Volume).then(|| {
            let word = match ask {
                Ask::Ready | Ask::Keeps => key::DOSES_TAKE_DEFAULT,
                _ => key::COLLECT_AMOUNT_SKIP,
            };
            PadKey::go(w.tr(word), move |()| {
                self.take(ask, |mix| set(mix, ask, None));
            })
        });
        view! {
            <Keypad asked=w.tr(title(ask)) typed=typed figure=figure unit=w.tr(unit(ask))
                take=take nostrip:other=skip on_back=move |()| self.to(None)/>
            <div class="grow"></div>
        }
        .into_any()
    }

    fn take(self, ask: Ask, set: impl FnOnce(&mut Mix)) {
        self.mix.update(|mix| {
            set(mix);
            if !mix.touched.contains(&ask) {
                mix.touched.push(ask);
            }
        });
        self.to(None);
    }

    /// What is odd is asked about, once; then it is kept as it is.
    fn save(self) {
        let mix = self.mix.get_untracked();
        let Some(fact) = mix.fact() else {
            return self.act.say(self.w.tr(key::MIX_INCOMPLETE));
        };
        let now_ms = crate::office::now_ms();
        let odd = self.feed.barn.with_untracked(|barn| {
            let zone = barn.zone_at(now_ms);
            let lot = barn.extender_lot(fact.lot);
            let best_before = lot.and_then(|l| l.fact.best_before);
            let now = zone.stamp(now_ms).ok()?;
            let odd = fact.odd(now, best_before, None, &zone);
            odd.into_iter().find(|one| !mix.odd_kept.contains(one))
        });
        if odd.is_some() {
            self.odd.set(odd);
            return to_top();
        }
        let done = self.done;
        let draft = Draft::of(Fact::ExtenderMix(fact));
        self.act.save(vec![draft], move |_| done.run(()));
    }

    fn question(self, odd: MixOdd) -> AnyView {
        let w = self.w;
        let keep = move |()| {
            self.mix.update(|mix| mix.odd_kept.push(odd));
            self.odd.set(None);
            self.save();
        };
        let change = move |()| {
            self.odd.set(None);
            self.to(Some(about(odd)));
        };
        view! {
            <Title headline=w.tr(key::MIX_IS_RIGHT) why=says(&w, odd)/>
            <div class="grow"></div>
            <div class="actions">
                <Action word=w.tr(key::MIX_CHANGE) on_tap=change/>
                <Action word=w.tr(key::MIX_KEEP_SO) kind=Kind::Quiet on_tap=keep/>
            </div>
        }
        .into_any()
    }
}
