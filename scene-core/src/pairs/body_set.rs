//! Every body with the allowances that hold against whatever it is held against, made ready once for every search.

use super::by_hand::HandGuided;
use crate::approach::PartMotion;
use crate::motion::{Motion, MovingPart, WindLean};
use crate::sequence::Plan;
use crate::side_by_side;
use crate::site::Site;
use std::sync::Arc;

/// All bodies with one set of allowances.
#[derive(Debug)]
pub(crate) struct BodySet {
    pub motion: Motion,
    /// By body and piece.
    part_motions: Vec<Vec<Vec<PartMotion>>>,
}

impl BodySet {
    fn of(motion: Motion) -> Self {
        let part_motions = motion.bodies.iter().map(|body| part_motions_by_piece(&body.parts)).collect();
        Self { motion, part_motions }
    }

    /// By piece.
    pub(super) fn part_motions(&self, body: usize) -> &[Vec<PartMotion>] {
        self.part_motions.get(body).map_or(&[], Vec::as_slice)
    }
}

/// A body's part motions piece by piece. Pieces that share their parts share their part motions.
pub(super) fn part_motions_by_piece(pieces: &[Arc<[MovingPart]>]) -> Vec<Vec<PartMotion>> {
    let mut part_motions: Vec<Vec<PartMotion>> = Vec::with_capacity(pieces.len());
    let mut last: Option<&Arc<[MovingPart]>> = None;
    for (piece, parts) in pieces.iter().enumerate() {
        let same = last.is_some_and(|last| Arc::ptr_eq(last, parts));
        part_motions.push(match part_motions.last() {
            Some(before) if same => before.iter().map(PartMotion::repeated).collect(),
            _ => parts.iter().map(|part| PartMotion::new(piece, part)).collect(),
        });
        last = Some(parts);
    }
    part_motions
}

/// What the bodies are held against decides what allowances they have.
enum Against {
    /// What is not part of the machine, with a lean of the wind.
    Outside(WindLean),
    OneAnother,
    Ground,
    /// A pole that stands, past which hands guide the load; it swings no farther than this, meters.
    ByHand(WindLean, f64),
}

/// One set of bodies for each thing that they are held against.
#[derive(Clone, Debug)]
pub(crate) struct BodySets<T = BodySet> {
    /// By weather, then the others.
    sets: Vec<T>,
    weathers: usize,
    windiest: usize,
    /// The set that holds while hands guide the load.
    by_hand: Option<(HandGuided, usize)>,
}

impl BodySets {
    /// `leans` by weather, and the most of them.
    pub(crate) fn of(site: &Site, plan: &Plan, leans: &[WindLean], most: &WindLean) -> Self {
        let made = |against: &Against| {
            BodySet::of(match against {
                Against::Outside(lean) => Motion::of(site, plan, lean),
                Against::OneAnother => Motion::among_themselves(site, plan, most),
                Against::Ground => Motion::over_ground(site, plan),
                Against::ByHand(lean, swing_m) => Motion::held_by_hand(site, plan, lean, *swing_m),
            })
        };
        let mut wanted: Vec<Against> = leans.iter().copied().map(Against::Outside).collect();
        wanted.extend([Against::OneAnother, Against::Ground]);
        let windiest = leans.iter().position(|lean| lean == most);
        if windiest.is_none() {
            wanted.push(Against::Outside(*most));
        }
        let windiest = windiest.unwrap_or(wanted.len() - 1);
        let by_hand = HandGuided::of(site, plan).map(|guided| {
            wanted.push(Against::ByHand(*most, guided.swing_m));
            (guided, wanted.len() - 1)
        });
        Self { sets: side_by_side::map(&wanted, made), weathers: leans.len(), windiest, by_hand }
    }

    /// The motions alone.
    pub(crate) fn into_motions(self) -> BodySets<Motion> {
        let sets = self.sets.into_iter().map(|set| set.motion).collect();
        BodySets { sets, weathers: self.weathers, windiest: self.windiest, by_hand: self.by_hand }
    }
}

impl<T> BodySets<T> {
    /// Against what is not part of the machine, in one weather.
    pub(crate) fn in_weather(&self, weather: usize) -> Option<&T> {
        self.sets.get(weather).filter(|_| weather < self.weathers)
    }

    /// Against what is not part of the machine, with the most that any weather leans.
    pub(super) fn windiest(&self) -> Option<&T> {
        self.sets.get(self.windiest)
    }

    pub(crate) fn against_one_another(&self) -> Option<&T> {
        self.sets.get(self.weathers)
    }

    /// Where hands guide the load, and the set that holds there.
    pub(super) fn by_hand(&self) -> Option<(&HandGuided, &T)> {
        let (guided, set) = self.by_hand.as_ref()?;
        Some((guided, self.sets.get(*set)?))
    }

    pub(super) fn over_ground(&self) -> Option<&T> {
        self.sets.get(self.weathers + 1)
    }
}
