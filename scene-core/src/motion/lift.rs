//! The bucket truck's corners over a piece, exact for joints that run evenly.
//!
//! Each boom turns at its own rate in the upright plane that slews; the bucket keeps level, so that it is carried by the tip and
//! turned by the slew alone: a fixed offset.

use super::track::{MovingFeature, MovingPart, Track};
use super::turning::{Turning, left_of};
use crate::bucket::{Corner, Joints, Place};
use crate::site::bucket::BucketTruck;
use glam::DVec3;

/// A convex part of the truck while its joints run evenly from one end to the other.
pub(super) fn part(
    truck: &BucketTruck,
    corners: &[Corner],
    from: &Joints,
    to: &Joints,
    allowance_m: f64,
) -> MovingPart {
    let mut run = Run { truck, from, to, outward: truck.outward(from.slew), turning: Turning::default() };
    let feature = |corner: &Corner| MovingFeature {
        at: run.place(&corner.place),
        radius_m: corner.radius_m,
        axis: corner.disc.then(|| Track::still(DVec3::Z)),
        allowance_m,
    };
    let features = corners.iter().map(feature).collect();
    MovingPart { rates: run.turning.rates, features, blur_m: 0.0, spread: None }
}

struct Run<'a> {
    truck: &'a BucketTruck,
    from: &'a Joints,
    to: &'a Joints,
    /// At the start.
    outward: DVec3,
    turning: Turning,
}

impl Run<'_> {
    fn place(&mut self, place: &Place) -> Track {
        let truck = self.truck;
        let mut track = Track { base: truck.at, ..Track::default() };
        let pin = DVec3::new(truck.pin_offset_m, 0.0, truck.pin_height_m);
        let lower_m = truck.lower_length_m();
        let length_m = [self.from.length_m, self.to.length_m - self.from.length_m];
        match *place {
            Place::Turret(point) => self.fixed(&mut track, point),
            Place::Lower { along_m, left_m, below_m } => {
                self.fixed(&mut track, pin + DVec3::Y * left_m);
                self.lower(&mut track, along_m, below_m);
            }
            Place::Upper { along_m, share, left_m, below_m } => {
                self.fixed(&mut track, pin + DVec3::Y * left_m);
                self.lower(&mut track, lower_m, 0.0);
                self.upper(&mut track, [along_m + share * length_m[0], share * length_m[1]], below_m);
            }
            Place::Level(point) => {
                self.fixed(&mut track, pin + point);
                self.lower(&mut track, lower_m, 0.0);
                self.upper(&mut track, length_m, 0.0);
            }
        }
        track
    }

    fn slewed(&self) -> f64 {
        self.to.slew - self.from.slew
    }

    /// x outward, y left, z up: turned by the slew alone.
    fn fixed(&mut self, track: &mut Track, point: DVec3) {
        let level = self.outward * point.x + left_of(self.outward) * point.y;
        self.turning.level(track, self.slewed(), level);
        track.base.z += point.z;
    }

    fn lower(&mut self, track: &mut Track, along_m: f64, below_m: f64) {
        let (from, to) = (self.from.lower, self.to.lower);
        self.boom(track, [from, to], [along_m, 0.0], below_m);
    }

    fn upper(&mut self, track: &mut Track, along_m: [f64; 2], below_m: f64) {
        let (from, to) = (self.from.upper, self.to.upper);
        self.boom(track, [from, to], along_m, below_m);
    }

    /// (along, −below) in the upright plane, turned up by the boom's angle; `along_m` is a value and its drift.
    fn boom(&mut self, track: &mut Track, angle: [f64; 2], along_m: [f64; 2], below_m: f64) {
        let (sin, cos) = angle[0].sin_cos();
        let out = [along_m[0] * cos + below_m * sin, along_m[1] * cos];
        let up = [along_m[0] * sin - below_m * cos, along_m[1] * sin];
        let slewed = self.slewed();
        self.turning.upright(track, slewed, self.outward, angle[1] - angle[0], out, up);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::trucks::{ORRIN, TALLIS, truck};
    use crate::sequence::BucketRun;
    use crate::solid::Feature;
    use proptest::prelude::*;

    fn joints() -> impl Strategy<Value = Joints> {
        (-7.0..7.0_f64, -0.3..2.9_f64, -1.0..4.0_f64, 4.0..11.0_f64).prop_map(|(slew, lower, upper, length_m)| Joints {
            slew,
            lower,
            upper,
            length_m,
        })
    }

    fn centres(features: &[Feature]) -> Vec<DVec3> {
        features
            .iter()
            .map(|feature| match *feature {
                Feature::Ball { centre, .. } | Feature::Disc { centre, .. } => centre,
            })
            .collect()
    }

    proptest! {
        #[test]
        fn every_corner_is_where_the_kinematics_has_it_at_every_instant(
            from in joints(), to in joints(), which in 0..6_u8, u in 0.0..1.0_f64, telescoping: bool,
        ) {
            // One control at a time, a boom that takes the other along, or all together.
            let to = match which {
                0 => Joints { slew: to.slew, ..from },
                1 => Joints { lower: to.lower, ..from },
                2 => Joints { lower: to.lower, upper: from.upper + to.lower - from.lower, ..from },
                3 => Joints { upper: to.upper, ..from },
                4 => Joints { length_m: to.length_m, ..from },
                _ => to,
            };
            let truck = truck(if telescoping { ORRIN } else { TALLIS });
            let at = BucketRun { from, to, works_on: None, does: None }.joints_at(u);
            for body in truck.bodies() {
                for (corners, hull) in body.hulls.iter().zip(truck.hulls(&body, &at)) {
                    let moving = part(&truck, corners, &from, &to, 0.1).hull(u);
                    for (a, b) in centres(&moving.features).into_iter().zip(centres(&hull.features)) {
                        prop_assert!((a - b).length() < 1e-9, "{:?}: {a} is not {b}", body.part);
                    }
                }
            }
        }
    }
}
