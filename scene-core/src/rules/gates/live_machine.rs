//! Should a machine become live: each machine by name, by 29 CFR 1910.269(p)(4)(iii) [1926.959(d)(3)].
//!
//! One of three is enough: (A) the lines are covered, (B) the machine is insulated for the voltage, (C) every person is
//! protected. Within (C) all four techniques are used, unless the employer shows that other methods protect each person.
//! "At least one" is read (verified); the word "all" and the four are recalled (memory), and the stricter reading is taken.

use super::crew::by_line_rules;
use super::item::{When, Who};
use super::judge::{Asked, how, of_people_and_day};
use super::wording::{names_document, plain, says_nothing};
use crate::finding::{self, Answers, Finding, LiveMachine as Fact};
use crate::site::{CoverOn, LiveMachine, Protected, Site, WireKind};

/// A machine that may become live.
struct Machine {
    name: String,
    /// Another name by which a scene may call it.
    also: String,
    insulated: bool,
}

/// The machine that lifts, where it works by the line rules, and every lift.
fn machines(site: &Site) -> Vec<Machine> {
    let lifting = by_line_rules(site).then(|| Machine {
        name: site.crane.name.clone(),
        also: "crane".to_owned(),
        insulated: false,
    });
    let lifts = site.lifts.iter().enumerate().map(|(index, lift)| {
        let model = lift.facts().model.to_owned();
        let name = lift.name.clone().unwrap_or_else(|| model.clone());
        Machine { name, also: model, insulated: site.is_insulated(index) }
    });
    lifting.into_iter().chain(lifts).collect()
}

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let machines = machines(site);
    let is = |answer: &LiveMachine, machine: &Machine| {
        let said = plain(&answer.machine);
        said == plain(&machine.name) || said == plain(&machine.also)
    };
    let mut found = Vec::new();
    for machine in &machines {
        match site.basis.live_machines.iter().find(|answer| is(answer, machine)) {
            Some(answer) => found.extend(of_machine(site, machine, answer)),
            None => found.push(finding::stop(Fact::NotAnswered { machine: machine.name.clone() })),
        }
    }
    for answer in &site.basis.live_machines {
        if answer.machine != site.crane.name && !machines.iter().any(|machine| is(answer, machine)) {
            let known = machines.iter().map(|machine| machine.name.clone()).collect();
            found.push(finding::stop(Fact::Unknown { machine: answer.machine.clone(), known }));
        }
    }
    found
}

fn of_machine(site: &Site, machine: &Machine, answer: &LiveMachine) -> Vec<Finding> {
    let name = || machine.name.clone();
    let mut wrong: Vec<Finding> = Vec::new();
    let mut weak: Vec<Fact> = Vec::new();
    let mut holds = false;
    if let Some(said) = &answer.covered {
        let bare = bare_phases(site);
        match (says_nothing(said), bare.is_empty()) {
            (false, true) => holds = true,
            (true, _) => weak.push(Fact::Lacks { machine: name(), lacks: vec!["covered"] }),
            (false, false) => weak.push(Fact::LinesBare { machine: name(), bare }),
        }
    }
    if answer.insulated.is_some() {
        match machine.insulated {
            true => holds = true,
            // Nobody may rely on an insulation that is not there, whatever else protects them.
            false => wrong.push(finding::stop(Fact::NotInsulated { machine: name() })),
        }
    }
    if let Some(protected) = &answer.protected {
        match unprotected(&machine.name, protected) {
            None => holds = true,
            Some(fact) => weak.push(fact),
        }
    }
    if answer.covered.is_none() && answer.insulated.is_none() && answer.protected.is_none() {
        wrong.push(finding::stop(Fact::Unprotected { machine: name() }));
    }
    let grade = if holds { finding::caution } else { finding::stop };
    wrong.extend(weak.into_iter().map(grade));
    wrong.extend(of_people(site, machine, answer));
    wrong
}

/// The phases without any cover.
fn bare_phases(site: &Site) -> Vec<String> {
    let covered = |wire: usize| {
        site.covers.iter().any(|cover| matches!(cover.on, CoverOn::Wire { wire: over, .. } if over == wire))
    };
    let phases = site.wires.iter().enumerate().filter(|(_, wire)| matches!(wire.kind, WireKind::Phase { .. }));
    phases.filter(|(index, _)| !covered(*index)).map(|(_, wire)| wire.name.clone()).collect()
}

/// What (C) lacks.
fn unprotected(machine: &str, protected: &Protected) -> Option<Fact> {
    let machine = machine.to_owned();
    let says = |text: &Option<String>| text.as_ref().is_some_and(|text| !says_nothing(text));
    match protected {
        Protected::Techniques { ground, bond, mats, barricade } => {
            let all = [("ground", ground), ("bond", bond), ("mats", mats), ("barricade", barricade)];
            let missing: Vec<_> = all.into_iter().filter(|(_, said)| !says(said)).map(|(field, _)| field).collect();
            (!missing.is_empty()).then_some(Fact::TechniquesMissing { machine, missing })
        }
        Protected::Shown { how, document } => {
            let shown = says(how) && document.as_ref().is_some_and(|document| names_document(document));
            (!shown).then_some(Fact::NotShown { machine })
        }
    }
}

/// Who grounds it to what, and who keeps off it.
fn of_people(site: &Site, machine: &Machine, answer: &LiveMachine) -> Vec<Finding> {
    let key = format!("live_machines, {}", machine.name);
    let asked = Asked { who: Who::Anyone, skill: None, not_also: &[], when: When::OnTheDay };
    let mut found = of_people_and_day(site, &key, asked, &answer.said);
    let mut lacks = Vec::new();
    for (field, said) in [("grounded_to", &answer.grounded_to), ("keeps_off", &answer.keeps_off)] {
        let mut missing = Vec::new();
        how(
            &key,
            said.as_deref(),
            &["not grounded", "ungrounded", "no ground", "nobody keeps off"],
            &mut missing,
            &mut found,
        );
        if !missing.is_empty() {
            lacks.push(field);
        }
    }
    let mut facts: Vec<Finding> = found
        .into_iter()
        .map(|fact| match fact {
            Answers::Lacks { lacks, .. } => finding::stop(Fact::Lacks { machine: machine.name.clone(), lacks }),
            other => finding::stop(other),
        })
        .collect();
    if !lacks.is_empty() {
        facts.push(finding::stop(Fact::Lacks { machine: machine.name.clone(), lacks }));
    }
    facts
}
