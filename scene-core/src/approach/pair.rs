//! The smallest gap between two moving convex parts, over the whole motion of both.
//!
//! Motions of the same [`PartMotion::piece`] meet, at the same u; motions of different pieces never do. Either part may stand
//! still. When both stand as in the piece before ([`PartMotion::repeated`]), the search examines them there only.
//!
//! As with wires, nothing is sampled. The closest points at one instant give the high end and a direction n. Along n
//! the two are apart by `min over corners of a − max over corners of b`, a lower bound for any n. `lower_bound`
//! computes how far around the instant it keeps a threshold. Every dismissal lowers the reported low to its threshold.
//!
//! Solids that touch or overlap have the gap 0: the depth is not measured, and a low of 0 or less means that they may
//! touch. The motion errors of both widen the bracket; where it is too wide, the search takes both parts in halves,
//! jointly where they share joints. With [`Measure::GapLessAllowance`] the corners of both grow.

use super::contact::{self, BodyContact};
use super::lower_bound::LowerBound;
use super::part_motion::{PartMotion, Pose};
use super::progress::{Goal, Progress};
use super::proof::{Decision, Measure, Proof, rounding_m};
use super::queue::{Next, SearchQueue};
use crate::bracket::Bracket;
use crate::motion::track::Phases;
use glam::DVec3;
use std::rc::Rc;

/// A real placement of both parts, and the two points that its gap is between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PairWitness {
    /// The [`PartMotion::piece`] of both.
    pub piece: usize,
    /// Index into the first list of motions.
    pub a: usize,
    /// Index into the second list of motions.
    pub b: usize,
    /// Fraction of the piece, 0 … 1.
    pub u: f64,
    /// A point of the first solid, grown by its allowance when the measure subtracts it. World frame, meters.
    pub on_a: DVec3,
    /// A point of the second solid, in the same way.
    pub on_b: DVec3,
}

/// A bracket of the gap between two parts.
pub type PairProof = Proof<PairWitness>;

/// The answer to "do two parts keep this distance?".
pub type PairDecision = Decision<PairWitness>;

/// Brackets the smallest gap between two parts to `tolerance_m`, within `budget` evaluations.
pub fn smallest_gap_between(
    a: &[PartMotion],
    b: &[PartMotion],
    measure: Measure,
    tolerance_m: f64,
    budget: u32,
) -> PairProof {
    smallest_gap_up_to(a, b, measure, tolerance_m, f64::INFINITY, budget)
}

/// Like [`smallest_gap_between`], but a gap above `enough_m` is not bracketed further. Distant bodies cost little.
pub fn smallest_gap_up_to(
    a: &[PartMotion],
    b: &[PartMotion],
    measure: Measure,
    tolerance_m: f64,
    enough_m: f64,
    budget: u32,
) -> PairProof {
    run(a, b, measure, Goal::Bracket { tolerance_m, enough_m }, budget)
}

/// Proves that every instant keeps `threshold_m`, or finds one that does not.
pub fn decide_between(
    a: &[PartMotion],
    b: &[PartMotion],
    measure: Measure,
    threshold_m: f64,
    budget: u32,
) -> PairDecision {
    run(a, b, measure, Goal::Decide { threshold_m }, budget).against(threshold_m)
}

/// A stretch of u of two motions.
#[derive(Clone, Copy, Debug)]
struct Cell {
    /// Lower bound for the whole cell, meters.
    bound_m: f64,
    /// Index into the pairs.
    pair: usize,
    from: f64,
    to: f64,
    /// Estimate of the vector from b to a; zero when unknown.
    n: DVec3,
}

/// A motion of the first part and one of the second, by index.
type Root = [usize; 2];

/// Two motions of one piece.
#[derive(Clone, Debug)]
struct PartPair {
    a: usize,
    b: usize,
    /// Halves of both, and the stretch of the piece that these cover.
    half: Option<(Rc<[PartMotion; 2]>, Bracket)>,
    /// Its halves have taken over.
    replaced: bool,
}

struct Search<'a> {
    a: &'a [PartMotion],
    b: &'a [PartMotion],
    measure: Measure,
    /// Pairs that the search has examined.
    pairs: Vec<PartPair>,
    queue: SearchQueue<Root, Cell>,
    progress: Progress<PairWitness>,
    phases: Phases,
    poses: [Pose; 2],
    bound: LowerBound,
}

fn run(a: &[PartMotion], b: &[PartMotion], measure: Measure, goal: Goal, budget: u32) -> PairProof {
    let inexact = a.iter().chain(b).any(|part_motion| part_motion.motion_error_m() > 0.0);
    let mut search = Search {
        a,
        b,
        measure,
        pairs: Vec::new(),
        queue: SearchQueue::of(std::iter::empty()),
        progress: Progress::new(goal, inexact),
        phases: Phases::default(),
        poses: <[Pose; 2]>::default(),
        bound: LowerBound::default(),
    };
    let sound = a.iter().chain(b).all(PartMotion::is_sound);
    if !goal.is_sound() || !sound || !search.seed() {
        return Proof::none();
    }
    search.prove(budget);
    search.progress.proof()
}

/// The two motions of a cell.
#[derive(Clone, Copy)]
struct MovingPair<'a> {
    a: &'a PartMotion,
    b: &'a PartMotion,
    /// What every lower bound subtracts, meters.
    taken_m: f64,
    motion_error_m: f64,
    rounding_m: f64,
}

impl<'a> MovingPair<'a> {
    fn new(a: &'a PartMotion, b: &'a PartMotion) -> Self {
        let rounding_m = rounding_m(a.size_m().max(b.size_m()));
        let motion_error_m = a.motion_error_m() + b.motion_error_m();
        Self { a, b, taken_m: motion_error_m + rounding_m, motion_error_m, rounding_m }
    }

    fn last_u(&self) -> f64 {
        self.a.last_u().max(self.b.last_u())
    }

    /// A lower bound for all u from the boxes around the two, and the vector from b to a between the boxes. Nothing is
    /// nearer than contact.
    fn bound_of_extents(&self, measure: Measure) -> (f64, DVec3) {
        let way = self.a.extent().way_from(self.b.extent());
        let grown_m = self.a.growth_m(measure) + self.b.growth_m(measure);
        ((way.length() - self.taken_m - grown_m).max(0.0), way)
    }
}

impl<'a> Search<'a> {
    /// Puts every pair of one piece into the queue, with the bound from the boxes. False when there is none.
    fn seed(&mut self) -> bool {
        let (a, b) = (self.a, self.b);
        let mut by_piece: Vec<(usize, usize)> =
            b.iter().enumerate().map(|(k, part_motion)| (part_motion.piece, k)).collect();
        by_piece.sort_unstable();
        let mut any = false;
        let mut roots: Vec<(f64, Root)> = Vec::new();
        for (index_a, part_motion_a) in a.iter().enumerate() {
            let first = by_piece.partition_point(|(piece, _)| *piece < part_motion_a.piece);
            let same = by_piece.iter().skip(first).take_while(|(piece, _)| *piece == part_motion_a.piece);
            for &(_, index_b) in same {
                let Some(part_motion_b) = b.get(index_b) else { continue };
                any = true;
                // The search examines this pair in the piece before.
                if part_motion_a.repeats() && part_motion_b.repeats() {
                    continue;
                }
                let (bound_m, _) = MovingPair::new(part_motion_a, part_motion_b).bound_of_extents(self.measure);
                if bound_m >= self.progress.goal().enough_m() {
                    self.progress.dismiss(bound_m);
                } else {
                    roots.push((bound_m, [index_a, index_b]));
                }
            }
        }
        self.queue = SearchQueue::of(roots.into_iter());
        any
    }

    fn whole(&mut self, bound_m: f64, [a, b]: Root) -> Option<Cell> {
        let two = MovingPair::new(self.a.get(a)?, self.b.get(b)?);
        let pair = self.pairs.len();
        self.pairs.push(PartPair { a, b, half: None, replaced: false });
        let (_, way) = two.bound_of_extents(self.measure);
        Some(Cell { bound_m, pair, from: 0.0, to: two.last_u(), n: way.normalize_or_zero() })
    }

    fn prove(&mut self, budget: u32) {
        while let Some(next) = self.queue.next() {
            let is_replaced = |cell: &Cell| self.pairs.get(cell.pair).is_none_or(|pair| pair.replaced);
            let (cell, is_root) = match next {
                Next::Cell(cell) if is_replaced(&cell) => continue,
                Next::Cell(cell) => (Some(cell), false),
                Next::Root(bound_m, root) => (self.whole(bound_m, root), true),
            };
            let Some(cell) = cell else {
                self.progress.dismiss(f64::NEG_INFINITY);
                continue;
            };
            if cell.bound_m >= self.progress.threshold() || !self.progress.spend(budget) {
                self.progress.dismiss(cell.bound_m);
                // Every remaining root has at least this bound.
                if is_root {
                    self.queue.drain_roots().for_each(|(bound_m, _)| self.progress.dismiss(bound_m));
                }
            } else {
                self.evaluate(&cell);
                if self.progress.is_short() {
                    return;
                }
            }
        }
    }

    fn evaluate(&mut self, cell: &Cell) {
        let pair = self.pairs.get(cell.pair).cloned();
        let half = pair.as_ref().and_then(|pair| pair.half.as_ref());
        let (part_motions_a, part_motions_b) = (self.a, self.b);
        let two = match (&pair, half) {
            (_, Some((part_motions, _))) => Some(MovingPair::new(&part_motions[0], &part_motions[1])),
            (Some(pair), None) => {
                part_motions_a.get(pair.a).zip(part_motions_b.get(pair.b)).map(|(a, b)| MovingPair::new(a, b))
            }
            (None, None) => None,
        };
        let Some(two) = two else {
            self.progress.dismiss(f64::NEG_INFINITY);
            return;
        };
        let mut own = std::mem::take(&mut self.poses);
        let [own_a, own_b] = &mut own;
        let teller = if two.a.moves() { two.a } else { two.b };
        let known = teller.known_pose_within(cell.from, cell.to).map(|pose| pose.u);
        let u = known.unwrap_or(cell.from + (cell.to - cell.from) / 2.0);
        let poses = [Self::pose(two.a, u, &mut self.phases, own_a), Self::pose(two.b, u, &mut self.phases, own_b)];
        self.look(cell, &two, u, poses);
        self.poses = own;
    }

    fn pose<'p>(part_motion: &'p PartMotion, u: f64, phases: &mut Phases, own: &'p mut Pose) -> &'p Pose {
        match part_motion.known_pose_at(u) {
            Some(pose) => pose,
            None => {
                part_motion.pose_at(u, phases, own);
                own
            }
        }
    }

    fn look(&mut self, cell: &Cell, two: &MovingPair, u: f64, poses: [&Pose; 2]) {
        // Try the direction that the cell already has. If it covers much of the cell, no contact is needed.
        let threshold = self.progress.threshold();
        if cell.n != DVec3::ZERO && threshold.is_finite() {
            let least = (cell.to - cell.from) * 0.25;
            if self.exclude(cell, two, u, poses, cell.n, threshold, least) {
                return;
            }
        }
        let accuracy = self.progress.accuracy();
        let found = contact::between(poses, self.measure, cell.n, accuracy);
        let here_m = self.seen(cell, two, u, &found);
        if self.halved(cell, two, found.n, here_m) {
            return;
        }
        // Motion error cannot be recovered.
        let demand = self.progress.threshold().min(here_m - two.taken_m - self.progress.resolution());
        if cell.bound_m >= demand {
            self.progress.dismiss(cell.bound_m);
            return;
        }
        if self.exclude(cell, two, u, poses, found.n, demand, 0.0) {
            return;
        }
        // The points were not close enough to the closest pair. Find closer ones.
        let better = contact::between(poses, self.measure, found.n, accuracy * 1e-3);
        let here_m = self.seen(cell, two, u, &better).min(here_m);
        let demand = demand.min(here_m - two.taken_m - self.progress.resolution());
        if self.exclude(cell, two, u, poses, better.n, demand, 0.0) {
            return;
        }
        // Settle for the bound that this direction proves.
        let keeps = self.bound.value() - self.progress.resolution();
        if keeps > cell.bound_m && self.exclude(cell, two, u, poses, better.n, keeps, 0.0) {
            return;
        }
        self.progress.dismiss(cell.bound_m);
    }

    /// Excludes the stretch around the instant over which the direction n proves `threshold`, and queues the rest. Does
    /// nothing when it proves nothing, or less than `least` of u.
    #[allow(clippy::too_many_arguments)]
    fn exclude(
        &mut self,
        cell: &Cell,
        two: &MovingPair,
        u: f64,
        poses: [&Pose; 2],
        n: DVec3,
        threshold: f64,
        least: f64,
    ) -> bool {
        self.bound.set_between(poses, self.measure, n, two.taken_m, threshold);
        let Some([from, to]) = self.bound.holds_over(threshold, u, [cell.from, cell.to], least) else { return false };
        self.progress.dismiss(threshold);
        for (from, to) in [(cell.from, from), (to, cell.to)] {
            if to > from {
                let likely_m = self.bound.guess((from + to) / 2.0 - u);
                self.queue.push(likely_m, Cell { from, to, n, ..*cell });
            }
        }
        true
    }

    /// Replaces a pair whose motion error prevents a better bound by its halves.
    fn halved(&mut self, cell: &Cell, two: &MovingPair, n: DVec3, here_m: f64) -> bool {
        let worthwhile = two.motion_error_m > 0.1 * self.progress.resolution();
        let demand = here_m - two.taken_m - self.progress.resolution();
        if !worthwhile || demand >= self.progress.threshold() {
            return false;
        }
        let Some(halves) = PartMotion::halves_of_two(two.a, two.b) else { return false };
        let motion_error_m =
            |part_motions: &[PartMotion; 2]| part_motions[0].motion_error_m() + part_motions[1].motion_error_m();
        let better = |part_motions: &[PartMotion; 2]| {
            part_motions.iter().all(PartMotion::is_sound) && motion_error_m(part_motions) < two.motion_error_m
        };
        if !halves.iter().all(|(part_motions, _)| better(part_motions)) {
            return false;
        }
        let Some(pair) = self.pairs.get_mut(cell.pair) else { return false };
        pair.replaced = true;
        let (a, b) = (pair.a, pair.b);
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        let within = pair.half.as_ref().map_or(whole, |(_, within)| *within);
        for (part_motions, stretch) in halves {
            let half = MovingPair::new(&part_motions[0], &part_motions[1]);
            let (bound_m, way) = half.bound_of_extents(self.measure);
            let (along_m, middle_m) = self.bound_along(n, &half);
            let bound_m = bound_m.max(along_m);
            // Of two halves with equal bounds, the nearer one comes first.
            let likely_m = bound_m + 0.01 * (middle_m - bound_m);
            let to = half.last_u();
            let stretch = Bracket::exactly(within.at(stretch.low())).hull(Bracket::exactly(within.at(stretch.high())));
            let pair = self.pairs.len();
            self.pairs.push(PartPair { a, b, half: Some((Rc::new(part_motions), stretch)), replaced: false });
            let n = if way == DVec3::ZERO { n } else { way.normalize_or_zero() };
            self.queue.push(likely_m, Cell { bound_m, pair, from: 0.0, to, n });
        }
        true
    }

    /// A lower bound for two whole motions from one direction, and its value at the middle instant.
    fn bound_along(&mut self, n: DVec3, two: &MovingPair) -> (f64, f64) {
        let teller = if two.a.moves() { two.a } else { two.b };
        let Some(u) = teller.known_pose_within(0.0, two.last_u()).map(|pose| pose.u) else {
            return (f64::NEG_INFINITY, f64::NEG_INFINITY);
        };
        let Some(poses) = two.a.known_pose_at(u).zip(two.b.known_pose_at(u)) else {
            return (f64::NEG_INFINITY, f64::NEG_INFINITY);
        };
        self.bound.set_between([poses.0, poses.1], self.measure, n, two.taken_m, f64::NEG_INFINITY);
        let least = self.bound.least(1.0, two.last_u() - u).min(self.bound.least(-1.0, u));
        (least, self.bound.value())
    }

    /// Records a contact and returns its gap, rounded up, for the motions as stated. The true gap may exceed it by the
    /// motion errors.
    fn seen(&mut self, cell: &Cell, two: &MovingPair, u: f64, found: &BodyContact) -> f64 {
        let here_m = found.distance_m + two.rounding_m;
        let high_m = here_m + two.motion_error_m;
        if high_m < self.progress.high_m()
            && let Some(pair) = self.pairs.get(cell.pair)
        {
            let u = pair.half.as_ref().map_or(u, |(_, within)| within.at(u));
            let [on_a, on_b] = found.points;
            let witness = PairWitness { piece: two.a.piece, a: pair.a, b: pair.b, u, on_a, on_b };
            self.progress.nearer(high_m, witness);
        }
        here_m
    }
}

#[cfg(test)]
mod tests;
