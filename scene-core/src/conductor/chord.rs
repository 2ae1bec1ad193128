//! The straight line between the two ends of a span.

use super::catenary::{Catenary, CatenaryError};
use crate::bracket::Bracket;
use glam::DVec3;

/// Relative widening of what a square root or a division may have rounded inward.
pub(super) const ROUNDING: f64 = 1e-12;

/// A chord and the directions along and across it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Chord {
    pub from: DVec3,
    pub to: DVec3,
    /// Horizontal unit vectors: the way the chord runs, and to its left.
    pub along: DVec3,
    pub lateral: DVec3,
    pub run_m: f64,
    pub rise_m: f64,
}

impl Chord {
    pub fn new(from: DVec3, to: DVec3) -> Result<Self, CatenaryError> {
        let level = DVec3::new(to.x - from.x, to.y - from.y, 0.0);
        let (run_m, rise_m) = (level.length(), to.z - from.z);
        // The catenary's own check of what is a span.
        Catenary::new(run_m, rise_m, 0.0)?;
        let along = level / run_m;
        Ok(Self { from, to, along, lateral: DVec3::new(-along.y, along.x, 0.0), run_m, rise_m })
    }

    pub fn length_m(&self) -> f64 {
        self.run_m.hypot(self.rise_m)
    }

    /// At right angles to the resultant load, when that is tilted by this angle.
    pub fn tilted_run_m(&self, blowout: f64) -> f64 {
        self.run_m.hypot(self.rise_m * blowout.sin())
    }

    /// What all planes tilted up to this angle see of the chord: its runs and rises.
    pub fn tilted(&self, blowout: f64) -> Option<(Bracket, Bracket)> {
        Some((
            Bracket::between(self.run_m, self.tilted_run_m(blowout))?,
            Bracket::between(self.rise_m, self.rise_m * blowout.cos())?,
        ))
    }
}
