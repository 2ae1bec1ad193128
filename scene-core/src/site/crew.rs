//! The people of the job: who does what, and what each is qualified for.

/// A person whom answers and standing places refer to by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    pub name: String,
    /// What the person does on this job; at least one.
    pub roles: Vec<Role>,
    /// What the employer holds the person qualified for.
    pub qualified_for: Vec<Skill>,
}

impl Member {
    pub fn is(&self, role: Role) -> bool {
        self.roles.contains(&role)
    }

    pub fn can(&self, skill: Skill) -> bool {
        self.qualified_for.contains(&skill)
    }
}

/// An enum whose variants have a word in a scene and words for people.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$note:meta])* $variant:ident = $word:literal, $said:literal;)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name { $($(#[$note])* $variant),+ }

        impl $name {
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];
            /// As a scene writes each, in the order of [`Self::ALL`].
            pub const WORDS: &'static [&'static str] = &[$($word),+];

            /// As a scene writes it.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// As people say it.
            pub const fn said(self) -> &'static str {
                match self { $(Self::$variant => $said),+ }
            }
        }
    };
}
pub(super) use words;

words! {
    /// What a person does on the job.
    Role {
        /// In charge of the work.
        Foreman = "foreman", "foreman";
        /// Operates the machine that lifts.
        Operator = "operator", "operator";
        /// Gives the operator signals.
        Signal = "signal", "signal person";
        /// Watches the approach distance; a dedicated spotter.
        Observer = "observer", "observer";
        Rigger = "rigger", "rigger";
        LineWorker = "line_worker", "line worker";
        GroundWorker = "ground_worker", "ground worker";
        Engineer = "engineer", "engineer";
        /// A registered professional engineer qualified in power lines.
        RegisteredEngineer = "registered_engineer", "registered engineer";
        /// Speaks for the line's owner, be it the control desk.
        Owner = "owner", "line's owner";
        /// Speaks for the crew's employer.
        Employer = "employer", "employer";
    }
}

words! {
    /// What a person may be qualified for.
    Skill {
        /// Work near energized parts: a qualified employee of 29 CFR 1910.269.
        LineWork = "line_work", "line work";
        /// Operating the machine that lifts.
        Operating = "operating", "operating the machine";
        /// Signals by 29 CFR 1926.1428.
        Signals = "signals", "signals";
        Rigging = "rigging", "rigging";
        /// First aid with resuscitation.
        FirstAid = "first_aid", "first aid";
        /// Rescue from a bucket and from a pole.
        Rescue = "rescue", "rescue from bucket and pole";
    }
}
