//! Boxes around whole bodies and whole wires. They exclude distant pairs without a search.

use super::part_motion::PartMotion;
use super::proof::{Measure, rounding_m};
use super::wire_arc::WireArc;
use crate::solid::Extent;

/// A box around everything that a search would examine, grown by everything that a search subtracts. The distance of
/// two boxes is therefore a lower bound of the gap less allowances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrownBox(Extent);

impl GrownBox {
    /// The box around a body's motions; unbounded when one of them cannot be used.
    pub fn part_motions(part_motions: &[PartMotion]) -> Self {
        let about = |part_motion: &PartMotion| {
            let taken_m = part_motion.growth_m(Measure::GapLessAllowance)
                + part_motion.motion_error_m()
                + rounding_m(part_motion.size_m());
            if part_motion.is_sound() { part_motion.extent().grown(taken_m) } else { Extent::ALL }
        };
        Self::all(part_motions.iter().map(about))
    }

    /// The box around a wire's curves; unbounded when one of them cannot be used.
    pub fn arcs(arcs: &[WireArc]) -> Self {
        let about = |arc: &WireArc| {
            let family = arc.family();
            let taken_m = family.radius_m + family.shape_error_m + rounding_m(arc.size_m());
            if arc.is_sound() { arc.extent().grown(taken_m) } else { Extent::ALL }
        };
        Self::all(arcs.iter().map(about))
    }

    /// The box around all of them; unbounded for none, because nothing is known then.
    fn all(mut each: impl Iterator<Item = Extent>) -> Self {
        Self(each.next().map_or(Extent::ALL, |first| each.fold(first, Extent::joined)))
    }

    /// Distance of the two boxes, meters: a lower bound of the gap less allowances.
    pub fn apart_m(&self, other: &Self) -> f64 {
        self.0.way_from(other.0).length()
    }
}
