//! What the answers to the route's list lack.

use super::facts;
use crate::quantity::date::Date;

facts! {
    /// Keys are those of the items, or name a machine.
    Answers {
        JobDateNotStated = "job_date_not_stated",
        /// An item of the route's list: its key, its text and its paragraph, which may be recalled in part only.
        NotArranged { key: &'static str, text: &'static str, rule: &'static str, recalled: bool } = "not_arranged",
        /// Answered in words alone, which fill nothing in.
        WordsAlone { key: String, said: String } = "not_arranged",
        No { key: String, why: String } = "answered_no",
        /// What is missing, each as a scene writes the field.
        Lacks { key: String, lacks: Vec<&'static str> } = "answer_incomplete",
        SaysNothing { key: String, field: &'static str, said: String } = "answer_says_nothing",
        Contrary { key: String, said: String } = "answer_contrary",
        NotOnCrew { key: String, name: String, nearest: Option<String> } = "answer_not_on_crew",
        NotInRole { key: String, names: Vec<String>, roles: Vec<&'static str> } = "answer_not_in_role",
        RoleExcluded { key: String, name: String, role: &'static str } = "answer_role_excluded",
        NotQualified { key: String, names: Vec<String>, skill: &'static str, needed: usize } = "answer_not_qualified",
        AfterJob { key: String, date: Date, job: Date } = "answer_after_job",
        NotOfTheDay { key: String, date: Date, job: Date } = "answer_not_of_the_day",
        TooOld { key: String, date: Date, job: Date } = "answer_too_old",
        OtherCircuit { key: String, circuit: String } = "answer_other_circuit",
        CircuitNotNamed { key: String, circuits: Vec<String> } = "answer_circuit_not_named",
        ReasonNotAccepted { key: String, reason: &'static str, accepted: Vec<&'static str> } = "reason_not_accepted",
        ReasonContradicted { key: String, reason: &'static str, by: &'static str } = "reason_contradicted",
        ExceptionNotAccepted { key: String, paragraph: String, accepted: &'static [&'static str] } = "exception_not_accepted",
        Copied { keys: Vec<String>, example: &'static str } = "answers_copied",
        ExampleJob { example: &'static str } = "example_job",
        Twice { key: String } = "arranged_twice",
        Unknown { key: String, nearest: Option<&'static str> } = "arranged_unknown",
        /// Asked machine by machine now.
        PerMachine { key: String } = "arranged_unknown",
        /// A rule for covers is stated where none is taken.
        CoverRuleUnused = "cover_rule_stated",
        CoverRuleStated { rule: String } = "cover_rule_stated",
        StandingOfOneDay { key: String, file: String } = "standing_of_one_day",
        StandingTooLong { key: String, until: Date, job: Date } = "standing_too_long",
        /// One text under several items.
        Repeated { keys: Vec<String>, said: String } = "answer_repeated",
        StandingExpired { key: String, until: Date, job: Date } = "standing_expired",
    }
}

impl Answers {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::NotArranged { key, .. } => Some(key),
            Self::WordsAlone { key, .. }
            | Self::No { key, .. }
            | Self::Lacks { key, .. }
            | Self::SaysNothing { key, .. }
            | Self::Contrary { key, .. }
            | Self::NotOnCrew { key, .. }
            | Self::NotInRole { key, .. }
            | Self::RoleExcluded { key, .. }
            | Self::NotQualified { key, .. }
            | Self::AfterJob { key, .. }
            | Self::NotOfTheDay { key, .. }
            | Self::TooOld { key, .. }
            | Self::OtherCircuit { key, .. }
            | Self::CircuitNotNamed { key, .. }
            | Self::ReasonNotAccepted { key, .. }
            | Self::ReasonContradicted { key, .. }
            | Self::ExceptionNotAccepted { key, .. }
            | Self::Twice { key }
            | Self::Unknown { key, .. }
            | Self::PerMachine { key }
            | Self::StandingOfOneDay { key, .. }
            | Self::StandingTooLong { key, .. }
            | Self::StandingExpired { key, .. } => Some(key),
            Self::JobDateNotStated
            | Self::Copied { .. }
            | Self::Repeated { .. }
            | Self::ExampleJob { .. }
            | Self::CoverRuleUnused
            | Self::CoverRuleStated { .. } => None,
        }
    }
}
