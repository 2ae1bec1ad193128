//! How near a body comes to something over some pieces of the motion: bracketed, or decided against a distance.
//!
//! Wires, bodies, the ground and the way back are all searched here.

use super::hung_wire::HungWire;
use crate::approach::pair::{self, PairWitness};
use crate::approach::{self, Decision, Measure, PartMotion, Proof, WireArc, Witness};
use glam::DVec3;

/// What is printed is bracketed to this, meters.
pub(super) const TOLERANCE_M: f64 = 1e-3;
/// The gap at one instant is bracketed to this, meters.
const INSTANT_TOLERANCE_M: f64 = 1e-4;
/// Placements looked at for one body and one wire; what is not proven by then is `undecided`.
const WIRE_BUDGET: u32 = 20_000;
/// The same for two bodies.
const BODY_BUDGET: u32 = 5_000;

/// An instant, and the two points that a gap is between; world frame, meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    pub piece: usize,
    /// In the piece, 0 … 1.
    pub u: f64,
    pub on_body: DVec3,
    pub on_other: DVec3,
}

/// A real placement, and the gap that it has; meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct There {
    pub gap_m: f64,
    pub place: Place,
}

impl From<Witness> for Place {
    fn from(found: Witness) -> Self {
        Self { piece: found.piece, u: found.u, on_body: found.on_body, on_other: found.on_wire }
    }
}

impl From<PairWitness> for Place {
    fn from(found: PairWitness) -> Self {
        Self { piece: found.piece, u: found.u, on_body: found.on_a, on_other: found.on_b }
    }
}

/// A bracket of a gap, or of a gap less allowances.
pub(super) type Gap = Proof<Place>;

fn placed<W: Into<Place>>(found: Proof<W>) -> Gap {
    let Proof { low_m, high_m, witness, closed, evaluations } = found;
    Gap { low_m, high_m, witness: witness.map(W::into), closed, evaluations }
}

fn shifted(gap: &Gap, down_m: f64) -> Gap {
    Gap { low_m: gap.low_m - down_m, high_m: gap.high_m - down_m, ..*gap }
}

/// What is taken off a gap for how well the world is known, meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Allowance {
    /// The greatest of any corner, of both sides together.
    pub most_m: f64,
    /// The same off every gap, where that is so: then one search tells both measures.
    pub even_m: Option<f64>,
}

impl Allowance {
    /// Of two bodies.
    pub fn of_both(most_m: f64) -> Self {
        Self { most_m, even_m: (most_m == 0.0).then_some(0.0) }
    }

    /// Looked up corner by corner.
    pub fn by_corner() -> Self {
        Self { most_m: f64::NAN, even_m: None }
    }
}

/// What a body is held against.
#[derive(Clone, Copy)]
enum Other<'a> {
    Wire(&'a [WireArc<'a>]),
    Body(&'a [PartMotion]),
}

/// A body over some pieces, and what it is held against.
#[derive(Clone, Copy)]
pub(super) struct Pair<'a> {
    part_motions: &'a [PartMotion],
    other: Other<'a>,
    allowance: Allowance,
}

/// Both measures of one pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Measured {
    pub gap: Gap,
    /// Gap less allowances.
    pub left: Gap,
}

impl<'a> Pair<'a> {
    pub fn with_wire(part_motions: &'a [PartMotion], arcs: &'a [WireArc<'a>], allowance: Allowance) -> Self {
        Self { part_motions, other: Other::Wire(arcs), allowance }
    }

    pub fn with_body(part_motions: &'a [PartMotion], other: &'a [PartMotion], allowance: Allowance) -> Self {
        Self { part_motions, other: Other::Body(other), allowance }
    }

    fn bracketed(&self, measure: Measure, tolerance_m: f64) -> Gap {
        match self.other {
            Other::Wire(arcs) => {
                placed(approach::smallest_gap(self.part_motions, arcs, measure, tolerance_m, WIRE_BUDGET))
            }
            Other::Body(other) => {
                placed(pair::smallest_gap_between(self.part_motions, other, measure, tolerance_m, BODY_BUDGET))
            }
        }
    }

    fn decided(&self, measure: Measure, threshold_m: f64) -> Decision<Place> {
        match self.other {
            Other::Wire(arcs) => decision(approach::decide(self.part_motions, arcs, measure, threshold_m, WIRE_BUDGET)),
            Other::Body(other) => {
                decision(pair::decide_between(self.part_motions, other, measure, threshold_m, BODY_BUDGET))
            }
        }
    }

    pub fn gap(&self) -> Gap {
        self.bracketed(Measure::Gap, TOLERANCE_M)
    }

    /// Gap less allowances.
    pub fn left(&self) -> Gap {
        match self.allowance.even_m {
            Some(even_m) => shifted(&self.gap(), even_m),
            None => self.bracketed(Measure::GapLessAllowance, TOLERANCE_M),
        }
    }

    /// Gap, and gap less allowances.
    pub fn measured(&self, tolerance_m: f64) -> Measured {
        let gap = self.bracketed(Measure::Gap, tolerance_m);
        let left = match self.allowance.even_m {
            Some(even_m) => shifted(&gap, even_m),
            None => self.bracketed(Measure::GapLessAllowance, tolerance_m),
        };
        Measured { gap, left }
    }

    /// As [`Self::measured`], where what is left is known.
    pub fn measured_with(&self, left: Gap) -> Measured {
        let gap = self.allowance.even_m.map_or_else(|| self.gap(), |even_m| shifted(&left, -even_m));
        Measured { gap, left }
    }

    /// The gap at one instant, and the two points on the surfaces that it is between.
    pub fn at(&self, piece: usize, u: f64) -> Option<There> {
        let standing = |all: &[PartMotion]| -> Vec<PartMotion> {
            all.iter().filter(|part| part.piece == piece).map(|part| part.standing_at(u)).collect()
        };
        let body = standing(self.part_motions);
        let found = match self.other {
            Other::Wire(arcs) => {
                Pair::with_wire(&body, arcs, self.allowance).bracketed(Measure::Gap, INSTANT_TOLERANCE_M)
            }
            Other::Body(other) => {
                Pair::with_body(&body, &standing(other), self.allowance).bracketed(Measure::Gap, INSTANT_TOLERANCE_M)
            }
        };
        let (place, gap_m) = (found.witness?, found.high_m.max(0.0));
        // A wire's point is on its middle line; what is between it and the surface is what the gap leaves out.
        let way = place.on_body - place.on_other;
        let inside_m = (way.length() - gap_m).max(0.0);
        let on_other = place.on_other + way.normalize_or_zero() * inside_m;
        Some(There { gap_m, place: Place { piece, u, on_other, ..place } })
    }

    /// It is proven that no less than this is left.
    pub fn keeps(&self, threshold_m: f64) -> bool {
        let (measure, threshold_m) = match self.allowance.even_m {
            Some(even_m) => (Measure::Gap, threshold_m + even_m),
            None => (Measure::GapLessAllowance, threshold_m),
        };
        matches!(self.decided(measure, threshold_m), Decision::Apart { .. })
    }

    /// Whether no less than this is left, and where less may be.
    pub fn decide(&self, threshold_m: f64) -> Decision<Place> {
        self.decided(Measure::GapLessAllowance, threshold_m)
    }
}

fn decision<W: Into<Place>>(found: Decision<W>) -> Decision<Place> {
    match found {
        Decision::Apart { low_m } => Decision::Apart { low_m },
        Decision::Short { witness, high_m } => Decision::Short { witness: witness.into(), high_m },
        Decision::Undecided { low_m, high_m } => Decision::Undecided { low_m, high_m },
    }
}

/// What has been proven of one body and one wire, for callers that ask again and again.
#[derive(Clone, Copy)]
pub(super) struct Known {
    /// Allowances taken off, no placement is nearer.
    keeps_m: f64,
    /// One is as near as this.
    comes_m: f64,
    left: Option<Gap>,
    gap: Option<Gap>,
}

impl Default for Known {
    fn default() -> Self {
        Self { keeps_m: f64::NEG_INFINITY, comes_m: f64::INFINITY, left: None, gap: None }
    }
}

impl Known {
    /// It is proven that no less than this is left.
    pub fn keeps(&mut self, part_motions: &[PartMotion], wire: &HungWire, threshold_m: f64) -> bool {
        if self.keeps_m >= threshold_m || self.comes_m < threshold_m {
            return self.keeps_m >= threshold_m;
        }
        match Pair::with_wire(part_motions, &wire.arcs, Allowance::by_corner()).decide(threshold_m) {
            Decision::Apart { low_m } => self.keeps_m = self.keeps_m.max(low_m),
            Decision::Short { high_m, .. } => self.comes_m = self.comes_m.min(high_m),
            Decision::Undecided { .. } => {}
        }
        self.keeps_m >= threshold_m
    }

    /// Gap less allowances.
    pub fn left(&mut self, part_motions: &[PartMotion], wire: &HungWire) -> Gap {
        let found = || Pair::with_wire(part_motions, &wire.arcs, Allowance::by_corner()).left();
        *self.left.get_or_insert_with(found)
    }

    pub fn gap(&mut self, part_motions: &[PartMotion], wire: &HungWire) -> Gap {
        let found = || Pair::with_wire(part_motions, &wire.arcs, Allowance::by_corner()).gap();
        *self.gap.get_or_insert_with(found)
    }
}
