//! What the bucket truck says of itself as a kind of aerial lift.

use super::{BucketTruck, Joints, LiftPart, Linkage, Place};
use crate::bracket::Bracket;
use crate::machine::body::{Arm, Body, Corner, Look, Side};
use crate::machine::crane::outward_range;
use crate::machine::joint::{Control, Joint, JointKind, JointValues};
use crate::machine::lift::{ElbowSide, Insulation, Lift, LiftFacts, ReachError};
use glam::DVec3;
use std::f64::consts::FRAC_PI_2;

/// The joints by index: the lower boom up and the rotation while the bucket is still low, then the upper boom in the upright
/// plane of the work, so that the bucket comes up from below, and the extension last.
pub(super) const LOWER: usize = 0;
pub(super) const ROTATION: usize = 1;
pub(super) const UPPER: usize = 2;
pub(super) const LENGTH: usize = 3;

impl From<Joints> for JointValues {
    fn from(joints: Joints) -> Self {
        Self::of(&[joints.lower, joints.slew, joints.upper, joints.length_m])
    }
}

impl From<&JointValues> for Joints {
    fn from(values: &JointValues) -> Self {
        Self { slew: values[ROTATION], lower: values[LOWER], upper: values[UPPER], length_m: values[LENGTH] }
    }
}

impl Lift for BucketTruck {
    fn facts(&self) -> LiftFacts<'_> {
        LiftFacts {
            called: "bucket truck",
            model: &self.name,
            at: self.at,
            heading: self.heading,
            insulation: &self.insulation,
            capacity_kg: self.capacity_kg,
            load_kg: self.load_kg,
            method: self.method,
            reach_m: self.reach.radius_m + self.stick_m,
        }
    }

    fn joints(&self) -> Vec<Joint> {
        let (rates, stowed) = (&self.rates, &self.stowed);
        let (lower, upper, less, carries) = match self.linkage {
            Linkage::Articulating { angle, fold, upper_follows, .. } => {
                (angle, fold, Some(LOWER), upper_follows.then_some(UPPER))
            }
            Linkage::Telescoping { angle } => (Bracket::exactly(0.0), angle, None, None),
        };
        vec![
            Joint {
                kind: JointKind::Elevation,
                control: Control::Lower,
                name: "lower boom's angle",
                does: ["raise lower boom", "lower lower boom"],
                key: "lower_boom_deg",
                limits: lower,
                less: None,
                carries,
                rate: rates.lower_rad_s,
                rest: stowed.lower,
            },
            Joint {
                kind: JointKind::Rotation,
                control: Control::Rotate,
                name: "slew",
                does: ["slew left", "slew right"],
                key: "slew_deg",
                limits: self.slew,
                less: None,
                carries: None,
                rate: rates.slew_rad_s,
                rest: stowed.slew,
            },
            Joint {
                kind: JointKind::Elevation,
                control: Control::Upper,
                name: "upper boom's angle",
                does: ["raise upper boom", "lower upper boom"],
                key: "upper_boom_deg",
                limits: upper,
                less,
                carries: None,
                rate: rates.upper_rad_s,
                rest: stowed.upper,
            },
            Joint {
                kind: JointKind::Length,
                control: Control::Extend,
                name: "boom's length",
                does: ["extend", "retract"],
                key: "upper_boom_length_m",
                limits: self.upper.length_m,
                less: None,
                carries: None,
                rate: rates.extend_m_s,
                rest: stowed.length_m,
            },
        ]
    }

    fn bodies(&self) -> Vec<Body> {
        let corner = |corner: &super::Corner| Corner {
            arms: self.arms(&corner.place),
            radius_m: corner.radius_m,
            disc: corner.disc,
        };
        let body = |body: super::Body| Body {
            name: body.part.name(),
            side: match body.part {
                LiftPart::Turret | LiftPart::LowerBoom | LiftPart::Elbow | LiftPart::InnerBoom => Side::Grounded,
                LiftPart::UpperBoom | LiftPart::Bucket => Side::Beyond,
                LiftPart::WorkerReach => Side::Worker,
            },
            look: match body.part {
                LiftPart::Turret | LiftPart::LowerBoom | LiftPart::InnerBoom => Look::Painted,
                LiftPart::Bucket => Look::Bucket,
                LiftPart::Elbow => Look::Joint,
                LiftPart::UpperBoom => Look::Insulating,
                LiftPart::WorkerReach => Look::Reach,
            },
            hulls: body.hulls.iter().map(|hull| hull.iter().map(corner).collect()).collect(),
        };
        self.chain().into_iter().map(body).collect()
    }

    fn reach(&self, rim: DVec3, near: &JointValues, elbow: Option<ElbowSide>) -> Result<JointValues, ReachError> {
        self.reach(rim, &near.into(), elbow).map(JointValues::from)
    }

    fn shoulders_in_world(&self, at: &JointValues) -> DVec3 {
        self.shoulders_in_world(&at.into())
    }

    fn lowest_floor_m(&self, joint: usize, from: &JointValues, to: &JointValues) -> f64 {
        let (from, to) = (Joints::from(from), Joints::from(to));
        let lower_m = self.lower_length_m();
        let follows = matches!(self.linkage, Linkage::Articulating { upper_follows: true, .. });
        // The height of an arm that turns about a level pin: highest and lowest over its range of angles.
        let height = |arm_m: f64, from: f64, to: f64| {
            let quarter = Bracket::exactly(FRAC_PI_2);
            outward_range(Bracket::exactly(arm_m), 0.0, Bracket::exactly(from).hull(Bracket::exactly(to)) - quarter)
                .low()
        };
        let tip = |joints: &Joints| lower_m * joints.lower.sin() + joints.length_m * joints.upper.sin();
        let least_tip_m = match joint {
            UPPER => lower_m * from.lower.sin() + height(from.length_m, from.upper, to.upper),
            LOWER if follows => {
                let out_m = lower_m * from.lower.cos() + from.length_m * from.upper.cos();
                let angle = tip(&from).atan2(out_m);
                height(out_m.hypot(tip(&from)), angle, angle + to.lower - from.lower)
            }
            LOWER => height(lower_m, from.lower, to.lower) + from.length_m * from.upper.sin(),
            _ => tip(&from).min(tip(&to)),
        };
        self.pin_height_m + least_tip_m - self.bucket.below_m - self.bucket.height_m
    }

    fn figures(&self) -> Vec<(&'static str, f64)> {
        let (turret, bucket, stowed) = (&self.turret, &self.bucket, &self.stowed);
        let mut figures = vec![
            ("turret's radius", turret.radius_m),
            ("turret's lower height", turret.from_height_m),
            ("turret's upper height", turret.to_height_m),
            ("pin's height", self.pin_height_m),
            ("bucket's length", bucket.length_m),
            ("bucket's width", bucket.width_m),
            ("bucket's height", bucket.height_m),
            ("worker's reach", self.reach.radius_m),
            ("worker's stick", self.stick_m),
            ("rated capacity", self.capacity_kg),
            ("load", self.load_kg.unwrap_or(0.0)),
            ("place", self.at.length()),
            ("heading", self.heading.abs()),
            ("pin's offset", self.pin_offset_m.abs()),
            ("bucket's offset", bucket.ahead_m.abs()),
            ("bucket's offset to the left", bucket.left_m.abs()),
            ("bucket's offset below", bucket.below_m.abs()),
            ("worker's shoulders", self.reach.above_rim_m.abs()),
            ("stowed slew", stowed.slew.abs()),
            ("stowed lower boom", stowed.lower.abs()),
            ("stowed upper boom", stowed.upper.abs()),
            ("stowed length", stowed.length_m),
        ];
        if let Linkage::Articulating { length_m, width_m, depth_m, elbow_radius_m, .. } = self.linkage {
            figures.extend([
                ("lower boom's length", length_m),
                ("lower boom's width", width_m),
                ("lower boom's depth", depth_m),
                ("elbow's radius", elbow_radius_m),
            ]);
        }
        if let Insulation::Section { rated_v, .. } = self.insulation {
            figures.push(("rated voltage", rated_v));
        }
        for section in &self.upper.sections {
            figures.extend([
                ("upper boom's length", section.length_m),
                ("upper boom's width", section.width_m),
                ("upper boom's depth", section.depth_m),
                ("upper boom's tip", section.tip_retracted_m),
                ("upper boom's share of the extension", section.extension_share),
            ]);
        }
        figures
    }
}

impl BucketTruck {
    /// The way from the slew axis on the ground to a place.
    fn arms(&self, place: &Place) -> Vec<Arm> {
        let pin = DVec3::new(self.pin_offset_m, 0.0, self.pin_height_m);
        let boom = |elevation, along_m, length, below_m| Arm::Boom { elevation, along_m, length, below_m };
        let lower = boom(LOWER, self.lower_length_m(), None, 0.0);
        match *place {
            Place::Turret(point) => vec![Arm::Level(point)],
            Place::Lower { along_m, left_m, below_m } => {
                vec![Arm::Level(pin + DVec3::Y * left_m), boom(LOWER, along_m, None, below_m)]
            }
            Place::Upper { along_m, share, left_m, below_m } => {
                let upper = boom(UPPER, along_m, Some((LENGTH, share)), below_m);
                vec![Arm::Level(pin + DVec3::Y * left_m), lower, upper]
            }
            Place::Level(point) => vec![Arm::Level(pin + point), lower, boom(UPPER, 0.0, Some((LENGTH, 1.0)), 0.0)],
        }
    }
}
