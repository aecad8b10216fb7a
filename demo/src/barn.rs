//! The morning in the barn: who is due is collected, on several phones at once.

use crate::TaleError;
use crate::boar::Ejaculate;
use crate::chance::Chance;
use crate::devices::{Place, When};
use crate::story::Story;
use crate::year::is_working;
use chrono::Days;
use pentally_domain::collection::{
    Amount, Collection, Despite, Glove, Mount, Outcome, Step, Taken, Temper, Trouble,
};
use pentally_domain::fact::Fact;
use pentally_domain::id::PersonId;
use pentally_domain::said::Said;
use pentally_domain::time::{MINUTE_MS, Zone};
use pentally_domain::units::{MassG, VolumeMl};

/// One collection as it truly was, on its way to the bench and to the evening's second look.
#[derive(Debug, Clone)]
pub struct Work {
    /// Which boar, by his place in the barn.
    pub index: usize,
    /// The phone.
    pub phone: Place,
    /// Who held the cup.
    pub person: Option<PersonId>,
    /// When he entered the pen (ms since 1970).
    pub began_ms: i64,
    /// When it was over.
    pub ended_ms: i64,
    /// What he gave; none when he gave nothing.
    pub cup: Option<Ejaculate>,
    /// As it should be written down.
    pub right: Collection,
}

/// Work begins at six; a phone takes one boar every eleven minutes, or faster when many are due.
const BEGIN_MIN: i64 = 6 * 60;
const WHOLE_MORNING_MIN: i64 = 7 * 60;

impl Story {
    pub(crate) fn collect_today(&mut self) -> Result<(), TaleError> {
        let due = self.due();
        let phones = self.devices.phones();
        let rounds = i64::try_from(due.len().div_ceil(phones).max(1)).unwrap_or(1);
        let pace_ms = (11 * MINUTE_MS).min(WHOLE_MORNING_MIN * MINUTE_MS / rounds);
        let mut first_of_day = vec![true; phones];
        for (turn, index) in due.into_iter().enumerate() {
            let (round, phone) = (turn / phones, turn % phones);
            let began_ms = self.at(BEGIN_MIN) + i64::try_from(round).unwrap_or(0) * pace_ms;
            let asked = std::mem::take(&mut first_of_day[phone]);
            let late_ms = self.chance.whole(0, 90_000);
            let work = self.work(index, phone, began_ms + late_ms, asked);
            self.write_down(&work)?;
        }
        self.fill_the_rest()
    }

    fn due(&self) -> Vec<usize> {
        let learning = |learnt: Option<u32>| matches!(learnt, Some(1..=3));
        let today = |b: &&crate::boar::Boar| {
            b.is_free(self.day) && (is_working(self.day) || learning(b.learnt))
        };
        let due = self
            .boars
            .iter()
            .enumerate()
            .filter(|(_, b)| today(b))
            .map(|(index, _)| index);
        due.collect()
    }

    fn work(&mut self, index: usize, phone: usize, began_ms: i64, first_of_day: bool) -> Work {
        let person = self.people.get(phone % self.people.len().max(1)).copied();
        let outcome = self.outcome(index);
        let glove = self.glove(phone, first_of_day);
        let boar = &self.boars[index];
        let cup = (outcome == Outcome::Collected)
            .then(|| boar.gives(self.day, &self.weather, &mut self.chance));
        let hot = self.weather.is_hot(self.day);
        let minutes = self.chance.between(7.5, 10.5);
        let ended_ms = began_ms + milliseconds(minutes);
        let right = Collection {
            boar: boar.id,
            outcome,
            glove,
            mount: Said::ByDefault(Mount::Dummy),
            steps: steps(
                outcome,
                self.chance.comes(0.55).then_some(self.devices.zone()),
                began_ms,
                ended_ms,
                &mut self.chance,
            ),
            sperm_poor_in: if outcome == Outcome::Collected {
                Said::ByDefault(true)
            } else {
                Said::Unanswered
            },
            amount: None,
            amount_confirmed: false,
            temper: temper(&mut self.chance),
            trouble: trouble(cup, hot, &mut self.chance),
            despite: None,
            note: None,
        };
        let mut work = Work {
            index,
            phone: Place::Phone(phone),
            person,
            began_ms,
            ended_ms,
            cup,
            right,
        };
        self.go_on(&mut work);
        work
    }

    /// The first of the day is asked for. Once a year vinyl has run out, and a new helper takes
    /// what lies there; it stands in the record because it was written down afterwards.
    fn glove(&self, phone: usize, first_of_day: bool) -> Said<Glove> {
        let (since, _) = self.place_in_story();
        let yesterday_was_free = !is_working(self.day - Days::new(1));
        let ran_out = since % 365 == 210 || (since % 365 == 211 && yesterday_was_free);
        match (first_of_day, ran_out && phone == 1) {
            (true, true) => Said::Confirmed(Glove::Latex),
            (true, false) => Said::Confirmed(Glove::Vinyl),
            (false, _) => Said::ByDefault(Glove::Vinyl),
        }
    }

    fn outcome(&mut self, index: usize) -> Outcome {
        let chance = &mut self.chance;
        match self.boars[index].learnt {
            // An untried boar needs a few sessions (common practice, no source).
            Some(0) if chance.comes(0.6) => Outcome::NoMount,
            _ if chance.comes(0.012) => Outcome::NoMount,
            _ if chance.comes(0.008) => Outcome::NothingKept,
            _ => Outcome::Collected,
        }
    }

    /// When he is to come again, and what the early ones are excused with.
    fn go_on(&mut self, work: &mut Work) {
        let boar = &mut self.boars[work.index];
        let rest = boar.last.map_or(9, |last| (self.day - last).num_days());
        let success = work.right.outcome != Outcome::NoMount;
        if success && rest < 3 {
            let practice = matches!(boar.learnt, Some(1..=3));
            work.right.despite = Some(if practice {
                Despite::Practice
            } else {
                Despite::SowsWait
            });
        }
        let days = match (success, boar.learnt) {
            (false, Some(0)) => self.chance.whole(1, 3),
            (false, _) => 1,
            // After the first success on three days running.
            (true, Some(n @ 0..=2)) => {
                boar.learnt = Some(n + 1);
                1
            }
            (true, Some(3)) => {
                boar.learnt = Some(4);
                5
            }
            (true, _) if self.chance.comes(0.012) => 2,
            (true, _) => self.chance.whole(4, 7),
        };
        boar.next = self.day + Days::new(days.cast_unsigned());
        if success {
            boar.last = Some(self.day);
        }
    }

    fn write_down(&mut self, work: &Work) -> Result<(), TaleError> {
        let mut work = work.clone();
        work.right.amount = work
            .cup
            .map(|cup| amount(cup, work.phone, &mut self.chance))
            .transpose()?;
        work.right.amount_confirmed = work.right.volume().is_some_and(VolumeMl::improbable);
        let written = self.perhaps_slip(&work)?;
        let when = When {
            ms: work.ended_ms,
            happened_ms: Some(work.began_ms),
            person: work.person,
        };
        let order = self.devices.say(
            work.phone,
            &Fact::Collection(written.clone()),
            when,
            &mut self.chance,
        )?;
        self.look_again_later(&work, order, written.clone());
        let Some(cup) = work.cup else {
            return Ok(());
        };
        let evaluated = self.bench(&work, order.id, cup)?;
        self.bring_to_table(&work, (order, written), evaluated)
    }
}

/// Read off the cup to 5 mL, or weighed to the tenth of a gram on the phones with an odd number.
fn amount(cup: Ejaculate, phone: Place, chance: &mut Chance) -> Result<Amount, TaleError> {
    if matches!(phone, Place::Phone(n) if n % 2 == 1) {
        let tare = MassG::new(crate::chance::tenth(chance.between(37.0, 41.0)))?;
        return Ok(Amount::Mass {
            gross: MassG::new(crate::chance::tenth(cup.volume_ml + tare.value()))?,
            tare,
        });
    }
    Ok(Amount::Volume(VolumeMl::new(
        (cup.volume_ml / 5.0).round() * 5.0,
    )?))
}

/// With times when a helper tapped as it happened.
fn steps(
    outcome: Outcome,
    helped: Option<&Zone>,
    began_ms: i64,
    ended_ms: i64,
    chance: &mut Chance,
) -> Vec<Taken> {
    let order: &[(Step, f64)] = match outcome {
        Outcome::NoMount => &[(Step::Enters, 0.0)],
        _ => &[
            (Step::Enters, 0.0),
            (Step::Mounts, 0.14),
            (Step::LockOn, 0.24),
            (Step::PreSperm, 0.28),
            (Step::SpermRich, 0.36),
            (Step::SpermPoor, 0.58),
            (Step::Gel, 0.72),
            (Step::End, 0.97),
        ],
    };
    let length = (ended_ms - began_ms) as f64;
    let mut take = |share: f64| {
        let ms =
            began_ms + milliseconds((share + 0.02 * chance.share()) * length / MINUTE_MS as f64);
        helped.and_then(|zone| zone.stamp(ms).ok())
    };
    order
        .iter()
        .map(|(step, share)| Taken {
            step: *step,
            at: take(*share),
        })
        .collect()
}

fn temper(chance: &mut Chance) -> Option<Temper> {
    const TEMPERS: [(f64, Temper); 4] = [
        (0.62, Temper::Calm),
        (0.74, Temper::Restless),
        (0.84, Temper::Slow),
        (0.845, Temper::Dangerous),
    ];
    let drawn = chance.share();
    TEMPERS
        .iter()
        .find(|(upto, _)| drawn < *upto)
        .map(|(_, temper)| *temper)
}

fn trouble(cup: Option<Ejaculate>, hot: bool, chance: &mut Chance) -> Vec<Trouble> {
    let mut list = vec![];
    for (probability, trouble) in [
        (0.01, Trouble::BackedOff),
        (0.012, Trouble::Slipped),
        (0.006, Trouble::Noise),
    ] {
        if chance.comes(probability) {
            list.push(trouble);
        }
    }
    if cup.is_some_and(|c| c.urine) {
        list.push(Trouble::Dirt);
    }
    if cup.is_some_and(|c| c.blood) {
        list.push(Trouble::Blood);
    }
    if hot && chance.comes(0.3) {
        list.push(Trouble::Hot);
    }
    list
}

/// Minutes in ms.
#[allow(clippy::cast_possible_truncation, reason = "a few minutes")]
fn milliseconds(minutes: f64) -> i64 {
    (minutes * MINUTE_MS as f64) as i64
}
