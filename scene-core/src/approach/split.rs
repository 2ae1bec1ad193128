//! How a range of a family splits around a contact.

use crate::bracket::Bracket;
use crate::conductor::{Member, Patch, SpanFamily};

/// The index of the range to split: the one whose spread moves the wire farthest in meters, or else the largest one. `None` when every
/// range moves it by less than `accuracy_m`.
pub(super) fn widest_range(
    family: &SpanFamily,
    member: &Member,
    patch: &Patch,
    spread: [f64; 5],
    accuracy_m: f64,
) -> Option<usize> {
    let ranges = patch.ranges();
    let [taut, slack] = [patch.curvature.low(), patch.curvature.high()];
    let sizes = [
        family.tangent(member).length() * patch.t.width(),
        family.depth(member.t, slack) - family.depth(member.t, taut),
        family.depth(member.t, member.curvature) * patch.blowout.width(),
        family.a[0].distance(family.a[1]) * patch.a.width() * (1.0 - member.t),
        family.b[0].distance(family.b[1]) * patch.b.width() * member.t,
    ];
    let mut worst = (0.0, None);
    for (k, size) in sizes.into_iter().enumerate() {
        let badness = size * (spread[k] + 1e-6);
        if ranges[k].width() > 1e-12 && size > accuracy_m && badness > worst.0 {
            worst = (badness, Some(k));
        }
    }
    worst.1
}

/// Three pieces, the middle one `width` to either side of `at`; two halves when that is about half the range or more.
pub(super) fn cut(range: Bracket, at: f64, width: f64) -> [Option<Bracket>; 3] {
    let [low, high] = range.halves();
    let halves = [Some(low), Some(high), None];
    if width.is_nan() || width >= range.width() / 3.0 {
        return halves;
    }
    let (from, to) = (at - width, at + width);
    let piece = |from: f64, to: f64| Bracket::between(from, to).filter(|piece| piece.width() > 0.0);
    let left = if from > range.low() { piece(range.low(), from) } else { None };
    let right = if to < range.high() { piece(to, range.high()) } else { None };
    [left, piece(from.max(range.low()), to.min(range.high())), right]
}
