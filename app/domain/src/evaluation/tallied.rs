//! What was tallied at the microscope, replicate by replicate, and the shares that follow from it.

use super::{Evaluation, Share};
use crate::agreement::Tally;
use crate::units::{BoundError, Cells, Count, so_many};
use serde::{Deserialize, Serialize};

/// What a sperm looks like; one that has several faults goes to the first of them in the order of
/// the farm's book (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Class {
    /// Nothing wrong.
    Normal,
    /// The head.
    Head,
    /// A droplet near the head.
    ProximalDroplet,
    /// A droplet near the end of the midpiece.
    DistalDroplet,
    /// The tail.
    Tail,
}

/// One replicate of morphology: cells of each class, 1 to 2000 together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Classes", into = "Classes")]
pub struct Morphology(Classes);

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
struct Classes {
    normal: u16,
    head: u16,
    proximal_droplet: u16,
    distal_droplet: u16,
    tail: u16,
}

/// What was tallied: replicates of motility (motile, of cells) and of morphology, at most
/// [`Tallied::REPLICATES_HIGH`] of each and together as many cells as [`Cells`] takes; not both empty.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct Tallied(Written);

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct Written {
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    motility: Vec<Tally>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    morphology: Vec<Morphology>,
}

impl Class {
    /// Every class, as the zones of the tally screen stand.
    pub const ALL: [Self; 5] = [
        Self::Normal,
        Self::Head,
        Self::ProximalDroplet,
        Self::DistalDroplet,
        Self::Tail,
    ];
}

impl Morphology {
    /// Cells of each class, in the order of [`Class::ALL`].
    pub fn new(cells: [u16; 5]) -> Result<Self, BoundError> {
        Cells::new(cells.iter().map(|n| u32::from(*n)).sum())?;
        let [normal, head, proximal_droplet, distal_droplet, tail] = cells;
        Ok(Self(Classes {
            normal,
            head,
            proximal_droplet,
            distal_droplet,
            tail,
        }))
    }

    /// Cells of a class.
    pub const fn of(&self, class: Class) -> u16 {
        match class {
            Class::Normal => self.0.normal,
            Class::Head => self.0.head,
            Class::ProximalDroplet => self.0.proximal_droplet,
            Class::DistalDroplet => self.0.distal_droplet,
            Class::Tail => self.0.tail,
        }
    }

    /// Cells of all classes.
    pub fn cells(&self) -> u16 {
        Class::ALL.map(|class| self.of(class)).iter().sum()
    }

    /// All that is not normal.
    pub fn abnormal(&self) -> u16 {
        self.cells() - self.of(Class::Normal)
    }

    /// Droplets, near the head and far from it.
    pub const fn droplets(&self) -> u16 {
        self.of(Class::ProximalDroplet) + self.of(Class::DistalDroplet)
    }
}

impl Tallied {
    /// The most replicates of each.
    pub const REPLICATES_HIGH: usize = 4;

    /// Replicates of motility and of morphology.
    pub fn new(motility: Vec<Tally>, morphology: Vec<Morphology>) -> Result<Self, BoundError> {
        let most = motility.len().max(morphology.len());
        so_many("tallied", most, 1..=Self::REPLICATES_HIGH, "replicates")?;
        let made = Self(Written {
            motility,
            morphology,
        });
        for cells in [made.motile_of().1, made.morphology_of(Morphology::cells)] {
            if cells > Cells::HIGH.into() {
                Cells::new(cells).map_err(|e| e.named("tallied"))?;
            }
        }
        Ok(made)
    }

    /// Replicates of motility.
    pub fn motility(&self) -> &[Tally] {
        &self.0.motility
    }

    /// Replicates of morphology.
    pub fn morphology(&self) -> &[Morphology] {
        &self.0.morphology
    }

    /// The motile share, all replicates together.
    pub fn motile(&self) -> Option<Share> {
        let (hits, cells) = self.motile_of();
        share(hits, cells)
    }

    /// The abnormal share, all replicates together: everything not normal.
    pub fn abnormal(&self) -> Option<Share> {
        let cells = self.morphology_of(Morphology::cells);
        share(self.morphology_of(Morphology::abnormal), cells)
    }

    /// The share with droplets, all replicates together.
    pub fn droplets(&self) -> Option<Share> {
        let cells = self.morphology_of(Morphology::cells);
        share(self.morphology_of(Morphology::droplets), cells)
    }

    fn motile_of(&self) -> (u32, u32) {
        let add = |(hits, cells), t: &Tally| {
            (
                hits + t.hits().value(),
                cells + u32::from(t.cells().value()),
            )
        };
        self.0.motility.iter().fold((0, 0), add)
    }

    fn morphology_of(&self, cells: fn(&Morphology) -> u16) -> u32 {
        self.0.morphology.iter().map(|m| u32::from(cells(m))).sum()
    }
}

/// None where no cell was looked at.
fn share(hits: u32, cells: u32) -> Option<Share> {
    let of = Tally::new(Count::new(hits).ok()?, Cells::new(cells).ok()?).ok()?;
    Some(Share {
        percent: of.share(),
        cells: Some(of.cells().value()),
    })
}

impl Evaluation {
    /// With what was tallied, and the shares that follow from it; a share of which nothing was
    /// tallied stays as it was.
    #[must_use]
    pub fn with_tallied(mut self, tallied: Tallied) -> Self {
        self.motile = tallied.motile().or(self.motile);
        self.abnormal = tallied.abnormal().or(self.abnormal);
        self.droplets = tallied.droplets().or(self.droplets);
        self.tallied = Some(tallied);
        self
    }

    /// Whether the shares are those that follow from what was tallied.
    pub fn follows(&self) -> bool {
        let same = |said: Option<Share>, tallied: Option<Share>| match (said, tallied) {
            (_, None) => true,
            (None, Some(_)) => false,
            (Some(said), Some(tallied)) => {
                // Decimals may lose their last bit on the way through JSON.
                let apart = said.percent.value() - tallied.percent.value();
                said.cells == tallied.cells && apart.abs() < 1e-9
            }
        };
        self.tallied.as_ref().is_none_or(|t| {
            same(self.motile, t.motile())
                && same(self.abnormal, t.abnormal())
                && same(self.droplets, t.droplets())
        })
    }
}

impl TryFrom<Classes> for Morphology {
    type Error = BoundError;
    fn try_from(c: Classes) -> Result<Self, BoundError> {
        Self::new([
            c.normal,
            c.head,
            c.proximal_droplet,
            c.distal_droplet,
            c.tail,
        ])
    }
}

impl From<Morphology> for Classes {
    fn from(morphology: Morphology) -> Self {
        morphology.0
    }
}

impl TryFrom<Written> for Tallied {
    type Error = BoundError;
    fn try_from(written: Written) -> Result<Self, BoundError> {
        Self::new(written.motility, written.morphology)
    }
}

impl From<Tallied> for Written {
    fn from(tallied: Tallied) -> Self {
        tallied.0
    }
}
