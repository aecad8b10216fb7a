//! What a counting chamber holds.

use crate::units::{BoundError, within};
use serde::{Deserialize, Serialize};

/// A counting chamber: the area of one square in mm², the depth in mm, squares in a grid and
/// grids in the chamber. The default is the improved Neubauer: squares of 0.2 × 0.2 × 0.1 mm or 4 nL,
/// 25 in the central grid, 9 grids of 100 nL.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct Chamber(Written);

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Written {
    square_mm2: f64,
    depth_mm: f64,
    grid_squares: u16,
    grids: u16,
}

impl Chamber {
    /// The improved Neubauer.
    pub const IMPROVED_NEUBAUER: Self = Self(Written {
        square_mm2: 0.04,
        depth_mm: 0.1,
        grid_squares: 25,
        grids: 9,
    });
    /// The area in mm² that one sperm head takes up at least: heads of boar sperm are about 8 to 9 µm
    /// long and 4 to 5 µm wide (from memory), which is 40 µm² a head when they lie side by side.
    pub const HEAD_MM2: f64 = 0.000_04;
    /// Above this share of the area under heads many lie over each other and the count falls short
    /// (common practice is to dilute until they lie well apart; the tenth has no source).
    pub const CROWDED: f64 = 0.1;

    /// A chamber of squares of `square_mm2` (0.0001 to 25), `depth_mm` (0.005 to 1), `grid_squares`
    /// in a grid (1 to 1000) and `grids` (1 to 100).
    pub fn new(
        square_mm2: f64,
        depth_mm: f64,
        grid_squares: u32,
        grids: u32,
    ) -> Result<Self, BoundError> {
        let whole = |field, read: u32, high: u16, unit| {
            within(field, read.into(), 1.0..=high.into(), unit)?;
            // Looked at a line above.
            Ok(u16::try_from(read).unwrap_or(high))
        };
        Ok(Self(Written {
            square_mm2: within("square_mm2", square_mm2, 0.0001..=25.0, "mm²")?,
            depth_mm: within("depth_mm", depth_mm, 0.005..=1.0, "mm")?,
            grid_squares: whole("grid_squares", grid_squares, 1000, "squares")?,
            grids: whole("grids", grids, 100, "grids")?,
        }))
    }

    /// A chamber of squares whose side is `side_mm` (0.01 to 5).
    pub fn of_side(
        side_mm: f64,
        depth_mm: f64,
        grid_squares: u32,
        grids: u32,
    ) -> Result<Self, BoundError> {
        within("square_side_mm", side_mm, 0.01..=5.0, "mm")?;
        // A side of 0.2 is to make the same square as 0.04 mm²: nobody rules finer than this.
        let area = (side_mm * side_mm * 1e9).round() / 1e9;
        Self::new(area, depth_mm, grid_squares, grids)
    }

    /// The area of one square in mm².
    pub const fn square_mm2(&self) -> f64 {
        self.0.square_mm2
    }

    /// The depth in mm.
    pub const fn depth_mm(&self) -> f64 {
        self.0.depth_mm
    }

    /// Squares in one grid.
    pub const fn grid_squares(&self) -> u16 {
        self.0.grid_squares
    }

    /// Grids in the chamber.
    pub const fn grids(&self) -> u16 {
        self.0.grids
    }

    /// Squares in the whole chamber: one filling has no more.
    pub fn squares(&self) -> u32 {
        u32::from(self.0.grid_squares) * u32::from(self.0.grids)
    }

    /// What one square holds, in nL.
    pub fn square_nl(&self) -> f64 {
        self.0.square_mm2 * self.0.depth_mm * 1000.0
    }

    /// The most sperm that so many squares can show: heads side by side without a gap. Beyond
    /// that none could be told from another, so the count is a typing error.
    pub fn holds(&self, squares: f64) -> f64 {
        // The hair keeps 0.04 ÷ 0.00004 from falling below 1000.
        (squares * self.0.square_mm2 / Self::HEAD_MM2 + 1e-6).floor()
    }

    /// Whether it is the improved Neubauer.
    pub fn is_improved_neubauer(&self) -> bool {
        *self == Self::IMPROVED_NEUBAUER
    }
}

impl Default for Chamber {
    fn default() -> Self {
        Self::IMPROVED_NEUBAUER
    }
}

impl TryFrom<Written> for Chamber {
    type Error = BoundError;
    fn try_from(w: Written) -> Result<Self, BoundError> {
        Self::new(
            w.square_mm2,
            w.depth_mm,
            w.grid_squares.into(),
            w.grids.into(),
        )
    }
}

impl From<Chamber> for Written {
    fn from(chamber: Chamber) -> Self {
        chamber.0
    }
}
