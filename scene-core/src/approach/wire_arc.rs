//! A stretch of a wire, prepared for the search.

use crate::bracket::Bracket;
use crate::conductor::{Patch, SpanFamily};
use crate::solid::Extent;
use std::ops::Range;

/// The stretch `t` of a span's family.
#[derive(Clone, Debug)]
pub struct WireArc<'a> {
    family: &'a SpanFamily,
    patch: Patch,
    /// The pieces of motion during which the wire hangs so.
    pieces: Range<usize>,
    /// A box around its center lines.
    extent: Extent,
    /// The largest coordinate magnitude, meters.
    size_m: f64,
    sound: bool,
}

impl<'a> WireArc<'a> {
    /// The stretch `t` of a family. Values outside [0, 1] are ignored; a stretch entirely outside cannot be used.
    pub fn new(family: &'a SpanFamily, t: Bracket) -> Self {
        let inside = t.within(Bracket::exactly(0.0).hull(Bracket::exactly(1.0)));
        let patch = family.patch(inside.unwrap_or(Bracket::exactly(0.0)));
        let extent = family.extent(&patch);
        let finite = extent.low.is_finite() && extent.high.is_finite();
        let size_m = extent.low.abs().max(extent.high.abs()).max_element();
        Self {
            family,
            patch,
            pieces: 0..usize::MAX,
            extent,
            size_m,
            sound: family.is_sound() && inside.is_some() && finite,
        }
    }

    /// The whole span.
    pub fn whole(family: &'a SpanFamily) -> Self {
        Self::new(family, Bracket::exactly(0.0).hull(Bracket::exactly(1.0)))
    }

    /// Limits the stretch to these pieces of motion, by [`super::PartMotion::piece`]. Motions of other pieces do not meet it.
    #[must_use]
    pub fn during(self, pieces: Range<usize>) -> Self {
        Self { pieces, ..self }
    }

    pub(super) fn meets(&self, piece: usize) -> bool {
        self.pieces.contains(&piece)
    }

    /// The family of curves.
    pub fn family(&self) -> &'a SpanFamily {
        self.family
    }

    pub(super) fn patch(&self) -> Patch {
        self.patch
    }

    /// A box around its center lines.
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
