//! The crew, in words.

use super::Words;
use crate::finding::Crew;

pub(super) fn words(fact: &Crew) -> Words {
    match fact {
        Crew::NotStated => Words::new(
            "The people of the job are not stated, so nobody who is named anywhere is known.",
            "List them under people: name, roles, and what each is qualified for.",
            "29 CFR 1910.269(a)(2), (l)(1) [1926.950(b), 1926.960(b)]",
        ),
        Crew::RoleMissing { role } => {
            Words::new(format!("Nobody of the job is the {role}."), format!("Give somebody the role of {role}."), "")
        }
        Crew::NotQualified { name, role, skill } => Words::new(
            format!("{name} is the {role} and is not said to be qualified for {skill}."),
            format!("State the qualification, or give the role of {role} to somebody who has it."),
            "29 CFR 1910.269(a)(2), (l)(1) [1926.950(b), 1926.960(b)]; 1926.1425(c)(3), 1427, 1428",
        ),
        Crew::TooFew { skill, found, needed } => Words::new(
            format!("At least {needed} of the crew must be qualified for {skill}. The scene has {found}."),
            "State who else is, or bring somebody.",
            "29 CFR 1910.269(b)(1), (l)(2) [1926.951(b)(1), 1926.960(b)(3)]",
        ),
        Crew::TwoDuties { name, one, other } => Words::new(
            format!("{name} cannot be {one} and {other} at the same time."),
            "Give one of the two duties to somebody else.",
            "29 CFR 1910.269(p)(4)(ii) [1926.959(d)(2)]; 1926.1410(d)(2)",
        ),
        Crew::PlaceNotOnCrew { name } => Words::new(
            format!("{name} has a place near the work and is not among the people of the job."),
            "Name the place after somebody of the job, or list the person under people.",
            "",
        ),
        Crew::PlaceNotInRole { name, task } => Words::new(
            format!("{name} stands there as {task} and has no such role on the job."),
            "Give the person the role, or the place to somebody who has it.",
            "",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Crew> {
    let name = || "Osei".to_owned();
    vec![
        Crew::NotStated,
        Crew::RoleMissing { role: "operator" },
        Crew::NotQualified { name: name(), role: "signal person", skill: "signals" },
        Crew::TooFew { skill: "first aid", found: 1, needed: 2 },
        Crew::TwoDuties { name: name(), one: "operator", other: "observer" },
        Crew::PlaceNotOnCrew { name: name() },
        Crew::PlaceNotInRole { name: name(), task: "observer" },
    ]
}
