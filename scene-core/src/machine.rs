//! The machines of a job: what they are made of, how their joints move them, and where every point of them then is.
//!
//! | room | holds |
//! |---|---|
//! | [`joint`] | joints with limits and rates, the control that moves each and what the operator calls it |
//! | [`body`] | which body it is, its role for the rules, its corners as sums of arms that the joints move |
//! | [`carrier`] | what a machine stands on: carrier, outriggers, mats |
//! | [`contact`] | which bodies touch by design, when, and why |
//! | [`lift`] | what a kind of aerial lift has to say of itself; a lift as it stands in the site |
//! | [`crane`] | the one that lifts: its facts, its kinematics with the pole on its hook, its reach |
//! | [`derrick`] | what a digger derrick has besides a crane |
//! | [`aerial_lift`] | the bucket truck, a kind of aerial lift |
//!
//! One machine of a site lifts; any number of aerial lifts stand beside it. A new kind of aerial lift is a type that implements
//! [`lift::Lift`]: steps, motion, proof, trace and drawing work on what it says there.

pub mod aerial_lift;
pub mod body;
pub mod carrier;
pub mod contact;
pub mod crane;
pub mod derrick;
pub mod joint;
pub mod lift;

pub use body::{Arm, Body, BodyId, Corner, Look, Role, Side};
pub use carrier::{Base, Carrier, CarrierPart, Floats, Outrigged};
pub use joint::{Control, Joint, JointKind, JointValues};
pub use lift::{Category, ElbowSide, Insulation, Lift, LiftFacts, ReachError, StandingLift};

/// A telescoping section as a box about the boom's axis. It reaches from `tip_share`'s predecessor to its own share.
#[derive(Clone, Debug, PartialEq)]
pub struct BoomSection {
    /// Its own length.
    pub length_m: f64,
    pub width_m: f64,
    pub depth_m: f64,
    /// How much of the total extension moves this section: 0 for the base, 1 for the last one.
    pub extension_share: f64,
    /// Where its tip is, from the foot pin, with the boom retracted.
    pub tip_retracted_m: f64,
}

/// How a worker touches what is energized.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    Gloves,
    Stick,
}
