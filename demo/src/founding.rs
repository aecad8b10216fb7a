//! The first morning: the farm, its people, pens, tags, boars and sows are written down.

use crate::TaleError;
use crate::boar::Boar;
use crate::devices::{Place, When};
use crate::sows::Mother;
use crate::story::Story;
use chrono::Days;
use pentally_domain::barn::Holding;
use pentally_domain::boar::{Before, Boar as Particulars, Move, Pen, PenTag};
use pentally_domain::code::Code;
use pentally_domain::fact::Fact;
use pentally_domain::farm::{Farm, Person, Standard};
use pentally_domain::id::{BoarId, PenId};
use pentally_domain::said::{Label, Remark};
use pentally_domain::sow::Sow;

/// The invented farm's name.
const FARM: &str = "Altozar";
/// Its people: single names, made up.
const PEOPLE: [&str; 5] = ["Amaro", "Nilda", "Teyo", "Brisa", "Oviel"];
/// Names of some boars.
const NAMES: [&str; 12] = [
    "Roble", "Trueno", "Olmo", "Pardo", "Fresno", "Cobre", "Lince", "Bruma", "Tizón", "Acebo",
    "Rayo", "Cierzo",
];
/// What a handler should know of some of them.
const MINDS: [&str; 5] = [
    "Bites when hurried: let him look round first.",
    "Left hind leg is stiff in the morning.",
    "Turns quickly at the gate; keep the board up.",
    "Slow to mount. Give him five minutes.",
    "No le gusta la manguera: apagarla antes de entrar.",
];

impl Story {
    pub(crate) fn found(&mut self) -> Result<(), TaleError> {
        let farm = Farm {
            name: Label::parse(FARM)?,
            zone: self.devices.zone().clone(),
            origin: None,
            invented: true,
        };
        self.office(&Fact::Farm(farm))?;
        for name in PEOPLE {
            let when = When::now(self.devices.born_ms(), None);
            let id = self.devices.say_named(
                &Fact::Person(Person::default()),
                when,
                name,
                &mut self.chance,
            )?;
            self.people.push(id.as_person());
        }
        let standard = Standard {
            sperm_poor_in: true,
            antibiotic: Some(true),
            keeps_days: 5,
            ..Standard::default()
        };
        self.standard = Holding {
            entry: Some(self.office(&Fact::Standard(standard.clone()))?),
            standard,
        };
        self.isolation = Some(self.pen("Q1")?);
        for place in 0..self.plan.boars {
            let pen = self.pen(&pen_name(place))?;
            let age = self.chance.whole(200, 1_050).cast_unsigned();
            let boar = self.introduce(pen, age)?;
            self.boars.push(boar);
        }
        for _ in 0..(self.plan.boars * 3).clamp(6, 1_500) {
            let sow = self.sow(false)?;
            self.sows.push(sow);
        }
        Ok(())
    }

    /// Writes something down in the office at the beginning of the story, or this morning.
    pub(crate) fn office(
        &mut self,
        fact: &Fact,
    ) -> Result<pentally_domain::id::EntryId, TaleError> {
        let ms = self.devices.born_ms().max(self.at(5 * 60 + 30));
        Ok(self
            .devices
            .say(Place::Office, fact, When::now(ms, None), &mut self.chance)?
            .id)
    }

    pub(crate) fn pen(&mut self, name: &str) -> Result<PenId, TaleError> {
        let pen = self
            .office(&Fact::Pen(Pen {
                name: Label::parse(name)?,
            }))?
            .as_pen();
        if let Some(code) = self.code() {
            self.pen_codes.insert(code);
            self.office(&Fact::PenTag(PenTag { pen, code }))?;
        }
        Ok(pen)
    }

    /// A code that was not given out before, while there are any; then the bottles of batches long
    /// used up give theirs back, pens never.
    pub(crate) fn code(&mut self) -> Option<Code> {
        loop {
            // Steps through all numbers once, because 7 does not divide their count.
            self.next_code = (self.next_code + 7) % Code::COUNT;
            let code = Code::from_number(self.next_code)?;
            if !self.pen_codes.contains(&code) {
                return Some(code);
            }
        }
    }

    /// Writes down a boar of that age in a pen.
    pub(crate) fn introduce(&mut self, pen: PenId, age_days: u64) -> Result<Boar, TaleError> {
        let nobody = BoarId::from_uuid(uuid::Uuid::nil());
        let mut boar = Boar::new(
            nobody,
            self.next_boar,
            pen,
            self.day,
            age_days,
            &mut self.chance,
        );
        self.next_boar += 1;
        let before = if age_days < 255 {
            boar.learnt = Some(0);
            Before::NoneYet
        } else if self.chance.comes(0.1) {
            Before::Unknown
        } else {
            boar.last = Some(self.day - Days::new(self.chance.whole(1, 6).cast_unsigned()));
            boar.last.map_or(Before::Unknown, Before::LastOn)
        };
        let particulars = self.particulars(&boar, before)?;
        boar.id = self.office(&Fact::Boar(particulars))?.as_boar();
        self.office(&Fact::Move(Move {
            boar: boar.id,
            from: None,
            to: Some(pen),
            gone: false,
        }))?;
        Ok(boar)
    }

    fn particulars(&mut self, boar: &Boar, before: Before) -> Result<Particulars, TaleError> {
        let name = if self.chance.comes(0.3) {
            self.chance.one(&NAMES).copied()
        } else {
            None
        };
        let mind = if self.chance.comes(0.2) {
            self.chance.one(&MINDS).copied()
        } else {
            None
        };
        Ok(Particulars {
            number: Label::parse(&boar.number.to_string())?,
            name: name.map(Label::parse).transpose()?,
            born: Some(boar.born),
            line: Some(Label::parse(boar.line_name())?),
            ear: Some(Label::parse(&format!(
                "E{}",
                self.chance.whole(1_000, 9_999)
            ))?),
            before,
            mind: mind.map(Remark::parse).transpose()?,
        })
    }

    /// Writes down a sow.
    pub(crate) fn sow(&mut self, gilt: bool) -> Result<Mother, TaleError> {
        let number = Label::parse(&self.next_sow.to_string())?;
        self.next_sow += 1;
        let id = self.office(&Fact::Sow(Sow { number, gilt }))?.as_sow();
        let heat = self.day
            + Days::new(
                self.chance
                    .whole(2, if gilt { 21 } else { 145 })
                    .cast_unsigned(),
            );
        Ok(Mother {
            id,
            gilt,
            heat,
            served: 0,
            litters: self.chance.whole(0, 5),
        })
    }
}

/// `A1` to `A12`, then `B1` and so on; after `Z12` the rows have two letters.
fn pen_name(place: u32) -> String {
    let (row, number) = (place / 12, place % 12 + 1);
    let letter = |n: u32| char::from(b'A' + u8::try_from(n % 26).unwrap_or(0));
    match row / 26 {
        0 => format!("{}{number}", letter(row)),
        block => format!("{}{}{number}", letter(block - 1), letter(row)),
    }
}
