//! Whether an answer holds what its item asks for.

use super::item::{Item, When, Who};
use super::list::{self, LINE_RULES};
use super::wording::{Spoken, names_document, other_circuit, plain, says_nothing};
use crate::finding::Answers;
use crate::site::crew::{Member, Role, Skill};
use crate::site::ground::Task;
use crate::site::{Answer, Basis, Reason, Said, Site, StandingAnswer};

/// How long after the job a standing answer may hold, days: five years. Longer than that nobody has set a date, but typed one.
const LONGEST_STANDING: i32 = 5 * 366;

/// The oldest paper that is taken for one job, days.
const OLDEST: i32 = 366;

/// The scene's own answer to an item; the first, where there are several.
pub(crate) fn own<'s>(basis: &'s Basis, key: &str) -> Option<&'s Answer> {
    basis.arranged.iter().find(|answer| answer.item.trim() == key).map(|arranged| &arranged.answer)
}

/// The employer's standing answer to an item that may have one, unless the scene has one of its own.
pub(crate) fn standing<'s>(basis: &'s Basis, item: &Item) -> Option<&'s StandingAnswer> {
    if !item.standing || own(basis, item.key).is_some_and(|answer| answer.said().is_some()) {
        return None;
    }
    basis.standing.as_ref()?.answers.iter().find(|answer| answer.item.trim() == item.key)
}

/// Whether something structured stands under this key that is not "no". What it lacks is a stop of its own.
pub(crate) fn stated(basis: &Basis, key: &str) -> bool {
    let by_employer = || list::find(basis.route, key).is_some_and(|item| standing(basis, item).is_some());
    matches!(own(basis, key), Some(Answer::Arranged(_))) || by_employer()
}

/// The least distance that somebody set for the closer-by-agreement route, meters.
pub(crate) fn agreed_distance_m(basis: &Basis) -> Option<f64> {
    match own(basis, list::AGREED_DISTANCE) {
        Some(Answer::Arranged(said)) => {
            said.distance_m.filter(|distance_m| distance_m.is_finite() && *distance_m > 0.0)
        }
        _ => None,
    }
}

/// Everything that the answer to an item lacks; empty where it is filled in.
pub(crate) fn lacking(site: &Site, item: &'static Item) -> Vec<Answers> {
    let key = || item.key.to_owned();
    match (own(&site.basis, item.key), standing(&site.basis, item)) {
        (_, Some(answer)) => of_standing(site, item, answer),
        (None, None) => {
            let Item { key, text, rule, status, .. } = *item;
            vec![Answers::NotArranged { key, text, rule, recalled: status == super::item::Status::Memory }]
        }
        (Some(Answer::Words(said)), None) => vec![Answers::WordsAlone { key: key(), said: said.clone() }],
        (Some(Answer::No(said)), None) => {
            vec![Answers::No { key: key(), why: said.how.clone().unwrap_or_default() }]
        }
        (Some(Answer::Arranged(said)), None) => {
            let asked = Asked { who: item.who, skill: item.skill, not_also: item.not_also, when: item.when };
            let mut found = of_people_and_day(site, &key(), asked, said);
            let mut lacks = Vec::new();
            document(site, item, item.document, said.document.as_deref(), &mut lacks, &mut found);
            how(item.key, said.how.as_deref(), item.contrary, &mut lacks, &mut found);
            echo(item, said.how.as_deref(), &mut found);
            if item.distance && said.distance_m.is_none() {
                lacks.push("distance");
            }
            other_circuits(site, item.key, [&said.how, &said.document], &mut found);
            push_lacks(item.key, lacks, &mut found);
            found
        }
        (Some(Answer::DoesNotApply { reason, said }), None) => {
            let mut found = of_reason(site, item, *reason);
            let asked = Asked { who: Who::Anyone, skill: None, not_also: &[], when: not_later(item.when) };
            found.extend(of_people_and_day(site, &key(), asked, said));
            let mut lacks = Vec::new();
            let by_paper = item.by_circuit && *reason != Reason::LineWork;
            document(site, item, by_paper, said.document.as_deref(), &mut lacks, &mut found);
            other_circuits(site, item.key, [&said.how, &said.document], &mut found);
            push_lacks(item.key, lacks, &mut found);
            found
        }
        (Some(Answer::Exception { paragraph, said }), None) => {
            let accepted = item.exceptions.iter().any(|known| plain(known) == plain(paragraph));
            let mut found = Vec::new();
            if !accepted {
                let (paragraph, accepted) = (paragraph.clone(), item.exceptions);
                found.push(Answers::ExceptionNotAccepted { key: key(), paragraph, accepted });
            }
            let asked = Asked { who: Who::Anyone, skill: None, not_also: &[], when: When::Before };
            found.extend(of_people_and_day(site, &key(), asked, said));
            let mut lacks = Vec::new();
            document(site, item, true, said.document.as_deref(), &mut lacks, &mut found);
            how(item.key, said.how.as_deref(), &[], &mut lacks, &mut found);
            push_lacks(item.key, lacks, &mut found);
            found
        }
    }
}

fn not_later(when: When) -> When {
    match when {
        When::OnTheDay => When::Before,
        other => other,
    }
}

fn push_lacks(key: &str, lacks: Vec<&'static str>, found: &mut Vec<Answers>) {
    // What is missing is said once, the people's part with the rest.
    if let Some(Answers::Lacks { lacks: known, .. }) = found.iter_mut().find(|f| matches!(f, Answers::Lacks { .. })) {
        known.extend(lacks);
    } else if !lacks.is_empty() {
        found.push(Answers::Lacks { key: key.to_owned(), lacks });
    }
}

/// What an answer's people and its day are held to.
#[derive(Clone, Copy)]
pub(super) struct Asked {
    pub who: Who,
    pub skill: Option<Skill>,
    pub not_also: &'static [Role],
    pub when: When,
}

/// The people and the day of an answer.
pub(super) fn of_people_and_day(site: &Site, key: &str, asked: Asked, said: &Said) -> Vec<Answers> {
    let mut found = Vec::new();
    let mut lacks = Vec::new();
    if said.who.is_empty() {
        lacks.push("who");
    }
    // Without a crew there is one stop for that, not one for each name.
    if !site.people.is_empty() && !said.who.is_empty() {
        of_people(site, key, asked, &said.who, &mut found);
    }
    match (said.when, site.job.date) {
        (None, _) if asked.when != When::NotAsked => lacks.push("when"),
        (Some(date), Some(job)) => {
            let key = || key.to_owned();
            let days = date.days_after(job);
            if days > 0 {
                found.push(Answers::AfterJob { key: key(), date, job });
            } else if asked.when == When::OnTheDay && days != 0 {
                found.push(Answers::NotOfTheDay { key: key(), date, job });
            } else if -days > OLDEST {
                found.push(Answers::TooOld { key: key(), date, job });
            }
        }
        _ => {}
    }
    push_lacks(key, lacks, &mut found);
    found
}

fn of_people(site: &Site, key: &str, asked: Asked, who: &[String], found: &mut Vec<Answers>) {
    let key = || key.to_owned();
    let mut named: Vec<&Member> = Vec::new();
    for name in who {
        match site.member(name) {
            Some(member) => named.push(member),
            None => {
                let nearest =
                    site.people.iter().map(|member| member.name.as_str()).find(|known| {
                        plain(known).split(' ').any(|part| plain(name).split(' ').any(|said| said == part))
                    });
                found.push(Answers::NotOnCrew { key: key(), name: name.clone(), nearest: nearest.map(str::to_owned) });
            }
        }
    }
    let fits = |member: &&Member| match asked.who {
        Who::Anyone => true,
        Who::In(roles) => roles.iter().any(|role| member.is(*role)),
    };
    let fitting: Vec<&Member> = named.iter().copied().filter(fits).collect();
    if let Who::In(roles) = asked.who
        && fitting.is_empty()
        && !named.is_empty()
    {
        let names = named.iter().map(|member| member.name.clone()).collect();
        let roles = roles.iter().map(|role| role.said()).collect();
        found.push(Answers::NotInRole { key: key(), names, roles });
    }
    if let Some(skill) = asked.skill {
        let needed = if skill == Skill::FirstAid { 2 } else { 1 };
        let able = fitting.iter().filter(|member| member.can(skill)).count();
        let all = matches!(asked.who, Who::In(_));
        if !fitting.is_empty() && (able < needed || all && able < fitting.len()) {
            let names = fitting.iter().filter(|member| !member.can(skill)).map(|member| member.name.clone()).collect();
            found.push(Answers::NotQualified { key: key(), names, skill: skill.said(), needed });
        }
    }
    for member in named {
        if let Some(role) = asked.not_also.iter().find(|role| member.is(**role)) {
            found.push(Answers::RoleExcluded { key: key(), name: member.name.clone(), role: role.said() });
        }
    }
}

fn document(
    site: &Site,
    item: &Item,
    asked: bool,
    said: Option<&str>,
    lacks: &mut Vec<&'static str>,
    found: &mut Vec<Answers>,
) {
    let key = || item.key.to_owned();
    match said {
        None if asked => lacks.push("document"),
        None => {}
        Some(said) if !names_document(said) => {
            found.push(Answers::SaysNothing { key: key(), field: "document", said: said.to_owned() });
        }
        Some(said) if item.by_circuit && asked => {
            let said = Spoken::of(said);
            let missing = site.circuits.iter().map(|circuit| &circuit.name).filter(|name| !said.has(name));
            let circuits: Vec<String> = missing.cloned().collect();
            if !circuits.is_empty() {
                found.push(Answers::CircuitNotNamed { key: key(), circuits });
            }
        }
        Some(_) => {}
    }
}

/// How it is done: words that say something, and not the opposite of what is asked.
pub(super) fn how(
    key: &str,
    said: Option<&str>,
    contrary: &[&str],
    lacks: &mut Vec<&'static str>,
    found: &mut Vec<Answers>,
) {
    let key = || key.to_owned();
    match said {
        None => lacks.push("how"),
        Some(said) if says_nothing(said) => {
            found.push(Answers::SaysNothing { key: key(), field: "how", said: said.to_owned() });
        }
        Some(said) => {
            let spoken = Spoken::of(said);
            if contrary.iter().any(|words| spoken.has(words)) {
                found.push(Answers::Contrary { key: key(), said: said.to_owned() });
            }
        }
    }
}

/// Words that only say again what is asked.
fn echo(item: &Item, said: Option<&str>, found: &mut Vec<Answers>) {
    if let Some(said) = said.filter(|said| plain(item.text).contains(&plain(said)) && !says_nothing(said)) {
        found.push(Answers::SaysNothing { key: item.key.to_owned(), field: "how", said: said.to_owned() });
    }
}

fn other_circuits(site: &Site, key: &str, texts: [&Option<String>; 2], found: &mut Vec<Answers>) {
    let circuits = site.circuits.iter().map(|circuit| circuit.name.as_str());
    let other = texts.into_iter().flatten().find_map(|text| other_circuit(text, circuits.clone()));
    found.extend(other.map(|circuit| Answers::OtherCircuit { key: key.to_owned(), circuit }));
}

fn of_reason(site: &Site, item: &Item, reason: Reason) -> Vec<Answers> {
    let key = || item.key.to_owned();
    if !item.reasons.contains(&reason) {
        let accepted = item.reasons.iter().map(|reason| reason.word()).collect();
        return vec![Answers::ReasonNotAccepted { key: key(), reason: reason.word(), accepted }];
    }
    let by = contradicted(site, reason);
    by.map(|by| Answers::ReasonContradicted { key: key(), reason: reason.said(), by }).into_iter().collect()
}

/// The fact of the scene that gives a reason the lie.
fn contradicted(site: &Site, reason: Reason) -> Option<&'static str> {
    let stands =
        |task: Task| site.neighbours.as_ref().is_some_and(|all| all.people.iter().any(|person| person.task == task));
    let has = |role: Role| site.people.iter().any(|member| member.is(role));
    match reason {
        Reason::NothingPutOnThem => {
            (!site.held_out.is_empty()).then_some("phases are held out in the spans beside them")
        }
        Reason::FullView if has(Role::Signal) || stands(Task::Signal) => Some("a signal person is on the job"),
        Reason::NobodyOffTheGround if !site.lifts.is_empty() => Some("a bucket truck is on the job"),
        Reason::NobodyOffTheGround if !site.held_out.is_empty() => Some("somebody holds phases out"),
        Reason::NobodyOffTheGround
            if site.covers.iter().any(|cover| matches!(cover.on, crate::site::CoverOn::Wire { .. })) =>
        {
            Some("somebody puts covers on wires")
        }
        Reason::LineWork => {
            (!stated(&site.basis, LINE_RULES)).then_some("line_rules does not say why this is line work")
        }
        Reason::NoTagLine if site.rigging.tag_line_hold_n.is_some() || stands(Task::TagLine) => {
            Some("the scene has a tag line")
        }
        Reason::NoneForVoltage if !site.covers.is_empty() => Some("the scene puts covers on"),
        Reason::OneEmployer if has(Role::Owner) && has(Role::Employer) => {
            Some("the line's owner and the crew's employer are two people of the job")
        }
        _ => None,
    }
}

/// A standing answer: a document, and a last day that has not passed.
fn of_standing(site: &Site, item: &'static Item, answer: &StandingAnswer) -> Vec<Answers> {
    let key = || item.key.to_owned();
    let mut found = Vec::new();
    let mut lacks = Vec::new();
    document(site, item, true, answer.document.as_deref(), &mut lacks, &mut found);
    how(item.key, answer.how.as_deref(), item.contrary, &mut lacks, &mut found);
    if item.key == list::LOAD_COVER_RULE {
        let missing = [(answer.who.is_none(), "who"), (answer.when.is_none(), "when")];
        lacks.extend(missing.into_iter().filter(|(missing, _)| *missing).map(|(_, field)| field));
    }
    match (answer.valid_until, site.job.date) {
        (None, _) => lacks.push("valid_until"),
        (Some(until), Some(job)) if until < job => found.push(Answers::StandingExpired { key: key(), until, job }),
        (Some(until), Some(job)) if until.days_after(job) > LONGEST_STANDING => {
            found.push(Answers::StandingTooLong { key: key(), until, job });
        }
        _ => {}
    }
    if let (Some(date), Some(job)) = (answer.when, site.job.date)
        && date > job
    {
        found.push(Answers::AfterJob { key: key(), date, job });
    }
    other_circuits(site, item.key, [&answer.how, &answer.document], &mut found);
    push_lacks(item.key, lacks, &mut found);
    found
}
