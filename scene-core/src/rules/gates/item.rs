//! One thing to be arranged before the lift, and what an answer to it must hold.

use crate::site::Reason;
use crate::site::crew::{Role, Skill};

/// How well the paragraph behind an item is known; the weaker word where several paragraphs stand behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Read in a published copy of the rule.
    Verified,
    /// Recalled; read the current text before leaning on it.
    Memory,
}

/// Whom an answer must name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// Anybody of the job.
    Anyone,
    /// At least one with one of these roles.
    In(&'static [Role]),
}

/// Which day an answer must carry. The job's own date is the measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// True by its nature for the whole job: no day is asked for.
    NotAsked,
    /// On the job's day or before it, within a year.
    Before,
    /// On the job's own day: what was true yesterday may not be today.
    OnTheDay,
}

/// Something to be arranged before the lift, with what an answer to it must hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// Stable name, under which the scene answers.
    pub key: &'static str,
    /// What is asked, in our own words.
    pub text: &'static str,
    /// Paragraph, 29 CFR unless said otherwise.
    pub rule: &'static str,
    pub status: Status,
    pub who: Who,
    /// Somebody who is named must be qualified for this.
    pub skill: Option<Skill>,
    /// Nobody who is named may have one of these roles too.
    pub not_also: &'static [Role],
    pub when: When,
    /// A document is named, by number or date.
    pub document: bool,
    /// The document is about certain circuits and names each circuit of the scene.
    pub by_circuit: bool,
    /// The answer sets a distance.
    pub distance: bool,
    /// An employer may answer it once for many jobs.
    pub standing: bool,
    /// The reasons for which it may not apply.
    pub reasons: &'static [Reason],
    /// The paragraphs that make an exception to it.
    pub exceptions: &'static [&'static str],
    /// Words that say the opposite of what is asked.
    pub contrary: &'static [&'static str],
}

/// An item that asks for anybody of the job and for how it is done.
pub(super) const fn item(key: &'static str, text: &'static str, rule: &'static str, status: Status) -> Item {
    Item {
        key,
        text,
        rule,
        status,
        who: Who::Anyone,
        skill: None,
        not_also: &[],
        when: When::NotAsked,
        document: false,
        by_circuit: false,
        distance: false,
        standing: false,
        reasons: &[],
        exceptions: &[],
        contrary: &[],
    }
}

impl Item {
    pub(super) const fn by(mut self, roles: &'static [Role]) -> Self {
        self.who = Who::In(roles);
        self
    }

    pub(super) const fn skilled(mut self, skill: Skill) -> Self {
        self.skill = Some(skill);
        self
    }

    pub(super) const fn not_also(mut self, roles: &'static [Role]) -> Self {
        self.not_also = roles;
        self
    }

    pub(super) const fn before(mut self) -> Self {
        self.when = When::Before;
        self
    }

    pub(super) const fn on_the_day(mut self) -> Self {
        self.when = When::OnTheDay;
        self
    }

    pub(super) const fn document(mut self) -> Self {
        self.document = true;
        self
    }

    /// With a document that names each circuit.
    pub(super) const fn by_circuit(mut self) -> Self {
        self.document = true;
        self.by_circuit = true;
        self
    }

    pub(super) const fn distance(mut self) -> Self {
        self.distance = true;
        self
    }

    pub(super) const fn standing(mut self) -> Self {
        self.standing = true;
        self
    }

    pub(super) const fn unless(mut self, reasons: &'static [Reason]) -> Self {
        self.reasons = reasons;
        self
    }

    pub(super) const fn except(mut self, paragraphs: &'static [&'static str]) -> Self {
        self.exceptions = paragraphs;
        self
    }

    pub(super) const fn contrary(mut self, words: &'static [&'static str]) -> Self {
        self.contrary = words;
        self
    }
}
