//! A machine that carries people to the work, whatever its kind. A kind says what its joints and bodies are, and which joints
//! bring its bucket to a place; everything else (steps, motion, proof, drawing) works on what it says here.

use super::Method;
use super::body::{Body, Role, Side};
use super::carrier::Base;
use super::joint::{self, Joint, JointValues};
use crate::bracket::Bracket;
use glam::DVec3;
use std::any::Any;
use std::fmt::Debug;
use std::ops::Deref;
use thiserror::Error;

/// What every lift says of itself. Meters, radians, kilograms.
#[derive(Clone, Copy, Debug)]
pub struct LiftFacts<'a> {
    /// Its fixed name for people: "bucket truck".
    pub called: &'static str,
    /// The maker's name for it.
    pub model: &'a str,
    /// The upright axis at ground level.
    pub at: DVec3,
    /// The way that its front points, counterclockwise from east.
    pub heading: f64,
    pub insulation: &'a Insulation,
    /// Rated, in the bucket.
    pub capacity_kg: f64,
    /// People, tools and covers in the bucket, when stated.
    pub load_kg: Option<f64>,
    pub method: Method,
    /// From the worker's shoulders to what he holds, his stick included.
    pub reach_m: f64,
}

/// What stands between the bucket and the ground.
#[derive(Clone, Debug, PartialEq)]
pub enum Insulation {
    /// Along the upper boom, back from its tip: from the near end of the insulating section to its far end.
    Section {
        from_tip_m: Bracket,
        /// Phase to phase.
        rated_v: f64,
        /// By ANSI/SAIA A92.2.
        category: Category,
    },
    /// There is none; why, or by whose word.
    None(String),
    Unknown,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Category {
    A,
    B,
    C,
}

/// The elbow's side of the line from pin to tip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ElbowSide {
    Up,
    Down,
}

/// Why a bucket does not come to a place.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum ReachError {
    #[error("a number is missing or is not a number")]
    NotANumber,
    #[error("{by_m} m beyond the reach")]
    TooFar { by_m: f64 },
    #[error("{by_m} m nearer than it comes")]
    TooNear { by_m: f64 },
    /// What comes nearest misses a joint's limit by this, radians or meters.
    #[error("{by} beyond the limit of joint {joint}")]
    Limit { joint: usize, by: f64 },
}

/// A kind of aerial lift.
pub trait Lift: Object {
    fn facts(&self) -> LiftFacts<'_>;

    /// In the order in which a careful operator moves them toward the work, one at a time; to rest the other way round.
    fn joints(&self) -> Vec<Joint>;

    /// In the order of the chain. One that carries people has their reach among them.
    fn bodies(&self) -> Vec<Body>;

    /// The joints nearest to `near` that put the middle of the bucket's rim there.
    fn reach(&self, rim: DVec3, near: &JointValues, elbow: Option<ElbowSide>) -> Result<JointValues, ReachError>;

    /// Between the worker's shoulders when he stands in the bucket's middle.
    fn shoulders_in_world(&self, at: &JointValues) -> DVec3;

    /// The lowest that the bucket's floor comes above the ground at the machine while one control moves.
    fn lowest_floor_m(&self, joint: usize, from: &JointValues, to: &JointValues) -> f64;

    /// Figures that must be numbers from zero up: sizes as they are, places, angles and offsets by their magnitude.
    fn figures(&self) -> Vec<(&'static str, f64)>;
}

/// What lets a kind stand in a site that is copied and compared. It comes by itself.
pub trait Object: Any + Debug + Send + Sync {
    fn boxed(&self) -> Box<dyn Lift>;
    fn equals(&self, other: &dyn Any) -> bool;
}

impl<T: Lift + Clone + PartialEq> Object for T {
    fn boxed(&self) -> Box<dyn Lift> {
        Box::new(self.clone())
    }

    fn equals(&self, other: &dyn Any) -> bool {
        other.downcast_ref::<T>() == Some(self)
    }
}

/// A lift as it stands in the site.
#[derive(Debug)]
pub struct StandingLift {
    /// By which steps say which one they move; it may be left out where it is the only one.
    pub name: Option<String>,
    /// What it stands on.
    pub base: Base,
    kind: Box<dyn Lift>,
}

impl StandingLift {
    pub fn new(name: Option<String>, kind: impl Lift) -> Self {
        Self { name, base: Base::default(), kind: Box::new(kind) }
    }

    #[must_use]
    pub fn on(self, base: Base) -> Self {
        Self { base, ..self }
    }

    /// The lift as the kind that it is; `None` when it is another.
    pub fn as_kind<T: Lift>(&self) -> Option<&T> {
        let kind: &dyn Any = &*self.kind;
        kind.downcast_ref()
    }

    pub fn as_kind_mut<T: Lift>(&mut self) -> Option<&mut T> {
        let kind: &mut dyn Any = &mut *self.kind;
        kind.downcast_mut()
    }

    pub fn at_rest(&self) -> JointValues {
        joint::at_rest(&self.joints())
    }

    pub fn is_at_rest(&self, at: &JointValues) -> bool {
        joint::is_at_rest(&self.joints(), at)
    }

    /// Beyond a section that is rated for all of these voltages, phase to phase, the lift is insulated.
    pub fn is_insulated_for(&self, mut voltages_v: impl Iterator<Item = f64>) -> bool {
        match self.facts().insulation {
            Insulation::Section { from_tip_m, rated_v, .. } => {
                from_tip_m.width() > 0.0 && voltages_v.all(|voltage_v| voltage_v <= *rated_v)
            }
            Insulation::None(_) | Insulation::Unknown => false,
        }
    }
}

/// What a body of a lift is to the rules: beyond an insulation that is good for the line it is insulated; nothing else of it is.
pub fn role(side: Side, insulated: bool) -> Role {
    match (insulated, side) {
        (true, Side::Worker) => Role::Worker,
        (true, Side::Beyond) => Role::InsulatedLift,
        (true, Side::Grounded) | (false, _) => Role::LiftConductive,
    }
}

impl Deref for StandingLift {
    type Target = dyn Lift;
    fn deref(&self) -> &Self::Target {
        &*self.kind
    }
}

impl Clone for StandingLift {
    fn clone(&self) -> Self {
        Self { name: self.name.clone(), base: self.base.clone(), kind: self.kind.boxed() }
    }
}

impl PartialEq for StandingLift {
    fn eq(&self, other: &Self) -> bool {
        let kind: &dyn Any = &*other.kind;
        self.name == other.name && self.base == other.base && self.kind.equals(kind)
    }
}
