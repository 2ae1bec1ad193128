//! Whether the crew is one that may do the work.

use crate::finding::{self, Crew, Finding};
use crate::site::crew::{Role, Skill};
use crate::site::ground::Task;
use crate::site::{Route, Site};

use super::judge::stated;
use super::list::LINE_RULES;

/// Who must be on every job.
const NEEDED: [Role; 3] = [Role::Foreman, Role::Operator, Role::Rigger];

/// What a role needs whatever the route.
const QUALIFIED: [(Role, Skill); 4] = [
    (Role::Operator, Skill::Operating),
    (Role::Signal, Skill::Signals),
    (Role::Rigger, Skill::Rigging),
    (Role::LineWorker, Skill::LineWork),
];

/// Who must be qualified for line work where the machine comes nearer than the crane table has it.
const NEAR_THE_LINE: [Role; 3] = [Role::Operator, Role::Signal, Role::Observer];

/// Duties that one person cannot have at once.
const APART: [(Role, Role); 3] =
    [(Role::Operator, Role::Observer), (Role::Operator, Role::Signal), (Role::Observer, Role::Rigger)];

/// Whether the machine works by the line rules.
pub(super) fn by_line_rules(site: &Site) -> bool {
    match site.basis.route {
        Route::LineWork | Route::DiggerDerrick => true,
        Route::CloserByAgreement => stated(&site.basis, LINE_RULES),
        Route::CraneTable => false,
    }
}

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    if site.people.is_empty() {
        return vec![finding::stop(Crew::NotStated)];
    }
    let mut found = Vec::new();
    let mut stop = |fact: Crew| found.push(finding::stop(fact));
    for role in NEEDED {
        if !site.people.iter().any(|member| member.is(role)) {
            stop(Crew::RoleMissing { role: role.said() });
        }
    }
    let near: &[Role] = if by_line_rules(site) { &NEAR_THE_LINE } else { &[] };
    let near = near.iter().map(|role| (*role, Skill::LineWork));
    for (role, skill) in QUALIFIED.into_iter().chain(near) {
        for member in site.people.iter().filter(|member| member.is(role) && !member.can(skill)) {
            stop(Crew::NotQualified { name: member.name.clone(), role: role.said(), skill: skill.said() });
        }
    }
    // 1910.269(l)(2): two near live parts above 600 V. 1910.269(b)(1)(i): two who can give first aid.
    for skill in [Skill::LineWork, Skill::FirstAid] {
        let able = site.people.iter().filter(|member| member.can(skill)).count();
        if able < 2 {
            stop(Crew::TooFew { skill: skill.said(), found: able, needed: 2 });
        }
    }
    for (one, other) in APART {
        for member in site.people.iter().filter(|member| member.is(one) && member.is(other)) {
            stop(Crew::TwoDuties { name: member.name.clone(), one: one.said(), other: other.said() });
        }
    }
    found.extend(places(site));
    found
}

/// Who stands somewhere by name is on the crew and in that role; a bystander is nobody of the crew.
fn places(site: &Site) -> Vec<Finding> {
    let people = site.neighbours.iter().flat_map(|all| &all.people);
    people
        .filter_map(|person| {
            let (task, roles): (_, &[Role]) = match person.task {
                Task::Bystander => return None,
                Task::Observer => ("observer", &[Role::Observer]),
                Task::Signal => ("signal person", &[Role::Signal]),
                Task::TagLine => ("tag-line hand", &[Role::GroundWorker, Role::Rigger, Role::LineWorker]),
            };
            let name = person.name.clone();
            match site.member(&person.name) {
                None => Some(finding::stop(Crew::PlaceNotOnCrew { name })),
                Some(member) if !roles.iter().any(|role| member.is(*role)) => {
                    Some(finding::stop(Crew::PlaceNotInRole { name, task }))
                }
                Some(_) => None,
            }
        })
        .collect()
}
