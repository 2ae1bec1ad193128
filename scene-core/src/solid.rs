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
