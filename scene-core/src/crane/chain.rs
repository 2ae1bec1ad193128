//! One crane with one pole: where a corner of any of their parts is for given joints.

use super::{CraneFrame, Joints};
use glam::DVec3;

/// What carries the pole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seat {
    /// The choke is at the end of the rigging.
    OnHook,
    /// The pole does not follow the hook; the centre of its butt goes evenly from one point to the other.
    Butt { from: DVec3, to: DVec3 },
}

/// What a corner is fixed to; see the frame tree in [`super`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// x the way the boom points, y to its left, z up, from the slew axis on the ground.
    Upper(DVec3),
    /// `along_m + share · boom length` from the foot pin.
    Boom { along_m: f64, share: f64, left_m: f64, below_m: f64 },
    /// `below_m`, and the hoist length besides when `hoisted`, plumb below the line's top; `inward_m` toward the slew axis.
    Line { below_m: f64, hoisted: bool, inward_m: f64 },
    /// In the pole's frame.
    Pole(DVec3),
}

/// The unmoving facts of crane and pole.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    pub crane: CraneFrame,
    /// Where the choker pulls, in the pole's frame.
    pub choke_in_pole: DVec3,
}

impl Chain {
    /// A direction in the pole's frame as it stands in the world.
    pub fn pole_direction_in_world(&self, joints: &Joints, direction: DVec3) -> DVec3 {
        let turned = about_z(joints.pole_turn, direction);
        let (sin, cos) = joints.pole_tilt.sin_cos();
        let tilted = DVec3::new(turned.x * cos + turned.z * sin, turned.y, turned.z * cos - turned.x * sin);
        about_z(joints.pole_heading, tilted)
    }

    /// A corner at the fraction u of the piece that `seat` belongs to.
    pub fn place_in_world(&self, place: &Place, joints: &Joints, seat: &Seat, u: f64) -> DVec3 {
        let crane = &self.crane;
        match *place {
            Place::Upper(point) => crane.upper_in_world(joints, point),
            Place::Boom { along_m, share, left_m, below_m } => {
                crane.boom_in_world(joints, along_m + share * joints.boom_length_m, left_m, below_m)
            }
            Place::Line { below_m, hoisted, inward_m } => {
                let down_m = below_m + if hoisted { joints.hoist_length_m } else { 0.0 };
                crane.line_top_in_world(joints) - crane.outward(joints.swing) * inward_m - DVec3::Z * down_m
            }
            Place::Pole(point) => match *seat {
                Seat::OnHook => {
                    crane.choke_in_world(joints) + self.pole_direction_in_world(joints, point - self.choke_in_pole)
                }
                Seat::Butt { from, to } => from + (to - from) * u + self.pole_direction_in_world(joints, point),
            },
        }
    }

    /// The centre of the butt while the pole is on the hook.
    pub fn butt_in_world(&self, joints: &Joints) -> DVec3 {
        self.place_in_world(&Place::Pole(DVec3::ZERO), joints, &Seat::OnHook, 0.0)
    }
}

/// Turned counter-clockwise about z.
pub fn about_z(angle: f64, v: DVec3) -> DVec3 {
    let (sin, cos) = angle.sin_cos();
    DVec3::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos, v.z)
}
