//! Answers to the route's list, in words.

use super::Words;
use crate::finding::Answers;
#[cfg(test)]
use crate::quantity::date::Date;

/// One after the other, with "and" or "or" before the last.
pub(super) fn listed(words: &[impl AsRef<str>], last: &str) -> String {
    match words {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [first @ .., end] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} {last} {}", first.join(", "), end.as_ref())
        }
    }
}

/// A text within quotes, no longer than a line.
fn quoted(said: &str) -> String {
    let said = said.trim();
    let short: String = said.chars().take(80).collect();
    match short.len() < said.len() {
        true => format!("\"{short}…\""),
        false => format!("\"{said}\""),
    }
}

const STRUCTURE: &str = "Write it as arranged(who: …, when: …, document: …, how: …).";

pub(super) fn words(fact: &Answers) -> Words {
    match fact {
        Answers::JobDateNotStated => Words::new(
            "The day of the job is not stated, so no date of any answer can be held against it.",
            "State it: job: (date: \"2026-03-04\").",
            "",
        ),
        Answers::NotArranged { key, text, rule, recalled } => Words::new(
            format!("Not arranged, or not said how ({key}): {text}."),
            format!(
                "Answer the item `{key}` in the scene: who, when, by which document, and how; or why it does not apply."
            ),
            match recalled {
                false => format!("29 CFR {rule}"),
                true => format!("29 CFR {rule} (recalled in part; read the current text)"),
            },
        ),
        Answers::WordsAlone { key, said } => Words::new(
            format!("`{key}` is answered in words alone, which do not count: {}.", quoted(said)),
            format!("{STRUCTURE} Keep your words in `how`."),
            "",
        ),
        Answers::No { key, why } => Words::new(
            match why.trim() {
                "" => format!("`{key}` is answered with no."),
                why => format!("`{key}` is answered with no: {}.", quoted(why)),
            },
            "Arrange it before the job, or do not do the job this way.",
            "",
        ),
        Answers::Lacks { key, lacks } => Words::new(
            format!("The answer to `{key}` does not say {}.", listed(lacks, "and")),
            format!("State {}.", listed(lacks, "and")),
            "",
        ),
        Answers::SaysNothing { key, field: "document", said } => Words::new(
            format!("`{key}` names no document that somebody could find: {}.", quoted(said)),
            "Name the document with its number or date.",
            "",
        ),
        Answers::SaysNothing { key, said, .. } => Words::new(
            format!("The answer to `{key}` says nothing that anybody could act on: {}.", quoted(said)),
            "Say in a few words who does what, with what, and where.",
            "",
        ),
        Answers::Contrary { key, said } => Words::new(
            format!("The answer to `{key}` says the opposite of what is asked: {}.", quoted(said)),
            "Arrange what the item asks, and say how.",
            "",
        ),
        Answers::NotOnCrew { key, name, nearest } => Words::new(
            format!("`{key}` names {name}, who is not among the people of the job."),
            match nearest {
                Some(nearest) => format!("Perhaps {nearest} is meant. Otherwise list the person under people."),
                None => "Name somebody of the job, or list the person under people.".to_owned(),
            },
            "",
        ),
        Answers::NotInRole { key, names, roles } => Words::new(
            format!("`{key}` needs the {}, and {} is not that on this job.", listed(roles, "or"), listed(names, "or")),
            format!("Name somebody who is {} on this job.", listed(roles, "or")),
            "",
        ),
        Answers::RoleExcluded { key, name, role } => Words::new(
            format!("{name} cannot answer for `{key}`: {name} is the {role} as well."),
            "Name somebody who has nothing else to do meanwhile.",
            "",
        ),
        Answers::NotQualified { key, names, skill, needed } => Words::new(
            match needed {
                0 | 1 => format!("`{key}` needs somebody qualified for {skill}. {} is not.", listed(names, "and")),
                n => format!("`{key}` needs {n} people qualified for {skill}, and names fewer."),
            },
            "Name people who are qualified for it; state that under people.",
            "",
        ),
        Answers::AfterJob { key, date, job } => Words::new(
            format!("The answer to `{key}` carries the date {date}, which is after the job on {job}."),
            "Correct the date, or do the job after it.",
            "",
        ),
        Answers::NotOfTheDay { key, date, job } => Words::new(
            format!("`{key}` must be true on the day of the job, {job}. Its answer is of {date}."),
            "Do it on the day of the job, and give that date.",
            "",
        ),
        Answers::TooOld { key, date, job } => Words::new(
            format!("The answer to `{key}` is of {date}, more than a year before the job on {job}."),
            "Correct the date, or get a paper for this job.",
            "",
        ),
        Answers::OtherCircuit { key, circuit } => Words::new(
            format!("The answer to `{key}` names another circuit, {circuit}, which is not in the scene."),
            "Get the paper for the circuits of this job.",
            "",
        ),
        Answers::CircuitNotNamed { key, circuits } => Words::new(
            format!("The document of `{key}` does not name {}.", listed(circuits, "and")),
            "Name in `document` each circuit for which it holds, as the scene names it.",
            "",
        ),
        Answers::ReasonNotAccepted { key, reason, accepted } => Words::new(
            format!("`{reason}` is no reason why `{key}` does not apply."),
            match accepted.is_empty() {
                true => format!("`{key}` always applies. {STRUCTURE}"),
                false => format!("It may be left out only for {}.", listed(accepted, "or")),
            },
            "",
        ),
        Answers::ReasonContradicted { key, reason, by } => Words::new(
            format!("`{key}` does not apply because {reason}, says the scene; but {by}."),
            "Answer the item.",
            "",
        ),
        Answers::ExceptionNotAccepted { key, paragraph, accepted } => Words::new(
            format!("{} makes no exception to `{key}`.", quoted(paragraph)),
            match accepted.is_empty() {
                true => "There is none. Answer the item.".to_owned(),
                false => format!("The exceptions are those of {}.", listed(accepted, "and")),
            },
            "",
        ),
        Answers::Copied { keys, example } => Words::new(
            format!("These answers are word for word those of a shipped example ({example}): {}.", listed(keys, "and")),
            "Say in your own words what was arranged for this job.",
            "",
        ),
        Answers::ExampleJob { example } => Words::new(
            format!("This is the job of the example \"{example}\": its people and papers are invented."),
            "Before you plan a job of your own with it, give it your own name, date, people and line.",
            "",
        ),
        Answers::Twice { key } => Words::new(format!("The item `{key}` is answered more than once."), "", ""),
        Answers::Unknown { key, nearest } => Words::new(
            format!("`{key}` is no item of this route's list."),
            nearest.map(|known| format!("Perhaps `{known}` is meant.")).unwrap_or_default(),
            "",
        ),
        Answers::PerMachine { key } => Words::new(
            format!("`{key}` is asked of each machine by name, so this answer does not count."),
            "Answer it under live_machines, one entry for each machine.",
            "29 CFR 1910.269(p)(4)(iii) [1926.959(d)(3)]",
        ),
        Answers::CoverRuleUnused => Words::new(
            "A rule for covers is stated, but Table A knows no exception for cover and none is taken.",
            "",
            "stated by the scene",
        ),
        Answers::CoverRuleStated { rule } => Words::new(
            format!("Double cover excuses the load only by the rule that the scene states: {rule}."),
            "",
            "stated by the scene",
        ),
        Answers::StandingOfOneDay { key, file } => Words::new(
            format!("`{key}` is true of one day at most, so {file} cannot answer it for many jobs."),
            "Take it out of that file, and answer it in the scene.",
            "",
        ),
        Answers::StandingTooLong { key, until, job } => Words::new(
            format!(
                "The standing answer to `{key}` is to hold until {until}, more than five years after the job on {job}."
            ),
            "Give the day on which the employer looks at the document again.",
            "",
        ),
        Answers::Repeated { keys, said } => Words::new(
            format!("One text answers {}: {}.", listed(keys, "and"), quoted(said)),
            "Each item asks for something else. Say of each how it is done.",
            "",
        ),
        Answers::StandingExpired { key, until, job } => Words::new(
            format!("The employer's standing answer to `{key}` held until {until}, before the job on {job}."),
            "Renew the document, or answer the item in the scene.",
            "",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Answers> {
    let key = || "observer".to_owned();
    let said = || "see above".to_owned();
    let [early, late] = ["2026-03-02", "2026-03-04"].map(|text| Date::parse(text).unwrap());
    let item = |recalled| Answers::NotArranged { key: "spotter", text: "a spotter", rule: "1926.1408(b)(4)", recalled };
    vec![
        Answers::JobDateNotStated,
        item(false),
        item(true),
        Answers::WordsAlone { key: key(), said: said() },
        Answers::No { key: key(), why: String::new() },
        Answers::No { key: key(), why: "nobody to spare".to_owned() },
        Answers::Lacks { key: key(), lacks: vec!["who", "when"] },
        Answers::SaysNothing { key: key(), field: "document", said: said() },
        Answers::SaysNothing { key: key(), field: "how", said: "see above ".repeat(20) },
        Answers::Contrary { key: key(), said: "reclosing left on".to_owned() },
        Answers::NotOnCrew { key: key(), name: "Smith".to_owned(), nearest: None },
        Answers::NotOnCrew { key: key(), name: "Smith".to_owned(), nearest: Some("J. Smith".to_owned()) },
        Answers::NotInRole { key: key(), names: vec!["Park".to_owned()], roles: vec!["foreman", "engineer"] },
        Answers::RoleExcluded { key: key(), name: "Park".to_owned(), role: "operator" },
        Answers::NotQualified { key: key(), names: vec!["Park".to_owned()], skill: "signals", needed: 1 },
        Answers::NotQualified { key: key(), names: vec![], skill: "first aid", needed: 2 },
        Answers::AfterJob { key: key(), date: late, job: early },
        Answers::NotOfTheDay { key: key(), date: early, job: late },
        Answers::TooOld { key: key(), date: early, job: late },
        Answers::OtherCircuit { key: key(), circuit: "juniper 6".to_owned() },
        Answers::CircuitNotNamed { key: key(), circuits: vec!["Juniper 4".to_owned()] },
        Answers::ReasonNotAccepted { key: key(), reason: "one_employer", accepted: vec![] },
        Answers::ReasonNotAccepted { key: key(), reason: "one_employer", accepted: vec!["full_view"] },
        Answers::ReasonContradicted {
            key: key(),
            reason: "nobody works off the ground",
            by: "a bucket truck is on the job",
        },
        Answers::ExceptionNotAccepted { key: key(), paragraph: said(), accepted: &[] },
        Answers::ExceptionNotAccepted { key: key(), paragraph: said(), accepted: &["1926.1408(b)(5)"] },
        Answers::Copied { keys: vec![key()], example: "Juniper Lane" },
        Answers::ExampleJob { example: "Juniper Lane" },
        Answers::Twice { key: key() },
        Answers::Unknown { key: key(), nearest: None },
        Answers::Unknown { key: key(), nearest: Some("spotter") },
        Answers::PerMachine { key: key() },
        Answers::CoverRuleUnused,
        Answers::CoverRuleStated { rule: "the owner's rule on covered setting".to_owned() },
        Answers::StandingOfOneDay { key: key(), file: "ours.ron".to_owned() },
        Answers::StandingTooLong { key: key(), until: late, job: early },
        Answers::Repeated { keys: vec![key(), "crew".to_owned()], said: said() },
        Answers::StandingExpired { key: key(), until: early, job: late },
    ]
}
