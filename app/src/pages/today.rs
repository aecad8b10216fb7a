//! Today: who may be collected, who rests, what waits.

use crate::feed::use_feed;
use crate::pages::rows;
use crate::parts::{Action, Drawing, Kind, Title};
use crate::words::{Key, Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::barn::{Barn, BoarFacts};
use pentally_domain::check::{self, wanting};
use pentally_domain::climate::{When, cooling_due, days_of, expectation};
use pentally_domain::output::Looker;
use pentally_domain::rest::Standing;
use pentally_domain::time::DAY_MS;
use pentally_domain::today::{InUse, may_by_rhythm, today, waiting};
use pentally_domain::training::group::order;

/// A backup older than this deserves a word.
const SILENT_MS: i64 = 3 * DAY_MS;

/// `/today`
#[component]
pub fn TodayPage() -> impl IntoView {
    let w = use_words();
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    (move || {
        let (barn, now_ms) = (feed.barn.get(), feed.now_ms.get());
        let day = today(&barn, now_ms);
        let waits = waiting(&barn, now_ms).len();
        let pupils = order(&barn, now_ms);
        let due = pupils.iter().filter(|p| p.is_due()).count();
        let zone = barn.zone_at(now_ms);
        let none = barn.boars().iter().all(|b| b.gone().is_some());
        let pens = !barn.pens().is_empty();
        let may = day.may.len();
        let looker = Looker::of(&barn, now_ms);
        let own = |boar: &BoarFacts| looker.recovery(boar, &looker.look(boar).ok()?);
        let groups = [&day.may, &day.rest, &day.unknown, &day.off];
        let boars = groups.into_iter().flatten();
        let signals = looker.falls_unanswered(&barn, boars.map(|(boar, _)| boar), now_ms);
        let (use_now, again) = may_by_rhythm(&barn, day.may, own, now_ms);
        let silent = feed.link.with(|l| l.as_of_ms).filter(|ms| now_ms - ms > SILENT_MS);
        view! {
            <Title headline=w.weekday_day_month(zone.day(now_ms)) why=summary(&w, may, waits)/>
            {silent.map(|ms| view! { <p class="words mend">{w.tr_with(key::TODAY_SILENT, &[("span", w.span(now_ms - ms).into())])}</p> })}
            {none.then(|| view! { <p class="words">{w.tr(key::TODAY_NO_BOARS)}</p> })}
            <div class="actions">
                {pens.then(|| view! { <Action word=w.tr(key::SCAN_TITLE) drawing=Drawing::Scan href=paths::SCAN/> })}
                {none.then(|| first(&w, pens))}
                {(waits > 0).then(|| view! {
                    <Action word=w.tr_with(key::TODAY_WAITS, &[("n", waits.into())]) kind=Kind::Quiet drawing=Drawing::Cup href=paths::BENCH/>
                })}
                {(!pupils.is_empty()).then(|| view! {
                    <Action word=w.tr_with(key::TODAY_TRAINING, &[("n", due.into())]) kind=Kind::Quiet drawing=Drawing::Dummy href=paths::TRAINING/>
                })}
                {(!pens).then(|| view! { <Action word=w.tr(key::MORE_PENS) kind=Kind::Quiet drawing=Drawing::PenGate href=paths::PENS/> })}
            </div>
            {looked_after(&w, &barn, now_ms)}
            {heat(&w, &barn, now_ms)}
            {signals_row(&w, signals)}
            {in_use(&w, &barn, key::TODAY_LATE, &use_now.late)}
            {in_use(&w, &barn, key::TODAY_DUE, &use_now.due)}
            {in_use(&w, &barn, key::TODAY_IDLE, &use_now.idle)}
            {in_use(&w, &barn, key::TODAY_EARLY, &use_now.early)}
            {group(&w, &barn, key::TODAY_MAY, &again)}
            {group(&w, &barn, key::TODAY_UNKNOWN, &day.unknown)}
            {group(&w, &barn, key::TODAY_REST, &day.rest)}
            {group(&w, &barn, key::TODAY_OFF, &day.off)}
            {(!none).then(|| week(&w))}
            <div class="grow"></div>
        }
    })
    .into_any()
}

/// Before anything else a boar; where a pen stands already, its tag may lead to him.
fn first(w: &Words, pens: bool) -> AnyView {
    let kind = if pens { Kind::Quiet } else { Kind::Primary };
    view! {
        <Action word=w.tr(key::BOARS_NEW) kind=kind drawing=Drawing::Boar href=paths::BOAR_NEW/>
        <Action word=w.tr(key::MORE_IMPORT) kind=Kind::Quiet href=paths::IMPORT/>
    }
    .into_any()
}

/// What is to be looked at, or was found not fine.
fn looked_after(w: &Words, barn: &Barn, now_ms: i64) -> Option<AnyView> {
    let all = wanting(barn, now_ms);
    let bad = all
        .iter()
        .filter(|d| d.standing == check::Standing::NotFine);
    let bad = bad.count();
    let not_fine = w.tr_with(key::TODAY_CHECKS_NOT_FINE, &[("n", bad.into())]);
    let (drawing, small) = if bad > 0 {
        (Drawing::Bar, not_fine)
    } else {
        (Drawing::HalfDisc, String::new())
    };
    let says = w.tr_with(key::TODAY_CHECKS, &[("n", all.len().into())]);
    let row = || {
        rows::link(
            paths::CHECKS.to_owned(),
            Some(drawing),
            says,
            small,
            String::new(),
        )
    };
    (!all.is_empty()).then(|| view! { <ul class="rows">{row()}</ul> }.into_any())
}

/// Rooms to cool now, or hot days that show in what is collected today.
fn heat(w: &Words, barn: &Barn, now_ms: i64) -> Option<AnyView> {
    let days = days_of(barn, now_ms);
    let today = barn.zone_at(now_ms).day(now_ms);
    let cool = cooling_due(&days, today, &barn.standard().standard);
    let mut open = expectation(&days, today);
    open.retain(|e| e.when == When::Open);
    let mut says = cool
        .iter()
        .map(|c| tell::cool(w, c))
        .chain(tell::lower(w, &open));
    let (first, small) = (says.next()?, says.collect::<Vec<_>>().join(" "));
    let row = rows::link(
        paths::CLIMATE.to_owned(),
        Some(Drawing::Heat),
        first,
        small,
        String::new(),
    );
    Some(view! { <ul class="rows">{row}</ul> }.into_any())
}

/// To who is due in the coming days.
fn week(w: &Words) -> AnyView {
    let says = w.tr(key::TODAY_WEEK);
    let row = rows::link(
        paths::WEEK.to_owned(),
        None,
        says,
        String::new(),
        String::new(),
    );
    view! { <ul class="rows">{row}</ul> }.into_any()
}

fn summary(w: &Words, may: usize, waits: usize) -> String {
    let may = w.tr_with(key::TODAY_SUMMARY, &[("n", may.into())]);
    let waits = (waits > 0).then(|| w.tr_with(key::TODAY_WAITS, &[("n", waits.into())]));
    std::iter::once(may)
        .chain(waits)
        .collect::<Vec<_>>()
        .join(" ")
}

/// Falls that nobody answered. Whether the whole herd fell is told where they are looked at, because
/// it takes a look at everybody; here it is asked only where two boars were told of late.
fn signals_row(w: &Words, signals: usize) -> Option<AnyView> {
    let says = w.tr_with(key::TODAY_SIGNALS, &[("n", signals.into())]);
    let row = || {
        rows::link(
            paths::WATCH.to_owned(),
            Some(Drawing::Warning),
            says,
            String::new(),
            String::new(),
        )
    };
    (signals > 0).then(|| view! { <ul class="rows">{row()}</ul> }.into_any())
}

/// Those who may be collected, by when they are due.
fn in_use(w: &Words, barn: &Barn, heading: Key, boars: &[InUse]) -> Option<AnyView> {
    let row = |b: &InUse| {
        let small = tell::idle(w, &b.standing).unwrap_or_else(|| tell::due(w, &b.due));
        of_boar(w, barn, &b.boar, Drawing::Disc, small)
    };
    counted(w, heading, boars.iter().map(row).collect())
}

fn group(w: &Words, barn: &Barn, heading: Key, boars: &[(BoarFacts, Standing)]) -> Option<AnyView> {
    let row = |(boar, standing): &(BoarFacts, Standing)| {
        let told = tell::standing(w, standing, None);
        of_boar(w, barn, boar, told.role.drawing(), told.why.join(" "))
    };
    counted(w, heading, boars.iter().map(row).collect())
}

fn of_boar(w: &Words, barn: &Barn, boar: &BoarFacts, drawing: Drawing, small: String) -> AnyView {
    let pen = boar.pen().and_then(|pen| barn.pen(pen)).and_then(|p| p.pen);
    let pen = pen.map(|p| w.tr_with(key::BOAR_OF_PEN, &[("pen", p.fact.name.as_str().into())]));
    rows::link(
        paths::boar(boar.id),
        Some(drawing),
        boar.number(),
        small,
        pen.unwrap_or_default(),
    )
}

fn counted(w: &Words, heading: Key, rows: Vec<AnyView>) -> Option<AnyView> {
    rows::section(format!("{} ({})", w.tr(heading), rows.len()), rows)
}
