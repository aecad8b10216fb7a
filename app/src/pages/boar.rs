//! A boar's page: who he is, may he be collected today, and why.

mod gives;
mod lessons;
mod rhythm;

use crate::act::{self, Act, use_act};
use crate::feed::{Feed, use_feed};
use crate::pages::rows;
use crate::parts::{Action, Band, Caution, Drawing, Kind};
use crate::words::{Words, key, use_words};
use crate::{paths, tell};
use leptos::prelude::*;
use pentally_domain::amend::Void;
use pentally_domain::barn::{Barn, BoarFacts, Seen};
use pentally_domain::boar::OnCollection;
use pentally_domain::collection::{Collection, Outcome};
use pentally_domain::fact::Fact;
use pentally_domain::id::{BoarId, EntryId};
use pentally_domain::rest::{Answer, Gap, Standing, standing};
use pentally_domain::said::Remark;
use pentally_domain::training::state::{Progress, State};

/// How many collections the page lists.
const LISTED: usize = 6;
/// How long a record can be taken back from the page with one tap.
const TAKE_BACK_MS: i64 = pentally_domain::time::HOUR_MS * 12;

/// `/boar/ID`: the page of one boar, also reached through his pen's tag.
#[component]
pub fn BoarView(
    /// Who.
    id: BoarId,
) -> impl IntoView {
    let w = use_words();
    let feed = use_feed();
    let open = act::open_collection();
    let trains = act::open_training();
    let act = use_act();
    move || {
        let Some(feed) = feed else { return missing() };
        let now_ms = feed.now_ms.get();
        let barn = feed.barn.get();
        barn.boar(id).map_or_else(missing, |boar| {
            page(&Page {
                w,
                feed,
                barn: &barn,
                boar: &boar,
                now_ms,
                open,
                trains,
                act,
            })
        })
    }
}

struct Page<'a> {
    w: Words,
    feed: Feed,
    barn: &'a Barn,
    boar: &'a BoarFacts,
    now_ms: i64,
    open: RwSignal<Option<BoarId>>,
    trains: RwSignal<Option<BoarId>>,
    act: Act,
}

fn missing() -> AnyView {
    let w = use_words();
    view! { <p class="words quiet">{move || w.tr(key::BOAR_MISSING)}</p> }.into_any()
}

fn page(p: &Page<'_>) -> AnyView {
    let zone = p.barn.zone_at(p.now_ms);
    let today = zone.day(p.now_ms);
    let standard = p.barn.standard().standard;
    let standing = standing(p.boar, &standard, &zone, p.now_ms);
    let gone_on = p.boar.gone().map(|m| zone.day(m.at.ms()));
    let told = tell::standing(&p.w, &standing, gone_on);
    let lessons = lessons::of(p);
    let board = lessons::board(p, &standing, &lessons);
    let dangers = tell::dangers(&p.w, p.boar, &zone, today);
    let dangers = dangers
        .into_iter()
        .map(|says| view! { <Caution says=says/> })
        .collect_view();
    let mut why = told.why;
    why.extend(decided(p, &standing));
    let on_board = board.is_some();
    let (role, headline, why) = board.unwrap_or((told.role, told.headline, why.join(" ")));
    let title =
        p.w.tr_with(key::BOAR_TITLE, &[("number", p.boar.number().into())]);
    let place = place(p);
    let gives = gives::Gives::of(p);
    view! {
        {dangers}
        {tell::area(&p.w, p.barn, p.now_ms).map(|says| view! { <Caution says=says/> })}
        {lessons::two_people(p, &lessons)}
        <Band role=role headline=headline why=why>
            <b>{title}</b>{place}
        </Band>
        {mind(p)}
        {rhythm::words(p, &gives)}
        {gives.signals(p)}
        {gives.lower()}
        {lessons::words(p, &lessons, on_board)}
        <div class="grow"></div>
        {actions(p, &standing, &lessons)}
        {lessons::list(p)}
        {last_collections(p, &gives)}
        {notes(p)}
        <div class="words"><p class="quiet">{who(p, today)}</p></div>
        {more(p, &standing, &lessons)}
        <p class="words small quiet">{as_of(p)}</p>
    }
    .into_any()
}

/// The entry that decides against him, by its moment.
fn decided(p: &Page<'_>, standing: &Standing) -> Option<String> {
    by_entry(p, standing.by.filter(|_| standing.answer != Answer::Yes)?)
}

/// "Decided by the entry of …".
fn by_entry(p: &Page<'_>, by: EntryId) -> Option<String> {
    fn at<T>(list: &[Seen<T>], by: EntryId) -> Option<i64> {
        list.iter().find(|s| s.entry() == by).map(|s| s.at.ms())
    }
    let b = p.boar;
    let ms = at(&b.collections, by)
        .or_else(|| at(&b.trainings, by))
        .or_else(|| at(&b.services, by))
        .or_else(|| at(&b.offs, by))
        .or_else(|| at(&b.moves, by))
        .or_else(|| at(b.boar.as_slice(), by))?;
    let when = tell::moment(&p.w, &p.barn.zone_at(ms), ms, p.now_ms);
    Some(p.w.tr_with(key::STAND_DECIDED, &[("when", when.into())]))
}

fn place(p: &Page<'_>) -> Option<String> {
    let pen = p
        .boar
        .pen()
        .and_then(|pen| p.barn.pen(pen))
        .and_then(|p| p.pen)?;
    Some(p.w.tr_with(key::BOAR_OF_PEN, &[("pen", pen.fact.name.as_str().into())]))
}

fn who(p: &Page<'_>, today: chrono::NaiveDate) -> String {
    let w = &p.w;
    let mut said = vec![];
    let Some(boar) = p.boar.boar.as_ref().map(|b| &b.fact) else {
        return said.join(" · ");
    };
    said.extend(boar.name.as_ref().map(|n| n.as_str().to_owned()));
    said.extend(
        boar.ear
            .as_ref()
            .map(|e| w.tr_with(key::BOAR_EAR, &[("ear", e.as_str().into())])),
    );
    said.extend(
        boar.line
            .as_ref()
            .map(|l| w.tr_with(key::BOAR_LINE, &[("line", l.as_str().into())])),
    );
    said.push(match boar.born {
        Some(born) => {
            let months = today
                .years_since(born)
                .map_or(0, |_| months_between(born, today));
            w.tr_with(
                key::BOAR_BORN,
                &[
                    ("day", w.day_month_year(born).into()),
                    ("months", months.into()),
                ],
            )
        }
        None => w.tr(key::BOAR_BORN_UNKNOWN),
    });
    said.join(" · ")
}

fn months_between(born: chrono::NaiveDate, today: chrono::NaiveDate) -> i32 {
    use chrono::Datelike;
    let months = |d: chrono::NaiveDate| d.year() * 12 + i32::try_from(d.month0()).unwrap_or(0);
    months(today) - months(born) - i32::from(today.day() < born.day())
}

fn mind(p: &Page<'_>) -> Option<AnyView> {
    let words = p
        .boar
        .boar
        .as_ref()?
        .fact
        .mind
        .as_ref()?
        .as_str()
        .to_owned();
    Some(view! { <Caution says=format!("{}: {words}", p.w.tr(key::BOAR_MIND))/> }.into_any())
}

fn actions(p: &Page<'_>, standing: &Standing, lessons: &Progress) -> AnyView {
    let (w, id, open) = (p.w, p.boar.id, p.open);
    let gone = standing.answer == Answer::Gone;
    let free = standing.answer == Answer::Yes;
    let (train, first, next) = lessons::action(p, lessons);
    let (before, after) = if first { (train, None) } else { (None, train) };
    let collect = move || {
        let key = match open.get() {
            Some(boar) if boar == id => key::BOAR_GO_ON,
            _ if free => key::BOAR_COLLECT,
            _ => key::BOAR_COLLECT_ANYWAY,
        };
        w.tr(key)
    };
    let kind = if free && !first {
        Kind::Primary
    } else {
        Kind::Quiet
    };
    let collect = (!gone).then(|| {
        view! { <Action word=Signal::derive(collect) kind=kind drawing=Drawing::Cup href=paths::boar_do(id, "collect")/> }.into_any()
    });
    let (main, quiet) = match kind {
        Kind::Primary => (collect, vec![before]),
        Kind::Quiet if next => (before, vec![collect]),
        Kind::Quiet => (asks(p, standing), vec![before, collect]),
    };
    view! {
        {main.map(|main| view! { <div class="actions stays">{main}</div> })}
        <div class="actions">
            {quiet}
            {after}
            <Action word=w.tr(key::BOAR_BAD_MOMENT) kind=Kind::Quiet drawing=Drawing::Warning href=paths::BAD_MOMENT/>
        </div>
    }
    .into_any()
}

/// What nobody said of him yet is entered with his particulars.
fn asks(p: &Page<'_>, standing: &Standing) -> Option<AnyView> {
    let word = match standing.answer {
        Answer::Unknown(Gap::History) => key::BOAR_SAY_HISTORY,
        Answer::Unknown(Gap::Age) => key::BOAR_SAY_AGE,
        _ => return None,
    };
    let href = paths::boar_do(p.boar.id, "edit");
    Some(view! { <Action word=p.w.tr(word) href=href/> }.into_any())
}

fn last_collections(p: &Page<'_>, gives: &gives::Gives) -> AnyView {
    let rows: Vec<_> = p
        .boar
        .collections
        .iter()
        .rev()
        .take(LISTED)
        .map(|c| collection_row(p, c, gives))
        .collect();
    rows::section(p.w.tr(key::BOAR_LAST), rows).unwrap_or_else(|| {
        view! { <p class="words quiet">{p.w.tr(key::STAND_YES_NEVER)}</p> }.into_any()
    })
}

fn collection_row(p: &Page<'_>, c: &Seen<Collection>, gives: &gives::Gives) -> AnyView {
    let (w, act) = (p.w, p.act);
    let zone = p.barn.zone_at(c.at.ms());
    let mut small: Vec<String> = gives.of_expected(&w, c.entry()).into_iter().collect();
    small.push(tell::in_the_cup(&w, &c.fact));
    small.extend(c.fact.temper.map(|t| w.tr(tell::temper(t)).to_lowercase()));
    let untimed =
        c.fact.outcome == Outcome::Collected && c.fact.steps.iter().all(|s| s.at.is_none());
    small.extend(untimed.then(|| w.tr(key::STEP_NOT_TIMED)));
    small.extend(tell::by(&w, p.barn, c));
    small.extend(c.corrected_by.map(|_| w.tr(key::COLLECTED_CORRECTED)));
    let fresh = p.now_ms - c.at.ms() < TAKE_BACK_MS;
    let fact = Fact::Void(Void::of(c.order, &Fact::Collection(c.fact.clone())));
    let undo = fresh.then(|| {
        view! { <Action word=w.tr(key::UNDO) kind=Kind::Quiet on_tap=move |()| act.save_quietly(fact.clone())/> }.into_any()
    });
    let title = format!(
        "{} · {}",
        tell::moment(&w, &zone, c.at.ms(), p.now_ms),
        tell::collected(&w, &c.fact)
    );
    rows::record(&w, title, &small, p.feed.state_of(c), undo)
}

fn notes(p: &Page<'_>) -> Option<AnyView> {
    let row = |n: &Seen<Remark>| {
        let zone = p.barn.zone_at(n.at.ms());
        let mut small = vec![tell::moment(&p.w, &zone, n.at.ms(), p.now_ms)];
        small.extend(tell::by(&p.w, p.barn, n));
        rows::record(
            &p.w,
            n.fact.as_str().to_owned(),
            &small,
            p.feed.state_of(n),
            None,
        )
    };
    rows::section(
        p.w.tr(key::BOAR_NOTES),
        p.boar.notes.iter().rev().take(LISTED).map(row).collect(),
    )
}

fn more(p: &Page<'_>, standing: &Standing, lessons: &Progress) -> AnyView {
    let (w, id, act) = (p.w, p.boar.id, p.act);
    let link = |what: &str, key| view! { <Action word=w.tr(key) kind=Kind::Quiet href=paths::boar_do(id, what)/> };
    let off = matches!(standing.answer, Answer::Off(..));
    let back = move |()| act.save_quietly(Fact::OnCollection(OnCollection { boar: id }));
    view! {
        <div class="actions two">
            {link("output", key::OUTPUT_PAGE)}
            {link("note", key::BOAR_NOTE)}
            {off.then(|| view! { <Action word=w.tr(key::BOAR_ON) kind=Kind::Quiet on_tap=back/> })}
            {link("off", if off { key::OFF_MORE } else { key::BOAR_OFF })}
            {link("move", key::BOAR_MOVE)}
            {link("edit", key::BOAR_EDIT)}
            {link("same", key::BOAR_SAME)}
            {matches!(lessons.state, State::Regular | State::Unknown(_)).then(|| link("train", key::BOAR_TRAIN))}
        </div>
    }
    .into_any()
}

fn as_of(p: &Page<'_>) -> String {
    let zone = p.barn.zone_at(p.now_ms);
    match p.feed.link.with(|l| l.as_of_ms) {
        Some(ms) => p.w.tr_with(
            key::BOAR_AS_OF,
            &[("when", tell::moment(&p.w, &zone, ms, p.now_ms).into())],
        ),
        None => p.w.tr(key::BOAR_AS_OF_NEVER),
    }
}
