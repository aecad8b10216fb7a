//! Which screen an address shows: the one table of addresses.

use crate::act::{Act, shows_fault};
use crate::feed::{Feed, use_feed};
use crate::pages;
use crate::parts::{Action, Drawing, Mark, Place, Places, RecordState, Title};
use crate::paths;
use crate::words::{key, use_words};
use leptos::prelude::*;
use leptos_router::WildcardSegment;
use leptos_router::components::{Route, Router, Routes};
use leptos_router::hooks::use_location;
#[cfg(feature = "office")]
use pentally_domain::id::{BoarId, EntryId, PenId, SowId};
#[cfg(not(feature = "office"))]
use pentally_domain::id::{BoarId, PenId};
use pentally_domain::outbox::Warning;
#[cfg(feature = "office")]
use pentally_domain::teaching::Work;

/// The boar whose page was opened last on this phone.
#[derive(Debug, Clone, Copy)]
pub struct LastBoar(pub RwSignal<Option<BoarId>>);

/// The whole app; words and feed are provided by whoever mounts or paints it.
#[component]
pub fn App() -> impl IntoView {
    let act = Act::provide();
    provide_context(LastBoar(RwSignal::new(None)));
    view! {
        <Router>
            <Routes fallback=|| ()>
                <Route path=WildcardSegment("address") view=move || view! { <Frame act/> }/>
            </Routes>
        </Router>
    }
}

#[component]
fn Frame(act: Act) -> impl IntoView {
    let said = act.said();
    let (w, path) = (use_words(), use_location().pathname);
    let Some(feed) = use_feed() else {
        return ().into_any();
    };
    let started = Memo::new(move |_| started(feed));
    Effect::new(move |_| {
        path.track();
        said.set(None);
    });
    shows_fault(said.into());
    let refused = Memo::new(move |_| feed.link.with(|l| l.warning == Some(Warning::Refused)));
    let shown = move || {
        let path = path.get();
        // A phone that knows no farm yet has to come in all the same, and what is typed there must
        // not follow what becomes known meanwhile.
        if path == paths::PAIR {
            return view! { <pages::pair::PairPage/> }.into_any();
        }
        match started.get() {
            Started::No => view! { <pages::first::FirstPage/> }.into_any(),
            Started::Reading if refused.get() => unknown(&path),
            Started::Reading => reading(feed),
            Started::Yes => screen(&path),
        }
    };
    let office = move || path.with(|p| pages::is_office(p));
    view! {
        <div class="screen" class:office=office>
            <Show when=move || feed.is_invented()>
                <p class="invented" role="note">{move || w.tr(key::INVENTED)}</p>
            </Show>
            {shown}
            {move || said.get().map(|words| view! { <p class="words mend" role="alert">{words}</p> })}
            <Show when=move || { act.saving().get() > 0 }><Saving/></Show>
            <Standing feed/>
            <Show when=move || started.get() == Started::Yes && path.with(|p| p != paths::PAIR)>
                <Warned feed/>
            </Show>
            <Show when=move || started.get() == Started::Yes><Way/></Show>
        </div>
    }
    .into_any()
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Started {
    Yes,
    No,
    Reading,
}

fn started(feed: Feed) -> Started {
    let known = feed.barn.with(|b| b.farm().is_some());
    let (hello, whole) = feed.link.with(|l| (l.hello.clone(), l.whole));
    match (known, hello) {
        (true, _) => Started::Yes,
        (false, Some(hello)) if hello.farm.is_none() => Started::No,
        (false, None) if whole => Started::No,
        _ => Started::Reading,
    }
}

/// A phone that knows no farm can only wait for the office, and says so once it was not reached.
fn reading(feed: Feed) -> AnyView {
    let w = use_words();
    let words = move || {
        w.tr(if feed.link.with(|l| l.offline) {
            key::OFFICE_NOT_REACHED
        } else {
            key::READING
        })
    };
    view! { <p class="words big">{words}</p><div class="grow"></div> }.into_any()
}

/// Says that what was tapped last is being saved, where that takes longer than a moment.
#[component]
fn Saving() -> impl IntoView {
    let w = use_words();
    view! { <p class="saving" role="status">{move || w.tr(key::SAVING)}</p> }
}

/// Why nothing goes to the office, in plain words; what was logged is safe here all the while.
#[component]
fn Warned(feed: Feed) -> impl IntoView {
    let w = use_words();
    let path = use_location().pathname;
    let warning = Memo::new(move |_| feed.link.with(|l| l.warning));
    let full = Memo::new(move |_| feed.link.with(|l| l.full));
    let says = move |key| view! { <Mark drawing=Drawing::Bar/>{move || w.tr(key)} };
    let line = move || {
        Some(match warning.get()? {
            Warning::Refused => {
                let href = move || path.with(|p| paths::pair(p));
                view! { <a class="refused" href=href>{says(key::PAIR_REFUSED_HERE)}</a> }.into_any()
            }
            Warning::Full => view! { <p class="refused">{says(key::OFFICE_FULL)}</p> }.into_any(),
            Warning::Outdated => {
                view! { <p class="refused">{says(key::OFFICE_OTHER_VERSION)}</p> }.into_any()
            }
        })
    };
    view! {
        <Show when=move || warning.get().is_some() || full.get()>
            <div class="record" role="status">
                {line}
                {move || full.get().then(|| view! { <p class="refused">{says(key::PHONE_FULL)}</p> })}
            </div>
        </Show>
    }
}

/// A phone that was never let in, at any address but the one where it asks.
fn unknown(path: &str) -> AnyView {
    let w = use_words();
    view! {
        <Title headline=w.tr(key::PAIR_UNKNOWN) why=w.tr(key::PAIR_WHY)/>
        <div class="grow"></div>
        <div class="actions"><Action word=w.tr(key::PAIR_THIS) drawing=Drawing::Phone href=paths::pair(path)/></div>
    }
    .into_any()
}

/// How the records of this phone stand; hidden while all is at the office.
#[component]
fn Standing(feed: Feed) -> impl IntoView {
    let link = feed.link;
    let unsent = Signal::derive(move || link.with(|l| l.unsent));
    let oldest = Signal::derive(move || {
        link.with(|l| l.oldest_unsent_ms)
            .map(|ms| feed.now_ms.get() - ms)
    });
    let refused = Signal::derive(move || {
        link.with(|l| u64::try_from(l.not_accepted.len()).unwrap_or(u64::MAX))
    });
    view! {
        <Show when=move || (unsent.get() > 0) || (refused.get() > 0)>
            <RecordState on_phone=unsent oldest_ms=oldest not_accepted=refused look=paths::ASIDE/>
        </Show>
    }
}

#[component]
fn Way() -> impl IntoView {
    let path = use_location().pathname;
    let last = use_context::<LastBoar>();
    let here = Signal::derive(move || path.with(|p| place(p)));
    let address = move |place| match place {
        Place::Boar => last
            .and_then(|l| l.0.get())
            .map_or_else(|| paths::SCAN.to_owned(), paths::boar),
        Place::Today => paths::TODAY.to_owned(),
        Place::Bench => paths::BENCH.to_owned(),
        Place::More => paths::MORE.to_owned(),
    };
    view! { <Places here=here address=address/> }
}

fn place(path: &str) -> Option<Place> {
    match path.split('/').nth(1)? {
        "boar" | "T" | "t" | "scan" => Some(Place::Boar),
        "" | "today" | "training" | "week" => Some(Place::Today),
        "bench" | "batch" | "B" | "extender" => Some(Place::Bench),
        _ => Some(Place::More),
    }
}

/// The screen of an address.
fn screen(path: &str) -> AnyView {
    let parts: Vec<&str> = path.split('/').filter(|p| !p.is_empty()).collect();
    match parts[..] {
        [] | ["today"] => view! { <pages::today::TodayPage/> }.into_any(),
        ["T" | "t", code] => view! { <pages::tag::TagPage code=code.to_owned()/> }.into_any(),
        ["scan"] => view! { <pages::scan::ScanPage/> }.into_any(),
        ["bad-moment"] => view! { <pages::bad_moment::BadMomentPage/> }.into_any(),
        ["boar", id, ref rest @ ..] => {
            BoarId::parse(id).map_or_else(|_| lost(), |id| boar(id, rest))
        }
        ["pen", id] => PenId::parse(id).map_or_else(
            |_| lost(),
            |id| view! { <pages::pens::PenPage id/> }.into_any(),
        ),
        ["sow" | "B", _] | ["bench" | "batch" | "sows" | "instruments", ..] => bench(&parts),
        ["more"] => view! { <pages::more::MorePage/> }.into_any(),
        ["training"] => view! { <pages::training::TrainingPage/> }.into_any(),
        ["training", "evidence"] => office("evidence"),
        ["boars"] => view! { <pages::boars::BoarsPage/> }.into_any(),
        ["pens"] => view! { <pages::pens::PensPage/> }.into_any(),
        ["boars", "new"] => office("boar"),
        ["learn", what] => office(&format!("learn/{what}")),
        [name] => office(name),
        _ => lost(),
    }
}

fn boar(id: BoarId, rest: &[&str]) -> AnyView {
    if let Some(last) = use_context::<LastBoar>() {
        last.0.set(Some(id));
    }
    match rest {
        [] => view! { <pages::boar::BoarView id/> }.into_any(),
        ["collect"] => view! { <pages::collect::CollectPage boar=id/> }.into_any(),
        ["train"] => view! { <pages::train::TrainPage boar=id/> }.into_any(),
        ["off"] => view! { <pages::boar_do::OffPage id/> }.into_any(),
        ["move"] => view! { <pages::boar_do::MovePage id/> }.into_any(),
        ["note"] => view! { <pages::boar_do::NotePage id/> }.into_any(),
        ["edit"] => edit(id),
        ["same"] => view! { <pages::boar_do::SamePage id/> }.into_any(),
        ["output"] => output(id),
        _ => lost(),
    }
}

/// What is done with an ejaculate, the instruments it is measured with, and the sows it is used on.
#[cfg(feature = "office")]
fn bench(parts: &[&str]) -> AnyView {
    let entry = |id: &str, screen: fn(EntryId) -> AnyView| {
        EntryId::parse(id).map_or_else(|_| lost(), screen)
    };
    match *parts {
        ["sow", id] => SowId::parse(id).map_or_else(
            |_| lost(),
            |id| of_sows(move || view! { <pages::sows::SowPage id/> }.into_any()),
        ),
        ["sows"] => of_sows(|| view! { <pages::sows::SowsPage/> }.into_any()),
        ["bench"] => view! { <pages::bench::BenchPage/> }.into_any(),
        ["bench", "sows"] => of_sows(|| view! { <pages::doses::SowsStandPage/> }.into_any()),
        ["bench", id] => entry(id, |id| {
            view! { <pages::evaluate::EvaluatePage id/> }.into_any()
        }),
        ["bench", id, "doses"] => {
            entry(id, |id| view! { <pages::doses::DosesPage id/> }.into_any())
        }
        ["instruments"] => view! { <pages::instruments::InstrumentsPage/> }.into_any(),
        ["instruments", "new"] => view! { <pages::instruments::CurveFormPage/> }.into_any(),
        ["instruments", id] => entry(id, |id| {
            view! { <pages::instruments::InstrumentPage id/> }.into_any()
        }),
        ["instruments", id, "curve"] => entry(id, |id| {
            view! { <pages::instruments::CurveFormPage id/> }.into_any()
        }),
        ["batch", id] => entry(id, |id| view! { <pages::batch::BatchPage id/> }.into_any()),
        ["batch", id, "labels"] => entry(id, |id| {
            view! { <pages::labels::LabelsPage id/> }.into_any()
        }),
        ["B", code] => view! { <pages::batch::BatchOfCodePage code=code.to_owned()/> }.into_any(),
        ["batch", id, "use"] => entry(id, |id| {
            of_sows(move || view! { <pages::serve::ServePage id/> }.into_any())
        }),
        _ => lost(),
    }
}

#[cfg(not(feature = "office"))]
fn bench(_: &[&str]) -> AnyView {
    view! { <pages::elsewhere::ElsewherePage/> }.into_any()
}

/// A screen about sows, where this phone holds them.
#[cfg(feature = "office")]
fn of_sows(screen: impl Fn() -> AnyView + Send + 'static) -> AnyView {
    let w = use_words();
    let holds = Memo::new(move |_| use_feed().is_none_or(|feed| feed.holds_sows()));
    let shown = move || {
        if holds.get() {
            return screen();
        }
        view! { <Title headline=w.tr(key::SOWS_NOT_HERE) why=w.tr(key::SOWS_NOT_HERE_WHY)/><div class="grow"></div> }
            .into_any()
    };
    view! { {shown} }.into_any()
}

/// The screens that only the office's half of the app holds.
#[cfg(feature = "office")]
fn office(name: &str) -> AnyView {
    match name {
        "boar" => view! { <pages::boars::NewBoarPage/> }.into_any(),
        "log" => view! { <pages::log::LogPage/> }.into_any(),
        "standard" => view! { <pages::standard::StandardPage/> }.into_any(),
        "people" => view! { <pages::people::PeoplePage/> }.into_any(),
        "import" => view! { <pages::import::ImportPage/> }.into_any(),
        "backup" => view! { <pages::backup::BackupPage/> }.into_any(),
        "aside" => view! { <pages::aside::AsidePage/> }.into_any(),
        "phones" => view! { <pages::phones::PhonesPage/> }.into_any(),
        "network" => view! { <pages::network::NetworkPage/> }.into_any(),
        "extender" => view! { <pages::extender::ExtenderPage/> }.into_any(),
        "climate" => view! { <pages::climate::ClimatePage/> }.into_any(),
        "checks" => view! { <pages::checks::ChecksPage/> }.into_any(),
        "evidence" => view! { <pages::evidence::EvidencePage/> }.into_any(),
        "compare" => view! { <pages::compare::ComparePage/> }.into_any(),
        "watch" => view! { <pages::watch::WatchPage/> }.into_any(),
        "week" => view! { <pages::week::WeekPage/> }.into_any(),
        "learn" => view! { <pages::learn::LearnPage/> }.into_any(),
        "learn/collection" => view! { <pages::learn::StepsPage work=Work::Collection/> }.into_any(),
        "learn/training" => view! { <pages::learn::StepsPage work=Work::Training/> }.into_any(),
        "learn/practice" => view! { <pages::learn::PracticePage/> }.into_any(),
        _ => lost(),
    }
}

#[cfg(feature = "office")]
fn edit(id: BoarId) -> AnyView {
    view! { <pages::boars::EditBoarPage id/> }.into_any()
}

#[cfg(feature = "office")]
fn output(id: BoarId) -> AnyView {
    view! { <pages::output::OutputPage id/> }.into_any()
}

#[cfg(not(feature = "office"))]
fn output(_: BoarId) -> AnyView {
    view! { <pages::elsewhere::ElsewherePage/> }.into_any()
}

#[cfg(not(feature = "office"))]
fn office(name: &str) -> AnyView {
    const HELD: [&str; 17] = [
        "boar", "log", "standard", "people", "import", "backup", "aside", "phones", "network",
        "checks", "compare", "learn", "evidence", "watch", "climate", "extender", "week",
    ];
    if HELD.contains(&name.split('/').next().unwrap_or_default()) {
        view! { <pages::elsewhere::ElsewherePage/> }.into_any()
    } else {
        lost()
    }
}

#[cfg(not(feature = "office"))]
fn edit(_: BoarId) -> AnyView {
    view! { <pages::elsewhere::ElsewherePage/> }.into_any()
}

fn lost() -> AnyView {
    let w = use_words();
    view! { <p class="words big">{move || w.tr(key::LOST)}</p><div class="grow"></div> }.into_any()
}
