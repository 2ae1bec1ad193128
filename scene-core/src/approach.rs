//! The smallest gap between a moving convex part and a family of hanging wires, proven over the whole motion and the
//! whole family.
//!
//! Nothing is sampled. A piece of motion and a part of the family (a *cell*) is dismissed only when a lower bound that
//! holds for all of it says so, and every dismissal lowers the reported low to its own threshold:
//!
//! 1. `contact` finds a real pair of points, one of the hull at the middle of the cell, one of a member curve. It gives
//!    the high, and the direction n. Nothing depends on how well it does.
//! 2. `carve` takes the gap along n, `min over corners − support of the family`, which is a lower bound for any n, and
//!    carves from the cell the stretch of u over which second derivative and third-derivative bound keep it high enough.
//! 3. `search` goes on with what is left, and splits the family where that is what makes the bound loose.
//! 4. [`certificate`] writes the dismissals down, and replays them by arithmetic of its own.
//!
//! A gap is the distance from the solid to the wire's centre line less the wire's radius, so that it is never less than
//! minus that radius: how deep things go into each other is not measured. It never sees "a crane".
//!
//! [`crate::motion::MovingPart::blur_m`] widens the bracket both ways; where it is in the way the part is taken in
//! [halves](crate::motion::MovingPart::halves). `high` is that of one stated curve:
//! [`crate::conductor::SpanFamily::form_m`] counts in the low alone.

mod around;
mod carve;
pub mod certificate;
mod contact;
mod frontier;
mod ledger;
mod leg;
pub mod pair;
mod search;
mod strand;

pub use around::Around;
pub use leg::Leg;
pub use strand::Strand;

use crate::conductor::Member;
use crate::motion::MovingPart;
use glam::DVec3;
use ledger::Goal;

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// The geometric distance.
    Gap,
    /// Every corner grown by its own allowance.
    GapLessAllowance,
}

/// A real placement and the two points that its gap is between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Witness {
    /// [`Leg::piece`].
    pub piece: usize,
    /// Index into the legs and strands that were given.
    pub leg: usize,
    pub strand: usize,
    /// In the piece, 0 … 1.
    pub u: f64,
    pub member: Member,
    /// World frame, metres. On the solid, grown by its allowance when that is measured.
    pub on_body: DVec3,
    /// World frame, metres. On the wire's centre line.
    pub on_wire: DVec3,
}

/// `low_m ≤ smallest gap ≤ high_m`.
///
/// When the input cannot be used (nothing to compare, a number that is none), low is −∞, high is ∞ and `closed` is false.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof<W = Witness> {
    pub low_m: f64,
    pub high_m: f64,
    /// Attains the high; need not be the closest instant.
    pub witness: Option<W>,
    /// The bracket is as narrow as was asked for, or the low reaches what was said to be enough.
    pub closed: bool,
    /// How many placements were looked at.
    pub evaluations: u32,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Decision<W = Witness> {
    /// Every placement of the whole motion and family keeps at least `low_m`, which is not below the threshold.
    Apart { low_m: f64 },
    /// One does not.
    Short { witness: W, high_m: f64 },
    /// Not proven either way. Never a pass.
    Undecided { low_m: f64, high_m: f64 },
}

impl<W> Proof<W> {
    /// Of input that cannot be used.
    fn none() -> Self {
        Self { low_m: f64::NEG_INFINITY, high_m: f64::INFINITY, witness: None, closed: false, evaluations: 0 }
    }

    fn against(self, threshold_m: f64) -> Decision<W> {
        let Self { low_m, high_m, witness, .. } = self;
        match witness {
            Some(witness) if high_m < threshold_m => Decision::Short { witness, high_m },
            _ if low_m >= threshold_m => Decision::Apart { low_m },
            _ => Decision::Undecided { low_m, high_m },
        }
    }
}

/// Brackets the smallest gap of a part (its legs one after another) and a wire (its strands, each with the legs of the pieces
/// that it hangs so [`during`](Strand::during)), to `tolerance_m`, within `budget` evaluations.
pub fn smallest_gap(legs: &[Leg], strands: &[Strand], measure: Measure, tolerance_m: f64, budget: u32) -> Proof {
    search::run(legs, strands, measure, Goal::bracket(tolerance_m), budget)
}

/// Proves that every placement keeps `threshold_m`, or finds one that does not.
pub fn decide(legs: &[Leg], strands: &[Strand], measure: Measure, threshold_m: f64, budget: u32) -> Decision {
    search::run(legs, strands, measure, Goal::Decide { threshold_m }, budget).against(threshold_m)
}

/// What rounding may make of a gap between coordinates of this size, with room to spare.
fn rounding_m(size_m: f64) -> f64 {
    1e-9 + 1e-12 * size_m
}

/// The gap at one instant, bracketed to 0.1 mm: for drawing and for the trace.
pub fn gap_at(part: &MovingPart, u: f64, strand: &Strand, measure: Measure) -> Proof {
    let leg = Leg::frozen(part, u);
    let proof = smallest_gap(std::slice::from_ref(&leg), std::slice::from_ref(strand), measure, 1e-4, 400);
    Proof { witness: proof.witness.map(|witness| Witness { u, ..witness }), ..proof }
}

#[cfg(test)]
mod tests;
