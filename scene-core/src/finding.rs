//! What a check found, as data: no sentence is made here. [`crate::report::words`] says each fact to people.
//!
//! A family of facts has a file here, with the code of each variant, and its words in a file of the same name in `report/words/`.

mod answers;
mod approach;
mod bodies;
mod bucket;
mod by_hand;
mod capacity;
mod carrier;
mod catalog;
mod circuits;
mod conductor;
mod cover;
mod crew;
mod derrick;
mod ground;
mod holder;
mod leveling;
mod live_machine;
mod motion;
mod pole;
mod reach;
mod rigging;
mod rules;
mod sequence;
mod site;
mod unusual;
mod way_back;
mod wind;

pub use answers::Answers;
pub use approach::{Approach, Bare, BodyClass, Bridge, WireGap, WiresGap};
pub use bodies::{Bodies, BodyGap, KeepOff};
pub use bucket::{Bucket, BucketJoint, Protection};
pub use by_hand::ByHand;
pub use capacity::{Capacity, CapacityFigure, LimitKind, OutsideChart, RuledBy};
pub use carrier::Carrier;
pub use catalog::Catalog;
pub use circuits::Circuits;
pub use conductor::{Conductor, NotHung};
pub use cover::{ClassSource, Cover, Inadequate};
pub use crew::Crew;
pub use derrick::Derrick;
pub use ground::{Ground, NoSurface, OnGround};
pub use holder::Holder;
pub use leveling::Leveling;
pub use live_machine::LiveMachine;
pub use motion::Motion;
pub use pole::{Pole, Unweighable};
pub use reach::Reach;
pub use rigging::Rigging;
pub use rules::Rules;
pub use sequence::{NotANumber, Sequence};
pub use site::Site;
pub use unusual::Unusual;
pub use way_back::{Blocked, Differs, WayBack};
pub use wind::Wind;

use glam::DVec3;
use serde::Serialize;

/// How much a finding weighs. There is no grade for "good".
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    Note,
    Caution,
    Stop,
}

/// The unit of a quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Meter,
    Kilogram,
    Newton,
    Pascal,
    Volt,
    Radian,
    Percent,
}

impl Unit {
    /// As the JSON report writes it.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Meter => "m",
            Self::Kilogram => "kg",
            Self::Newton => "N",
            Self::Pascal => "Pa",
            Self::Volt => "V",
            Self::Radian => "rad",
            Self::Percent => "percent",
        }
    }
}

/// A value with its unit. A value that is not finite is not known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    pub value: f64,
    pub unit: Unit,
}

/// What brought a finding about. Nothing names a cause yet.
#[derive(Clone, Debug, PartialEq)]
pub enum Cause {}

/// One finding: what is the matter, how much it weighs, when, where, and by how much.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub grade: Grade,
    pub fact: Fact,
    /// Index of the step of the sequence.
    pub step: Option<usize>,
    pub time_s: Option<f64>,
    /// In the world: meters, x east, y north, z up.
    pub place: Option<DVec3>,
    pub measured: Option<Quantity>,
    /// What `measured` was held against, in the same unit.
    pub limit: Option<Quantity>,
    pub cause: Option<Cause>,
}

/// This must not be.
pub fn stop(fact: impl Into<Fact>) -> Finding {
    Finding::new(Grade::Stop, fact)
}

/// People must look at this.
pub fn caution(fact: impl Into<Fact>) -> Finding {
    Finding::new(Grade::Caution, fact)
}

/// People should know this.
pub fn note(fact: impl Into<Fact>) -> Finding {
    Finding::new(Grade::Note, fact)
}

impl Finding {
    pub fn new(grade: Grade, fact: impl Into<Fact>) -> Self {
        Self {
            grade,
            fact: fact.into(),
            step: None,
            time_s: None,
            place: None,
            measured: None,
            limit: None,
            cause: None,
        }
    }

    /// Stable, lower case with underscores: `approach_short`, `choker_below_balance`. Several facts may share one.
    pub fn code(&self) -> &'static str {
        self.fact.code()
    }

    /// What the finding is about, by name, where one thing can be named.
    pub fn subject(&self) -> Option<&str> {
        self.fact.subject()
    }

    #[must_use]
    pub fn at_step(mut self, step: usize) -> Self {
        self.step = Some(step);
        self
    }

    #[must_use]
    pub fn at_time(mut self, time_s: f64) -> Self {
        self.time_s = Some(time_s);
        self
    }

    #[must_use]
    pub fn at_place(mut self, place: DVec3) -> Self {
        self.place = Some(place);
        self
    }

    #[must_use]
    pub fn measured(mut self, value: f64, limit: f64, unit: Unit) -> Self {
        self.measured = Some(Quantity { value, unit });
        self.limit = Some(Quantity { value: limit, unit });
        self
    }
}

/// The enum of a family: each variant with its code. `CODES` lists all variants by name with their codes.
macro_rules! facts {
    ($(#[$doc:meta])* $family:ident {
        $($(#[$note:meta])* $variant:ident $({ $($(#[$about:meta])* $field:ident: $type:ty),+ $(,)? })? = $code:literal),+ $(,)?
    }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq)]
        pub enum $family {
            $($(#[$note])* $variant $({ $($(#[$about])* $field: $type),+ })?),+
        }

        impl $family {
            /// Every variant by name, with its code.
            pub const CODES: &'static [(&'static str, &'static str)] = &[$((stringify!($variant), $code)),+];

            /// See [`crate::finding::Finding::code`].
            pub const fn code(&self) -> &'static str {
                match self {
                    $(Self::$variant { .. } => $code),+
                }
            }
        }
    };
}
use facts;

macro_rules! families {
    ($($family:ident),+ $(,)?) => {
        /// What is the matter.
        #[derive(Clone, Debug, PartialEq)]
        pub enum Fact {
            $($family($family),)+
            /// The step with this name cannot be done for this reason, so that from there on nothing was checked of the
            /// machine: of the lift with this name, or of the one that lifts and the pole.
            MotionEnds { step: String, of: Option<String>, by: Box<Fact> },
            /// Of the lift with this name, where there are several.
            OfLift { lift: String, by: Box<Fact> },
        }

        $(impl From<$family> for Fact {
            fn from(fact: $family) -> Self {
                Self::$family(fact)
            }
        })+

        impl Fact {
            /// Every family by name, with its variants and their codes.
            pub const FAMILIES: &'static [(&'static str, &'static [(&'static str, &'static str)])] =
                &[$((stringify!($family), $family::CODES)),+];

            /// See [`Finding::code`].
            pub fn code(&self) -> &'static str {
                match self {
                    $(Self::$family(fact) => fact.code(),)+
                    Self::MotionEnds { by, .. } | Self::OfLift { by, .. } => by.code(),
                }
            }

            /// See [`Finding::subject`].
            pub fn subject(&self) -> Option<&str> {
                match self {
                    $(Self::$family(fact) => fact.subject(),)+
                    Self::MotionEnds { by, .. } => by.subject(),
                    Self::OfLift { lift, by } => by.subject().or(Some(lift)),
                }
            }
        }
    };
}

families! {
    Answers,
    Approach,
    Bodies,
    Bucket,
    ByHand,
    Capacity,
    Carrier,
    Catalog,
    Circuits,
    Conductor,
    Cover,
    Crew,
    Derrick,
    Ground,
    Leveling,
    LiveMachine,
    Holder,
    Motion,
    Pole,
    Reach,
    Rigging,
    Rules,
    Sequence,
    Site,
    Unusual,
    WayBack,
    Wind,
}
