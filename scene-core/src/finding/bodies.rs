//! What may strike the machine, its load, the ground or what stands near, and whom the load may pass over.

use super::facts;

/// What keeps two bodies apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeepOff {
    /// The load, off what turns behind the slew axis.
    Counterweight,
    /// Off what the machine stands on.
    Carrier,
    /// Off what holds a phase aside.
    Holder,
    /// The load, off another body of the machine that lifts it.
    Boom,
    /// The empty hook, the slack sling or the guides, off the pole.
    ChokedPole,
    BucketTruck,
    /// One aerial lift, off another.
    OtherLift,
    /// Off a pole, a tree or a building.
    Standing,
    NoGo,
    Person,
    Ground,
    /// The butt, while the load travels.
    GroundTraveling,
}

impl KeepOff {
    pub const ALL: [Self; 12] = [
        Self::Counterweight,
        Self::Carrier,
        Self::Holder,
        Self::Boom,
        Self::ChokedPole,
        Self::BucketTruck,
        Self::OtherLift,
        Self::Standing,
        Self::NoGo,
        Self::Person,
        Self::Ground,
        Self::GroundTraveling,
    ];
}

/// Two bodies where they come nearest. Meters.
#[derive(Clone, Debug, PartialEq)]
pub struct BodyGap {
    pub body: String,
    pub other: String,
    /// Proven at least; zero or less where they overlap.
    pub low_m: f64,
    pub allowance_m: f64,
    pub required_m: f64,
    pub keep_off: KeepOff,
    pub rule: String,
}

facts! {
    Bodies {
        Undecided { gap: Box<BodyGap> } = "body_undecided",
        /// Without any allowance.
        Strikes { gap: Box<BodyGap> } = "body_touch",
        /// The allowances use up the gap.
        MayStrike { gap: Box<BodyGap> } = "body_touch",
        Short { gap: Box<BodyGap> } = "body_short",
        LoadOverPerson { load: String, person: String } = "load_over_person",
        /// Within a pole's length of its butt. Meters.
        InFallZone { person: String, pole_m: f64, is_public: bool } = "in_fall_zone",
        /// The scene has him at his place with this number before he has left the one before.
        InTwoPlaces { person: String, place: usize } = "person_in_two_places",
    }
}

impl Bodies {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::Undecided { gap } | Self::Strikes { gap } | Self::MayStrike { gap } | Self::Short { gap } => {
                Some(&gap.body)
            }
            Self::LoadOverPerson { person, .. }
            | Self::InFallZone { person, .. }
            | Self::InTwoPlaces { person, .. } => Some(person),
        }
    }
}
