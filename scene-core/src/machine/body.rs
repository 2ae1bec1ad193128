//! What moves: which body it is, what the rules call it, what it is made of, and where its corners are fixed.

use super::carrier::CarrierPart;
use super::joint::{Joint, JointKind, JointValues};
use glam::DVec3;

/// Which body it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BodyId {
    Boom,
    BoomHead,
    HoistLine,
    HookBlock,
    Counterweight,
    /// Of a digger derrick.
    Guides,
    Auger,
    /// From the hook to the choke.
    Rigging,
    Pole,
    /// By index into the pole's items.
    PoleItem(usize),
    /// By the lift's index among those of the site, and the body's index among the lift's own.
    OfLift {
        lift: usize,
        body: usize,
    },
    /// A truck that holds phases aside, its boom included; by index.
    HoldingTruck(usize),
    /// The arm that holds a phase aside: by index of the held-out phase, and of the truck that it is on.
    HoldingArm {
        held_out: usize,
        truck: Option<usize>,
    },
    /// Of what a machine stands on: a lift by its index, or the machine that lifts.
    OfCarrier {
        lift: Option<usize>,
        part: CarrierPart,
    },
}

impl BodyId {
    /// The lift that it belongs to; `None` for the machine that lifts and its load.
    pub fn lift(self) -> Option<usize> {
        match self {
            Self::OfLift { lift, .. } => Some(lift),
            Self::OfCarrier { lift, .. } => lift,
            _ => None,
        }
    }

    /// Of what a machine stands on. It does not move.
    pub fn is_of_carrier(self) -> bool {
        matches!(self, Self::OfCarrier { .. })
    }

    /// A truck or an arm that holds a phase aside.
    pub fn holds(self) -> bool {
        matches!(self, Self::HoldingTruck(_) | Self::HoldingArm { .. })
    }

    /// The pole, or what is fixed to it.
    pub fn is_of_pole(self) -> bool {
        matches!(self, Self::Pole | Self::PoleItem(_))
    }
}

/// What a body is to the rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Carrier, boom, boom head, hoist line, hook block, wire-rope rigging, counterweight: conductive, and at ground.
    MachineConductive,
    /// A sling or roundsling of synthetic fiber. Not conductive when clean and dry, and not rated as insulation.
    NonConductiveRigging,
    /// The pole and what is on it. It counts as conductive: wood too is no insulation.
    Load,
    /// Carrier, turret, lower boom, elbow, and all of a lift that is not known to be insulated: conductive, and at ground.
    LiftConductive,
    /// The insulated part of an aerial lift with a qualified person in it.
    InsulatedLift,
    /// A person's reach.
    Worker,
}

/// What a body looks like, for whoever draws it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Look {
    CraneBoom,
    DarkSteel,
    WireRope,
    Sling,
    Counterweight,
    /// What a machine stands on.
    Carrier,
    Pole,
    Hardware,
    BareSteel,
    /// Of a lift.
    Painted,
    /// What a person stands in.
    Bucket,
    Joint,
    Insulating,
    /// Seen through: it may be anywhere in there.
    Reach,
}

/// What of a lift lies on which side of its insulation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Of the ground.
    Grounded,
    /// Beyond the insulating section.
    Beyond,
    /// Beyond it, and it is a person's reach.
    Worker,
}

/// A body of a lift, as the corners of its convex parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    pub name: &'static str,
    pub side: Side,
    pub look: Look,
    pub hulls: Vec<Vec<Corner>>,
}

/// A corner of a convex part.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// From the machine's upright axis on the ground.
    pub arms: Vec<Arm>,
    pub radius_m: f64,
    /// A level disc; a ball otherwise.
    pub disc: bool,
}

/// A piece of the way from the machine's foot to a corner; they add up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Arm {
    /// x the way that the machine's upper part points, y to its left, z up.
    Level(DVec3),
    /// Along a boom by `along_m`, and by a joint's length times a share besides; `below_m` its axis.
    Boom { elevation: usize, along_m: f64, length: Option<(usize, f64)>, below_m: f64 },
    /// Straight up by a joint's length times a share.
    Up { length: usize, share: f64 },
}

impl Corner {
    pub fn ball(arms: Vec<Arm>, radius_m: f64) -> Self {
        Self { arms, radius_m, disc: false }
    }

    /// Where it is when the machine stands at `at`, its front this way, its joints so.
    pub fn in_world(&self, at: DVec3, heading: f64, joints: &[Joint], values: &JointValues) -> DVec3 {
        let rotation = rotation(joints).map_or(0.0, |joint| values[joint]);
        let (sin, cos) = (heading + rotation).sin_cos();
        let outward = DVec3::new(cos, sin, 0.0);
        let left = DVec3::new(-sin, cos, 0.0);
        self.arms.iter().fold(at, |sum, arm| match *arm {
            Arm::Level(point) => sum + outward * point.x + left * point.y + DVec3::Z * point.z,
            Arm::Boom { elevation, along_m, length, below_m } => {
                let along_m = along_m + length.map_or(0.0, |(joint, share)| share * values[joint]);
                let (sin, cos) = values[elevation].sin_cos();
                sum + outward * (along_m * cos + below_m * sin) + DVec3::Z * (along_m * sin - below_m * cos)
            }
            Arm::Up { length, share } => sum + DVec3::Z * (share * values[length]),
        })
    }
}

/// The joint that turns all of a machine's upper part.
pub fn rotation(joints: &[Joint]) -> Option<usize> {
    joints.iter().position(|joint| joint.kind == JointKind::Rotation)
}

impl Body {
    /// Whether a joint moves any of it.
    pub fn moves_with(&self, joint: usize, joints: &[Joint]) -> bool {
        rotation(joints) == Some(joint)
            || self.hulls.iter().flatten().flat_map(|corner| &corner.arms).any(|arm| match *arm {
                Arm::Level(_) => false,
                Arm::Boom { elevation, length, .. } => {
                    elevation == joint || length.is_some_and(|(length, _)| length == joint)
                }
                Arm::Up { length, .. } => length == joint,
            })
    }
}
