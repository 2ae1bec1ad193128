//! By which rules the work is done, when, and what has been arranged for it.

use super::crew::words;
use crate::quantity::date::Date;

/// By which route a machine works near the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Route {
    /// 29 CFR 1926.1408, Table A at full distance.
    CraneTable,
    /// 29 CFR 1926.1410, closer than Table A by agreement, with its list of twelve.
    CloserByAgreement,
    /// 29 CFR 1926.959 / 1910.269(p), line-work rules.
    LineWork,
    /// 29 CFR 1926.1400(c)(4): a digger derrick at pole work, outside the crane rules and by line-work rules.
    DiggerDerrick,
}

impl Route {
    /// As a scene writes it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::CraneTable => "crane_table",
            Self::CloserByAgreement => "closer_by_agreement",
            Self::LineWork => "line_work",
            Self::DiggerDerrick => "digger_derrick",
        }
    }
}

/// When the job is done. Every other date is held against this one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Job {
    /// The day of the lift.
    pub date: Option<Date>,
    /// Work order or job number.
    pub number: Option<String>,
}

/// The route of work and what has been arranged for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Basis {
    pub route: Route,
    /// Answers to the route's list, by the item's key as `rules` names it. An item without an answer is a finding.
    pub arranged: Vec<Arranged>,
    /// What protects people should a machine become live, machine by machine.
    pub live_machines: Vec<LiveMachine>,
    /// What the employer answers once for many jobs, in a file of its own.
    pub standing: Option<Standing>,
    /// The user's own required distance for bare parts, when stated.
    pub own_distance_m: Option<f64>,
    /// The residual gap demanded even between covers.
    pub residual_gap_m: f64,
}

impl Basis {
    /// A basis on which nothing has been arranged yet.
    pub fn bare(route: Route, residual_gap_m: f64) -> Self {
        Self {
            route,
            arranged: Vec::new(),
            live_machines: Vec::new(),
            standing: None,
            own_distance_m: None,
            residual_gap_m,
        }
    }
}

/// One item of the route's list with its answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Arranged {
    pub item: String,
    pub answer: Answer,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// Words alone, as older scenes have them. They are shown and fill nothing in.
    Words(String),
    Arranged(Said),
    DoesNotApply {
        reason: Reason,
        said: Said,
    },
    /// By an exception that the rule itself makes.
    Exception {
        paragraph: String,
        said: Said,
    },
    /// It is not arranged.
    No(Said),
}

impl Answer {
    /// All that is said beside the kind of answer; `None` of words alone.
    pub fn said(&self) -> Option<&Said> {
        match self {
            Self::Words(_) => None,
            Self::Arranged(said) | Self::DoesNotApply { said, .. } | Self::Exception { said, .. } | Self::No(said) => {
                Some(said)
            }
        }
    }
}

/// What an answer says. Anything may be missing; the item's own demands say what must not be.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Said {
    /// People of the job, by name.
    pub who: Vec<String>,
    pub when: Option<Date>,
    pub document: Option<String>,
    /// How it is done, or why it is so.
    pub how: Option<String>,
    /// The distance that this answer sets, meters.
    pub distance_m: Option<f64>,
}

words! {
    /// Why an item does not apply. Each item accepts only reasons of its own.
    Reason {
        NoReclosing = "no_reclosing", "the circuit has no automatic reclosing";
        NothingPutOnThem = "nothing_put_on_them", "nothing is put on the neighboring structures";
        FullView = "full_view", "the operator sees all of the work, and nobody asked for signals";
        NobodyOffTheGround = "nobody_off_the_ground", "nobody works off the ground";
        OneEmployer = "one_employer", "the line's owner does all of the work with its own people";
        NothingUnderTheLine = "nothing_under_the_line", "nothing of machine or load comes under a live line";
        NoneFitted = "none_fitted", "the machine has none";
        NoneForVoltage = "none_for_voltage", "none is made for this voltage";
        LineWork = "line_work", "the work is line work";
        NoTagLine = "no_tag_line", "no tag line is used";
    }
}

/// What protects people should this machine become live: 29 CFR 1910.269(p)(4)(iii).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LiveMachine {
    /// Its name or model, as the scene has it.
    pub machine: String,
    /// (A): what covers the lines against the contact that could be made.
    pub covered: Option<String>,
    /// (B): by what it is insulated for the voltage.
    pub insulated: Option<String>,
    /// (C): how people are protected.
    pub protected: Option<Protected>,
    /// To what it is grounded, and by which lead.
    pub grounded_to: Option<String>,
    /// Who keeps off it, and what keeps them off.
    pub keeps_off: Option<String>,
    /// Who grounds it, when, by which document.
    pub said: Said,
}

/// How people are protected from a machine that became live.
#[derive(Clone, Debug, PartialEq)]
pub enum Protected {
    /// By the techniques that the rule lists, each as it is done here.
    Techniques { ground: Option<String>, bond: Option<String>, mats: Option<String>, barricade: Option<String> },
    /// By other methods that the employer has shown to protect each person.
    Shown { how: Option<String>, document: Option<String> },
}

/// What an employer answers once for many jobs, with the file that says it.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    pub file: String,
    pub employer: String,
    pub answers: Vec<StandingAnswer>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct StandingAnswer {
    pub item: String,
    /// Who decided or permits it, in words: nobody of the job needs to.
    pub who: Option<String>,
    pub document: Option<String>,
    /// The day that the document carries.
    pub when: Option<Date>,
    /// The last day on which it holds.
    pub valid_until: Option<Date>,
    pub how: Option<String>,
}
