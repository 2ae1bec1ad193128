//! From what was proven of a pair to its state.

use super::search::{Gap, Measured, Pair, Place};
use crate::outcome::{GapRow, OtherKind};
use crate::rules::{self, CoverProof, PairState};
use crate::sequence::Plan;

/// What a pair must keep once the allowances are taken off, meters.
#[derive(Clone, Copy)]
pub(super) struct Limit {
    pub required_m: f64,
    /// What must be left even between covers.
    pub residual_m: f64,
    /// What is missing at most where things may go into each other: how deep they do is not measured.
    pub most_allowance_m: f64,
}

/// A pair with its state.
#[derive(Clone, Copy)]
pub(super) struct Judged {
    pub gap: Gap,
    pub allowance_m: f64,
    pub required_m: f64,
    pub margin_m: f64,
    pub state: PairState,
    /// Where it is worst: where the least is left, or, where nothing is left anywhere, where the gap is smallest.
    pub place: Option<Place>,
    /// Where nothing is left for the first time, when that is elsewhere.
    pub first: Option<Place>,
}

impl Judged {
    /// `cover` is asked for only where the margin is used up.
    pub fn of(measured: &Measured, limit: Limit, cover: impl FnOnce() -> CoverProof) -> Self {
        let Measured { gap, left } = *measured;
        let Limit { required_m, residual_m, most_allowance_m } = limit;
        let taken_m = gap.low_m - left.low_m;
        let allowance_m = if left.low_m > 0.0 && taken_m.is_finite() { taken_m.max(0.0) } else { most_allowance_m };
        let margin_m = rules::margin_m(gap.low_m, allowance_m, required_m);
        let proof = if margin_m < 0.0 { cover() } else { CoverProof::NotDouble };
        // A real placement that is too near decides it, however wide the bracket is.
        let decided = (gap.closed && left.closed) || left.high_m < required_m;
        let state = rules::state(gap.low_m, allowance_m, required_m, residual_m, decided, proof);
        // A search for what is left ends at the first place where nothing is.
        let (least, smallest) = (left.witness.or(gap.witness), gap.witness.or(left.witness));
        let nothing_left = left.high_m <= 0.0;
        let (place, first) = if nothing_left { (smallest, least) } else { (least, None) };
        Self { gap, allowance_m, required_m, margin_m, state, place, first }
    }

    /// What is insulated may brush the cover that was just put on from there, while it leaves; nothing bare comes near.
    pub fn on_the_way_out(self, leaves: bool, cover: impl FnOnce() -> CoverProof) -> Self {
        let brushes = leaves && self.state == PairState::Touch && cover() == CoverProof::Double;
        if brushes { Self { state: PairState::Covered, ..self } } else { self }
    }

    /// Its row; whose it is remains to be said.
    pub fn row(&self, plan: &Plan, pair: &Pair, other_kind: OtherKind) -> GapRow {
        let in_plan = |place: Place| plan.pieces.get(place.piece).map(|piece| (place, piece));
        let piece = self.place.and_then(in_plan);
        let there = self.place.and_then(|place| pair.at(place.piece, place.u));
        let place = there.map(|there| there.place).or(self.place);
        let first_step = self.first.and_then(in_plan).map(|(_, piece)| piece.step);
        GapRow {
            body: String::new(),
            other: String::new(),
            other_kind,
            weather: String::new(),
            low_m: self.gap.low_m,
            high_m: self.gap.high_m,
            allowance_m: self.allowance_m,
            required_m: self.required_m,
            margin_m: self.margin_m,
            state: self.state,
            time_s: piece.map(|(place, piece)| piece.time_s(place.u)),
            step: piece.map(|(_, piece)| piece.step),
            first_step: first_step.filter(|step| piece.is_some_and(|(_, worst)| *step < worst.step)),
            gap_there_m: there.map(|there| there.gap_m),
            point_on_body: place.map(|place| place.on_body),
            point_on_other: place.map(|place| place.on_other),
            rule: String::new(),
        }
    }
}
