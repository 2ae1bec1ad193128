//! From the load's plumb point to the joints that put it there, in closed form.
//!
//! The boom's length is given. Its angle follows from the radius: with K = √((L + along)² + below²), φ = atan2(below, L + along),
//! radius = foot offset + sheave radius + K·cos(angle − φ), so angle = φ ± acos(…); of the two the one within the limits is
//! taken, and the nearer to the present angle when both are.

use super::CraneFrame;
use crate::bracket::Bracket;
use glam::DVec3;
use std::f64::consts::TAU;
use thiserror::Error;

/// Rounding at a limit: radians.
const AT_LIMIT: f64 = 1e-9;
/// A plumb point this near to the slew axis has no bearing: meters.
const NO_BEARING_M: f64 = 1e-6;

#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum ReachError {
    #[error("a number is missing or is not a number")]
    NotANumber,
    #[error("radius {radius_m} m is nearer than the boom can come: {least_m} m at this length")]
    TooNear { radius_m: f64, least_m: f64 },
    #[error("radius {radius_m} m is farther than the boom reaches: {most_m} m at this length")]
    TooFar { radius_m: f64, most_m: f64 },
    #[error(
        "radius {radius_m} m needs boom angle {angle} rad, outside {low} to {high} rad; radii {least_m} to {most_m} m"
    )]
    BoomAngle { radius_m: f64, angle: f64, low: f64, high: f64, least_m: f64, most_m: f64 },
    #[error("boom length {length_m} m is outside {low_m} to {high_m} m")]
    BoomLength { length_m: f64, low_m: f64, high_m: f64 },
    #[error("swing {swing} rad is outside {low} to {high} rad")]
    Swing { swing: f64, low: f64, high: f64 },
}

impl CraneFrame {
    /// The boom angle at which the load's plumb line has this radius, nearest to `near`.
    pub fn boom_angle_for(&self, radius_m: f64, boom_length_m: f64, near: f64) -> Result<f64, ReachError> {
        let along = boom_length_m + self.head_along_m;
        let (amplitude, phase) = (along.hypot(self.head_below_m), self.head_below_m.atan2(along));
        let rest = radius_m - self.foot_offset_m - self.sheave_radius_m;
        if ![radius_m, boom_length_m, near, amplitude, phase, rest].iter().all(|x| x.is_finite()) {
            return Err(ReachError::NotANumber);
        }
        let limits = self.boom_angle;
        let radii = self.radius_range(limits, Bracket::exactly(boom_length_m));
        if radius_m <= NO_BEARING_M || rest < -amplitude || amplitude == 0.0 {
            return Err(ReachError::TooNear { radius_m, least_m: radii.low() });
        }
        if rest > amplitude {
            return Err(ReachError::TooFar { radius_m, most_m: radii.high() });
        }
        let opening = (rest / amplitude).clamp(-1.0, 1.0).acos();
        let nearest = [phase + opening, phase - opening]
            .into_iter()
            .filter(|&angle| limits.widened(AT_LIMIT).allows(angle))
            .map(|angle| angle.clamp(limits.low(), limits.high()))
            .min_by(|a, b| (a - near).abs().total_cmp(&(b - near).abs()));
        nearest.ok_or(ReachError::BoomAngle {
            radius_m,
            angle: phase + opening,
            low: limits.low(),
            high: limits.high(),
            least_m: radii.low(),
            most_m: radii.high(),
        })
    }

    /// The swing that brings the boom over the bearing of `point`, from `now` the shorter way that the limits allow.
    pub fn swing_toward(&self, point: DVec3, now: f64) -> Result<f64, ReachError> {
        let from_axis = (point - self.at).truncate();
        if !from_axis.is_finite() || !now.is_finite() {
            return Err(ReachError::NotANumber);
        }
        if from_axis.length() <= NO_BEARING_M {
            return Err(ReachError::TooNear { radius_m: from_axis.length(), least_m: NO_BEARING_M });
        }
        let wanted = from_axis.y.atan2(from_axis.x) - self.heading;
        turn_within(wanted, now, self.swing).map_err(|_| ReachError::Swing {
            swing: now + shortest_turn(now, wanted),
            low: self.swing.low(),
            high: self.swing.high(),
        })
    }

    /// Swing and boom angle that bring the load's plumb line through `point` (its height does not count).
    pub fn reach(
        &self,
        point: DVec3,
        boom_length_m: f64,
        swing: f64,
        boom_angle: f64,
    ) -> Result<(f64, f64), ReachError> {
        self.accepts_length(boom_length_m)?;
        let swing = self.swing_toward(point, swing)?;
        let angle = self.boom_angle_for((point - self.at).truncate().length(), boom_length_m, boom_angle)?;
        Ok((swing, angle))
    }

    pub fn accepts_length(&self, length_m: f64) -> Result<(), ReachError> {
        let limits = self.boom_length_m;
        match limits.widened(AT_LIMIT).allows(length_m) {
            true => Ok(()),
            false if length_m.is_nan() => Err(ReachError::NotANumber),
            false => Err(ReachError::BoomLength { length_m, low_m: limits.low(), high_m: limits.high() }),
        }
    }
}

/// The angle of this direction that is reached from `now` the shorter way that the limits allow; how far it is beyond them
/// when they allow none.
pub(crate) fn turn_within(wanted: f64, now: f64, limits: Bracket) -> Result<f64, f64> {
    if limits.is_bounded() && limits.width() >= TAU - AT_LIMIT {
        return Ok(now + shortest_turn(now, wanted));
    }
    let first = wanted + ((limits.low() - AT_LIMIT - wanted) / TAU).ceil() * TAU;
    [first, first + TAU]
        .into_iter()
        .filter(|&angle| limits.widened(AT_LIMIT).allows(angle))
        .map(|angle| angle.clamp(limits.low(), limits.high()))
        .min_by(|a, b| (a - now).abs().total_cmp(&(b - now).abs()))
        .ok_or((first - limits.high()).min(limits.low() - (first - TAU)))
}

/// From one direction to another the shorter way: −π … π.
pub fn shortest_turn(from: f64, to: f64) -> f64 {
    let turn = (to - from).rem_euclid(TAU);
    if turn > TAU / 2.0 { turn - TAU } else { turn }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machine::crane::Joints;
    use proptest::prelude::*;

    fn frame(foot_offset_m: f64, head_along_m: f64, head_below_m: f64, swing: Bracket) -> CraneFrame {
        CraneFrame {
            at: DVec3::new(12.0, -7.0, 100.0),
            heading: 0.7,
            foot_offset_m,
            foot_height_m: 2.4,
            head_along_m,
            head_below_m,
            sheave_radius_m: 0.2,
            block_length_m: 0.6,
            rigging_length_m: 2.0,
            boom_length_m: Bracket::between(8.0, 30.0).unwrap(),
            boom_angle: Bracket::between(-0.05, 1.43).unwrap(),
            swing,
        }
    }

    fn whole_circle() -> Bracket {
        Bracket::between(-TAU / 2.0, TAU / 2.0).unwrap()
    }

    proptest! {
        #[test]
        fn the_hook_comes_back_plumb_over_the_point_it_was_over(
            swing in -3.1..3.1_f64, angle in 0.15..1.42_f64, length in 8.0..30.0_f64,
            offset in -1.5..1.0_f64, along in -0.3..0.5_f64, below in 0.0..0.6_f64,
        ) {
            let crane = frame(offset, along, below, whole_circle());
            let joints = Joints { swing, boom_angle: angle, boom_length_m: length, hoist_length_m: 3.0, ..Joints::default() };
            prop_assume!(crane.radius_m(angle, length) > 0.5);
            let hook = crane.hook_in_world(&joints);
            let (swing_back, angle_back) = crane.reach(hook, length, swing, angle).unwrap();
            prop_assert!((swing_back - swing).abs() < 1e-9);
            prop_assert!((angle_back - angle).abs() < 1e-7, "{angle_back} {angle}");
            let again = crane.hook_in_world(&Joints { swing: swing_back, boom_angle: angle_back, ..joints });
            prop_assert!((again - hook).truncate().length() < 1e-9);
        }

        #[test]
        fn the_boom_angle_follows_the_radius_without_a_jump(
            angle in 0.2..1.3_f64, length in 8.0..30.0_f64, by in -0.05..0.05_f64,
        ) {
            let crane = frame(-1.0, 0.3, 0.4, whole_circle());
            let radius = crane.radius_m(angle, length) + by;
            prop_assume!(radius > 0.5);
            if let Ok(found) = crane.boom_angle_for(radius, length, angle) {
                prop_assert!((found - angle).abs() < 0.05, "{found} {angle}");
            }
        }

        #[test]
        fn no_number_makes_the_inverse_panic(x in prop::num::f64::ANY, y in prop::num::f64::ANY, l in prop::num::f64::ANY, a in prop::num::f64::ANY) {
            let crane = frame(-1.0, 0.3, 0.4, Bracket::between(-1.0, 1.0).unwrap());
            let _ = crane.reach(DVec3::new(x, y, 0.0), l, a, a);
        }

        #[test]
        fn no_sampled_radius_leaves_the_range(
            a in -0.5..3.5_f64, b in -0.5..3.5_f64, l0 in 5.0..30.0_f64, l1 in 5.0..30.0_f64, fa in 0.0..1.0_f64, fl in 0.0..1.0_f64,
        ) {
            let crane = frame(-1.0, 0.3, 0.4, whole_circle());
            let (angle, length) = (Bracket::between(a, b).unwrap(), Bracket::between(l0, l1).unwrap());
            let range = crane.radius_range(angle, length).widened(1e-12);
            prop_assert!(range.contains(crane.radius_m(angle.at(fa), length.at(fl))));
            let joints = Joints { boom_angle: angle.at(fa), boom_length_m: length.at(fl), ..Joints::default() };
            let top = crane.line_top_in_world(&joints).z - crane.at.z;
            prop_assert!(crane.line_top_height_range(angle, length).widened(1e-9).contains(top));
        }
    }

    #[test]
    fn a_point_beyond_the_boom_is_too_far_and_one_at_the_axis_too_near() {
        let crane = frame(-1.0, 0.0, 0.0, whole_circle());
        assert!(matches!(crane.boom_angle_for(40.0, 20.0, 1.0), Err(ReachError::TooFar { .. })));
        assert!(matches!(crane.reach(crane.at, 20.0, 0.0, 1.0), Err(ReachError::TooNear { .. })));
        // 20 m of boom at its steepest, 1.43 rad, does not come to 1 m.
        assert!(matches!(crane.boom_angle_for(1.0, 20.0, 1.0), Err(ReachError::BoomAngle { .. })));
        assert!(matches!(crane.accepts_length(31.0), Err(ReachError::BoomLength { .. })));
    }

    #[test]
    fn a_blocked_sector_is_gone_round_the_longer_way_and_never_through() {
        let crane = frame(-1.0, 0.0, 0.0, Bracket::between(-3.0, 3.0).unwrap());
        let toward = |swing: f64| crane.at + crane.outward(swing) * 10.0;
        // From 2.9 to −2.9 the shorter way would pass over the blocked rear.
        assert!((crane.swing_toward(toward(-2.9), 2.9).unwrap() + 2.9).abs() < 1e-9);
        assert!(matches!(crane.swing_toward(toward(3.1), 2.9), Err(ReachError::Swing { .. })));
        let free = frame(-1.0, 0.0, 0.0, whole_circle());
        assert!((free.swing_toward(toward(-2.9), 2.9).unwrap() - (TAU - 2.9)).abs() < 1e-9);
    }

    #[test]
    fn the_shorter_turn_is_never_more_than_half_a_circle() {
        assert!((shortest_turn(3.0, -3.0) - (TAU - 6.0)).abs() < 1e-12);
        assert!((shortest_turn(0.1, 0.0) + 0.1).abs() < 1e-12);
    }
}
