//! The proof kernel: the smallest gap between a moving convex part and a family of wires, over the whole motion and the
//! whole family.
//!
//! Nothing is sampled. A *cell* is a stretch of motion together with a part of the family. The search dismisses a cell
//! only when a lower bound holds for all of it, and every dismissal lowers the reported low to its own threshold:
//!
//! 1. `contact` finds two real points: one of the solid at an instant within the cell, one of a member curve. They give
//!    the high end and the direction n. The proof does not depend on how close they are.
//! 2. `lower_bound` computes the gap along n, `min over corners − support of the family`, which is a lower bound for
//!    any n. The search excludes from the cell the stretch of u over which the derivatives keep this bound high enough.
//! 3. `search` continues with the rest of the cell, and splits the family where the family makes the bound loose.
//! 4. [`certificate`] records the dismissals and replays them with its own arithmetic.
//!
//! A gap is the distance from the solid to the wire's center line less the wire's radius. So it is never less than
//! minus that radius: how deep two things overlap is not measured. The kernel knows parts and families only, not
//! cranes.
//!
//! [`crate::motion::MovingPart::motion_error_m`] widens the bracket in both directions. Where it is too wide, the search takes
//! the part in [halves](crate::motion::MovingPart::halves). [`crate::conductor::SpanFamily::shape_error_m`] lowers the low end
//! only, because the high end is that of one stated curve.

pub mod certificate;
mod claim;
mod contact;
mod grown_box;
mod lower_bound;
pub mod pair;
mod part_motion;
mod progress;
mod proof;
mod queue;
mod search;
mod split;
mod wire_arc;

pub use grown_box::GrownBox;
pub use part_motion::PartMotion;
pub use proof::{Decision, Measure, Proof, Witness};
pub use wire_arc::WireArc;

use crate::motion::MovingPart;
use progress::Goal;

/// Brackets the smallest gap between a part and a wire to `tolerance_m`, within `budget` evaluations.
///
/// `part_motions` are the part's motions, piece by piece. Each meets the wire arcs that hang so [during](WireArc::during) its
/// piece. Unusable input gives an open proof from −∞ to ∞. Cost: about a microsecond per evaluation.
pub fn smallest_gap(
    part_motions: &[PartMotion],
    arcs: &[WireArc],
    measure: Measure,
    tolerance_m: f64,
    budget: u32,
) -> Proof {
    search::run(part_motions, arcs, measure, Goal::bracket(tolerance_m), budget)
}

/// Proves that every placement keeps `threshold_m`, or finds one that does not. Cheaper than [`smallest_gap`].
pub fn decide(
    part_motions: &[PartMotion],
    arcs: &[WireArc],
    measure: Measure,
    threshold_m: f64,
    budget: u32,
) -> Decision {
    search::run(part_motions, arcs, measure, Goal::Decide { threshold_m }, budget).against(threshold_m)
}

/// The gap at one instant u, bracketed to 0.1 mm, for drawing and for the trace.
pub fn gap_at(part: &MovingPart, u: f64, arc: &WireArc, measure: Measure) -> Proof {
    let part_motion = PartMotion::frozen(part, u);
    let proof = smallest_gap(std::slice::from_ref(&part_motion), std::slice::from_ref(arc), measure, 1e-4, 400);
    Proof { witness: proof.witness.map(|witness| Witness { u, ..witness }), ..proof }
}

#[cfg(test)]
mod tests;
