//! The printed tag: two symbols on white card, and the dirt on it.

use super::chance::Chance;

/// A tag as cut from the sheet.
pub const WIDTH_MM: f64 = 190.0;
/// See [`WIDTH_MM`].
pub const HEIGHT_MM: f64 = 120.0;
/// What the wall behind the tag reflects.
const WALL: f64 = 0.45;
/// Texels a millimetre.
const FINE: f64 = 5.0;
/// Where the symbols' pictures begin, from the top and from either side.
const TOP_MM: f64 = 32.0;
const SIDE_MM: f64 = 6.0;

/// The card, as reflectance from 0 to 1 on a fine grid.
#[derive(Debug, Clone)]
pub struct Card {
    texels: Vec<f32>,
    symbols: Vec<Square>,
}

/// Why a picture is not one of our symbols.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the picture has no readable '{part}'")]
pub struct CardError {
    /// What was looked for.
    pub part: &'static str,
}

/// Where a symbol lies, quiet zone left out.
#[derive(Debug, Clone, Copy)]
struct Square {
    left_mm: f64,
    top_mm: f64,
    side_mm: f64,
}

/// A symbol read back from its SVG picture.
struct Picture {
    modules: usize,
    size_mm: f64,
    /// Column, row and length of each dark run.
    runs: Vec<(usize, usize, usize)>,
}

impl Card {
    /// A clean tag with the symbol of this SVG picture twice, left and right.
    pub fn two(svg: &str) -> Result<Self, CardError> {
        Self::both(svg, svg)
    }

    /// A clean card with one symbol on the left, another on the right.
    pub fn both(left: &str, right: &str) -> Result<Self, CardError> {
        let (left, right) = (Picture::read(left)?, Picture::read(right)?);
        let mut card = Self::blank();
        card.print(&left, SIDE_MM);
        card.print(&right, WIDTH_MM - SIDE_MM - right.size_mm);
        Ok(card)
    }

    /// A clean tag with the left symbol only.
    pub fn one(svg: &str) -> Result<Self, CardError> {
        let picture = Picture::read(svg)?;
        let mut card = Self::blank();
        card.print(&picture, SIDE_MM);
        Ok(card)
    }

    /// Splashes until `share` (0 to 1) of the two places for symbols is covered, the same splashes
    /// for the same seed however many symbols are printed.
    #[must_use]
    pub fn dirty(mut self, share: f64, seed: u64) -> Self {
        let mut chance = Chance::new(seed);
        let first = self.symbols[0];
        let places = [
            first,
            Square {
                left_mm: WIDTH_MM - first.left_mm - first.side_mm,
                ..first
            },
        ];
        let mut covered = vec![false; self.texels.len()];
        while share_of(&places, &covered) < share {
            self.splash(&mut chance, &mut covered);
        }
        self
    }

    /// The middle of the left symbol, mm from the card's corner.
    pub fn left_symbol_mm(&self) -> (f64, f64) {
        let square = self.symbols[0];
        (
            square.left_mm + square.side_mm / 2.0,
            square.top_mm + square.side_mm / 2.0,
        )
    }

    /// Reflectance at a point of the card's plane, the wall beyond its edges.
    pub fn at(&self, x_mm: f64, y_mm: f64) -> f64 {
        match (texel(x_mm, WIDTH_MM), texel(y_mm, HEIGHT_MM)) {
            (Some(x), Some(y)) => f64::from(self.texels[y * columns() + x]),
            _ => WALL,
        }
    }

    fn blank() -> Self {
        Self {
            texels: vec![1.0; columns() * steps(HEIGHT_MM)],
            symbols: vec![],
        }
    }

    fn print(&mut self, picture: &Picture, left_mm: f64) {
        let module_mm = picture.size_mm / picture.modules as f64;
        for &(column, row, length) in &picture.runs {
            let x = left_mm + column as f64 * module_mm;
            let y = TOP_MM + row as f64 * module_mm;
            self.paint(x, y, length as f64 * module_mm, module_mm);
        }
        let quiet_mm = 4.0 * module_mm;
        let side_mm = picture.size_mm - 2.0 * quiet_mm;
        self.symbols.push(Square {
            left_mm: left_mm + quiet_mm,
            top_mm: TOP_MM + quiet_mm,
            side_mm,
        });
    }

    fn paint(&mut self, x_mm: f64, y_mm: f64, width_mm: f64, height_mm: f64) {
        for y in steps(y_mm)..steps(y_mm + height_mm) {
            let row = y * columns();
            self.texels[row + steps(x_mm)..row + steps(x_mm + width_mm)].fill(0.0);
        }
    }

    /// One ragged splash: five discs about a point, of one shade from wet mud to dried lime.
    fn splash(&mut self, chance: &mut Chance, covered: &mut [bool]) {
        let middle = (
            chance.between(0.0, WIDTH_MM),
            chance.between(0.0, HEIGHT_MM),
        );
        let radius = chance.between(1.5, 6.0);
        #[allow(clippy::cast_possible_truncation)] // A shade needs no more than this.
        let shade = chance.between(0.1, 0.9) as f32;
        for _ in 0..5 {
            let x = middle.0 + chance.between(-radius, radius);
            let y = middle.1 + chance.between(-radius, radius);
            let disc = radius * chance.between(0.4, 1.0);
            for (at, (dx, dy)) in texels_near(x, y, disc) {
                if dx * dx + dy * dy <= disc * disc {
                    self.texels[at] = shade;
                    covered[at] = true;
                }
            }
        }
    }
}

impl Picture {
    fn read(svg: &str) -> Result<Self, CardError> {
        let missing = |part| CardError { part };
        let between = |from: &'static str, to: &str| {
            svg.split_once(from)
                .and_then(|(_, rest)| rest.split_once(to))
                .map(|(found, _)| found)
        };
        let size = between(r#"width=""#, "mm").and_then(|n| n.parse().ok());
        let modules = between(r#"viewBox="0 0 "#, " ").and_then(|n| n.parse().ok());
        let path = between(r##"fill="#000" d=""##, "\"").ok_or(missing("path"))?;
        let runs = path.split('M').skip(1).map(run).collect::<Option<_>>();
        Ok(Self {
            modules: modules.ok_or(missing("viewBox"))?,
            size_mm: size.ok_or(missing("width"))?,
            runs: runs.ok_or(missing("runs of dark modules"))?,
        })
    }
}

/// `12 5h3v1h-3z` is the run of 3 in row 5 from column 12.
fn run(text: &str) -> Option<(usize, usize, usize)> {
    let (start, length) = text.split_once("v1")?.0.split_once('h')?;
    let (column, row) = start.split_once(' ')?;
    Some((
        column.parse().ok()?,
        row.parse().ok()?,
        length.parse().ok()?,
    ))
}

fn share_of(places: &[Square], covered: &[bool]) -> f64 {
    let (mut hit, mut all) = (0, 0);
    for place in places {
        for y in steps(place.top_mm)..steps(place.top_mm + place.side_mm) {
            let from = y * columns() + steps(place.left_mm);
            let row = &covered[from..from + steps(place.side_mm)];
            hit += row.iter().filter(|c| **c).count();
            all += row.len();
        }
    }
    hit as f64 / all as f64
}

/// Texels in the square about a disc, each with its distance from the disc's middle in mm.
fn texels_near(x_mm: f64, y_mm: f64, radius: f64) -> impl Iterator<Item = (usize, (f64, f64))> {
    let rows = steps(y_mm - radius)..steps(y_mm + radius).min(steps(HEIGHT_MM));
    rows.flat_map(move |y| {
        let across = steps(x_mm - radius)..steps(x_mm + radius).min(columns());
        across.map(move |x| {
            (
                y * columns() + x,
                (x as f64 / FINE - x_mm, y as f64 / FINE - y_mm),
            )
        })
    })
}

fn columns() -> usize {
    steps(WIDTH_MM)
}

/// Whole texels up to a place; 0 for one before the edge.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn steps(mm: f64) -> usize {
    (mm * FINE).round().max(0.0) as usize
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn texel(mm: f64, end_mm: f64) -> Option<usize> {
    (mm >= 0.0 && mm < end_mm).then_some((mm * FINE) as usize)
}
