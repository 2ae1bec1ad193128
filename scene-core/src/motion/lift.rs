//! The corners of an aerial lift over a piece, whatever its kind: exact for joints that run evenly.
//!
//! Each boom turns at its own rate in the upright plane that rotates; what keeps level is carried by the tip and turned by the
//! rotation alone: a fixed offset.

use super::track::{MovingFeature, MovingPart, Track};
use super::turning::{Turning, left_of};
use crate::machine::body::{Arm, Corner};
use crate::machine::joint::JointValues;
use glam::DVec3;

/// Where a lift stands, and which of its joints turns all of it.
#[derive(Clone, Copy)]
pub(super) struct Foot {
    pub at: DVec3,
    pub heading: f64,
    pub rotation: Option<usize>,
}

/// A convex part of a lift while its joints run evenly from one end to the other.
pub(super) fn part(
    foot: Foot,
    corners: &[Corner],
    from: &JointValues,
    to: &JointValues,
    allowance_m: f64,
) -> MovingPart {
    let rotation = |values: &JointValues| foot.rotation.map_or(0.0, |joint| values[joint]);
    let (sin, cos) = (foot.heading + rotation(from)).sin_cos();
    let mut run = Run {
        at: foot.at,
        outward: DVec3::new(cos, sin, 0.0),
        rotated: rotation(to) - rotation(from),
        from,
        to,
        turning: Turning::default(),
    };
    let feature = |corner: &Corner| MovingFeature {
        at: run.corner(corner),
        radius_m: corner.radius_m,
        axis: corner.disc.then(|| Track::still(DVec3::Z)),
        allowance_m,
    };
    let features = corners.iter().map(feature).collect();
    MovingPart { rates: run.turning.rates, features, motion_error_m: 0.0, spread: None }
}

struct Run<'a> {
    at: DVec3,
    /// At the start.
    outward: DVec3,
    rotated: f64,
    from: &'a JointValues,
    to: &'a JointValues,
    turning: Turning,
}

impl Run<'_> {
    fn corner(&mut self, corner: &Corner) -> Track {
        let mut track = Track { base: self.at, ..Track::default() };
        for arm in &corner.arms {
            match *arm {
                Arm::Level(point) => {
                    let level = self.outward * point.x + left_of(self.outward) * point.y;
                    self.turning.level(&mut track, self.rotated, level);
                    track.base.z += point.z;
                }
                Arm::Boom { elevation, along_m, length, below_m } => {
                    let [along_m, drift_m] = length.map_or([along_m, 0.0], |(joint, share)| {
                        [along_m + share * self.from[joint], share * self.by(joint)]
                    });
                    // (along, −below) in the upright plane, turned up by the boom's angle.
                    let (sin, cos) = self.from[elevation].sin_cos();
                    let out = [along_m * cos + below_m * sin, drift_m * cos];
                    let up = [along_m * sin - below_m * cos, drift_m * sin];
                    let elevated = self.by(elevation);
                    self.turning.upright(&mut track, self.rotated, self.outward, elevated, out, up);
                }
                Arm::Up { length, share } => {
                    track.base.z += share * self.from[length];
                    track.drift.z += share * self.by(length);
                }
            }
        }
        track
    }

    fn by(&self, joint: usize) -> f64 {
        self.to[joint] - self.from[joint]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::trucks::{ORRIN, TALLIS, truck};
    use crate::machine::aerial_lift::Joints;
    use crate::machine::body::rotation;
    use crate::machine::lift::Lift;
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

    fn centers(features: &[Feature]) -> Vec<DVec3> {
        features
            .iter()
            .map(|feature| match *feature {
                Feature::Ball { center, .. } | Feature::Disc { center, .. } => center,
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
            let chain = truck.joints();
            let foot = Foot { at: truck.at, heading: truck.heading, rotation: rotation(&chain) };
            let (from, to) = (JointValues::from(from), JointValues::from(to));
            let at = from.toward(&to, u);
            for (body, own) in truck.bodies().iter().zip(truck.chain()) {
                let hulls = truck.hulls(&own, &Joints::from(&at));
                for (corners, hull) in body.hulls.iter().zip(hulls) {
                    let moving = part(foot, corners, &from, &to, 0.1).hull(u);
                    let expected = centers(&hull.features);
                    for (a, b) in centers(&moving.features).into_iter().zip(&expected) {
                        prop_assert!((a - *b).length() < 1e-9, "{:?}: {a} is not {b}", body.name);
                    }
                    for (corner, b) in corners.iter().zip(&expected) {
                        let a = corner.in_world(truck.at, truck.heading, &chain, &at);
                        prop_assert!((a - *b).length() < 1e-9, "{:?}: {a} is not {b}", body.name);
                    }
                }
            }
        }
    }
}
