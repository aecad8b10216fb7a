//! What can go wrong with a boar, how large it is and what is recorded of it. Sizes are on the
//! measures' scales: the logarithm of volume and total sperm, the log odds of motile and abnormal.

use crate::barn::{Cup, Invented};
use crate::dice::Dice;
use pentally_domain::collection::Glove;
use pentally_domain::watch::Cause;

/// A kind of trouble.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trouble {
    /// Collected every other day.
    ShortRest,
    /// Hot days two to six weeks before.
    Heat,
    /// A fever some days before, with the weeks that follow.
    Fever,
    /// Lame for some weeks.
    Lame,
    /// Another person collects him, and gets less.
    Handler,
    /// A latex glove.
    Latex,
    /// Another glove, a bad lot.
    Nitrile,
    /// Dirt or urine in most cups.
    Dirt,
    /// Filters that tear: gel in most cups.
    Filter,
    /// Left alone for more than two weeks between collections.
    LongIdle,
    /// Concentrations are found in another way, and read lower.
    Instrument,
    /// The sperm-poor fraction is left out.
    Fractions,
    /// He falls for no reason that anybody recorded.
    Unknown,
}

/// Trouble of one boar from a day on.
#[derive(Debug, Clone, Copy)]
pub struct Plant {
    pub trouble: Trouble,
    pub from: i64,
    /// How large it is, against the usual.
    pub size: f64,
}

impl Trouble {
    /// Every kind with a cause that can be named.
    pub const NAMED: [Self; 12] = [
        Self::ShortRest,
        Self::Heat,
        Self::Fever,
        Self::Lame,
        Self::Handler,
        Self::Latex,
        Self::Nitrile,
        Self::Dirt,
        Self::Filter,
        Self::LongIdle,
        Self::Instrument,
        Self::Fractions,
    ];

    /// What ought to be named first.
    pub const fn cause(self) -> Option<Cause> {
        Some(match self {
            Self::ShortRest => Cause::ShortRest,
            Self::Heat => Cause::Heat,
            Self::Fever => Cause::Fever,
            Self::Lame => Cause::Ill,
            Self::Handler => Cause::Handler,
            Self::Latex | Self::Nitrile => Cause::Glove,
            Self::Dirt => Cause::Dirt,
            Self::Filter => Cause::Filter,
            Self::LongIdle => Cause::LongIdle,
            Self::Instrument => Cause::Instrument,
            Self::Fractions => Cause::Fractions,
            Self::Unknown => return None,
        })
    }

    /// By how much each measure moves: volume, total sperm, motile, abnormal.
    const fn usual(self) -> [f64; 4] {
        match self {
            // Beyond what one short rest costs: he makes 15 to 16×10⁹ a day (Swierstra), and no more.
            Self::ShortRest => [-0.15, -0.35, -0.1, 0.1],
            Self::Heat => [-0.05, -0.35, -0.7, 0.8],
            Self::Fever => [-0.15, -0.45, -0.8, 0.9],
            Self::Lame => [-0.25, -0.35, -0.4, 0.3],
            Self::Handler => [-0.35, -0.30, 0.0, 0.0],
            // Common practice: from ≥ 90 % motile to < 10 %; here a touch of it.
            Self::Latex => [0.0, 0.0, -2.5, 0.0],
            Self::Nitrile => [0.0, 0.0, -1.0, 0.0],
            Self::Dirt => [0.0, 0.0, -1.0, 0.0],
            // Clots hold sperm back, and what is among them dies sooner.
            Self::Filter => [0.1, -0.3, -0.8, 0.0],
            // Old sperm: beyond what the rest itself is known to cost.
            Self::LongIdle => [0.0, 0.0, -0.8, 0.6],
            Self::Instrument => [0.0, -0.35, 0.0, 0.0],
            Self::Fractions => [-0.95, -0.2, 0.0, 0.0],
            Self::Unknown => [-0.2, -0.357, 0.0, 0.0],
        }
    }
}

/// The fever and the lameness last so many days.
pub const OFF_DAYS: i64 = 5;

impl Plant {
    /// Whether this ejaculate is touched.
    pub fn strikes(self, dice: &mut Dice, at: i64) -> bool {
        let since = at - self.from;
        match self.trouble {
            Trouble::Dirt | Trouble::Filter => dice.is(0.8),
            // What a fever harms is collected a week later and for six weeks.
            Trouble::Fever => (7..=48).contains(&since),
            _ => true,
        }
    }

    /// By how much, where it is.
    pub fn shift(self, _at: i64, hot_days: f64) -> [f64; 4] {
        let grows = if self.trouble == Trouble::Heat {
            ((hot_days - 2.0) / 6.0).clamp(0.0, 1.0)
        } else {
            1.0
        };
        self.trouble.usual().map(|usual| usual * self.size * grows)
    }

    /// How long he rests now, if the trouble says.
    pub const fn rest(self, at: i64) -> Option<i64> {
        match self.trouble {
            Trouble::ShortRest => Some(2),
            Trouble::LongIdle => Some(16 + at % 4),
            Trouble::Fever | Trouble::Lame if at < self.from + OFF_DAYS => {
                Some(self.from + OFF_DAYS + 1 - at)
            }
            _ => None,
        }
    }

    /// What is written down of it.
    pub fn record(self, cup: &mut Cup, strikes: bool, barn: &Invented) {
        match self.trouble {
            Trouble::Handler => cup.person = barn.people[2],
            Trouble::Latex => cup.glove = Glove::Latex,
            Trouble::Nitrile => cup.glove = Glove::Nitrile,
            Trouble::Dirt => cup.dirt = strikes,
            Trouble::Filter => cup.torn = strikes,
            Trouble::Instrument => cup.by_instrument = !barn.by_instrument,
            _ => {}
        }
    }
}
