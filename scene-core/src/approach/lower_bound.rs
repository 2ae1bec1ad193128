//! A lower bound of the gap along a fixed direction, and how far around an instant it holds.
//!
//! For any unit vector n and any u, gap ≥ min over corners of (n·corner − radius) − support of the family − wire
//! radius. Around u₀ the contribution of each corner is at least `f0 + f1·Δ + c·Δ²/2` with `c = max(f2 − M3·h/3, −M2)`
//! for all 0 ≤ Δ ≤ h: Taylor's theorem with the third derivative bounded by M3; backward with f1 negated.
//!
//! A disc of radius r and axis a reaches r·√(1−s²) along n, with s = n·a. This is concave in s, hence below its tangent
//! at any s_c: `√(1−s²) ≤ (1 − s_c·s)/√(1−s_c²)`. So the point `p + κ·a` with κ = r·s_c/√(1−s_c²), less r/√(1−s_c²),
//! bounds the disc. The same formula serves balls and discs.

use super::part_motion::{CornerPose, Pose};
use super::proof::Measure;
use crate::motion::track::Bounds;
use glam::DVec3;

/// `n·corner − radius` around one instant, less everything that the wire subtracts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lower {
    value: f64,
    first: f64,
    second: f64,
    bounds: Bounds,
}

impl Lower {
    /// The first derivative in the given sense of u, and a lower bound of the second as far as `most`.
    fn runs(&self, sense: f64, most: f64) -> (f64, f64) {
        (self.first * sense, (self.second - self.bounds.third * most / 3.0).max(-self.bounds.second))
    }
}

/// The bounds of all corners around one instant.
#[derive(Clone, Debug, Default)]
pub(super) struct LowerBound {
    corners: Vec<Lower>,
}

impl LowerBound {
    /// Computes the bounds along `n`.
    ///
    /// `taken_m` is subtracted from every corner besides its radius: the family's support along n, the wire's radius,
    /// shape error, motion error, rounding. The tangents of discs are chosen so that the bound keeps `threshold_m` as
    /// far as possible.
    pub fn set(&mut self, pose: &Pose, measure: Measure, n: DVec3, taken_m: f64, threshold_m: f64) {
        self.corners.clear();
        self.corners.extend(
            pose.corners.iter().map(|corner| corner_bound(corner, n, corner.ball(measure) + taken_m, threshold_m)),
        );
    }

    /// Computes the bounds between two solids at one instant along n, from `b` to `a`: every corner of the one with
    /// every corner of the other. `taken_m` is motion error and rounding.
    pub fn set_between(&mut self, [a, b]: [&Pose; 2], measure: Measure, n: DVec3, taken_m: f64, threshold_m: f64) {
        self.corners.clear();
        let nearest = |pose: &Pose, n: DVec3| {
            let along = pose.corners.iter().map(|corner| {
                let s = n.dot(corner.axis.at);
                let disc_m = if corner.disc_m > 0.0 { corner.disc_m * (1.0 - s * s).max(0.0).sqrt() } else { 0.0 };
                n.dot(corner.at.at) - corner.ball(measure) - disc_m
            });
            along.fold(f64::INFINITY, f64::min)
        };
        let (of_a, of_b) = (nearest(a, n), nearest(b, -n));
        // The tangent of a disc may use half of the available room, so each side gets half.
        let room_m = (of_a + of_b - taken_m - threshold_m).max(0.0);
        let least_m = threshold_m + room_m / 2.0;
        for corner_a in &a.corners {
            let one = corner_bound(corner_a, n, corner_a.ball(measure) + taken_m - of_b, least_m);
            for corner_b in &b.corners {
                let other = corner_bound(corner_b, -n, corner_b.ball(measure) + taken_m - of_a, least_m);
                self.corners.push(Lower {
                    value: one.value + other.value + taken_m - of_a - of_b,
                    first: one.first + other.first,
                    second: one.second + other.second,
                    bounds: Bounds {
                        second: one.bounds.second + other.bounds.second,
                        third: one.bounds.third + other.bounds.third,
                    },
                });
            }
        }
    }

    /// The bound at the instant itself.
    pub fn value(&self) -> f64 {
        self.corners.iter().fold(f64::INFINITY, |least, corner| least.min(corner.value))
    }

    /// How far from the instant, up to `most`, the bound stays at or above `threshold`. `sense` is 1 for forward in u,
    /// −1 for backward. The bound at the instant itself must keep the threshold.
    pub fn reach(&self, threshold: f64, sense: f64, most: f64) -> f64 {
        let first = self.reach_within(threshold, sense, most);
        if first >= most {
            return most;
        }
        // Over a shorter stretch the third derivative costs less.
        let shorter = (2.0 * first).min(most);
        first.max(self.reach_within(threshold, sense, shorter))
    }

    fn reach_within(&self, threshold: f64, sense: f64, most: f64) -> f64 {
        let mut reach = most;
        for corner in &self.corners {
            let room = corner.value - threshold;
            let (slope, bend) = corner.runs(sense, most);
            if room + slope.min(0.0) * reach + bend.min(0.0) * reach * reach / 2.0 >= 0.0 {
                continue;
            }
            // The first root of room + slope·Δ + bend·Δ²/2.
            let square = slope * slope - 2.0 * bend * room;
            if square < 0.0 {
                continue;
            }
            let below = square.sqrt() - slope;
            if below > 0.0 {
                reach = reach.min(2.0 * room / below);
            }
        }
        // NaN excludes nothing.
        if reach >= 0.0 { reach } else { 0.0 }
    }

    /// The stretch around the instant, within `from` … `to`, over which the bound stays at or above `threshold`. `None`
    /// when the instant itself does not, or when the stretch is shorter than `least`.
    pub fn holds_over(&self, threshold: f64, instant: f64, [from, to]: [f64; 2], least: f64) -> Option<[f64; 2]> {
        let here = self.value();
        // NaN proves nothing.
        if here.is_nan() || here < threshold {
            return None;
        }
        let back = self.reach(threshold, -1.0, instant - from);
        let on = self.reach(threshold, 1.0, to - instant);
        let low = if back < instant - from { instant - back } else { from };
        let high = if on < to - instant { instant + on } else { to };
        (back + on >= least).then_some([low, high])
    }

    /// The least value of the bound from the instant as far as `most`, in one sense of u.
    pub fn least(&self, sense: f64, most: f64) -> f64 {
        let least = self.corners.iter().map(|corner| {
            let (slope, bend) = corner.runs(sense, most);
            let at = |by: f64| corner.value + by * (slope + by * bend / 2.0);
            let turn = if bend > 0.0 { (-slope / bend).clamp(0.0, most) } else { most };
            at(turn).min(at(most)).min(corner.value)
        });
        // NaN proves nothing.
        least.fold(f64::INFINITY, |least, x| {
            if x <= least {
                x
            } else if x.is_nan() {
                f64::NEG_INFINITY
            } else {
                least
            }
        })
    }

    /// An estimate of the bound at a distance `by` from the instant. It orders the search and is not a bound.
    pub fn guess(&self, by: f64) -> f64 {
        self.corners.iter().fold(f64::INFINITY, |least, corner| {
            least.min(corner.value + by * (corner.first + by * corner.second / 2.0))
        })
    }
}

fn corner_bound(corner: &CornerPose, n: DVec3, taken_m: f64, threshold_m: f64) -> Lower {
    let at = &corner.at;
    let mut lower = Lower {
        value: n.dot(at.at) - taken_m,
        first: n.dot(at.first),
        second: n.dot(at.second),
        bounds: corner.at_bounds,
    };
    if corner.disc_m > 0.0 {
        let axis = &corner.axis;
        let s = n.dot(axis.at);
        // Near s = ±1 the tangent at s is steep. A gentler tangent loses at most half of √(1−s_c²) times r here: half
        // of the room.
        let room_m = lower.value - corner.disc_m * (1.0 - s * s).max(0.0).sqrt() - threshold_m;
        // NaN counts as no room.
        let share = if room_m > 0.0 { room_m / corner.disc_m } else { 0.0 };
        let gentlest = share.clamp(1e-6, 0.7);
        let steepest = (1.0 - gentlest * gentlest).sqrt();
        let s_c = s.clamp(-steepest, steepest);
        let root = (1.0 - s_c * s_c).sqrt();
        let k = corner.disc_m * s_c / root;
        lower.value += k * s - corner.disc_m / root;
        lower.first += k * n.dot(axis.first);
        lower.second += k * n.dot(axis.second);
        lower.bounds.second += k.abs() * corner.axis_bounds.second;
        lower.bounds.third += k.abs() * corner.axis_bounds.third;
    }
    lower
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_disc_reaches_no_farther_than_its_tangent_says() {
        for k in -50..=50 {
            let s_c = f64::from(k) / 51.0;
            for j in -100..=100 {
                let s = f64::from(j) / 100.0;
                let root = (1.0 - s_c * s_c).sqrt();
                assert!((1.0 - s * s).sqrt() <= (1.0 - s_c * s) / root + 1e-12);
            }
        }
    }
}
