//! Convex solids: the hull of balls and discs at one instant. World frame, meters.

pub(crate) mod nearest;
mod surface;

use glam::DVec3;

/// A ball or a flat disc, such as the flat end of a pole. Features are the corners of a [`Hull`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Feature {
    /// All points within `radius_m` of the center.
    Ball {
        /// The center, meters.
        center: DVec3,
        /// Not negative; zero makes the ball a point.
        radius_m: f64,
    },
    /// All points within `radius_m` of the center, in the plane across `axis`.
    Disc {
        /// The center, meters.
        center: DVec3,
        /// Unit normal of the disc.
        axis: DVec3,
        /// Not negative.
        radius_m: f64,
    },
}

impl Feature {
    /// The feature's point farthest along `direction`, which may have any length. A zero direction gives the center.
    pub fn farthest(&self, direction: DVec3) -> DVec3 {
        match *self {
            Feature::Ball { center, radius_m } => center + direction.normalize_or_zero() * radius_m,
            Feature::Disc { center, axis, radius_m } => center + across(direction, axis) * radius_m,
        }
    }
}

/// The unit vector of the part of `direction` that is perpendicular to the unit vector `axis`; zero along the axis.
///
/// Along the axis only rounding remains, and rounding may point anywhere, even out of the disc's plane.
pub(crate) fn across(direction: DVec3, axis: DVec3) -> DVec3 {
    let unit = direction.normalize_or_zero();
    let rest = unit - axis * unit.dot(axis);
    if rest.length_squared() < 1e-24 {
        return DVec3::ZERO;
    }
    let rest = rest.normalize_or_zero();
    (rest - axis * rest.dot(axis)).normalize_or_zero()
}

/// The convex hull of balls and discs.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Hull {
    /// The corners. A hull without features is empty.
    pub features: Vec<Feature>,
}

/// An axis-aligned box, meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    /// The smallest x, y and z.
    pub low: DVec3,
    /// The largest x, y and z.
    pub high: DVec3,
}

impl Extent {
    /// The box that holds nothing. Joined with another box it gives the other.
    pub const EMPTY: Self = Self { low: DVec3::splat(f64::INFINITY), high: DVec3::splat(f64::NEG_INFINITY) };

    /// The box that holds everything.
    pub const ALL: Self = Self { low: DVec3::splat(f64::NEG_INFINITY), high: DVec3::splat(f64::INFINITY) };

    /// The box extended to hold a ball.
    #[must_use]
    pub fn with_ball(self, center: DVec3, radius_m: f64) -> Self {
        Self { low: self.low.min(center - radius_m), high: self.high.max(center + radius_m) }
    }

    /// The smallest box that holds both.
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// The box grown by `by_m` on every side.
    #[must_use]
    pub fn grown(self, by_m: f64) -> Self {
        Self { low: self.low - by_m, high: self.high + by_m }
    }

    /// The shortest vector from `other` to this box; zero when they overlap.
    ///
    /// Its length is a lower bound: no point of the one is nearer to a point of the other.
    pub fn way_from(self, other: Self) -> DVec3 {
        (self.low - other.high).max(DVec3::ZERO) - (other.low - self.high).max(DVec3::ZERO)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_farthest_point_of_a_disc_lies_in_its_plane_also_along_its_axis() {
        for turn in 0..2000 {
            let axis = DVec3::new(f64::from(turn).sin(), (1.7 * f64::from(turn)).cos(), 0.3).normalize();
            let aside = axis.any_orthonormal_vector();
            for off in [0.0, 1e-17, 1e-16, 1e-15, 1e-13, 1e-11, 1e-8, 1.0] {
                let disc = Feature::Disc { center: DVec3::ZERO, axis, radius_m: 0.5 };
                let farthest = disc.farthest((axis + aside * off) * 3.0);
                assert!(farthest.dot(axis).abs() < 1e-15, "{axis} off by {off}: {farthest}");
                assert!(farthest.length() < 0.5 + 1e-15);
            }
        }
    }
}
