//! A proof that can be checked without the search that found it.
//!
//! A [`Certificate`] lists its leaves. Each leaf is a stretch of u of one motion, a part of one family, and the reason
//! why it keeps the low. [`replay`] derives every bound again from parts and families, by plain formulas of its own (no
//! GJK, no search order, no stored poses), and checks that the leaves cover everything.
//!
//! | claim | meaning |
//! |---|---|
//! | [`Claim::Along`] | the gap along a direction, expanded at an instant, stays high enough over the leaf |
//! | [`Claim::Boxes`] | the boxes around the whole motion and the whole family are far enough apart, or the low is that of contact |
//! | [`Claim::Held`] | the part stands exactly where another motion starts or ends |
//!
//! Parts with motion error have no certificate.

pub use super::claim::{Claim, Leaf};
use super::part_motion::PartMotion;
use super::progress::Goal;
use super::proof::{Measure, Proof};
use super::search;
use super::wire_arc::WireArc;
use crate::bracket::Bracket;
use crate::conductor::Patch;
use crate::motion::MovingPart;
use crate::motion::track::Phases;
use crate::solid::Extent;
use glam::DVec3;
use thiserror::Error;

/// A lower bound of a gap with its proof.
#[derive(Clone, Debug, PartialEq)]
pub struct Certificate {
    /// Every placement keeps at least this gap, meters.
    pub low_m: f64,
    /// What the gap is measured between.
    pub measure: Measure,
    /// Their union covers every motion and every family.
    pub leaves: Vec<Leaf>,
}

/// Why a certificate is refused. In every variant, `leaf` is the index of the leaf.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum Refusal {
    /// The leaf names a motion or a family that does not exist.
    #[error("leaf {leaf} names a motion or a wire arc that does not exist")]
    Unknown {
        /// Index of the leaf.
        leaf: usize,
    },
    /// The leaf's own bound is below the certificate's low.
    #[error("leaf {leaf} keeps only {keeps_m} m, less than the low")]
    Low {
        /// Index of the leaf.
        leaf: usize,
        /// The bound that the leaf has, meters.
        keeps_m: f64,
    },
    /// The leaf's claim is not true.
    #[error("the claim of leaf {leaf} is false")]
    False {
        /// Index of the leaf.
        leaf: usize,
    },
    /// The leaves do not cover this pair.
    #[error("the leaves do not cover motion {part_motion} against wire arc {arc}")]
    Uncovered {
        /// Index of the motion.
        part_motion: usize,
        /// Index of the family.
        arc: usize,
    },
}

/// [`super::smallest_gap`] with its certificate.
///
/// There is no certificate when the input cannot be used, or when a part has motion error: the halves that the search
/// made are not recorded.
pub fn smallest_gap_certified(
    part_motions: &[PartMotion],
    arcs: &[WireArc],
    measure: Measure,
    tolerance_m: f64,
    budget: u32,
) -> (Proof, Option<Certificate>) {
    let goal = Goal::bracket(tolerance_m);
    let (proof, leaves) = search::run_and_note(part_motions, arcs, measure, goal, budget, Some(Vec::new()));
    let sharp = part_motions.iter().all(|part_motion| part_motion.motion_error_m() == 0.0);
    let certificate = leaves.filter(|_| sharp).map(|leaves| Certificate { low_m: proof.low_m, measure, leaves });
    (proof, certificate)
}

/// Derives every bound and the coverage again. Cost: linear in the leaves, and for the coverage up to quadratic.
///
/// # Errors [`Refusal`] for the first leaf that does not hold, or the first pair that is not covered.
pub fn replay(certificate: &Certificate, parts: &[&MovingPart], arcs: &[WireArc]) -> Result<(), Refusal> {
    let mut of_pair: Vec<Vec<Region>> = vec![Vec::new(); parts.len() * arcs.len()];
    for (index, leaf) in certificate.leaves.iter().enumerate() {
        let unknown = Refusal::Unknown { leaf: index };
        let part = *parts.get(leaf.part_motion).ok_or(unknown)?;
        let arc = arcs.get(leaf.arc).ok_or(unknown)?;
        let keeps_m = match leaf.claim {
            Claim::Along { n, u, keeps_m } => along(part, arc, leaf, n, u, keeps_m, certificate.measure),
            Claim::Boxes => boxes(part, arc, certificate.measure),
            Claim::Held { by } => {
                let other = *parts.get(by).ok_or(unknown)?;
                // A held motion cannot hold another one, or the claims could run in a circle.
                let proves = |own: &Leaf| own.part_motion == by && matches!(own.claim, Claim::Held { .. });
                if certificate.leaves.iter().any(proves) || !holds(other, part) {
                    return Err(Refusal::False { leaf: index });
                }
                certificate.low_m
            }
        };
        // NaN proves nothing.
        if keeps_m.is_nan() || keeps_m < certificate.low_m {
            return Err(Refusal::Low { leaf: index, keeps_m });
        }
        if let Some(regions) = of_pair.get_mut(leaf.part_motion * arcs.len() + leaf.arc) {
            regions.push(region(leaf.from, leaf.to, &leaf.patch));
        }
    }
    for (part_motion, part) in parts.iter().enumerate() {
        for (arc, whole) in arcs.iter().enumerate() {
            let end = if part.is_still() { 0.0 } else { 1.0 };
            let whole = region(0.0, end, &whole.patch());
            let leaves = of_pair.get(part_motion * arcs.len() + arc).map_or(&[][..], |leaves| leaves);
            if !is_covered(whole, leaves) {
                return Err(Refusal::Uncovered { part_motion, arc });
            }
        }
    }
    Ok(())
}

/// The allowance that the measure subtracts, meters.
fn allowance(measure: Measure, allowance_m: f64) -> f64 {
    match measure {
        Measure::Gap => 0.0,
        Measure::GapLessAllowance => allowance_m,
    }
}

/// The least gap along `n` over the leaf, corner by corner, forward and backward from the instant u: from value, slope,
/// and the least possible second derivative.
fn along(part: &MovingPart, arc: &WireArc, leaf: &Leaf, n: DVec3, u: f64, keeps_m: f64, measure: Measure) -> f64 {
    let inside = leaf.from <= u && u <= leaf.to;
    let is_unit = (n.length_squared() - 1.0).abs() < 1e-12;
    if !inside || !is_unit {
        return f64::NAN;
    }
    let family = arc.family();
    let wire_m = family.support(n, &leaf.patch).0 + family.radius_m + family.shape_error_m + part.motion_error_m + 1e-9;
    let phases = Phases::at(&part.rates, u);
    let unit = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
    let mut least = f64::INFINITY;
    for corner in &part.features {
        let (at, bounds) = (corner.at.moment(&phases), corner.at.bounds(&part.rates, unit));
        let taken_m = wire_m + allowance(measure, corner.allowance_m);
        let (mut value, mut first, mut second) = (n.dot(at.at) - taken_m, n.dot(at.first), n.dot(at.second));
        let (mut most_second, mut most_third) = (bounds.second, bounds.third);
        match &corner.axis {
            None => value -= corner.radius_m,
            Some(axis) => {
                let (turn, turn_bounds) = (axis.moment(&phases), axis.bounds(&part.rates, unit));
                let r = corner.radius_m;
                // r·√(1−s²) lies below its tangent at any s₀. This is the s₀ that the search uses.
                let s = n.dot(turn.at);
                let room_m = value - r * (1.0 - s * s).max(0.0).sqrt() - keeps_m;
                let share = if room_m > 0.0 && r > 0.0 { room_m / r } else { 0.0 };
                let gentlest = share.clamp(1e-6, 0.7);
                let steepest = (1.0 - gentlest * gentlest).sqrt();
                let s0 = s.clamp(-steepest, steepest);
                let k = r * s0 / (1.0 - s0 * s0).sqrt();
                value += k * s - r / (1.0 - s0 * s0).sqrt();
                first += k * n.dot(turn.first);
                second += k * n.dot(turn.second);
                most_second += k.abs() * turn_bounds.second;
                most_third += k.abs() * turn_bounds.third;
            }
        }
        for (slope, far) in [(first, leaf.to - u), (-first, u - leaf.from)] {
            let bend = (second - most_third * far / 3.0).max(-most_second);
            let at = |by: f64| value + slope * by + bend * by * by / 2.0;
            let lowest = if bend > 0.0 && slope < 0.0 { (-slope / bend).min(far) } else { far };
            for here in [at(0.0), at(lowest), at(far)] {
                if here.is_nan() {
                    return f64::NAN;
                }
                least = least.min(here);
            }
        }
    }
    least
}

/// The distance between the boxes around the part over all u and around the family, by arithmetic of its own.
fn boxes(part: &MovingPart, arc: &WireArc, measure: Measure) -> f64 {
    const STEPS: u32 = 64;
    let unit = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
    let mut extent = Extent::EMPTY;
    for step in 0..=STEPS {
        let phases = Phases::at(&part.rates, f64::from(step) / f64::from(STEPS));
        for corner in &part.features {
            let bulge = corner.at.bounds(&part.rates, unit).second / (8.0 * f64::from(STEPS * STEPS));
            extent = extent.with_ball(corner.at.at(&phases), corner.radius_m + bulge);
        }
    }
    let family = arc.family();
    let wire = family.extent(&arc.patch());
    let growth = part.features.iter().map(|corner| allowance(measure, corner.allowance_m)).fold(0.0, f64::max);
    let apart =
        extent.way_from(wire).length() - growth - family.radius_m - family.shape_error_m - part.motion_error_m - 1e-9;
    apart.max(-family.radius_m)
}

/// The still part stands exactly where the other part starts or ends, with radii and allowances no larger.
fn holds(other: &MovingPart, still: &MovingPart) -> bool {
    let mine = Phases::at(&still.rates, 0.0);
    still.is_still()
        && still.motion_error_m == 0.0
        && other.motion_error_m == 0.0
        && still.features.len() == other.features.len()
        && [0.0, 1.0].iter().any(|&end| {
            let theirs = Phases::at(&other.rates, end);
            still.features.iter().zip(&other.features).all(|(a, b)| {
                let apart = a.at.at(&mine).distance(b.at.at(&theirs));
                let turned = match (&a.axis, &b.axis) {
                    (Some(a), Some(b)) => a.at(&mine).distance(b.at(&theirs)) < 1e-11,
                    (None, None) => true,
                    _ => false,
                };
                apart < 1e-10 && turned && a.radius_m <= b.radius_m && a.allowance_m <= b.allowance_m
            })
        })
}

// ----------------------------------------------------------------------------------------------------------- coverage

/// A closed box in u and the five parameters of the family.
type Region = [[f64; 2]; 6];

fn region(from: f64, to: f64, patch: &Patch) -> Region {
    let [t, curvature, blowout, a, b] = patch.ranges().map(|range| [range.low(), range.high()]);
    [[from, to], t, curvature, blowout, a, b]
}

/// Whether the leaves cover the region. It removes the first leaf that meets the region and continues with the rest,
/// cut along the leaf's faces.
fn is_covered(whole: Region, leaves: &[Region]) -> bool {
    let mut left = vec![(whole, 0)];
    while let Some((mut rest, first)) = left.pop() {
        let meets = |leaf: &Region| {
            rest.iter().zip(leaf).all(|(mine, theirs)| {
                let thin = mine[0] == mine[1] && theirs[0] <= mine[0] && mine[1] <= theirs[1];
                thin || (theirs[0] < mine[1] && mine[0] < theirs[1])
            })
        };
        let Some(found) = leaves.iter().skip(first).position(meets) else { return false };
        let Some(leaf) = leaves.get(first + found) else { return false };
        for (k, theirs) in leaf.iter().enumerate() {
            // The parts before and after the leaf in this range remain to be covered; the rest lies within the leaf.
            if rest[k][0] < theirs[0] {
                let mut before = rest;
                before[k][1] = theirs[0];
                left.push((before, first + found + 1));
                rest[k][0] = theirs[0];
            }
            if theirs[1] < rest[k][1] {
                let mut after = rest;
                after[k][0] = theirs[1];
                left.push((after, first + found + 1));
                rest[k][1] = theirs[1];
            }
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHOLE: Region = [[0.0, 1.0], [0.0, 1.0], [0.1, 0.1], [0.0, 2.0], [0.0, 0.0], [0.0, 1.0]];

    fn with(k: usize, range: [f64; 2]) -> Region {
        let mut part = WHOLE;
        part[k] = range;
        part
    }

    #[test]
    fn halves_cover_and_one_of_them_does_not() {
        let halves = [with(0, [0.0, 0.5]), with(0, [0.5, 1.0])];
        assert!(is_covered(WHOLE, &[WHOLE]) && is_covered(WHOLE, &halves));
        assert!(!is_covered(WHOLE, &halves[1..]) && !is_covered(WHOLE, &halves[..1]) && !is_covered(WHOLE, &[]));
    }

    #[test]
    fn a_sliver_left_out_is_noticed_in_any_range() {
        for k in [0, 1, 3, 5] {
            let [low, high] = WHOLE[k];
            let leaves = [with(k, [low, 0.3]), with(k, [0.3 + 1e-15, high])];
            assert!(!is_covered(WHOLE, &leaves), "{k}");
        }
    }

    #[test]
    fn leaves_may_overlap_and_come_in_any_order() {
        let leaves = [with(3, [1.5, 2.0]), with(0, [0.2, 0.9]), with(0, [0.0, 0.4]), with(0, [0.8, 1.0])];
        assert!(is_covered(WHOLE, &leaves));
        assert!(!is_covered(WHOLE, &leaves[..3]));
    }
}
