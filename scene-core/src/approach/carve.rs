//! The lower bound along a fixed direction, and how far around an instant it holds.
//!
//! For any unit vector n and any u, gap ≥ min over corners of (n·corner − radius) − support of the family − wire radius.
//! Around u₀ each corner's part is at least `f0 + f1·Δ + c·Δ²/2` with `c = max(f2 − M3·h/3, −M2)` for all 0 ≤ Δ ≤ h (Taylor
//! with the third derivative bounded by M3; backwards with f1 negated).
//!
//! A disc of radius r and axis a reaches r·√(1−s²) along n, s = n·a. That is concave in s, hence below its tangent at any s_c:
//! `√(1−s²) ≤ (1 − s_c·s)/√(1−s_c²)`. So a disc is bounded by the point `p + κ·a`, κ = r·s_c/√(1−s_c²), less r/√(1−s_c²):
//! the same formula serves balls and discs.

use super::Measure;
use super::leg::{CornerPose, Pose};
use crate::motion::track::Bounds;
use glam::DVec3;

/// `n·corner − radius` around one instant, less what the wire takes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lower {
    value: f64,
    first: f64,
    second: f64,
    bounds: Bounds,
}

impl Lower {
    /// First derivative in this sense of u, and what the second is at least as far as `most`.
    fn runs(&self, sense: f64, most: f64) -> (f64, f64) {
        (self.first * sense, (self.second - self.bounds.third * most / 3.0).max(-self.bounds.second))
    }
}

/// The bound of every corner around one instant.
#[derive(Clone, Debug, Default)]
pub(super) struct LowerBound {
    corners: Vec<Lower>,
}

impl LowerBound {
    /// `taken_m` is what is subtracted from every corner besides its radius: the family's support along n, the wire's
    /// radius, form, blur, rounding. The bound is made to hold `threshold_m` as far as it can.
    pub fn set(&mut self, pose: &Pose, measure: Measure, n: DVec3, taken_m: f64, threshold_m: f64) {
        self.corners.clear();
        self.corners.extend(
            pose.corners.iter().map(|corner| corner_bound(corner, n, corner.ball(measure) + taken_m, threshold_m)),
        );
    }

    /// Two solids at one instant, n from `b` to `a`: every corner of the one with every corner of the other. `taken_m` is
    /// blur and rounding.
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
        // A disc's tangent may take half of the room it is told of: each side is told of half.
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

    /// At the instant itself.
    pub fn value(&self) -> f64 {
        self.corners.iter().fold(f64::INFINITY, |least, corner| least.min(corner.value))
    }

    /// How far from the instant, up to `most`, the bound stays at or above `threshold`; `sense` is 1 forward in u, −1
    /// backward. The instant itself must keep it.
    pub fn reach(&self, threshold: f64, sense: f64, most: f64) -> f64 {
        let first = self.reach_within(threshold, sense, most);
        if first >= most {
            return most;
        }
        // The shorter the stretch, the less the third derivative takes.
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
        // A NaN anywhere must not carve.
        if reach >= 0.0 { reach } else { 0.0 }
    }

    /// The stretch around the instant, within `from` … `to`, over which the bound stays at or above `threshold`; `None` when
    /// not even the instant keeps it, or when the stretch is shorter than `least`.
    pub fn keeps(&self, threshold: f64, instant: f64, [from, to]: [f64; 2], least: f64) -> Option<[f64; 2]> {
        let here = self.value();
        // A NaN keeps nothing.
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
        // A NaN bounds nothing.
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

    /// What the bound is likely to be at a distance `by` from the instant: an order to search in, not a bound.
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
        // Near s = ±1 the tangent at s itself is steep. A gentler one loses no more than half its √(1−s_c²) times r here:
        // half of the room.
        let room_m = lower.value - corner.disc_m * (1.0 - s * s).max(0.0).sqrt() - threshold_m;
        // A room that is not a number is none.
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
