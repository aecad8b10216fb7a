//! What is looked after: one thing a screen, fine or not, and below it how all stand.

use crate::act::{Act, to_top, use_act};
use crate::device::Draft;
use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Action, Caution, Drawing, Kind, Mark, Title, Undo, is_repeat};
use crate::tell;
use crate::words::{Words, key, use_words};
use leptos::ev::MouseEvent;
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::Barn;
use pentally_domain::check::{Check, Due, Found, Standing, Thing, checks};
use pentally_domain::envelope::Order;
use pentally_domain::fact::Fact;

/// What the page holds. Cheap to copy.
#[derive(Clone, Copy)]
struct Page {
    w: Words,
    act: Act,
    /// The one chosen from the list; else the first that is due.
    chosen: RwSignal<Option<Thing>>,
    /// Passed over, till the page is opened again.
    passed: RwSignal<Vec<Thing>>,
    /// The last answer, to be taken back.
    last: RwSignal<Option<(Order, Check)>>,
}

/// `/checks`
#[component]
pub fn ChecksPage() -> impl IntoView {
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let page = Page {
        w: use_words(),
        act: use_act(),
        chosen: RwSignal::new(None),
        passed: RwSignal::new(vec![]),
        last: RwSignal::new(None),
    };
    (move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        let all = checks(&barn, now_ms);
        let asked = page.asked(&all);
        let row = |due: &Due| page.row(&barn, due, now_ms);
        view! {
            {page.last.get().map(|(order, check)| page.answered(order, check))}
            {match asked {
                Some(due) => page.question(&due),
                None => page.nothing_due(&all),
            }}
            {rows::section(page.w.tr(key::CHECKS_ALL), all.iter().map(row).collect())}
            <p class="words small quiet">{page.w.tr(key::CHECKS_WHY)}</p>
            <div class="grow"></div>
        }
    })
    .into_any()
}

impl Page {
    /// What is asked now: the chosen one, or the first that wants a look: what is not fine, then
    /// what is due, then what nobody ever looked at.
    fn asked(self, all: &[Due]) -> Option<Due> {
        let chosen = self.chosen.get();
        if let Some(due) = all.iter().find(|d| chosen == Some(d.what)) {
            return Some(due.clone());
        }
        let passed = self.passed.get();
        let rank = |due: &Due| match due.standing {
            Standing::NotFine => Some(0),
            Standing::Since(_) => Some(1),
            Standing::Never => Some(2),
            Standing::FineTill(_) => None,
        };
        let open = all.iter().filter(|d| !passed.contains(&d.what));
        open.filter_map(|due| rank(due).map(|rank| (rank, due)))
            .min_by_key(|(rank, _)| *rank)
            .map(|(_, due)| due.clone())
    }

    fn question(self, due: &Due) -> AnyView {
        let (w, what) = (self.w, due.what);
        let take = move |answer: Found| self.answer(what, answer);
        let pass = move |()| {
            self.chosen.set(None);
            self.passed.update(|passed| passed.push(what));
            to_top();
        };
        let bad = due.standing == Standing::NotFine;
        let mend = (bad && what.is_danger()).then(|| w.tr(key::CHECKS_MEND));
        view! {
            <header class="words"><h1 class="big">{w.tr(tell::thing(what))}</h1><p>{w.tr(tell::look_at(what))}</p></header>
            {mend.map(|says| view! { <section class="words"><Caution says/></section> })}
            <div class="actions">
                <Action word=w.tr(key::FOUND_FINE) drawing=Drawing::Tick on_tap=move |()| take(Found::Fine)/>
                <Action word=w.tr(key::FOUND_NOT_FINE) drawing=Drawing::Bar on_tap=move |()| take(Found::NotFine)/>
                <Action word=w.tr(key::CHECKS_LATER) kind=Kind::Quiet on_tap=pass/>
            </div>
        }
        .into_any()
    }

    fn answer(self, what: Thing, answer: Found) {
        let check = Check {
            what,
            answer,
            remark: None,
        };
        let draft = Draft::of(Fact::Check(check.clone()));
        self.act.save(vec![draft], move |entries| {
            self.chosen.set(None);
            // What is not fine stays so: it is not asked again in the same breath.
            self.passed.update(|passed| passed.push(what));
            self.last.set(entries.first().map(|e| (e.order(), check)));
            to_top();
        });
    }

    fn answered(self, order: Order, check: Check) -> AnyView {
        let w = self.w;
        let (thing, found) = (
            w.tr(tell::thing(check.what)),
            w.tr(tell::found(check.answer)),
        );
        let danger = check.answer == Found::NotFine && check.what.is_danger();
        let undo = move |()| {
            let void = Void::of(order, &Fact::Check(check.clone()));
            let what = check.what;
            self.act.save(vec![Draft::of(Fact::Void(void))], move |_| {
                self.last.set(None);
                self.passed.update(|passed| passed.retain(|p| *p != what));
            });
        };
        let mend = danger.then(|| w.tr(key::CHECKS_MEND));
        let says = std::iter::once(format!("{thing}: {found}.")).chain(mend);
        let says = says.collect::<Vec<_>>().join(" ");
        view! { <Undo what=says on_undo=undo/> }.into_any()
    }

    fn nothing_due(self, all: &[Due]) -> AnyView {
        let w = self.w;
        let bad: Vec<_> = all
            .iter()
            .filter(|d| d.standing == Standing::NotFine)
            .map(|d| d.what)
            .collect();
        if !bad.is_empty() {
            let names: Vec<_> = bad.iter().map(|what| w.tr(tell::thing(*what))).collect();
            let mend = bad.iter().any(|what| what.is_danger());
            let mend = mend.then(|| w.tr(key::CHECKS_MEND));
            let why = std::iter::once(format!("{}.", names.join(", "))).chain(mend);
            let why = why.collect::<Vec<_>>().join(" ");
            return view! { <Title headline=w.tr(key::FOUND_NOT_FINE) why=why/> }.into_any();
        }
        view! { <Title headline=w.tr(key::CHECKS_DONE) why=w.tr(key::CHECKS_DONE_WHY)/> }.into_any()
    }

    /// A tap asks about this one.
    fn row(self, barn: &Barn, due: &Due, now_ms: i64) -> AnyView {
        let (w, what) = (self.w, due.what);
        let drawing = match due.standing {
            Standing::NotFine => Drawing::Bar,
            Standing::Since(_) => Drawing::HalfDisc,
            Standing::Never => Drawing::Ring,
            Standing::FineTill(_) => Drawing::Disc,
        };
        let tap = move |click: MouseEvent| {
            if !is_repeat(&click) {
                self.chosen.set(Some(what));
                to_top();
            }
        };
        view! {
            <li><button type="button" class="row" on:click=tap>
                <Mark drawing/>
                <span class="rest-of"><span class="name">{w.tr(tell::thing(what))}</span><br/>
                    <span class="small quiet">{stands(&w, barn, due, now_ms)}</span></span>
            </button></li>
        }
        .into_any()
    }
}

/// How it stands, who looked last, and when.
fn stands(w: &Words, barn: &Barn, due: &Due, now_ms: i64) -> String {
    let zone = barn.zone_at(now_ms);
    let on = |key, day| w.tr_with(key, &[("day", w.near_day(day, zone.day(now_ms)).into())]);
    let standing = match due.standing {
        Standing::NotFine => w.tr(key::FOUND_NOT_FINE),
        Standing::Since(day) => on(key::CHECKS_SINCE, day),
        Standing::Never => w.tr(key::CHECKS_NEVER),
        Standing::FineTill(day) => on(key::CHECKS_TILL, day),
    };
    let looked = due.last.iter().flat_map(|last| {
        let when = tell::moment(w, &zone, last.at.ms(), now_ms);
        std::iter::once(when).chain(tell::by(w, barn, last))
    });
    std::iter::once(standing)
        .chain(looked)
        .collect::<Vec<_>>()
        .join(" · ")
}
