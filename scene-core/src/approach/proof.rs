//! What a search measures and what it returns.

use crate::conductor::Member;
use glam::DVec3;

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// The geometric distance, nothing subtracted.
    Gap,
    /// The distance with every corner grown by its own allowance.
    GapLessAllowance,
}

/// A real placement, and the two points that its gap is between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Witness {
    /// The [`super::PartMotion::piece`].
    pub piece: usize,
    /// Index into the given motions.
    pub part_motion: usize,
    /// Index into the given curves.
    pub arc: usize,
    /// Fraction of the piece, 0 … 1.
    pub u: f64,
    /// The point of the wire, as a member of its family.
    pub member: Member,
    /// A point of the solid, grown by its allowance when the measure subtracts it. World frame, meters.
    pub on_body: DVec3,
    /// A point of the wire's center line. World frame, meters.
    pub on_wire: DVec3,
}

/// A bracket: `low_m ≤ smallest gap ≤ high_m`.
///
/// When the input cannot be used (nothing to compare, or a number that is NaN or infinite), low is −∞, high is ∞ and
/// `closed` is false.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof<W = Witness> {
    /// Lower bound of the gap, meters, rounded down.
    pub low_m: f64,
    /// Upper bound of the gap, meters: that of a real placement, rounded up.
    pub high_m: f64,
    /// A placement with the gap `high_m`. It need not be the closest instant.
    pub witness: Option<W>,
    /// The bracket is as narrow as requested, or the low reaches the gap that was said to be enough.
    pub closed: bool,
    /// Number of examined placements.
    pub evaluations: u32,
}

/// The answer to "do all placements keep this distance?".
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Decision<W = Witness> {
    /// Every placement of the whole motion and family keeps at least `low_m`, which is not below the threshold.
    Apart {
        /// Lower bound of the gap, meters.
        low_m: f64,
    },
    /// One placement does not.
    Short {
        /// That placement.
        witness: W,
        /// Its gap, meters, rounded up.
        high_m: f64,
    },
    /// Not proven either way. Never a pass.
    Undecided {
        /// Lower bound of the gap, meters.
        low_m: f64,
        /// Upper bound of the gap, meters.
        high_m: f64,
    },
}

impl<W> Proof<W> {
    /// The proof for input that cannot be used.
    pub(super) fn none() -> Self {
        Self { low_m: f64::NEG_INFINITY, high_m: f64::INFINITY, witness: None, closed: false, evaluations: 0 }
    }

    /// The proof as an answer for a threshold.
    pub(super) fn against(self, threshold_m: f64) -> Decision<W> {
        let Self { low_m, high_m, witness, .. } = self;
        match witness {
            Some(witness) if high_m < threshold_m => Decision::Short { witness, high_m },
            _ if low_m >= threshold_m => Decision::Apart { low_m },
            _ => Decision::Undecided { low_m, high_m },
        }
    }
}

/// A generous bound on rounding of a gap between coordinates of this size, meters.
pub(super) fn rounding_m(size_m: f64) -> f64 {
    1e-9 + 1e-12 * size_m
}
