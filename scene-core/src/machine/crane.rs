//! Where every point of the crane and of the pole on its hook is, and which joints put the hook where it is wanted.
//!
//! ```text
//! world ── x east, y north, z up; meters
//! └─ slew axis        at `Crane::at`, on the ground; turned by heading + swing about z
//!    ├─ tail          x the way the boom points, y to its left, z up
//!    └─ foot pin      `foot_offset` along x (negative: behind the axis), `foot_height` up; turned up by the boom angle
//!       └─ boom       `along` the axis from the foot pin, `left`, `below` (square to the axis, toward the ground)
//!          └─ head sheave       `along` and `below` from the tip, which is boom length from the foot pin
//!             └─ line's top     a sheave radius outward (level, away from the slew axis): here the line leaves plumb
//!                └─ hook block's top     hoist length straight down
//!                   └─ hook's bearing    block length down
//!                      └─ choke          rigging length down; turned by Rz(heading)·Ry(tilt)·Rz(turn)
//!                         └─ pole        z from the butt along the axis, x the way it faces, y to its left
//! ```
//!
//! Not modelled here: boom deflection, side lean, swing and wind lean of the load (allowances, see `motion`); the change of
//! hoist line between winch and head while booming; a jib.

pub mod bodies;
pub mod chain;
pub(crate) mod facts;
pub mod reach;

pub use facts::*;

use crate::bracket::Bracket;
use glam::DVec3;
use std::f64::consts::TAU;

/// The numbers that say how the crane and the pole on its hook stand. Angles in radians.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Joints {
    /// Counterclockwise from the carrier's front; not wrapped, so that it runs evenly past a whole turn.
    pub swing: f64,
    /// From level, up.
    pub boom_angle: f64,
    /// From the foot pin to the tip.
    pub boom_length_m: f64,
    /// From where the line leaves the head sheave to the hook block's top.
    pub hoist_length_m: f64,
    /// Of the pole's axis from plumb.
    pub pole_tilt: f64,
    /// The way the pole's top leans, counterclockwise from east; not wrapped.
    pub pole_heading: f64,
    /// Of the pole about its own axis, from the way it leans to the way it faces. Set once, it never runs.
    pub pole_turn: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    Swing,
    BoomAngle,
    BoomLength,
    HoistLength,
    PoleTilt,
    PoleHeading,
    PoleTurn,
}

impl Joint {
    pub const ALL: [Joint; 7] = [
        Joint::Swing,
        Joint::BoomAngle,
        Joint::BoomLength,
        Joint::HoistLength,
        Joint::PoleTilt,
        Joint::PoleHeading,
        Joint::PoleTurn,
    ];
}

impl Joints {
    pub fn get(&self, joint: Joint) -> f64 {
        match joint {
            Joint::Swing => self.swing,
            Joint::BoomAngle => self.boom_angle,
            Joint::BoomLength => self.boom_length_m,
            Joint::HoistLength => self.hoist_length_m,
            Joint::PoleTilt => self.pole_tilt,
            Joint::PoleHeading => self.pole_heading,
            Joint::PoleTurn => self.pole_turn,
        }
    }

    #[must_use]
    pub fn with(mut self, joint: Joint, value: f64) -> Self {
        match joint {
            Joint::Swing => self.swing = value,
            Joint::BoomAngle => self.boom_angle = value,
            Joint::BoomLength => self.boom_length_m = value,
            Joint::HoistLength => self.hoist_length_m = value,
            Joint::PoleTilt => self.pole_tilt = value,
            Joint::PoleHeading => self.pole_heading = value,
            Joint::PoleTurn => self.pole_turn = value,
        }
        self
    }

    /// Every joint at the fraction u of its way to `to`.
    #[must_use]
    pub fn toward(&self, to: &Joints, u: f64) -> Joints {
        Joint::ALL.iter().fold(*self, |at, &j| at.with(j, self.get(j) + (to.get(j) - self.get(j)) * u))
    }
}

/// What of the crane does not move, and the limits of what does. Meters and radians.
#[derive(Clone, Debug, PartialEq)]
pub struct CraneFrame {
    pub at: DVec3,
    pub heading: f64,
    pub foot_offset_m: f64,
    pub foot_height_m: f64,
    pub head_along_m: f64,
    pub head_below_m: f64,
    pub sheave_radius_m: f64,
    pub block_length_m: f64,
    pub rigging_length_m: f64,
    pub boom_length_m: Bracket,
    pub boom_angle: Bracket,
    pub swing: Bracket,
}

impl CraneFrame {
    /// With rigging of this length from the hook's bearing point to the choke.
    pub fn of(crane: &Crane, rigging_length_m: f64) -> Self {
        Self {
            at: crane.at,
            heading: crane.heading,
            foot_offset_m: crane.foot_offset_m,
            foot_height_m: crane.foot_height_m,
            head_along_m: crane.head.along_m,
            head_below_m: crane.head.below_m,
            sheave_radius_m: crane.head.sheave_radius_m,
            block_length_m: crane.block.length_m,
            rigging_length_m,
            boom_length_m: crane.boom_length_m,
            boom_angle: crane.boom_angle,
            swing: crane.swing,
        }
    }

    /// The level unit vector the boom points along.
    pub fn outward(&self, swing: f64) -> DVec3 {
        let (sin, cos) = (self.heading + swing).sin_cos();
        DVec3::new(cos, sin, 0.0)
    }

    /// A point of the upper works: x outward, y left, z up, from the slew axis at ground level.
    pub fn upper_in_world(&self, joints: &Joints, point: DVec3) -> DVec3 {
        let outward = self.outward(joints.swing);
        self.at + outward * point.x + DVec3::new(-outward.y, outward.x, 0.0) * point.y + DVec3::Z * point.z
    }

    /// A point of the boom: `along` its axis from the foot pin, `left`, and `below` the axis.
    pub fn boom_in_world(&self, joints: &Joints, along_m: f64, left_m: f64, below_m: f64) -> DVec3 {
        let (sin, cos) = joints.boom_angle.sin_cos();
        let outward_m = self.foot_offset_m + along_m * cos + below_m * sin;
        let height_m = self.foot_height_m + along_m * sin - below_m * cos;
        self.upper_in_world(joints, DVec3::new(outward_m, left_m, height_m))
    }

    pub fn sheave_in_world(&self, joints: &Joints) -> DVec3 {
        self.boom_in_world(joints, joints.boom_length_m + self.head_along_m, 0.0, self.head_below_m)
    }

    /// Where the line leaves the head sheave.
    pub fn line_top_in_world(&self, joints: &Joints) -> DVec3 {
        self.sheave_in_world(joints) + self.outward(joints.swing) * self.sheave_radius_m
    }

    /// The hook's bearing point.
    pub fn hook_in_world(&self, joints: &Joints) -> DVec3 {
        self.line_top_in_world(joints) - DVec3::Z * (joints.hoist_length_m + self.block_length_m)
    }

    /// The lower end of the rigging, hanging plumb.
    pub fn choke_in_world(&self, joints: &Joints) -> DVec3 {
        self.hook_in_world(joints) - DVec3::Z * self.rigging_length_m
    }

    /// From the slew axis to the load's plumb line, level.
    pub fn radius_m(&self, boom_angle: f64, boom_length_m: f64) -> f64 {
        let (sin, cos) = boom_angle.sin_cos();
        self.foot_offset_m + self.sheave_radius_m + (boom_length_m + self.head_along_m) * cos + self.head_below_m * sin
    }

    /// The least and the greatest radius over every combination of angle and length; exact but for rounding.
    pub fn radius_range(&self, boom_angle: Bracket, boom_length_m: Bracket) -> Bracket {
        let along = boom_length_m + Bracket::exactly(self.head_along_m);
        outward_range(along, self.head_below_m, boom_angle)
            + Bracket::exactly(self.foot_offset_m + self.sheave_radius_m)
    }

    /// Height above the slew axis's ground of the line's top, over every combination of angle and length.
    pub fn line_top_height_range(&self, boom_angle: Bracket, boom_length_m: Bracket) -> Bracket {
        let along = boom_length_m + Bracket::exactly(self.head_along_m);
        // along·sin β − below·cos β is along·cos(β − 90°) + below·sin(β − 90°).
        let quarter = Bracket::exactly(TAU / 4.0);
        outward_range(along, self.head_below_m, boom_angle - quarter) + Bracket::exactly(self.foot_height_m)
    }
}

/// The range of `along·cos(angle) + below·sin(angle)` over the brackets: linear in `along`, so at its ends; in the angle a
/// cosine of known amplitude and phase, so at its ends or at its crest or trough.
pub fn outward_range(along: Bracket, below: f64, angle: Bracket) -> Bracket {
    let one = |along: f64| {
        let at = |angle: f64| along * angle.cos() + below * angle.sin();
        let (amplitude, phase) = (along.hypot(below), below.atan2(along));
        let mut range = Bracket::exactly(at(angle.low())).hull(Bracket::exactly(at(angle.high())));
        for (crest, value) in [(phase, amplitude), (phase + TAU / 2.0, -amplitude)] {
            let turns = ((angle.low() - crest) / TAU).ceil();
            if crest + turns * TAU <= angle.high() {
                range = range.hull(Bracket::exactly(value));
            }
        }
        range
    };
    one(along.low()).hull(one(along.high()))
}
