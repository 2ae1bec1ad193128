//! Where every point of a bucket truck is, and which joints put its bucket where it is wanted.
//!
//! ```text
//! world ── x east, y north, z up; meters
//! └─ slew axis      at `BucketTruck::at`, on the ground; turned by heading + slew about z
//!    └─ pin         `pin_offset` along x, `pin_height` up
//!       └─ elbow    lower boom length on, at the lower boom's angle from level; the pin itself on a telescoping lift
//!          └─ tip   upper boom length on, at the upper boom's angle from level
//!             └─ rim's middle   ahead, left and below, level: the bucket does not tip
//! ```
//!
//! Angles of both booms are from level, because they are what a person sees; that the upper boom turns with the lower one is
//! said by the joints. Beyond 90° a boom points back over the truck.
//!
//! | file | holds |
//! |---|---|
//! | `kind` | what it says of itself as a [`Lift`](super::Lift): joints, bodies, controls |
//! | [`reach`] | from the rim's middle to the joints, in closed form |
//! | `facts` | what the maker made, and how it stands here |
//!
//! Not modelled here: deflection and bounce (allowances), a bucket that is rotated about the tip, a jib, outriggers.

pub(crate) mod facts;
mod kind;
pub mod reach;

pub use facts::*;

use super::{BoomSection, Insulation};
use crate::solid::{Feature, Hull};
use glam::DVec3;

/// How the truck stands. Radians and meters.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Joints {
    /// Counterclockwise from the truck's front; not wrapped, so that it runs evenly past a whole turn.
    pub slew: f64,
    /// From level, up; 0 on a telescoping lift.
    pub lower: f64,
    /// From level, up.
    pub upper: f64,
    pub length_m: f64,
}

/// What a corner is fixed to; see the frame tree above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// x the way the slew points, y to its left, z up, from the slew axis on the ground.
    Turret(DVec3),
    /// From the pin along the lower boom, left, and below its axis.
    Lower { along_m: f64, left_m: f64, below_m: f64 },
    /// `along_m + share · length` from the elbow along the upper boom, left, and below its axis.
    Upper { along_m: f64, share: f64, left_m: f64, below_m: f64 },
    /// Level, from the upper boom's tip: x the way the slew points, y to its left, z up.
    Level(DVec3),
}

/// A corner of a convex part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    pub place: Place,
    pub radius_m: f64,
    /// A level disc; a ball otherwise.
    pub disc: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LiftPart {
    Turret,
    LowerBoom,
    Elbow,
    /// What of the upper boom lies before its insulating section; the whole of it when there is none.
    InnerBoom,
    /// The insulating section and what is beyond it.
    UpperBoom,
    Bucket,
    WorkerReach,
}

impl LiftPart {
    pub fn name(self) -> &'static str {
        match self {
            Self::Turret => "lift turret",
            Self::LowerBoom => "lift lower boom",
            Self::Elbow => "lift elbow",
            Self::InnerBoom => "lift upper boom",
            Self::UpperBoom => "insulated boom",
            Self::Bucket => "bucket",
            Self::WorkerReach => "worker's reach",
        }
    }
}

/// A body of the truck, as the corners of its convex parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    pub part: LiftPart,
    pub hulls: Vec<Vec<Corner>>,
}

impl BucketTruck {
    pub fn stowed_joints(&self) -> Joints {
        let stowed = &self.stowed;
        Joints { slew: stowed.slew, lower: stowed.lower, upper: stowed.upper, length_m: stowed.length_m }
    }

    /// From the pin to the elbow; 0 on a telescoping lift.
    pub fn lower_length_m(&self) -> f64 {
        match self.linkage {
            Linkage::Articulating { length_m, .. } => length_m,
            Linkage::Telescoping { .. } => 0.0,
        }
    }

    /// The level unit vector that the slew points along.
    pub fn outward(&self, slew: f64) -> DVec3 {
        let (sin, cos) = (self.heading + slew).sin_cos();
        DVec3::new(cos, sin, 0.0)
    }

    pub fn place_in_world(&self, joints: &Joints, place: &Place) -> DVec3 {
        // In the frame of the turret: a point of a boom is `along` it and `below` square to it.
        let turned = |angle: f64, along: f64, left: f64, below: f64| {
            let (sin, cos) = angle.sin_cos();
            DVec3::new(along * cos + below * sin, left, along * sin - below * cos)
        };
        let pin = DVec3::new(self.pin_offset_m, 0.0, self.pin_height_m);
        let elbow = pin + turned(joints.lower, self.lower_length_m(), 0.0, 0.0);
        let point = match *place {
            Place::Turret(point) => point,
            Place::Lower { along_m, left_m, below_m } => pin + turned(joints.lower, along_m, left_m, below_m),
            Place::Upper { along_m, share, left_m, below_m } => {
                elbow + turned(joints.upper, along_m + share * joints.length_m, left_m, below_m)
            }
            Place::Level(point) => elbow + turned(joints.upper, joints.length_m, 0.0, 0.0) + point,
        };
        let outward = self.outward(joints.slew);
        self.at + outward * point.x + DVec3::new(-outward.y, outward.x, 0.0) * point.y + DVec3::Z * point.z
    }

    /// The middle of the bucket's rim: what a pose places.
    pub fn rim_in_world(&self, joints: &Joints) -> DVec3 {
        self.place_in_world(joints, &Place::Level(self.rim()))
    }

    /// Between the worker's shoulders when he stands in the bucket's middle.
    pub fn shoulders_in_world(&self, joints: &Joints) -> DVec3 {
        self.rim_in_world(joints) + DVec3::Z * self.reach.above_rim_m
    }

    /// The rim's middle from the tip.
    fn rim(&self) -> DVec3 {
        DVec3::new(self.bucket.ahead_m, self.bucket.left_m, -self.bucket.below_m)
    }

    /// Every body, in the order of the chain.
    pub fn chain(&self) -> Vec<Body> {
        let one = |part, hull: Vec<Corner>| Body { part, hulls: vec![hull] };
        let ball = |place, radius_m| Corner { place, radius_m, disc: false };
        let turret = &self.turret;
        let drum = [turret.from_height_m, turret.to_height_m].map(|height_m| Corner {
            place: Place::Turret(DVec3::Z * height_m),
            radius_m: turret.radius_m,
            disc: true,
        });
        let mut bodies = vec![one(LiftPart::Turret, drum.to_vec())];
        if let Linkage::Articulating { length_m, width_m, depth_m, elbow_radius_m, .. } = self.linkage {
            let corners = box_corners([0.0, length_m], width_m, depth_m);
            let lower = corners.map(|[along_m, left_m, below_m]| ball(Place::Lower { along_m, left_m, below_m }, 0.0));
            bodies.push(one(LiftPart::LowerBoom, lower.to_vec()));
            let elbow = Place::Lower { along_m: length_m, left_m: 0.0, below_m: 0.0 };
            bodies.push(one(LiftPart::Elbow, vec![ball(elbow, elbow_radius_m)]));
        }
        bodies.extend(self.upper_bodies());

        let (bucket, rim) = (&self.bucket, self.rim());
        let level = |height_m: f64| {
            let (ahead_m, left_m) = (bucket.length_m / 2.0, bucket.width_m / 2.0);
            [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)]
                .map(|(x, y)| Place::Level(rim + DVec3::new(x * ahead_m, y * left_m, height_m)))
        };
        // What holds the bucket lies between its box and the tip.
        let tip_m = self.upper.sections.last().map_or(0.0, |last| last.depth_m.max(last.width_m) / 2.0);
        let held = ball(Place::Level(DVec3::ZERO), tip_m);
        let shell = level(0.0).into_iter().chain(level(-bucket.height_m)).map(|place| ball(place, 0.0));
        bodies.push(one(LiftPart::Bucket, shell.chain([held]).collect()));
        let reach = level(self.reach.above_rim_m).map(|place| ball(place, self.reach.radius_m));
        bodies.push(one(LiftPart::WorkerReach, reach.to_vec()));
        bodies
    }

    fn upper_bodies(&self) -> Vec<Body> {
        let retracted_m = self.upper.length_m.low();
        let stretch = |section: &BoomSection, share: f64, from_m: f64, to_m: f64| -> Vec<Corner> {
            box_corners([from_m, to_m], section.width_m, section.depth_m)
                .map(|[along_m, left_m, below_m]| {
                    let place = Place::Upper { along_m, share, left_m, below_m };
                    Corner { place, radius_m: 0.0, disc: false }
                })
                .to_vec()
        };
        let Some((last, inner)) = self.upper.sections.split_last() else { return Vec::new() };
        let mut bare: Vec<Vec<Corner>> = Vec::new();
        for section in inner {
            let tip_m = section.tip_retracted_m - section.extension_share * retracted_m;
            bare.push(stretch(section, section.extension_share, tip_m - section.length_m, tip_m));
        }
        // The last section ends at the tip, so it is measured from there.
        let insulated_m = match &self.insulation {
            Insulation::Section { from_tip_m, .. } if from_tip_m.is_bounded() => from_tip_m.high().max(0.0),
            Insulation::Section { .. } | Insulation::None(_) | Insulation::Unknown => 0.0,
        };
        if insulated_m < last.length_m {
            bare.push(stretch(last, 1.0, -last.length_m, -insulated_m));
        }
        let mut bodies = Vec::new();
        if !bare.is_empty() {
            bodies.push(Body { part: LiftPart::InnerBoom, hulls: bare });
        }
        if insulated_m > 0.0 {
            bodies.push(Body { part: LiftPart::UpperBoom, hulls: vec![stretch(last, 1.0, -insulated_m, 0.0)] });
        }
        bodies
    }

    /// A body's convex parts as they stand, without allowances.
    pub fn hulls(&self, body: &Body, joints: &Joints) -> Vec<Hull> {
        let feature = |corner: &Corner| {
            let (center, radius_m) = (self.place_in_world(joints, &corner.place), corner.radius_m);
            match corner.disc {
                true => Feature::Disc { center, axis: DVec3::Z, radius_m },
                false => Feature::Ball { center, radius_m },
            }
        };
        body.hulls.iter().map(|hull| Hull { features: hull.iter().map(feature).collect() }).collect()
    }
}

/// (along, left, below) of the corners.
fn box_corners(along: [f64; 2], width_m: f64, depth_m: f64) -> [[f64; 3]; 8] {
    let [from, to] = along;
    let (w, d) = (width_m / 2.0, depth_m / 2.0);
    [[from, -w, -d], [from, -w, d], [from, w, -d], [from, w, d], [to, -w, -d], [to, -w, d], [to, w, -d], [to, w, d]]
}

#[cfg(test)]
mod tests;
