//! Which column is what, from its heading.

use super::dates::DayOrder;
use super::words::words;
use serde::{Deserialize, Serialize};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Field {
    /// The number or name that is read at a glance; the one column that must be there.
    Number,
    /// A name besides the number.
    Name,
    /// Day of birth.
    Born,
    /// Breed or line.
    Line,
    /// The pen he is in.
    Pen,
    /// Ear tag, tattoo or notch.
    Ear,
    /// ISO 11784 number of his transponder.
    Rfid,
    /// The day he last gave semen.
    LastCollection,
    /// The day he came.
    Arrived,
    /// What matters to whoever handles him.
    Notes,
}

impl Field {
    /// Every field, in the order in which they choose among columns.
    pub const ALL: [Self; 10] = [
        Self::Number,
        Self::Rfid,
        Self::Ear,
        Self::Name,
        Self::Born,
        Self::Line,
        Self::Pen,
        Self::LastCollection,
        Self::Arrived,
        Self::Notes,
    ];

    /// Whether its cells are dates.
    pub const fn is_date(self) -> bool {
        matches!(self, Self::Born | Self::LastCollection | Self::Arrived)
    }

    /// Headings that mean it, the surest first. A heading may stand under two fields: the
    /// number chooses first, and what it leaves goes on.
    const fn headings(self) -> &'static str {
        match self {
            Self::Number => {
                "number, numero, num, nro, nr, no, n, id, identification, \
                 identificacion, identifier, identificador, code, codigo, tag, \
                 tag number, tag no, tag id, boar, verraco, boars, verracos, berraco, \
                 padrillo, semental, macho, animal, ear tag, eartag, arete, crotal, \
                 caravana, chapeta"
            }
            Self::Rfid => {
                "rfid, eid, rfid number, rfid tag, electronic id, electronic number, \
                 transponder, microchip, chip, id electronica, \
                 identificacion electronica, crotal electronico, arete electronico, \
                 numero electronico"
            }
            Self::Ear => {
                "ear tag, eartag, ear, ear number, ear no, ear tag number, ear tag no, \
                 ear notch, notch, tattoo, arete, crotal, caravana, chapeta, \
                 numero arete, numero crotal, tatuaje, muesca, tag, tag number, tag no"
            }
            Self::Name => "name, nombre, alias, apodo, boar, verraco, berraco, padrillo, semental",
            Self::Born => {
                "born, birth, birthday, birthdate, dob, nacimiento, nacido, nacio, nac, \
                 f nacimiento, f nac, fec nac, fnac"
            }
            Self::Line => {
                "line, linea, genetic line, linea genetica, breed line, line breed, \
                 raza linea, linea raza, breed, raza, genetics, genetica, strain"
            }
            Self::Pen => {
                "pen, corral, pen number, pen no, pen name, numero corral, \
                 corral numero, pens, stall, box, crate, jaula, plaza, location, \
                 ubicacion, place, lugar"
            }
            Self::LastCollection => {
                "last collection, last collected, ultima extraccion, ultima coleccion, \
                 ultima colecta, ultima recogida, ultima recoleccion, ult extraccion, \
                 ultimo salto, last semen collection, last semen, last ejaculate, \
                 last used, ultimo uso, collected, extraccion"
            }
            Self::Arrived => {
                "arrived, arrival, llegada, llego, entrada, ingreso, alta, entered, \
                 entry, received"
            }
            Self::Notes => {
                "notes, note, remarks, remark, comments, comment, notas, nota, \
                 observaciones, observacion, obs, comentarios, comentario, observations, \
                 temperament, temperamento"
            }
        }
    }
}

/// Words that a heading may carry without meaning more.
const FILLERS: &[&str] = &[
    "of", "the", "de", "del", "la", "el", "los", "las", "or", "o", "to", "a", "date", "day",
    "fecha", "dia", "dd", "mm", "yy", "yyyy", "aa", "aaaa", "ddmmyyyy", "mmddyyyy", "yyyymmdd",
    "ddmmaaaa",
];
/// Whose column it is says nothing where every row is a boar.
const SUBJECTS: &[&str] = &[
    "boar", "boars", "verraco", "verracos", "berraco", "padrillo", "semental", "animal", "pig",
];

/// One field for each column, or none; every field at most once.
pub(super) fn assign(headers: &[String]) -> Vec<Option<Field>> {
    let spellings: Vec<_> = headers.iter().map(|h| spellings(h)).collect();
    best(&Field::ALL, |field| field.headings(), &spellings)
}

/// Gives each field, in its turn, the free column whose spelling stands first among the field's
/// headings; of two alike the first column.
pub(crate) fn best<F: Copy + PartialEq>(
    fields: &[F],
    headings: impl Fn(F) -> &'static str,
    spellings: &[Vec<String>],
) -> Vec<Option<F>> {
    let mut taken = vec![None; spellings.len()];
    for field in fields.iter().copied() {
        let rank = |known: &[String]| {
            let mut headings = headings(field).split(", ");
            headings.position(|h| known.iter().any(|s| s == h))
        };
        let free = (0..spellings.len()).filter(|i| taken.get(*i) == Some(&None));
        let ranked = free.filter_map(|i| Some((rank(spellings.get(i)?)?, i)));
        if let Some(slot) = ranked.min().and_then(|(_, i)| taken.get_mut(i)) {
            *slot = Some(field);
        }
    }
    taken
}

/// The heading without fillers, and again without its subject.
fn spellings(header: &str) -> Vec<String> {
    let header = outside_brackets(&header.replace('#', " number "));
    with_and_without(&header, FILLERS, SUBJECTS)
}

/// The words of a heading without `fillers`, and again without `asides`; what is empty is left out.
pub(crate) fn with_and_without(header: &str, fillers: &[&str], asides: &[&str]) -> Vec<String> {
    let without = |words: Vec<String>, list: &[&str]| -> Vec<String> {
        let kept = words.into_iter().filter(|w| !list.contains(&w.as_str()));
        kept.collect()
    };
    let words = without(words(header), fillers);
    let bare = without(words.clone(), asides);
    [words.join(" "), bare.join(" ")]
        .into_iter()
        .filter(|s| !s.is_empty())
        .collect()
}

pub(crate) fn outside_brackets(header: &str) -> String {
    let mut depth = 0_usize;
    let mut out = String::new();
    for c in header.chars() {
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            c if depth == 0 => out.push(c),
            _ => {}
        }
    }
    out
}

/// The order of day and month that a heading such as "Born (dd/mm/yyyy)" gives away.
pub(crate) fn order_said(header: &str) -> Option<DayOrder> {
    let letters = words(header).concat();
    let year_first = letters.contains("yyyymmdd") || letters.contains("aaaammdd");
    match (
        letters.contains("ddmm"),
        letters.contains("mmdd") && !year_first,
    ) {
        (true, false) => Some(DayOrder::DayFirst),
        (false, true) => Some(DayOrder::MonthFirst),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fields(headers: &[&str]) -> Vec<Option<Field>> {
        assign(&headers.iter().map(|h| (*h).to_owned()).collect::<Vec<_>>())
    }

    #[test]
    fn english_and_spanish_headings_are_known() {
        use Field::*;
        assert_eq!(
            fields(&[
                "Boar No.",
                "NAME",
                "Date of birth",
                "Breed/Line",
                "Pen #",
                "Ear-tag",
                "RFID",
                "Last collection"
            ]),
            [Number, Name, Born, Line, Pen, Ear, Rfid, LastCollection].map(Some)
        );
        assert_eq!(
            fields(&[
                "Verraco",
                "Fecha de nacimiento",
                "Raza",
                "Corral",
                "Arete",
                "ÚLTIMA EXTRACCIÓN",
                "Llegada",
                "Observaciones"
            ]),
            [Number, Born, Line, Pen, Ear, LastCollection, Arrived, Notes].map(Some)
        );
    }

    #[test]
    fn the_number_chooses_first_and_the_rest_goes_on() {
        use Field::*;
        assert_eq!(
            fields(&["Boar", "Number", "Tag"]),
            [Name, Number, Ear].map(Some)
        );
        assert_eq!(fields(&["Boar", "Breed"]), [Number, Line].map(Some));
        assert_eq!(fields(&["ID", "Number"]), [None, Some(Number)]);
        assert_eq!(fields(&["Ear tag", "Breed"]), [Number, Line].map(Some));
        assert_eq!(fields(&["Weight", "Colour"]), [None, None]);
    }

    #[test]
    fn a_heading_may_give_the_order_away() {
        assert_eq!(order_said("Born (dd/mm/yyyy)"), Some(DayOrder::DayFirst));
        assert_eq!(order_said("Born mm-dd-yy"), Some(DayOrder::MonthFirst));
        assert_eq!(
            order_said("Nacimiento (dd/mm/aaaa)"),
            Some(DayOrder::DayFirst)
        );
        assert_eq!(order_said("Born (yyyy-mm-dd)"), None);
        assert_eq!(order_said("Born"), None);
    }
}
