//! The reason why one cell keeps the low of a proof.

use crate::conductor::Patch;
use glam::DVec3;

/// A stretch of one motion with a part of one family, and the reason why it keeps the low.
#[derive(Clone, Debug, PartialEq)]
pub struct Leaf {
    /// Index of the motion.
    pub part_motion: usize,
    /// Index of the family.
    pub arc: usize,
    /// Start of the stretch of u.
    pub from: f64,
    /// End of the stretch of u.
    pub to: f64,
    /// The part of the family.
    pub patch: Patch,
    /// The reason.
    pub claim: Claim,
}

/// Why a leaf keeps the low.
#[derive(Clone, Debug, PartialEq)]
pub enum Claim {
    /// The gap along a direction stays high enough over the leaf.
    Along {
        /// Unit vector from the wire to the body.
        n: DVec3,
        /// The instant at which the bound is expanded; within the leaf.
        u: f64,
        /// The claimed gap, meters.
        keeps_m: f64,
    },
    /// The boxes around the whole motion and the whole family are far enough apart.
    Boxes,
    /// The part stands exactly where another motion starts or ends.
    Held {
        /// Index of that motion.
        by: usize,
    },
}
