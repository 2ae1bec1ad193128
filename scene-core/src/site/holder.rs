//! What holds a phase aside, and where it stands.

use crate::machine::Base;
use glam::DVec3;

/// What an arm is fixed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HolderStand {
    /// By index into the standing poles.
    Pole(usize),
    /// At the end of the boom of a holding truck, by index into [`super::Site::holding_trucks`].
    Truck(usize),
}

/// An insulated arm that grips a wire. Meters.
#[derive(Clone, Debug, PartialEq)]
pub struct Holder {
    pub on: HolderStand,
    /// Where it is fixed; of an arm on a truck the boom's end.
    pub from: DVec3,
    /// From there to its grip at most.
    pub reach_m: f64,
    pub radius_m: f64,
    /// How far it may let the wire go.
    pub play_m: f64,
    /// Whose tag rates it, and when it was last looked at.
    pub tag: String,
}

/// A truck that stands there to hold phases. Its boom is up while anything is held, and down otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldingTruck {
    pub name: String,
    /// The axis of its turret on the ground.
    pub at: DVec3,
    pub heading: f64,
    /// Of the boom's foot above the ground.
    pub boom_foot_m: f64,
    pub boom_end: DVec3,
    /// Of a capsule that holds the boom from foot to end.
    pub boom_radius_m: f64,
    pub base: Base,
}
