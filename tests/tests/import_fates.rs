//! What becomes of the rows of a list of boars, and of the list as a whole.

#![allow(clippy::expect_used, clippy::panic)] // a test may stop where a list is not as it must be

use chrono::NaiveDate;
use pentally_domain::boar::{Before, Boar};
use pentally_domain::code::Code;
use pentally_domain::fact::Fact;
use pentally_domain::id::EntryId;
use pentally_domain::said::{Label, Remark};
use pentally_server::import::{
    Choices, Decision, Draft, Facts, FactsError, Fate, Field, Flag, Known, KnownBoar, KnownPen,
    Plan, Right, Value, facts, plan,
};
use uuid::Uuid;

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a day")
}

fn today() -> NaiveDate {
    day(2026, 11, 25)
}

fn label(text: &str) -> Label {
    Label::parse(text).expect("a label")
}

fn id(n: usize) -> EntryId {
    EntryId::from_uuid(Uuid::from_u128(n as u128))
}

/// A barn that remembers what imports wrote.
#[derive(Default)]
struct Barn {
    boars: Vec<KnownBoar>,
    pens: Vec<KnownPen>,
    tags: usize,
    made: usize,
}

impl Barn {
    fn plan(&self, file: &str, choices: &Choices) -> Plan {
        plan(
            file.as_bytes(),
            choices,
            Known {
                boars: &self.boars,
                pens: &self.pens,
            },
            today(),
        )
        .expect("a list")
    }

    fn look(&self, file: &str) -> Plan {
        self.plan(file, &Choices::default())
    }

    fn bring_in(&mut self, file: &str) {
        let plan = self.look(file);
        let all = facts(&plan, Decision::default(), &mut |_| {
            Code::from_number(12345)
        })
        .expect("nothing stands against it");
        self.write(&all);
    }

    fn write(&mut self, all: &Facts) {
        let mut made = Vec::new();
        for draft in &all.drafts {
            let fact = draft.fact(&made).expect("drafts refer backwards");
            self.made += 1;
            made.push(id(self.made));
            self.apply(id(self.made), fact);
        }
        for change in &all.changes {
            let boar = self
                .boars
                .iter_mut()
                .find(|b| b.id == change.boar)
                .expect("a known boar");
            boar.boar = change.to.clone();
        }
    }

    fn apply(&mut self, entry: EntryId, fact: Fact) {
        match fact {
            Fact::Pen(pen) => self.pens.push(KnownPen {
                id: entry.as_pen(),
                name: pen.name,
            }),
            Fact::Boar(boar) => self.boars.push(KnownBoar {
                id: entry.as_boar(),
                boar,
                pen: None,
                gone: false,
            }),
            Fact::Move(step) => {
                assert!(
                    step.to
                        .is_none_or(|to| self.pens.iter().any(|p| p.id == to)),
                    "a pen that exists"
                );
                self.boars
                    .iter_mut()
                    .find(|b| b.id == step.boar)
                    .expect("a boar that exists")
                    .pen = step.to;
            }
            Fact::PenTag(tag) => {
                assert!(
                    self.pens.iter().any(|p| p.id == tag.pen),
                    "a pen that exists"
                );
                self.tags += 1;
            }
            other => panic!("an import does not write {other:?}"),
        }
    }

    fn boar(&self, number: &str) -> &KnownBoar {
        self.boars
            .iter()
            .find(|b| b.boar.number.as_str() == number)
            .expect("the boar")
    }
}

fn fates(plan: &Plan) -> Vec<&Fate> {
    plan.rows.iter().map(|r| &r.fate).collect()
}

const LIST: &str = "Boar;Name;Born;Line;Pen;Ear tag;RFID;Last collection;Arrived;Notes\n\
    7;Duke;2024-03-05;Terminal;12;L 7;900000123456789;2026-11-20;2025-02-01;bites\n\
    8;;;;12;;;never;;\n\
    9;Earl;2024-04-06;;13;;;;2025-03-01;\n\
    10;;;;;;;;2025-03-02;\n";

#[test]
fn a_list_becomes_boars_in_pens_with_tags() {
    let mut barn = Barn::default();
    barn.bring_in(LIST);
    assert_eq!((barn.boars.len(), barn.pens.len(), barn.tags), (4, 2, 2));
    let duke = barn.boar("7");
    let want = Boar {
        number: label("7"),
        name: Some(label("Duke")),
        born: Some(day(2024, 3, 5)),
        line: Some(label("Terminal")),
        ear: Some(label("L 7 · 900000123456789")),
        before: Before::LastOn(day(2026, 11, 20)),
        mind: Some(Remark::parse("bites").expect("words")),
    };
    assert_eq!(duke.boar, want);
    assert_eq!(duke.pen, barn.boar("8").pen);
    assert_ne!(duke.pen, barn.boar("9").pen);
    assert_eq!(barn.boar("8").boar.before, Before::NoneYet);
    assert_eq!(barn.boar("9").boar.before, Before::Unknown);
    assert_eq!(barn.boar("10").pen, None);
}

#[test]
fn moves_happen_on_the_day_he_came_and_boars_are_entered_now() {
    let plan = Barn::default().look(LIST);
    let all = facts(&plan, Decision::default(), &mut |_| None).expect("nothing stands against it");
    let days: Vec<_> = all.drafts.iter().map(Draft::on).collect();
    // Pen, boar, move; boar, move; pen, boar, move; boar, move.
    let (came, later, last) = (day(2025, 2, 1), day(2025, 3, 1), day(2025, 3, 2));
    assert_eq!(
        days,
        [
            None,
            None,
            Some(came),
            None,
            None,
            None,
            None,
            Some(later),
            None,
            Some(last)
        ]
    );
}

#[test]
fn imported_twice_changes_nothing() {
    let mut barn = Barn::default();
    barn.bring_in(LIST);
    let shouted = LIST.replace("Boar;", "VERRACO;").replace("\n9;", "\n 9 ;");
    for again in [
        LIST,
        shouted.as_str(),
        "number,ear tag\n7,L 7\n",
        "number,rfid\n7,900 000123456789\n",
    ] {
        let plan = barn.look(again);
        assert!(
            plan.rows
                .iter()
                .all(|r| matches!(r.fate, Fate::Same { .. })),
            "{:?}",
            fates(&plan)
        );
        let overwrite = Decision {
            overwrite: true,
            leave_out: true,
        };
        assert_eq!(
            facts(&plan, overwrite, &mut |_| Code::from_number(1)),
            Ok(Facts::default())
        );
    }
}

#[test]
fn a_boar_who_left_is_not_brought_in_again() {
    let mut barn = Barn::default();
    barn.bring_in("number,pen\n7,12\n");
    barn.boars[0].gone = true;
    barn.boars[0].pen = None;
    let plan = barn.look("number,pen\n7,12\n");
    assert_eq!(
        fates(&plan),
        [&Fate::Same {
            boar: barn.boars[0].id
        }]
    );
    assert_eq!(plan.rows[0].flags, [Flag::Gone]);
}

#[test]
fn what_differs_is_shown_and_written_only_when_asked() {
    let mut barn = Barn::default();
    barn.bring_in(LIST);
    let plan = barn.look("number,name,line,pen\n7,Duke II,,13\n8,,,14\n");
    let Fate::Differs { changes, .. } = &plan.rows[0].fate else {
        panic!("{:?}", plan.rows[0])
    };
    let told: Vec<_> = changes
        .iter()
        .map(|c| (c.field, c.old.clone(), c.new.clone()))
        .collect();
    let text = |t: &str| Value::Text(t.into());
    assert_eq!(
        told,
        [
            (Field::Name, text("Duke"), text("Duke II")),
            (Field::Pen, text("12"), text("13"))
        ]
    );
    assert_eq!(plan.summary().differs, 2);

    assert_eq!(
        facts(&plan, Decision::default(), &mut |_| None),
        Ok(Facts::default())
    );
    let all = facts(
        &plan,
        Decision {
            overwrite: true,
            leave_out: false,
        },
        &mut |_| None,
    )
    .expect("asked for");
    barn.write(&all);
    assert_eq!(barn.boar("7").boar.name, Some(label("Duke II")));
    assert_eq!(
        barn.boar("7").boar.line,
        Some(label("Terminal")),
        "an empty cell says nothing"
    );
    assert_eq!(barn.boar("7").pen, barn.boar("9").pen);
    assert_eq!(barn.pens.len(), 3);
    assert_eq!(
        barn.look("number,name,line,pen\n7,Duke II,,13\n8,,,14\n")
            .summary()
            .same,
        2
    );
}

#[test]
fn a_number_twice_counts_once() {
    let barn = Barn::default();
    let plan = barn.look("number,name,weight\n7,Duke,1\n8,Earl,2\n 7 ,Duke,3\n8,Baron,4\n");
    let told: Vec<_> = plan.rows[2..].iter().map(|r| r.fate.clone()).collect();
    let twice = |line, differs| Fate::DuplicateInFile { line, differs };
    assert_eq!(told, [twice(2, false), twice(3, true)]);
    let none = facts(&plan, Decision::default(), &mut |_| None);
    assert_eq!(none, Err(FactsError::NotTaken { rows: 1, line: 5 }));
    let rest = facts(
        &plan,
        Decision {
            leave_out: true,
            overwrite: false,
        },
        &mut |_| None,
    )
    .expect("left out");
    assert_eq!(rest.drafts.len(), 2);
}

#[test]
fn impossible_rows_are_refused_with_what_was_read() {
    let file = "number,born,last collection,arrived,rfid,name\n\
        1,2026-11-26,,,,\n2,1990-01-01,,,,\n3,2025-02-30,,,,\n4,2025-05-01,2025-04-30,,,\n5,2025-05-01,,2024-05-01,,\n\
        6,,,,9.0E+14,\n7,,,,900274877906944,\n8,,,,000000000000001,\n9,,,,,\"A\nB\"\n,2025-01-01,,,,Nobody\n\
        11,,,,,A,B\n12,,2026-11-26,,,\n13,soon,,,,\n14,,,,,{}\n";
    let long = "x".repeat(41);
    let plan = Barn::default().look(&file.replace("{}", &long));
    let told: Vec<_> = plan
        .rows
        .iter()
        .map(|r| match &r.fate {
            Fate::Refused { field, right, .. } => (*field, right.clone()),
            other => panic!("line {}: {other:?}", r.line),
        })
        .collect();
    let real = Right::RealDay { order: None };
    let before = |y, m, d| Right::NotBefore { day: day(y, m, d) };
    assert_eq!(
        told,
        [
            (Some(Field::Born), Right::NotAfter { day: today() }),
            (Some(Field::Born), before(1996, 1, 1)),
            (Some(Field::Born), real),
            (Some(Field::LastCollection), before(2025, 5, 1)),
            (Some(Field::Arrived), before(2025, 5, 1)),
            (Some(Field::Rfid), Right::Rfid),
            (Some(Field::Rfid), Right::Rfid),
            (Some(Field::Rfid), Right::Rfid),
            (Some(Field::Name), Right::OneLine),
            (Some(Field::Number), Right::Given),
            (None, Right::Cells { most: 6 }),
            (
                Some(Field::LastCollection),
                Right::NotAfter { day: today() }
            ),
            (Some(Field::Born), Right::Date),
            (Some(Field::Name), Right::AtMost { chars: 40 }),
        ]
    );
    let none = facts(&plan, Decision::default(), &mut |_| None);
    assert_eq!(none, Err(FactsError::NotTaken { rows: 14, line: 2 }));
}

#[test]
fn formula_cells_stay_text_and_are_flagged() {
    let plan =
        Barn::default().look("number,name,notes\n=1+1,+A,\"=HYPERLINK(\"\"x\"\")\"\n2,-,@b\n");
    let Fate::New { boar, .. } = &plan.rows[0].fate else {
        panic!("{:?}", plan.rows[0])
    };
    assert_eq!(
        (boar.number.as_str(), boar.name.as_ref().map(Label::as_str)),
        ("=1+1", Some("+A"))
    );
    assert_eq!(
        boar.mind.as_ref().map(Remark::as_str),
        Some("=HYPERLINK(\"x\")")
    );
    assert_eq!(
        plan.rows[0].flags,
        [Field::Number, Field::Name, Field::Notes].map(|field| Flag::Formula { field })
    );
    assert_eq!(
        plan.rows[1].flags,
        [Flag::Formula {
            field: Field::Notes
        }]
    );
}

#[test]
fn look_alikes_are_flagged() {
    let mut barn = Barn::default();
    barn.bring_in("number,rfid\n007,900000000000007\n");
    let plan =
        barn.look("number,rfid,born\n7,,\n8,900000000000007,\n9,999000000000001,2015-01-01\n");
    let number = "007".to_owned();
    let flags: Vec<_> = plan.rows.iter().map(|r| r.flags.clone()).collect();
    assert_eq!(
        flags,
        [
            vec![Flag::ZerosApart {
                number: number.clone()
            }],
            vec![Flag::EarOf { number }],
            vec![Flag::TestRfid, Flag::Old { years: 11 }],
        ]
    );
    assert_eq!(plan.summary().new, 3);
}
