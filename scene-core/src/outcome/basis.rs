//! By which rules the job is done, by whom, and what has been arranged for it.

use serde::Serialize;

/// Every answer in its structure, filled in or not.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BasisRow {
    /// As a scene writes it.
    pub route: &'static str,
    /// Year, month and day: `2026-03-04`.
    pub job_date: Option<String>,
    pub job_number: Option<String>,
    pub people: Vec<PersonRow>,
    pub answers: Vec<AnswerRow>,
    pub live_machines: Vec<LiveMachineRow>,
    /// Whose standing answers are used, and the file that holds them.
    pub standing_employer: Option<String>,
    pub standing_file: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PersonRow {
    pub name: String,
    pub roles: Vec<&'static str>,
    pub qualified_for: Vec<&'static str>,
}

/// How an item is answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AnswerKind {
    Arranged,
    DoesNotApply,
    Exception,
    No,
    /// In words alone, which fill nothing in.
    Words,
    /// By the employer, once for many jobs.
    Standing,
    NotAnswered,
}

impl AnswerKind {
    /// As people say it.
    pub const fn said(self) -> &'static str {
        match self {
            Self::Arranged => "arranged",
            Self::DoesNotApply => "does not apply",
            Self::Exception => "exception",
            Self::No => "no",
            Self::Words => "words alone, not counted",
            Self::Standing => "standing",
            Self::NotAnswered => "not answered",
        }
    }
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AnswerRow {
    pub item: String,
    /// What is asked; empty for what no route asks.
    pub asked: &'static str,
    pub kind: AnswerKind,
    /// It holds all that the item asks for.
    pub filled_in: bool,
    pub who: Vec<String>,
    pub when: Option<String>,
    pub document: Option<String>,
    pub how: Option<String>,
    pub distance_m: Option<f64>,
    /// Why it does not apply, as a scene writes it.
    pub reason: Option<&'static str>,
    /// The paragraph that makes the exception.
    pub paragraph: Option<String>,
    /// The last day of a standing answer.
    pub valid_until: Option<String>,
}

/// What protects people should this machine become live.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LiveMachineRow {
    pub machine: String,
    pub covered: Option<String>,
    pub insulated: Option<String>,
    pub ground: Option<String>,
    pub bond: Option<String>,
    pub mats: Option<String>,
    pub barricade: Option<String>,
    /// The employer's other method, and the document that shows that it protects each person.
    pub shown: Option<String>,
    pub shown_document: Option<String>,
    pub grounded_to: Option<String>,
    pub keeps_off: Option<String>,
    pub who: Vec<String>,
    pub when: Option<String>,
    pub document: Option<String>,
    pub how: Option<String>,
}
