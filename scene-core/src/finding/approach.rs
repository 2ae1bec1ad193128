//! What comes too near to a wire, or may bridge two.

use super::facts;

/// What a body is to the rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BodyClass {
    Machine,
    NonConductiveRigging,
    Load,
    /// Of an aerial lift, not insulated.
    Lift,
    InsulatedLift,
    Worker,
}

impl BodyClass {
    pub const ALL: [Self; 6] =
        [Self::Machine, Self::NonConductiveRigging, Self::Load, Self::Lift, Self::InsulatedLift, Self::Worker];
}

/// Which side comes too near where it lies bare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bare {
    pub body: bool,
    pub wire: bool,
}

/// A body and a wire where they come nearest. Meters.
#[derive(Clone, Debug, PartialEq)]
pub struct WireGap {
    pub body: String,
    pub class: BodyClass,
    /// Hangs from the boom's head.
    pub hangs: bool,
    pub wire: String,
    pub weather: String,
    /// Proven at least.
    pub low_m: f64,
    pub allowance_m: f64,
    pub required_m: f64,
    /// What must remain even between covers.
    pub residual_m: f64,
    /// `None` where cover plays no part.
    pub bare: Option<Bare>,
    pub rule: String,
}

/// One body, or two that conduct to one another, between two wires. Meters.
#[derive(Clone, Debug, PartialEq)]
pub struct Bridge {
    pub body: String,
    /// Of the body at the second wire, where it is another one.
    pub second_body: Option<String>,
    pub class: BodyClass,
    pub wires: [String; 2],
    pub weather: String,
    /// Both gaps together, less allowances.
    pub sum_m: f64,
    pub required_m: f64,
    /// The wires whose covers excuse it; `None` where nothing does.
    pub rests_on: Option<Vec<String>>,
    pub rule: String,
}

/// A wire that is held out, or on its way there, and another. Meters.
#[derive(Clone, Debug, PartialEq)]
pub struct WiresGap {
    pub wire: String,
    pub on_its_way: bool,
    pub other: String,
    pub weather: String,
    /// Proven at least; negative where they may touch.
    pub low_m: f64,
    /// The movement of both wires.
    pub allowance_m: f64,
    /// What must be left at least.
    pub least_m: f64,
    /// The approach distance between the two potentials.
    pub required_m: f64,
}

facts! {
    Approach {
        Touch { gap: Box<WireGap> } = "approach_touch",
        Undecided { gap: Box<WireGap> } = "approach_undecided",
        Short { gap: Box<WireGap> } = "approach_short",
        Covered { gap: Box<WireGap> } = "approach_covered",
        Bridges { bridge: Box<Bridge> } = "bridges_two_potentials",
        /// A wire that is held out, or on its way there, and another.
        WiresMayMeet { gap: Box<WiresGap> } = "wires_may_meet",
        /// `covered`: both are covered where they would otherwise be too near.
        WiresNear { gap: Box<WiresGap>, covered: bool } = "wires_near_each_other",
    }
}

impl Approach {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::Touch { gap } | Self::Undecided { gap } | Self::Short { gap } | Self::Covered { gap } => {
                Some(&gap.body)
            }
            Self::Bridges { bridge } => Some(&bridge.body),
            Self::WiresMayMeet { gap } | Self::WiresNear { gap, .. } => Some(&gap.wire),
        }
    }
}
