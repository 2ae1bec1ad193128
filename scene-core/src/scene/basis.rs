//! When the job is done, by whom, by which rules, and what has been arranged for it.

use super::beside::{Beside, standing};
use super::fault::FaultKind;
use super::fields::Fields;
use super::tree::Tree;
use super::value::{List, Value};
use crate::quantity::Length;
use crate::quantity::date::Date;
use crate::site::crew::{Member, Role, Skill};
use crate::site::{self, Answer, Arranged, LiveMachine, Protected, Reason, Said};

/// People of one job, and people whom one answer names. A crew is smaller by far.
const MOST_PEOPLE: usize = 100;
const MOST_NAMED: usize = 20;

/// How a day is written.
const NO_SUCH_DAY: &str = "a day as \"2026-03-04\": year, month, day";

pub(super) fn job(value: &Value<'_>) -> site::Job {
    value.fields("the job", |f| {
        let job = site::Job { date: day(f, "date"), number: f.may_text("number") };
        f.note();
        job
    })
}

/// A day that may be left out.
pub(super) fn day(f: &mut Fields<'_>, name: &'static str) -> Option<Date> {
    let value = f.may(name)?;
    value.noted(|record, path| record.kind(path, "a day such as 2026-03-04".to_owned()));
    let said = value.quoted(|| NO_SUCH_DAY.to_owned())?;
    let day = Date::parse(said);
    if day.is_none() {
        value.shape(NO_SUCH_DAY);
    }
    day
}

pub(super) fn people(list: &List<'_>) -> Vec<Member> {
    let read = |person: &Value<'_>| {
        person.fields("a person of the job", |f| {
            let member = Member {
                name: f.text("name"),
                roles: words(&f.list_of("roles", 1), Role::WORDS, Role::ALL),
                qualified_for: words(&f.list("qualified_for"), Skill::WORDS, Skill::ALL),
            };
            f.note();
            member
        })
    };
    list.at
        .fault_if(list.items.len() > MOST_PEOPLE, || FaultKind::TooMany { found: list.items.len(), most: MOST_PEOPLE });
    let people = list.items.iter().take(MOST_PEOPLE).map(read).collect();
    list.named_once("the person");
    people
}

/// What each word of a list means.
fn words<T: Copy>(list: &List<'_>, words: &'static [&'static str], meanings: &'static [T]) -> Vec<T> {
    list.items.iter().filter_map(|item| meaning(item, words, meanings)).collect()
}

fn meaning<T: Copy>(value: &Value<'_>, words: &'static [&'static str], meanings: &'static [T]) -> Option<T> {
    let found = value.variant(words)?;
    value.alone();
    let index = words.iter().position(|word| *word == found)?;
    meanings.get(index).copied()
}

pub(super) fn basis(value: &Value<'_>, beside: &Beside) -> site::Basis {
    value.fields("the basis of work", |f| {
        let route = f.need("route").word([
            ("crane_table", site::Route::CraneTable),
            ("closer_by_agreement", site::Route::CloserByAgreement),
            ("line_work", site::Route::LineWork),
            ("digger_derrick", site::Route::DiggerDerrick),
        ]);
        let arranged = f.need("arranged").entries().into_iter();
        let arranged = arranged.map(|(item, value)| Arranged { item: item.to_owned(), answer: answer(&value) });
        let basis = site::Basis {
            route,
            arranged: arranged.collect(),
            live_machines: f.list("live_machines").items.iter().map(live_machine).collect(),
            standing: f.may("standing").and_then(|file| standing(&file, beside)),
            own_distance_m: f.may_si::<Length>("own_distance", "1 in", "60 ft"),
            residual_gap_m: f.si::<Length>("residual_gap", "0 in", "10 ft"),
        };
        f.note();
        basis
    })
}

/// An answer; a text alone is how older scenes have it.
fn answer(value: &Value<'_>) -> Answer {
    if let Some(Tree::Text(_)) = value.node().map(|node| &node.tree) {
        return Answer::Words(value.text().to_owned());
    }
    match value.variant(&["arranged", "does_not_apply", "exception", "no"]) {
        Some("arranged") => value.fields("an arrangement", |f| Answer::Arranged(said(f))),
        Some("does_not_apply") => value.fields("a reason why an item does not apply", |f| {
            let reason = meaning(&f.need("reason"), Reason::WORDS, Reason::ALL);
            let said = said(f);
            match reason {
                Some(reason) => Answer::DoesNotApply { reason, said },
                None => Answer::No(said),
            }
        }),
        Some("exception") => value.fields("an exception", |f| {
            let paragraph = f.text("paragraph");
            Answer::Exception { paragraph, said: said(f) }
        }),
        Some(_) => value.fields("what is not arranged", |f| Answer::No(said(f))),
        None => Answer::Words(String::new()),
    }
}

fn said(f: &mut Fields<'_>) -> Said {
    let said = Said {
        who: f.may("who").map_or_else(Vec::new, |who| names(&who)),
        when: day(f, "when"),
        document: f.may_text("document"),
        how: f.may_text("how"),
        distance_m: f.may_si::<Length>("distance", "1 in", "100 ft"),
    };
    f.note();
    said
}

/// One name, or a list of them.
fn names(value: &Value<'_>) -> Vec<String> {
    match value.node().map(|node| &node.tree) {
        Some(Tree::Text(_)) => vec![value.text().to_owned()],
        _ => {
            let list = value.list();
            let found = list.items.len();
            value.fault_if(found > MOST_NAMED, || FaultKind::TooMany { found, most: MOST_NAMED });
            list.items.iter().take(MOST_NAMED).map(|name| name.text().to_owned()).collect()
        }
    }
}

fn live_machine(value: &Value<'_>) -> LiveMachine {
    value.fields("what protects people from a live machine", |f| LiveMachine {
        machine: f.text("machine"),
        covered: f.may_text("covered"),
        insulated: f.may_text("insulated"),
        protected: f.may("protected").and_then(|value| protected(&value)),
        grounded_to: f.may_text("grounded_to"),
        keeps_off: f.may_text("keeps_off"),
        said: said(f),
    })
}

fn protected(value: &Value<'_>) -> Option<Protected> {
    match value.variant(&["techniques", "shown"])? {
        "techniques" => value.fields("the techniques that protect people", |f| {
            let [ground, bond, mats, barricade] = ["ground", "bond", "mats", "barricade"].map(|name| f.may_text(name));
            Some(Protected::Techniques { ground, bond, mats, barricade })
        }),
        _ => value.fields("what the employer has shown", |f| {
            Some(Protected::Shown { how: f.may_text("how"), document: f.may_text("document") })
        }),
    }
}
