//! Boxes around whole bodies and whole wires. They exclude distant pairs without a search.

use super::leg::Leg;
use super::proof::{Measure, rounding_m};
use super::strand::Strand;
use crate::solid::Extent;

/// A box around everything that a search would examine, grown by everything that a search subtracts. The distance of
/// two boxes is therefore a lower bound of the gap less allowances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around(Extent);

impl Around {
    /// The box around a body's motions; unbounded when one of them cannot be used.
    pub fn legs(legs: &[Leg]) -> Self {
        let about = |leg: &Leg| {
            let taken_m = leg.growth_m(Measure::GapLessAllowance) + leg.blur_m() + rounding_m(leg.size_m());
            if leg.is_sound() { leg.extent().grown(taken_m) } else { Extent::ALL }
        };
        Self::all(legs.iter().map(about))
    }

    /// The box around a wire's curves; unbounded when one of them cannot be used.
    pub fn strands(strands: &[Strand]) -> Self {
        let about = |strand: &Strand| {
            let family = strand.family();
            let taken_m = family.radius_m + family.form_m + rounding_m(strand.size_m());
            if strand.is_sound() { strand.extent().grown(taken_m) } else { Extent::ALL }
        };
        Self::all(strands.iter().map(about))
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
