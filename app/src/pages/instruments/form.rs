//! A new curve: pairs typed or taken from evaluated collections, the shape, the weighing, and the
//! fit at once. What is typed stays on the phone until it is saved.

use super::one::{found, instrument_of};
use super::row::Typed;
use super::with_standing;
use crate::act::{Act, once_whole, use_act};
use crate::device::{self, Draft};
use crate::feed::{Feed, use_feed};
use crate::keeping::{Keeper, kept};
use crate::pages::fields::Line;
use crate::parts::{Action, Caution, Chips, Kind, Title};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use pentally_domain::barn::Barn;
use pentally_domain::curve::{Curve, InstrumentCurve, KeptPairs, Pair, Shape, Weighing};
use pentally_domain::envelope::Entry;
use pentally_domain::evaluation::Evaluation;
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::said::Label;
use pentally_domain::verdict::concentration;
use serde::{Deserialize, Serialize};

/// Empty lines to begin with; more come as they are filled.
const LINES: usize = 6;
/// Counted ejaculates that are offered.
const OFFERED: usize = 12;

/// A line of the form.
#[derive(Clone, Copy, PartialEq)]
pub struct Row {
    pub reading: RwSignal<String>,
    pub counted: RwSignal<String>,
    pub error: RwSignal<String>,
}

impl Row {
    pub fn new(typed: &Typed) -> Self {
        Self {
            reading: RwSignal::new(typed.reading.clone()),
            counted: RwSignal::new(typed.counted.clone()),
            error: RwSignal::new(typed.error.clone()),
        }
    }

    pub fn set(self, typed: &Typed) {
        self.reading.set(typed.reading.clone());
        self.counted.set(typed.counted.clone());
        self.error.set(typed.error.clone());
    }

    /// What stands there.
    pub fn typed(self) -> Typed {
        Typed {
            reading: self.reading.get(),
            counted: self.counted.get(),
            error: self.error.get(),
        }
    }
}

/// What is kept on the phone.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
struct Kept {
    name: String,
    reads: String,
    shape: Shape,
    weighing: Weighing,
    rows: Vec<Typed>,
}

#[derive(Clone, Copy)]
struct Form {
    w: Words,
    act: Act,
    feed: Feed,
    name: RwSignal<String>,
    reads: RwSignal<String>,
    shape: RwSignal<Option<Shape>>,
    weighing: RwSignal<Option<Weighing>>,
    rows: RwSignal<Vec<Row>>,
    keeper: StoredValue<Keeper>,
    go: Callback<String>,
}

/// `/instruments/new` and `/instruments/CURVE/curve`
#[component]
pub fn CurveFormPage(
    /// The entry of a curve of the instrument that gets a new one.
    #[prop(optional)]
    id: Option<EntryId>,
) -> impl IntoView {
    let (w, act) = (use_words(), use_act());
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let navigate = use_navigate();
    let key = id.map_or_else(|| "curve/new".to_owned(), |id| format!("curve/{id}"));
    let form = Form {
        w,
        act,
        feed,
        name: RwSignal::new(String::new()),
        reads: RwSignal::new(String::new()),
        shape: RwSignal::new(Some(Shape::default())),
        weighing: RwSignal::new(Some(Weighing::default())),
        rows: RwSignal::new(vec![]),
        keeper: StoredValue::new(Keeper::new(&key, act)),
        go: Callback::new(move |to: String| navigate(&to, NavigateOptions::default())),
    };
    form.set(&Kept::default());
    let loaded = RwSignal::new(!device::entry_allowed());
    once_whole(feed, move || spawn_local(form.begin(id, loaded)));
    (move || match loaded.get() {
        true => form.view(id),
        false => ().into_any(),
    })
    .into_any()
}

impl Form {
    /// What was begun on this phone, or what the instrument's last curve says.
    async fn begin(self, id: Option<EntryId>, loaded: RwSignal<bool>) {
        let key = self.keeper.with_value(|k| k.key().to_owned());
        let kept = kept::<Kept>(&key).await;
        if self.name.is_disposed() {
            return;
        }
        self.act.told(kept, |kept| {
            let before = || id.and_then(|id| self.feed.barn.with_untracked(|b| before(b, id)));
            if let Some(kept) = kept.or_else(before) {
                self.set(&kept);
            }
        });
        loaded.set(true);
    }

    fn set(self, kept: &Kept) {
        self.name.set(kept.name.clone());
        self.reads.set(kept.reads.clone());
        self.shape.set(Some(kept.shape));
        self.weighing.set(Some(kept.weighing));
        let mut rows: Vec<_> = kept.rows.iter().map(Row::new).collect();
        while rows.len() < LINES {
            rows.push(Row::new(&Typed::default()));
        }
        self.rows.set(rows);
    }

    fn kept(self) -> Kept {
        let rows = self.rows.get();
        let typed = rows.into_iter().map(Row::typed);
        Kept {
            name: self.name.get(),
            reads: self.reads.get(),
            shape: self.shape.get().unwrap_or_default(),
            weighing: self.weighing.get().unwrap_or_default(),
            rows: typed.filter(|typed| !typed.is_empty()).collect(),
        }
    }

    /// The pairs, or what is wrong with the first that does not read.
    fn pairs(self, kept: &Kept) -> Result<Vec<Pair>, String> {
        let read = |(at, typed): (usize, &Typed)| {
            typed.read(&self.w).map_err(|why| {
                let line = [("n", (at + 1).into()), ("why", why.into())];
                self.w.tr_with(key::PAIR_LINE, &line)
            })
        };
        kept.rows.iter().enumerate().map(read).collect()
    }

    fn add(self, typed: &Typed) {
        let row = Row::new(typed);
        self.rows.update(|rows| {
            // Before the empty lines, so that it stands where one looks.
            let at = rows
                .iter()
                .position(|row| untrack(|| row.typed()).is_empty())
                .unwrap_or(rows.len());
            rows.insert(at, row);
        });
    }

    fn view(self, id: Option<EntryId>) -> AnyView {
        let w = self.w;
        Effect::new(move |first: Option<()>| {
            let kept = self.kept();
            if first.is_some() {
                self.keeper.with_value(|keeper| keeper.keep(&kept));
            }
        });
        let shapes = vec![
            (Shape::Linear, w.tr(key::CURVE_LINE)),
            (Shape::Quadratic, w.tr(key::CURVE_BENT)),
        ];
        let weighings = vec![
            (Weighing::BySize, w.tr(key::CURVE_BY_SIZE)),
            (Weighing::ByError, w.tr(key::CURVE_BY_ERROR)),
            (Weighing::Plain, w.tr(key::CURVE_PLAIN)),
        ];
        let title = match id {
            Some(_) => key::INSTRUMENT_ANEW,
            None => key::INSTRUMENTS_NEW,
        };
        view! {
            <Title headline=w.tr(title) why=w.tr(key::CURVE_FORM_WHY)/>
            <div class="words fields">
                <Line name=w.tr(key::CURVE_NAME) value=self.name hint=w.tr(key::FIELD_LABEL)/>
                <Line name=w.tr(key::CURVE_READS) value=self.reads hint=w.tr(key::CURVE_READS_HINT)/>
            </div>
            {self.table()}
            {self.offered()}
            <div class="words">
                <Chips asked=w.tr(key::CURVE_SHAPE) options=shapes chosen=self.shape/>
                <Chips asked=w.tr(key::CURVE_WEIGHING) options=weighings chosen=self.weighing/>
                <p class="small quiet">{w.tr(key::CURVE_WEIGHING_WHY)}</p>
            </div>
            {move || self.fit()}
            <div class="actions"><Action word=w.tr(key::CURVE_SAVE) on_tap=move |()| self.save()/></div>
            <div class="grow"></div>
        }
        .into_any()
    }

    fn table(self) -> AnyView {
        let w = self.w;
        let cell = |name: String, value: RwSignal<String>| {
            view! { <td><input type="text" inputmode="decimal" autocomplete="off" aria-label=name bind:value=value/></td> }
        };
        let rows = move || {
            let line = |(at, row): (usize, Row)| {
                let name = |key| format!("{} {}", w.tr(key), at + 1);
                view! {
                    <tr>
                        <th class="number">{at + 1}</th>
                        {cell(name(key::PAIR_READING), row.reading)}
                        {cell(name(key::PAIR_COUNTED), row.counted)}
                        {cell(name(key::PAIR_ERROR), row.error)}
                    </tr>
                }
            };
            let rows = self.rows.get();
            rows.into_iter().enumerate().map(line).collect_view()
        };
        let more = move |()| {
            self.rows.update(|rows| {
                rows.extend((0..LINES).map(|_| Row::new(&Typed::default())));
            });
        };
        view! {
            <div class="words"><div class="sheet tight pairs"><table>
                <thead><tr>
                    <th></th><th>{w.tr(key::PAIR_READING)}</th><th>{w.tr(key::PAIR_COUNTED_UNIT)}</th><th>{w.tr(key::PAIR_ERROR)}</th>
                </tr></thead>
                <tbody>{rows}</tbody>
            </table></div></div>
            <div class="actions"><Action word=w.tr(key::CURVE_MORE_LINES) kind=Kind::Quiet on_tap=more/></div>
        }
        .into_any()
    }

    /// Ejaculates that were counted, to be taken with a tap; what the instrument showed is typed.
    fn offered(self) -> AnyView {
        let w = self.w;
        let list = self.feed.barn.with_untracked(|barn| counted(&w, barn));
        let button = move |(word, typed): (String, Typed)| {
            let add = move |_| self.add(&typed);
            view! { <button type="button" class="chip" on:click=add>{word}</button> }
        };
        (!list.is_empty())
            .then(|| {
                view! {
                    <div class="words"><h3>{w.tr(key::CURVE_FROM_COUNTED)}</h3>
                        <div class="chips">{list.into_iter().map(button).collect_view()}</div></div>
                }
                .into_any()
            })
            .into_any()
    }

    /// The curve of what stands there, or why there is none yet.
    fn fit(self) -> AnyView {
        let w = self.w;
        let kept = self.kept();
        let says = |why: String| view! { <div class="words"><Caution says=why/></div> }.into_any();
        if kept.rows.is_empty() {
            return ().into_any();
        }
        match self.pairs(&kept) {
            Err(why) => says(why),
            Ok(pairs) => match Curve::fit(&pairs, kept.shape, kept.weighing) {
                Err(why) => says(tell::curve_error(&w, &why)),
                Ok(curve) => found(&w, &curve, &pairs, &[]),
            },
        }
    }

    fn save(self) {
        let (w, act) = (self.w, self.act);
        let kept = untrack(|| self.kept());
        let Ok(instrument) = Label::parse(&kept.name) else {
            return act.say(w.tr(key::CURVE_NO_NAME));
        };
        let reads = match kept.reads.trim() {
            "" => None,
            reads => match Label::parse(reads) {
                Ok(reads) => Some(reads),
                Err(_) => return act.say(w.tr(key::FIELD_LABEL)),
            },
        };
        let fitted = self.pairs(&kept).and_then(|pairs| {
            let fit = Curve::fit(&pairs, kept.shape, kept.weighing);
            let why = fit.err().map(|why| tell::curve_error(&w, &why));
            why.map_or(Ok(pairs), Err)
        });
        let pairs = match fitted.and_then(|all| KeptPairs::new(all).map_err(|e| e.to_string())) {
            Ok(pairs) => pairs,
            Err(why) => return act.say(why),
        };
        let fact = Fact::InstrumentCurve(InstrumentCurve {
            instrument,
            reads,
            shape: kept.shape,
            weighing: kept.weighing,
            pairs,
        });
        let go = self.go;
        let then = move |entries: Vec<Entry>| {
            let to = entries.first().map_or_else(
                || paths::INSTRUMENTS.to_owned(),
                |e| paths::instrument(e.envelope().id),
            );
            go.run(to);
        };
        self.keeper
            .with_value(|keeper| keeper.finish(vec![Draft::of(fact)], then));
    }
}

/// The instrument as its last curve has it, with the pairs counted since.
fn before(barn: &Barn, id: EntryId) -> Option<Kept> {
    let instrument = instrument_of(barn, id)?;
    with_standing(barn, &instrument, |_, standing| Kept {
        name: instrument.as_str().to_owned(),
        reads: standing
            .kept
            .reads
            .as_ref()
            .map_or_else(String::new, |reads| reads.as_str().to_owned()),
        shape: standing.kept.shape,
        weighing: standing.kept.weighing,
        rows: standing.later.iter().map(Typed::of).collect(),
    })
}

/// Counted ejaculates, the latest first.
fn counted(w: &Words, barn: &Barn) -> Vec<(String, Typed)> {
    let now_ms = crate::office::now_ms();
    let zone = barn.zone_at(now_ms);
    let boars = barn.boars();
    let all = boars.iter().flat_map(|boar| {
        let number = boar.number();
        boar.evaluations
            .iter()
            .map(move |e| (number.clone(), e.at, &e.fact))
    });
    let mut all: Vec<_> = all
        .filter_map(|(number, at, v)| Some((number, at, typed(v)?)))
        .collect();
    all.sort_by_key(|(_, at, _)| std::cmp::Reverse(at.ms()));
    let told = |(number, at, typed): (String, pentally_domain::time::Stamp, Typed)| {
        let args = [
            ("number", number.into()),
            ("when", tell::moment(w, &zone, at.ms(), now_ms).into()),
            ("m", typed.counted.clone().into()),
        ];
        (w.tr_with(key::CURVE_COUNTED_ONE, &args), typed)
    };
    all.into_iter().take(OFFERED).map(told).collect()
}

/// The counted side of a pair; none where it was not counted, or nothing was found.
fn typed(v: &Evaluation) -> Option<Typed> {
    let interval = v.concentration.as_ref()?.interval()?.ok()?;
    let error = interval.whole_percent?;
    Some(Typed {
        reading: String::new(),
        counted: format!("{:.0}", concentration(v)?.value()),
        error: format!("{error:.1}"),
    })
}
