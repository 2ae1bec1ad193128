//! The straight line between the two ends of a span.

use super::catenary::{Catenary, CatenaryError};
use crate::bracket::Bracket;
use glam::DVec3;

/// Relative widening that covers an inward rounding of a square root or a division.
pub(super) const ROUNDING: f64 = 1e-12;

/// A chord and the directions along and across it. World frame, meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Chord {
    pub from: DVec3,
    pub to: DVec3,
    /// Horizontal unit vector from `from` to `to`.
    pub along: DVec3,
    /// Horizontal unit vector to the left of `along`.
    pub lateral: DVec3,
    pub run_m: f64,
    pub rise_m: f64,
}

impl Chord {
    /// The chord between two points.
    ///
    /// # Errors [`CatenaryError::NoRun`] for points that make no span.
    pub fn new(from: DVec3, to: DVec3) -> Result<Self, CatenaryError> {
        let level = DVec3::new(to.x - from.x, to.y - from.y, 0.0);
        let (run_m, rise_m) = (level.length(), to.z - from.z);
        // The catenary decides what makes a span.
        Catenary::new(run_m, rise_m, 0.0)?;
        let along = level / run_m;
        Ok(Self { from, to, along, lateral: DVec3::new(-along.y, along.x, 0.0), run_m, rise_m })
    }

    /// Distance of the ends, meters.
    pub fn length_m(&self) -> f64 {
        self.run_m.hypot(self.rise_m)
    }

    /// The run seen in a plane in which the resultant load tilts by `blowout` radians from vertical, meters.
    pub fn tilted_run_m(&self, blowout: f64) -> f64 {
        self.run_m.hypot(self.rise_m * blowout.sin())
    }

    /// The runs and rises seen in all planes that tilt up to `blowout` radians, meters.
    pub fn tilted(&self, blowout: f64) -> Option<(Bracket, Bracket)> {
        Some((
            Bracket::between(self.run_m, self.tilted_run_m(blowout))?,
            Bracket::between(self.rise_m, self.rise_m * blowout.cos())?,
        ))
    }
}
