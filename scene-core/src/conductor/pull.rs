//! The force of a held wire on its holder.
//!
//! Both sides are taken to give alike: either rigid supports, or supports so soft that the tension stays as it was.
//! Anything between is a mix of the two, and so is its force. If one side gave and the other did not, a pull along the
//! line would add to it; that is not computed.

use super::catenary::Catenary;
use super::chord::Chord;
use super::span_part::SpanPart;
use super::still::{Carried, StillSpan};
use crate::bracket::Bracket;
use glam::DVec3;

/// The curvature bracket of the undisturbed span is cut into this many pieces, because both sides come from the same
/// curve.
const CUTS: u32 = 8;

/// The smallest and the largest of each component of the force, newtons, in still air and in full wind from either
/// side. Each component changes in one direction with the wind. `None` when a side may not reach.
pub(super) fn on_holder(
    span: &StillSpan,
    fraction: f64,
    grip: DVec3,
    carried: &Carried,
    stiffness_n: Option<f64>,
) -> Option<[DVec3; 2]> {
    let (mut low, mut high) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
    let mut hold = |[least, most]: [DVec3; 2]| (low, high) = (low.min(least), high.max(most));
    // Wind from either side gives the same tension.
    let sizes = if carried.blowout == 0.0 { &[0.0][..] } else { &[0.0, carried.blowout] };
    for cut in 0..CUTS {
        let ends = [cut, cut + 1].map(|end| span.curvature.at(f64::from(end) / f64::from(CUTS)));
        let span = StillSpan { curvature: Bracket::between(ends[0], ends[1])?, ..*span };
        let part = |from, to| SpanPart::new(&span, from, to, carried, stiffness_n).ok();
        let parts = [part(0.0, fraction)?, part(fraction, 1.0)?];
        let chords = [parts[0].chord_to(grip).ok()?, parts[1].chord_to(grip).ok()?];
        for &size in sizes {
            let load = carried.weight_n_per_m / size.cos();
            let mut sides = [None; 2];
            for ((side, part), chord) in sides.iter_mut().zip(&parts).zip(&chords) {
                let unchanged = part.unchanged_tension(chord.run_m, chord.length_m(), carried);
                let soft = if size == 0.0 { unchanged.still } else { unchanged.in_wind };
                *side = Some((part.support, chord, [part.fixed(chord, carried, size)?, soft]));
            }
            for blowout in [size, -size].into_iter().take(if size == 0.0 { 1 } else { 2 }) {
                for give in [0, 1] {
                    let mut sum = [DVec3::ZERO; 2];
                    for (support, chord, curvatures) in sides.into_iter().flatten() {
                        let curvature = curvatures[give];
                        let tension = Bracket::between(load / curvature.high(), load / curvature.low())?;
                        let one = pull_of_part(support, grip, chord, blowout, load, tension)?;
                        sum = [sum[0] + one[0], sum[1] + one[1]];
                    }
                    hold(sum);
                }
            }
        }
    }
    (low.is_finite() && high.is_finite()).then_some([low, high])
}

/// The pull of one side. At the grip the wire pulls with H toward the support, across the resultant load, and with V =
/// (w/2)·(length − rise·coth σ) along it; the rise runs from grip to support against the load.
fn pull_of_part(
    support: DVec3,
    grip: DVec3,
    chord: &Chord,
    blowout: f64,
    load: f64,
    tension: Bracket,
) -> Option<[DVec3; 2]> {
    let down = chord.lateral * blowout.sin() - DVec3::Z * blowout.cos();
    let reach = support - grip;
    let rise = -reach.dot(down);
    let across = reach + down * rise;
    let run = across.length();
    let shape = |tension_n| Catenary::from_tension(run, rise, tension_n, load).ok();
    let (slack, taut) = (shape(tension.low())?, shape(tension.high())?);
    // The length shrinks with tension and coth σ grows with it, so each is taken at its own extremes.
    let coth = |shape: &Catenary| 1.0 / (shape.curvature() * run / 2.0).tanh();
    let leans = Bracket::between(rise * coth(&slack), rise * coth(&taut))?;
    let lengths = Bracket::between(taut.length_m(), slack.length_m())?;
    let sideways = (lengths - leans) * (load / 2.0);
    let toward = across / run;
    let (mut low, mut high) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
    for tension_n in [tension.low(), tension.high()] {
        for along_load in [sideways.low(), sideways.high()] {
            let pull = toward * tension_n + down * along_load;
            (low, high) = (low.min(pull), high.max(pull));
        }
    }
    Some([low, high])
}
