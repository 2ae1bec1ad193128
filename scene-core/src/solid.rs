//! Convex solids: the hull of balls and discs at one instant.

use glam::DVec3;

/// A ball, or a flat disc (the flat end of a pole): the corners of a hull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Feature {
    Ball {
        centre: DVec3,
        radius_m: f64,
    },
    /// `axis` is the unit normal of the disc.
    Disc {
        centre: DVec3,
        axis: DVec3,
        radius_m: f64,
    },
}

impl Feature {
    /// The point farthest along `direction`, which need not be a unit vector; zero gives the centre.
    pub fn farthest(&self, direction: DVec3) -> DVec3 {
        match *self {
            Feature::Ball { centre, radius_m } => centre + direction.normalize_or_zero() * radius_m,
            Feature::Disc { centre, axis, radius_m } => {
                centre + (direction - axis * direction.dot(axis)).normalize_or_zero() * radius_m
            }
        }
    }
}

/// The convex hull of its features.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Hull {
    pub features: Vec<Feature>,
}

/// A box along the axes that holds something, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    pub low: DVec3,
    pub high: DVec3,
}

impl Extent {
    /// Holds nothing; joined with another it is the other.
    pub const EMPTY: Self = Self { low: DVec3::splat(f64::INFINITY), high: DVec3::splat(f64::NEG_INFINITY) };

    #[must_use]
    pub fn with_ball(self, centre: DVec3, radius_m: f64) -> Self {
        Self { low: self.low.min(centre - radius_m), high: self.high.max(centre + radius_m) }
    }

    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// The shortest way from `other` to this box; zero when they overlap. No two points, one of each, are nearer.
    pub fn way_from(self, other: Self) -> DVec3 {
        (self.low - other.high).max(DVec3::ZERO) - (other.low - self.high).max(DVec3::ZERO)
    }
}
