//! From the middle of the rim to the joints that put it there, in closed form.
//!
//! The slew follows from the point's bearing and the bucket's offset to the left; it may face the point or have its back to
//! it. In the upright plane that is left, the booms are a planar arm of two links from the pin to the tip at (X, Z), as in
//! Craig, Introduction to Robotics, 2nd ed., section 4.4 (memory):
//! cos fold = (X² + Z² − L₁² − L₂²) / (2·L₁·L₂), lower = atan2(Z, X) − atan2(L₂·sin fold, L₁ + L₂·cos fold).
//! The fold's sign is the elbow's side. Of the solutions within the limits the nearest to the present joints is taken, so that
//! small moves of the bucket do not throw the elbow over.

use super::kind::ROTATION;
use super::{BucketTruck, Joints, Linkage};
use crate::machine::crane::reach::turn_within;
use crate::machine::joint::{self, AT_LIMIT};
use crate::machine::lift::{ElbowSide, Lift, ReachError};
use glam::DVec3;

impl BucketTruck {
    /// The joints nearest to `near` that put the middle of the rim at `rim`, the elbow on the stated side.
    pub fn reach(&self, rim: DVec3, near: &Joints, elbow: Option<ElbowSide>) -> Result<Joints, ReachError> {
        let from_axis = rim - self.at;
        let level_m = from_axis.truncate().length();
        let lengths = [self.lower_length_m(), self.upper.length_m.low(), self.pin_offset_m, self.pin_height_m];
        let bucket = &self.bucket;
        let offsets = [bucket.ahead_m, bucket.left_m, bucket.below_m, near.slew, near.lower, near.upper, near.length_m];
        if !from_axis.is_finite() || !lengths.iter().chain(&offsets).all(|x| x.is_finite()) {
            return Err(ReachError::NotANumber);
        }
        let left_m = self.bucket.left_m;
        let out_m = (level_m * level_m - left_m * left_m).max(0.0).sqrt();
        if level_m < left_m.abs() {
            return Err(ReachError::TooNear { by_m: left_m.abs() - level_m });
        }
        let chain = self.joints();
        let mut best: Option<(f64, Joints)> = None;
        let mut missed: Option<ReachError> = None;
        for out_m in [out_m, -out_m] {
            let bearing = from_axis.y.atan2(from_axis.x) - left_m.atan2(out_m) - self.heading;
            let slew = match turn_within(bearing, near.slew, self.slew) {
                Ok(slew) => slew,
                Err(by) => {
                    missed = less_far(missed, ReachError::Limit { joint: ROTATION, by });
                    continue;
                }
            };
            let x = out_m - bucket.ahead_m - self.pin_offset_m;
            let z = from_axis.z + bucket.below_m - self.pin_height_m;
            for found in self.planar(x, z, near.length_m) {
                match found {
                    Ok((side, lower, upper, length_m)) => {
                        if elbow.is_some_and(|wanted| Some(wanted) != side && side.is_some()) {
                            continue;
                        }
                        let joints = Joints { slew, lower, upper, length_m };
                        match joint::beyond_limits(&chain, &joints.into()) {
                            Some((joint, by)) => {
                                missed = less_far(missed, ReachError::Limit { joint, by });
                            }
                            None => {
                                let cost = way(near, &joints);
                                if best.is_none_or(|(least, _)| cost < least) {
                                    best = Some((cost, joints));
                                }
                            }
                        }
                    }
                    Err(error) => missed = less_far(missed, error),
                }
            }
        }
        match best {
            Some((_, joints)) => Ok(joints),
            None => Err(missed.unwrap_or(ReachError::NotANumber)),
        }
    }

    /// The upright plane: both elbows, with the length kept where that is possible.
    fn planar(&self, x: f64, z: f64, length_m: f64) -> Vec<Planar> {
        let away_m = x.hypot(z);
        let lengths = self.upper.length_m;
        let angle = z.atan2(x);
        match self.linkage {
            Linkage::Telescoping { angle: limits } => {
                if away_m > lengths.high() + AT_LIMIT {
                    return vec![Err(ReachError::TooFar { by_m: away_m - lengths.high() })];
                }
                if away_m < lengths.low() - AT_LIMIT {
                    return vec![Err(ReachError::TooNear { by_m: lengths.low() - away_m })];
                }
                let length_m = away_m.clamp(lengths.low(), lengths.high());
                vec![Ok((None, 0.0, in_turn(angle, limits.middle()), length_m))]
            }
            Linkage::Articulating { length_m: lower_m, angle: limits, .. } => {
                if away_m > lower_m + lengths.high() + AT_LIMIT {
                    return vec![Err(ReachError::TooFar { by_m: away_m - lower_m - lengths.high() })];
                }
                let kept = length_m.clamp(lengths.low(), lengths.high());
                // The length nearest to the present one with which the links can close the triangle, and both ends.
                let closing = kept.max((away_m - lower_m).abs()).min(away_m + lower_m);
                let mut found = Vec::new();
                let mut by_m = f64::INFINITY;
                for upper_m in [closing, lengths.low(), lengths.high()] {
                    let least_m = (lower_m - upper_m).abs();
                    if upper_m > lengths.high() + AT_LIMIT
                        || upper_m < lengths.low() - AT_LIMIT
                        || away_m < least_m - AT_LIMIT
                        || away_m > lower_m + upper_m + AT_LIMIT
                    {
                        by_m = by_m.min((least_m - away_m).abs());
                        continue;
                    }
                    let cos = (away_m * away_m - lower_m * lower_m - upper_m * upper_m) / (2.0 * lower_m * upper_m);
                    let opening = cos.clamp(-1.0, 1.0).acos();
                    for fold in [opening, -opening] {
                        let (sin, cos) = fold.sin_cos();
                        let lower = in_turn(angle - (upper_m * sin).atan2(lower_m + upper_m * cos), limits.middle());
                        let side = if (fold < 0.0) == (x >= 0.0) { ElbowSide::Up } else { ElbowSide::Down };
                        found.push(Ok((Some(side), lower, lower + fold, upper_m)));
                    }
                }
                if found.is_empty() {
                    found.push(Err(ReachError::TooNear { by_m }));
                }
                found
            }
        }
    }
}

/// Elbow's side, lower angle, upper angle, upper length.
type Planar = Result<(Option<ElbowSide>, f64, f64, f64), ReachError>;

/// The same direction, within half a turn of `about`.
fn in_turn(angle: f64, about: f64) -> f64 {
    about + crate::machine::crane::reach::shortest_turn(about, angle)
}

/// How far the joints are from each other; a meter of extension weighs like a tenth of a radian.
fn way(from: &Joints, to: &Joints) -> f64 {
    (to.slew - from.slew).abs()
        + (to.lower - from.lower).abs()
        + (to.upper - from.upper).abs()
        + 0.1 * (to.length_m - from.length_m).abs()
}

/// Of two reasons the one that less is missing for; a limit, which a pose with other joints may keep, before a distance.
fn less_far(kept: Option<ReachError>, found: ReachError) -> Option<ReachError> {
    let rank = |error: &ReachError| match *error {
        ReachError::Limit { by, .. } => (0, by),
        ReachError::TooFar { by_m } | ReachError::TooNear { by_m } => (1, by_m),
        ReachError::NotANumber => (2, 0.0),
    };
    match kept {
        Some(kept) if rank(&kept) <= rank(&found) => Some(kept),
        _ => Some(found),
    }
}
