//! A stretch of a wire, made ready for the search.

use crate::bracket::Bracket;
use crate::conductor::{Patch, SpanFamily};
use crate::solid::Extent;
use std::ops::Range;

/// The stretch `t` of a span's family.
#[derive(Clone, Debug)]
pub struct Strand<'a> {
    family: &'a SpanFamily,
    patch: Patch,
    /// The pieces of motion during which the wire hangs so.
    during: Range<usize>,
    extent: Extent,
    /// The largest magnitude of a coordinate.
    size_m: f64,
    sound: bool,
}

impl<'a> Strand<'a> {
    /// `t` beyond [0, 1] is not part of the wire; a stretch that lies wholly beyond cannot be used.
    pub fn new(family: &'a SpanFamily, t: Bracket) -> Self {
        let inside = t.within(Bracket::exactly(0.0).hull(Bracket::exactly(1.0)));
        let patch = family.patch(inside.unwrap_or(Bracket::exactly(0.0)));
        let extent = family.extent(&patch);
        let finite = extent.low.is_finite() && extent.high.is_finite();
        let size_m = extent.low.abs().max(extent.high.abs()).max_element();
        Self {
            family,
            patch,
            during: 0..usize::MAX,
            extent,
            size_m,
            sound: family.is_sound() && inside.is_some() && finite,
        }
    }

    pub fn whole(family: &'a SpanFamily) -> Self {
        Self::new(family, Bracket::exactly(0.0).hull(Bracket::exactly(1.0)))
    }

    /// The wire hangs so during these pieces of motion only, by [`super::Leg::piece`]: legs of others do not meet it.
    #[must_use]
    pub fn during(self, pieces: Range<usize>) -> Self {
        Self { during: pieces, ..self }
    }

    pub(super) fn meets(&self, piece: usize) -> bool {
        self.during.contains(&piece)
    }

    pub fn family(&self) -> &'a SpanFamily {
        self.family
    }

    pub(super) fn patch(&self) -> Patch {
        self.patch
    }

    /// Of the centre lines.
    pub(super) fn extent(&self) -> Extent {
        self.extent
    }

    pub(super) fn size_m(&self) -> f64 {
        self.size_m
    }

    pub(super) fn is_sound(&self) -> bool {
        self.sound
    }
}
