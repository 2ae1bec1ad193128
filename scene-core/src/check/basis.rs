//! The basis of the work, as the report tells it.

use crate::outcome::{AnswerKind, AnswerRow, BasisRow, LiveMachineRow, PersonRow};
use crate::quantity::date::Date;
use crate::rules::gates::{find, lacking, own, standing};
use crate::rules::{Item, items, optional};
use crate::site::{Answer, LiveMachine, Protected, Said, Site};

pub(super) fn row(site: &Site) -> BasisRow {
    let basis = &site.basis;
    let asked = items(basis.route).map(|item| answer(site, item));
    let besides = optional(basis.route).map(|item| answer(site, item));
    let besides = besides.filter(|row| row.kind != AnswerKind::NotAnswered);
    let unknown = basis.arranged.iter().filter(|arranged| find(basis.route, arranged.item.trim()).is_none());
    let unknown = unknown.map(|arranged| said(empty(&arranged.item, ""), &arranged.answer));
    BasisRow {
        route: basis.route.word(),
        job_date: text(site.job.date),
        job_number: site.job.number.clone(),
        people: people(site),
        answers: asked.chain(besides).chain(unknown).collect(),
        live_machines: basis.live_machines.iter().map(live_machine).collect(),
        standing_employer: basis.standing.as_ref().map(|standing| standing.employer.clone()),
        standing_file: basis.standing.as_ref().map(|standing| standing.file.clone()),
    }
}

fn text(date: Option<Date>) -> Option<String> {
    date.map(|date| date.to_string())
}

fn people(site: &Site) -> Vec<PersonRow> {
    let row = |member: &crate::site::crew::Member| PersonRow {
        name: member.name.clone(),
        roles: member.roles.iter().map(|role| role.word()).collect(),
        qualified_for: member.qualified_for.iter().map(|skill| skill.word()).collect(),
    };
    site.people.iter().map(row).collect()
}

fn empty(item: &str, asked: &'static str) -> AnswerRow {
    AnswerRow {
        item: item.to_owned(),
        asked,
        kind: AnswerKind::NotAnswered,
        filled_in: false,
        who: Vec::new(),
        when: None,
        document: None,
        how: None,
        distance_m: None,
        reason: None,
        paragraph: None,
        valid_until: None,
    }
}

fn answer(site: &Site, item: &'static Item) -> AnswerRow {
    let row = empty(item.key, item.text);
    let row = match (standing(&site.basis, item), own(&site.basis, item.key)) {
        (Some(standing), _) => AnswerRow {
            kind: AnswerKind::Standing,
            who: standing.who.iter().cloned().collect(),
            when: text(standing.when),
            document: standing.document.clone(),
            how: standing.how.clone(),
            valid_until: text(standing.valid_until),
            ..row
        },
        (None, Some(answer)) => said(row, answer),
        (None, None) => row,
    };
    AnswerRow { filled_in: lacking(site, item).is_empty(), ..row }
}

fn said(row: AnswerRow, answer: &Answer) -> AnswerRow {
    let filled = |row: AnswerRow, said: &Said| AnswerRow {
        who: said.who.clone(),
        when: text(said.when),
        document: said.document.clone(),
        how: said.how.clone(),
        distance_m: said.distance_m,
        ..row
    };
    match answer {
        Answer::Words(words) => AnswerRow { kind: AnswerKind::Words, how: Some(words.clone()), ..row },
        Answer::Arranged(said) => AnswerRow { kind: AnswerKind::Arranged, ..filled(row, said) },
        Answer::DoesNotApply { reason, said } => {
            AnswerRow { kind: AnswerKind::DoesNotApply, reason: Some(reason.word()), ..filled(row, said) }
        }
        Answer::Exception { paragraph, said } => {
            AnswerRow { kind: AnswerKind::Exception, paragraph: Some(paragraph.clone()), ..filled(row, said) }
        }
        Answer::No(said) => AnswerRow { kind: AnswerKind::No, ..filled(row, said) },
    }
}

fn live_machine(answer: &LiveMachine) -> LiveMachineRow {
    let (mut techniques, mut shown) = ([None, None, None, None], [None, None]);
    match answer.protected.clone() {
        Some(Protected::Techniques { ground, bond, mats, barricade }) => techniques = [ground, bond, mats, barricade],
        Some(Protected::Shown { how, document }) => shown = [how, document],
        None => {}
    }
    let ([ground, bond, mats, barricade], [shown, shown_document]) = (techniques, shown);
    LiveMachineRow {
        machine: answer.machine.clone(),
        covered: answer.covered.clone(),
        insulated: answer.insulated.clone(),
        ground,
        bond,
        mats,
        barricade,
        shown,
        shown_document,
        grounded_to: answer.grounded_to.clone(),
        keeps_off: answer.keeps_off.clone(),
        who: answer.said.who.clone(),
        when: text(answer.said.when),
        document: answer.said.document.clone(),
        how: answer.said.how.clone(),
    }
}
