//! Sheets and rolls of labels: sizes, and where each label lies. All in whole thousandths of a
//! millimetre within, so that places meet and never overlap by a rounding.

use crate::units::{BoundError, within};
use serde::{Deserialize, Serialize};

/// Paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 215.9 × 279.4 mm.
    Letter,
}

/// A sheet as people measure it, in mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetMm {
    /// The paper.
    pub paper: Paper,
    /// Labels side by side, 1 to 20.
    pub columns: u8,
    /// Labels one below the other, 1 to 40.
    pub rows: u8,
    /// A label's width.
    pub width_mm: f64,
    /// A label's height.
    pub height_mm: f64,
    /// From the paper's left edge to the first label.
    pub left_mm: f64,
    /// From the paper's top edge to the first label.
    pub top_mm: f64,
    /// Between two columns.
    #[serde(default)]
    pub across_mm: f64,
    /// Between two rows.
    #[serde(default)]
    pub down_mm: f64,
}

/// A sheet whose labels lie on the paper and beside each other.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "SheetMm", into = "SheetMm")]
pub struct Sheet(SheetMm);

/// A narrow roll in mm, one label after the other.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "RollMm", into = "RollMm")]
pub struct Roll(RollMm);

/// A roll as people measure it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RollMm {
    /// A label's width.
    pub width_mm: f64,
    /// A label's height.
    pub height_mm: f64,
}

/// What is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stock {
    /// Sheets.
    Sheet(Sheet),
    /// A roll.
    Roll(Roll),
}

/// Where one label lies.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Place {
    /// Which sheet, or which label of a roll, counting from 0.
    pub page: u16,
    /// Which label of the sheet, row by row, counting from 0.
    pub position: u16,
    /// From the left edge.
    pub left_mm: f64,
    /// From the top edge.
    pub top_mm: f64,
}

/// The least a label may measure: below it no code can be read.
pub const SIDE_LOW_MM: f64 = 15.0;
/// The widest roll.
pub const ROLL_HIGH_MM: f64 = 120.0;

/// Sheets and rolls that are sold in many shops, by their sizes (common practice, no source).
const SHEETS: [SheetMm; 7] = [
    sheet(Paper::A4, (3, 8), (70.0, 37.0), (0.0, 0.5), (0.0, 0.0)),
    sheet(Paper::A4, (2, 8), (105.0, 37.0), (0.0, 0.5), (0.0, 0.0)),
    sheet(Paper::A4, (4, 10), (52.5, 29.7), (0.0, 0.0), (0.0, 0.0)),
    sheet(Paper::A4, (3, 7), (63.5, 38.1), (7.25, 15.15), (2.5, 0.0)),
    sheet(Paper::A4, (5, 13), (38.1, 21.2), (4.75, 10.7), (2.5, 0.0)),
    sheet(
        Paper::Letter,
        (3, 10),
        (66.675, 25.4),
        (4.762, 12.7),
        (3.175, 0.0),
    ),
    sheet(
        Paper::Letter,
        (2, 5),
        (101.6, 50.8),
        (3.969, 12.7),
        (4.762, 0.0),
    ),
];
const ROLLS: [RollMm; 4] = [
    roll(50.0, 25.0),
    roll(57.0, 32.0),
    roll(62.0, 29.0),
    roll(100.0, 50.0),
];

const fn sheet(
    paper: Paper,
    (columns, rows): (u8, u8),
    (width_mm, height_mm): (f64, f64),
    (left_mm, top_mm): (f64, f64),
    (across_mm, down_mm): (f64, f64),
) -> SheetMm {
    SheetMm {
        paper,
        columns,
        rows,
        width_mm,
        height_mm,
        left_mm,
        top_mm,
        across_mm,
        down_mm,
    }
}

const fn roll(width_mm: f64, height_mm: f64) -> RollMm {
    RollMm {
        width_mm,
        height_mm,
    }
}

impl Paper {
    /// Width and height in mm.
    pub const fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

impl Sheet {
    /// Refuses labels that are too small, and columns or rows that leave the paper.
    pub fn new(mm: SheetMm) -> Result<Self, BoundError> {
        let (wide, high) = mm.paper.size_mm();
        within("columns", mm.columns.into(), 1.0..=20.0, "columns")?;
        within("rows", mm.rows.into(), 1.0..=40.0, "rows")?;
        within("width_mm", mm.width_mm, SIDE_LOW_MM..=wide, "mm")?;
        within("height_mm", mm.height_mm, SIDE_LOW_MM..=high, "mm")?;
        for (field, read) in [
            ("left_mm", mm.left_mm),
            ("top_mm", mm.top_mm),
            ("across_mm", mm.across_mm),
            ("down_mm", mm.down_mm),
        ] {
            within(field, read, 0.0..=100.0, "mm")?;
        }
        let mm = mm.rounded();
        let all = |first: f64, each: f64, many: u8, gap: f64| {
            let many = i64::from(many);
            thousandths(first) + many * thousandths(each) + (many - 1) * thousandths(gap)
        };
        let right = all(mm.left_mm, mm.width_mm, mm.columns, mm.across_mm);
        let bottom = all(mm.top_mm, mm.height_mm, mm.rows, mm.down_mm);
        within("columns_end_mm", right as f64 / 1e3, 0.0..=wide, "mm")?;
        within("rows_end_mm", bottom as f64 / 1e3, 0.0..=high, "mm")?;
        Ok(Self(mm))
    }

    /// In mm.
    pub const fn mm(&self) -> &SheetMm {
        &self.0
    }

    /// Labels on one sheet.
    pub fn fits(&self) -> u16 {
        u16::from(self.0.columns) * u16::from(self.0.rows)
    }

    /// Where so many labels go, leaving out the positions that are gone from the first sheet.
    pub fn places(&self, many: u16, gone: &[u16]) -> Vec<Place> {
        let free = (0..self.fits())
            .filter(|p| !gone.contains(p))
            .map(|p| (0, p));
        let next = (1..).flat_map(|page| (0..self.fits()).map(move |p| (page, p)));
        let all = free.chain(next).take(many.into());
        all.map(|(page, position)| self.place(page, position))
            .collect()
    }

    fn place(&self, page: u16, position: u16) -> Place {
        let mm = &self.0;
        let columns = u16::from(mm.columns.max(1));
        let at = |first: f64, each: f64, gap: f64, n: u16| {
            let step = thousandths(each) + thousandths(gap);
            (thousandths(first) + i64::from(n) * step) as f64 / 1e3
        };
        Place {
            page,
            position,
            left_mm: at(mm.left_mm, mm.width_mm, mm.across_mm, position % columns),
            top_mm: at(mm.top_mm, mm.height_mm, mm.down_mm, position / columns),
        }
    }
}

impl Roll {
    /// From 15 mm to 120 mm wide and 200 mm high.
    pub fn new(mm: RollMm) -> Result<Self, BoundError> {
        within("width_mm", mm.width_mm, SIDE_LOW_MM..=ROLL_HIGH_MM, "mm")?;
        within("height_mm", mm.height_mm, SIDE_LOW_MM..=200.0, "mm")?;
        let (width_mm, height_mm) = (rounded(mm.width_mm), rounded(mm.height_mm));
        Ok(Self(RollMm {
            width_mm,
            height_mm,
        }))
    }

    /// In mm.
    pub const fn mm(&self) -> &RollMm {
        &self.0
    }
}

impl Stock {
    /// What is sold in many shops.
    pub fn usual() -> Vec<Self> {
        let sheets = SHEETS
            .into_iter()
            .filter_map(|mm| Sheet::new(mm).ok())
            .map(Self::Sheet);
        let rolls = ROLLS
            .into_iter()
            .filter_map(|mm| Roll::new(mm).ok())
            .map(Self::Roll);
        sheets.chain(rolls).collect()
    }

    /// A label's width and height in mm.
    pub const fn label_mm(&self) -> (f64, f64) {
        match self {
            Self::Sheet(Sheet(mm)) => (mm.width_mm, mm.height_mm),
            Self::Roll(Roll(mm)) => (mm.width_mm, mm.height_mm),
        }
    }

    /// The square that is left for the symbol, its quiet zone included: the label's height, but half
    /// of its width at most, since words stand beside it.
    pub fn symbol_mm(&self) -> f64 {
        let (wide, high) = self.label_mm();
        high.min(wide / 2.0)
    }

    /// Where so many labels go; on a roll nothing is gone.
    pub fn places(&self, many: u16, gone: &[u16]) -> Vec<Place> {
        match self {
            Self::Sheet(sheet) => sheet.places(many, gone),
            Self::Roll(_) => (0..many)
                .map(|page| Place {
                    page,
                    position: 0,
                    left_mm: 0.0,
                    top_mm: 0.0,
                })
                .collect(),
        }
    }
}

impl SheetMm {
    fn rounded(self) -> Self {
        Self {
            width_mm: rounded(self.width_mm),
            height_mm: rounded(self.height_mm),
            left_mm: rounded(self.left_mm),
            top_mm: rounded(self.top_mm),
            across_mm: rounded(self.across_mm),
            down_mm: rounded(self.down_mm),
            ..self
        }
    }
}

/// Whole thousandths of what was checked to lie between 0 and 300 mm.
fn thousandths(mm: f64) -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "at most 300,000")]
    let whole = (mm * 1e3).round() as i64;
    whole
}

fn rounded(mm: f64) -> f64 {
    thousandths(mm) as f64 / 1e3
}

impl TryFrom<SheetMm> for Sheet {
    type Error = BoundError;
    fn try_from(mm: SheetMm) -> Result<Self, BoundError> {
        Self::new(mm)
    }
}

impl From<Sheet> for SheetMm {
    fn from(sheet: Sheet) -> Self {
        sheet.0
    }
}

impl TryFrom<RollMm> for Roll {
    type Error = BoundError;
    fn try_from(mm: RollMm) -> Result<Self, BoundError> {
        Self::new(mm)
    }
}

impl From<Roll> for RollMm {
    fn from(roll: Roll) -> Self {
        roll.0
    }
}
