//! The sheet of pen tags, from what the store knows of pens and of the farm's address.

use crate::store::{Store, StoreError};
use crate::tags::{Origin, Paper, PenTag, Sheet, SheetLabels, TagError, sheet, svg};
use pentally_app::words::{Lang, Words, key};
use pentally_domain::barn::Barn;
use pentally_domain::code::Code;

/// How a sheet is asked for.
#[derive(Debug, Clone)]
pub struct Wanted {
    /// The paper.
    pub paper: Paper,
    /// The language of the words around the tags.
    pub lang: Lang,
    /// Where tags lead until the farm has chosen an address: the one this server is reached at.
    pub reached_at: String,
}

/// Why there is no sheet.
#[derive(Debug, thiserror::Error)]
pub enum PrintError {
    /// See [`StoreError`].
    #[error(transparent)]
    Store(#[from] StoreError),
    /// See [`TagError`].
    #[error(transparent)]
    Tag(#[from] TagError),
}

/// A page to print with the tag of every pen that has a code, in the order of the pens.
pub fn all_tags(store: &Store, wanted: &Wanted) -> Result<String, PrintError> {
    let barn = store.barn()?;
    let tags: Vec<PenTag> = barn
        .pens()
        .iter()
        .filter_map(|pen| {
            let name = pen
                .pen
                .as_ref()
                .map(|p| p.fact.name.as_str().to_owned())
                .unwrap_or_default();
            pen.codes.last().map(|code| PenTag {
                pen: name,
                code: *code,
            })
        })
        .collect();
    let (origin, is_chosen) = origin(&barn, &wanted.reached_at)?;
    let labels = labels(wanted.lang, tags.is_empty());
    Ok(sheet(&Sheet {
        origin: &origin,
        is_chosen,
        paper: wanted.paper,
        tags: &tags,
        labels: &labels,
    })?)
}

/// The symbol of one code.
pub fn symbol(store: &Store, code: Code, reached_at: &str) -> Result<String, PrintError> {
    let (origin, _) = origin(&store.barn_for(&[])?, reached_at)?;
    Ok(svg(&origin, code)?)
}

fn origin(barn: &Barn, reached_at: &str) -> Result<(Origin, bool), TagError> {
    match barn.farm().and_then(|farm| farm.fact.origin) {
        Some(chosen) => Ok((Origin::parse(&chosen)?, true)),
        None => Ok((Origin::parse(reached_at)?, false)),
    }
}

fn labels(lang: Lang, is_empty: bool) -> SheetLabels {
    let words = Words::of(lang);
    SheetLabels {
        lang: lang.tag().to_owned(),
        title: words.tr(key::SHEET_TITLE),
        pen: words.tr(key::SHEET_PEN),
        trial: words.tr(key::SHEET_TRIAL),
        trial_why: words.tr(key::SHEET_TRIAL_WHY),
        how: words.tr(if is_empty {
            key::SHEET_EMPTY
        } else {
            key::SHEET_HOW
        }),
        ruler: words.tr(key::SHEET_RULER),
    }
}
