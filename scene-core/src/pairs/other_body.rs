//! Bodies that are not of the lifting machine, and which pairs of bodies the rows of a report are of.

use super::body_set::BodySets;
use crate::finding::KeepOff;
use crate::machine::BodyId;
use crate::motion::{Motion, MovingPart};
use crate::outcome::OtherKind;
use std::sync::Arc;

/// A body that is not of the lifting machine.
#[derive(Clone, Debug)]
pub(crate) struct OtherBody {
    pub name: String,
    pub kind: OtherKind,
    /// Which body of an aerial lift it is; a body without one stands still and is not held against what stands still.
    pub body: Option<BodyId>,
    /// By piece of the plan.
    pub parts: Vec<Arc<[MovingPart]>>,
    /// The least gap once the allowances are taken off, meters; 0 where nothing may touch the body.
    pub required_m: f64,
    /// Where that comes from.
    pub rule: String,
    /// What would mend too small a gap.
    pub keep_off: KeepOff,
    /// The held-out phases whose arms are fixed to it, by index.
    pub arms: Vec<usize>,
    /// Why a body of the lifting machine may touch it; `None` when it must not.
    pub may_touch: fn(BodyId) -> Option<&'static str>,
    /// It is a pole that stands; hands guide the load past it.
    pub by_hand: bool,
}

/// Which body.
#[derive(Clone, Copy, Debug)]
pub(super) enum BodyIndex {
    /// Of the lifting machine and its load, among the bodies of a motion.
    Lifting(usize),
    /// Among the other bodies.
    Other(usize),
}

/// The two bodies that a row is of.
#[derive(Clone, Debug)]
pub(crate) struct BodyPair {
    pub(super) body: BodyIndex,
    pub(super) other: BodyIndex,
    pub(super) kind: OtherKind,
    /// By piece, whether the two may touch then; `None` when they never may.
    pub(super) in_contact: Option<Arc<[bool]>>,
    /// Hands guide the load past the other.
    pub(super) by_hand: bool,
}

/// Which bodies the rows are of that are not of a wire.
#[derive(Clone, Debug, Default)]
pub(crate) struct BodyPairs {
    pub others: Vec<OtherBody>,
    /// By row, from the first on.
    pub pairs: Vec<BodyPair>,
    pub first_row: usize,
}

impl BodyPairs {
    /// The rows.
    pub fn rows(&self) -> std::ops::Range<usize> {
        self.first_row..self.first_row + self.pairs.len()
    }

    /// The parts of both bodies of a row in a piece of the plan; `None` when one of them is not there then.
    pub fn parts<'a>(
        &'a self,
        row: usize,
        motions: &'a BodySets<Motion>,
        piece: usize,
    ) -> Option<[&'a [MovingPart]; 2]> {
        let pair = self.pairs.get(row.checked_sub(self.first_row)?)?;
        let motion = match (pair.other, pair.kind) {
            (BodyIndex::Lifting(_), _) => motions.against_one_another(),
            (_, OtherKind::Terrain) => motions.over_ground(),
            _ => match motions.by_hand().filter(|(guided, _)| pair.by_hand && guided.holds(piece)) {
                Some((_, held)) => Some(held),
                None => motions.windiest(),
            },
        }?;
        if pair.in_contact.as_ref().is_some_and(|pieces| pieces.get(piece) == Some(&true)) {
            return None;
        }
        let of = |index| {
            let pieces = match index {
                BodyIndex::Lifting(body) => &motion.bodies.get(body)?.parts,
                BodyIndex::Other(other) => &self.others.get(other)?.parts,
            };
            pieces.get(piece).map(|parts| &parts[..]).filter(|parts| !parts.is_empty())
        };
        Some([of(pair.body)?, of(pair.other)?])
    }
}
