//! The bench: what was found in the cup.

use crate::TaleError;
use crate::barn::Work;
use crate::boar::Ejaculate;
use crate::devices::{Place, When};
use crate::story::Story;
use pentally_domain::boar::OffReason;
use pentally_domain::collection::Glove;
use pentally_domain::evaluation::{Colour, ConcentrationBy, Evaluation, Share, Smell};
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::time::MINUTE_MS;
use pentally_domain::units::{Concentration, Percent};

impl Story {
    /// A quarter of an hour later, or somewhat more; one in thirty is never looked at. Yields what
    /// was found, and the entry that says so.
    pub(crate) fn bench(
        &mut self,
        work: &Work,
        collection: EntryId,
        mut cup: Ejaculate,
    ) -> Result<Option<(EntryId, Evaluation)>, TaleError> {
        if self.chance.comes(1.0 / 30.0) {
            return Ok(None);
        }
        if work.right.glove.value() == Some(&Glove::Latex) {
            cup.motile = self.chance.between(2.0, 8.0);
        }
        let evaluation = self.evaluation(work, collection, cup)?;
        let ms = work.ended_ms + self.chance.whole(9, 24) * MINUTE_MS;
        let when = When::now(ms, self.people.last().copied());
        let order = self.devices.say(
            Place::Laboratory,
            &Fact::Evaluation(evaluation.clone()),
            when,
            &mut self.chance,
        )?;
        if cup.blood {
            let words = "Pink in the cup. Off collection until the veterinarian has seen him.";
            self.put_off(work.index, OffReason::BloodOrPus, 14, words)?;
        }
        Ok(Some((order.id, evaluation)))
    }

    fn evaluation(
        &mut self,
        work: &Work,
        collection: EntryId,
        cup: Ejaculate,
    ) -> Result<Evaluation, TaleError> {
        let chance = &mut self.chance;
        let read = cup.concentration * (1.0 + 0.04 * chance.normal());
        let counted = chance.comes(0.6);
        let motile = match counted {
            true => share(cup.motile + 2.0 * chance.normal(), 0.5, Some(200))?,
            false => share(cup.motile + 3.0 * chance.normal(), 5.0, None)?,
        };
        // Shapes are looked at now and then, not every time.
        let shapes = chance.comes(0.25);
        let abnormal = shapes
            .then(|| share(cup.abnormal + 1.5 * chance.normal(), 0.5, Some(200)))
            .transpose()?;
        let droplets = shapes
            .then(|| share(cup.droplets.min(cup.abnormal), 0.5, Some(200)))
            .transpose()?;
        Ok(Evaluation {
            collection,
            boar: work.right.boar,
            concentration: Some(ConcentrationBy::Instrument(Concentration::new(
                read.max(10.0).round(),
            )?)),
            motile: Some(motile),
            abnormal,
            droplets,
            colour: Some(colour(cup)),
            smell: Some(if cup.urine {
                Smell::Urine
            } else {
                Smell::Normal
            }),
            blood: Some(cup.blood),
            pus: chance.comes(0.7).then_some(false),
            urine: cup.urine.then_some(true),
            tallied: None,
        })
    }
}

/// Rounded as it is read: to half a percent of counted cells, to five by eye.
fn share(percent: f64, to: f64, cells: Option<u16>) -> Result<Share, TaleError> {
    let read = (percent.clamp(0.0, 98.0) / to).round() * to;
    Ok(Share {
        percent: Percent::new(read)?,
        cells,
    })
}

fn colour(cup: Ejaculate) -> Colour {
    match cup {
        Ejaculate { blood: true, .. } => Colour::Pink,
        Ejaculate { urine: true, .. } => Colour::Yellow,
        Ejaculate { concentration, .. } if concentration > 320.0 => Colour::Cream,
        Ejaculate { concentration, .. } if concentration < 110.0 => Colour::Watery,
        Ejaculate { .. } => Colour::Milky,
    }
}
