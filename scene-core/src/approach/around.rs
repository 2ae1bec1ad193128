//! A box about a whole body or a whole wire: most that is far apart is told so at a glance.

use super::{Leg, Measure, Strand, rounding_m};
use crate::solid::Extent;

/// Holds everything that a search would look at, grown by all that a search takes off: two of them are no farther apart than
/// the gap less allowances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around(Extent);

impl Around {
    /// Legs that cannot be used may be anywhere.
    pub fn legs(legs: &[Leg]) -> Self {
        let about = |leg: &Leg| {
            let taken_m = leg.growth_m(Measure::GapLessAllowance) + leg.blur_m() + rounding_m(leg.size_m());
            if leg.is_sound() { leg.extent().grown(taken_m) } else { Extent::ALL }
        };
        Self::all(legs.iter().map(about))
    }

    /// Strands that cannot be used may be anywhere.
    pub fn strands(strands: &[Strand]) -> Self {
        let about = |strand: &Strand| {
            let family = strand.family();
            let taken_m = family.radius_m + family.form_m + rounding_m(strand.size_m());
            if strand.is_sound() { strand.extent().grown(taken_m) } else { Extent::ALL }
        };
        Self::all(strands.iter().map(about))
    }

    /// Of nothing there is nothing to say.
    fn all(mut each: impl Iterator<Item = Extent>) -> Self {
        Self(each.next().map_or(Extent::ALL, |first| each.fold(first, Extent::joined)))
    }

    /// No less is left between them.
    pub fn apart_m(&self, other: &Self) -> f64 {
        self.0.way_from(other.0).length()
    }
}
