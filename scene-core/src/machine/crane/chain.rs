//! One crane with one pole: where a corner of any of their parts is for given joints.

use super::{CraneFrame, Joints, outward_range};
use crate::bracket::Bracket;
use crate::machine::derrick::PoleGuides;
use glam::{DVec2, DVec3};
use std::f64::consts::TAU;

/// What carries the pole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seat {
    /// The choke is at the end of the rigging.
    OnHook,
    /// Upright in the guides at the boom's tip: its axis at the guides, its height that of the choke on the winch line.
    InGuides(Grip),
    /// The pole does not follow the hook; the center of its butt goes evenly from one point to the other.
    Butt { from: DVec3, to: DVec3 },
}

/// Where pole guides hold a pole's axis: from the boom's tip, along the boom and below its axis, then level outward.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grip {
    pub along_m: f64,
    pub below_m: f64,
    pub out_m: f64,
}

impl Grip {
    pub fn of(guides: &PoleGuides) -> Self {
        Self { along_m: guides.along_m, below_m: guides.below_m, out_m: guides.reach_m }
    }

    /// The middle of a held pole's axis.
    pub fn in_world(&self, crane: &CraneFrame, joints: &Joints) -> DVec3 {
        crane.boom_in_world(joints, joints.boom_length_m + self.along_m, 0.0, self.below_m)
            + crane.outward(joints.swing) * self.out_m
    }

    /// The crane with the grip in place of the line's top: its radius and reach are then those of the pole's axis.
    pub fn frame(&self, crane: &CraneFrame) -> CraneFrame {
        CraneFrame {
            head_along_m: self.along_m,
            head_below_m: self.below_m,
            sheave_radius_m: self.out_m,
            ..crane.clone()
        }
    }

    /// How far outward of the load's plumb line a held pole's axis is, over the boom angles.
    pub fn out_of_line(&self, crane: &CraneFrame, boom_angle: Bracket) -> Bracket {
        let along = Bracket::exactly(self.along_m - crane.head_along_m);
        outward_range(along, self.below_m - crane.head_below_m, boom_angle)
            + Bracket::exactly(self.out_m - crane.sheave_radius_m)
    }

    /// How high the guides are above the line's top, over the boom angles.
    pub fn above_line_top(&self, crane: &CraneFrame, boom_angle: Bracket) -> Bracket {
        let along = Bracket::exactly(self.along_m - crane.head_along_m);
        outward_range(along, self.below_m - crane.head_below_m, boom_angle - Bracket::exactly(TAU / 4.0))
    }
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
    /// From the boom as in `Boom`, then level outward and plumb down.
    Hung { along_m: f64, share: f64, left_m: f64, below_m: f64, out_m: f64, down_m: f64 },
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
            Place::Hung { along_m, share, left_m, below_m, out_m, down_m } => {
                let along_m = along_m + share * joints.boom_length_m;
                crane.boom_in_world(joints, along_m, left_m, below_m) + crane.outward(joints.swing) * out_m
                    - DVec3::Z * down_m
            }
            Place::Line { below_m, hoisted, inward_m } => {
                let down_m = below_m + if hoisted { joints.hoist_length_m } else { 0.0 };
                crane.line_top_in_world(joints) - crane.outward(joints.swing) * inward_m - DVec3::Z * down_m
            }
            Place::Pole(point) => match *seat {
                Seat::OnHook => {
                    crane.choke_in_world(joints) + self.pole_direction_in_world(joints, point - self.choke_in_pole)
                }
                Seat::InGuides(grip) => {
                    let axis = grip.in_world(crane, joints).truncate();
                    let choke = DVec3::Z * self.choke_in_pole.z;
                    axis.extend(crane.choke_in_world(joints).z) + self.pole_direction_in_world(joints, point - choke)
                }
                Seat::Butt { from, to } => from + (to - from) * u + self.pole_direction_in_world(joints, point),
            },
        }
    }

    /// How far level the choke of a pole in the guides may be from the load's plumb line while the joints run from one to the
    /// other: the winch line is drawn aside by this much at its lower end.
    pub fn drawn_aside_m(&self, grip: &Grip, from: &Joints, to: &Joints) -> f64 {
        let angles = Bracket::exactly(from.boom_angle).hull(Bracket::exactly(to.boom_angle));
        let out = grip.out_of_line(&self.crane, angles);
        let offset = DVec3::new(self.choke_in_pole.x, self.choke_in_pole.y, 0.0);
        let choke = |at: &Joints| {
            about_z(-(self.crane.heading + at.swing), self.pole_direction_in_world(at, offset)).truncate()
        };
        let ends = [choke(from), choke(to)];
        let turns = (ends[0] - ends[1]).length() > 1e-9;
        let aside = |out_m: f64| {
            if turns {
                return out_m.abs() + offset.length();
            }
            (ends[0] + DVec2::X * out_m).length()
        };
        aside(out.low()).max(aside(out.high()))
    }

    /// Where a pole in the guides is held, meters from its butt, over the ranges of boom angle and hoist length.
    pub fn held_at(&self, grip: &Grip, boom_angle: Bracket, hoist_length_m: Bracket) -> Bracket {
        let down_m = self.crane.block_length_m + self.crane.rigging_length_m + self.choke_in_pole.z;
        grip.above_line_top(&self.crane, boom_angle) + hoist_length_m + Bracket::exactly(down_m)
    }

    /// The center of the butt while the pole is on the hook.
    pub fn butt_in_world(&self, joints: &Joints) -> DVec3 {
        self.butt_on(joints, &Seat::OnHook)
    }

    /// The center of the butt at the start of a piece with this seat.
    pub fn butt_on(&self, joints: &Joints, seat: &Seat) -> DVec3 {
        self.place_in_world(&Place::Pole(DVec3::ZERO), joints, seat, 0.0)
    }
}

/// Turned counterclockwise about z.
pub fn about_z(angle: f64, v: DVec3) -> DVec3 {
    let (sin, cos) = angle.sin_cos();
    DVec3::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos, v.z)
}
