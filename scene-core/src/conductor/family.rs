//! The family of curves that one span of wire may hang in, as a set with an exact support function.

use crate::bracket::Bracket;
use glam::DVec3;

/// All curves `c(t) = (1−t)·A + t·B + depth(t)·down(φ)`, t ∈ [0, 1], with A and B anywhere on their segments, φ anywhere in
/// `blowout`, and depth(t) that of any catenary with `curvature` 1/a in its bracket.
///
/// `depth(t)` is how far the exact catenary of constant a = 1/curvature, horizontal length `run_m` and rise `rise_m` lies below
/// its chord at the fraction t of the run; it grows with curvature at every t, and is zero for curvature zero.
/// `down(φ) = −up·cos φ + lateral·sin φ`, up the world's z.
#[derive(Clone, Debug, PartialEq)]
pub struct SpanFamily {
    /// Where the first end may be: a segment; two equal points for a fixed support.
    pub a: [DVec3; 2],
    pub b: [DVec3; 2],
    /// Horizontal unit vector across the span, the way a positive blowout swings.
    pub lateral: DVec3,
    /// Radians.
    pub blowout: Bracket,
    pub run_m: f64,
    pub rise_m: f64,
    /// 1/a = w/H, per metre: from the tautest to the slackest. Never negative.
    pub curvature: Bracket,
    /// The conductor's radius, covers included.
    pub radius_m: f64,
    /// What the family as a set of such curves may leave out of the physical one; added to the radius in every bound.
    pub form_m: f64,
}
