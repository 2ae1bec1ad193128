//! The smallest gap between two moving convex parts, proven over the whole motion of both.
//!
//! Legs of one [`Leg::piece`] meet, at the same u; legs of different pieces never do. Either may stand still; where both do as in
//! the piece before ([`Leg::repeated`]), they are looked at there. As with wires
//! nothing is sampled: the closest points at one instant give the high and a direction n, along which the two stay apart by
//! `min over corners of a − max over corners of b`, a lower bound whatever n is; `carve` says how far around the instant it
//! keeps a threshold; and every dismissal lowers the reported low to what it was dismissed at.
//!
//! The gap of solids that touch or go into each other is 0: how deep is not measured, and a low of 0 or less says that they
//! may touch. Blurs of both widen the bracket; where they are in the way both parts are taken in halves, alike where they
//! hang on the same joints. With [`Measure::GapLessAllowance`] the corners of both are grown.

use super::carve::LowerBound;
use super::contact::{self, Meeting};
use super::frontier::{Frontier, Next};
use super::ledger::{Goal, Ledger};
use super::leg::{Leg, Pose};
use super::{Decision, Measure, Proof, rounding_m};
use crate::bracket::Bracket;
use crate::motion::track::Phases;
use glam::DVec3;
use std::rc::Rc;

/// A real placement of both, and the points that its gap is between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PairWitness {
    /// [`Leg::piece`] of both.
    pub piece: usize,
    /// Index into the legs that were given.
    pub a: usize,
    pub b: usize,
    /// In the piece, 0 … 1.
    pub u: f64,
    /// World frame, metres; on the solids, grown by their allowances when that is measured.
    pub on_a: DVec3,
    pub on_b: DVec3,
}

pub type PairProof = Proof<PairWitness>;

pub type PairDecision = Decision<PairWitness>;

/// Brackets the smallest gap to `tolerance_m`, within `budget` evaluations.
pub fn smallest_gap_between(a: &[Leg], b: &[Leg], measure: Measure, tolerance_m: f64, budget: u32) -> PairProof {
    smallest_gap_up_to(a, b, measure, tolerance_m, f64::INFINITY, budget)
}

/// As [`smallest_gap_between`], but what keeps `enough_m` need not be told any better: far bodies cost little.
pub fn smallest_gap_up_to(
    a: &[Leg],
    b: &[Leg],
    measure: Measure,
    tolerance_m: f64,
    enough_m: f64,
    budget: u32,
) -> PairProof {
    run(a, b, measure, Goal::Bracket { tolerance_m, enough_m }, budget)
}

/// Proves that every instant keeps `threshold_m`, or finds one that does not.
pub fn decide_between(a: &[Leg], b: &[Leg], measure: Measure, threshold_m: f64, budget: u32) -> PairDecision {
    run(a, b, measure, Goal::Decide { threshold_m }, budget).against(threshold_m)
}

/// A stretch of u of two legs.
#[derive(Clone, Copy, Debug)]
struct Cell {
    /// Proven for the whole cell.
    bound_m: f64,
    /// Index into the couples.
    couple: usize,
    from: f64,
    to: f64,
    /// About the way from b to a; zero when unknown.
    n: DVec3,
}

/// A leg of the one and a leg of the other, by their indices.
type Root = [usize; 2];

/// Two legs of one piece.
#[derive(Clone, Debug)]
struct Couple {
    a: usize,
    b: usize,
    /// Halves of theirs, and the stretch of the piece that these are of.
    half: Option<(Rc<[Leg; 2]>, Bracket)>,
    /// Halves have taken over.
    replaced: bool,
}

struct Search<'a> {
    a: &'a [Leg],
    b: &'a [Leg],
    measure: Measure,
    /// Those that have been looked at.
    couples: Vec<Couple>,
    frontier: Frontier<Root, Cell>,
    ledger: Ledger<PairWitness>,
    phases: Phases,
    poses: [Pose; 2],
    bound: LowerBound,
}

fn run(a: &[Leg], b: &[Leg], measure: Measure, goal: Goal, budget: u32) -> PairProof {
    let blurred = a.iter().chain(b).any(|leg| leg.blur_m() > 0.0);
    let mut search = Search {
        a,
        b,
        measure,
        couples: Vec::new(),
        frontier: Frontier::of(std::iter::empty()),
        ledger: Ledger::new(goal, blurred),
        phases: Phases::default(),
        poses: <[Pose; 2]>::default(),
        bound: LowerBound::default(),
    };
    let sound = a.iter().chain(b).all(Leg::is_sound);
    if !goal.is_sound() || !sound || !search.plant() {
        return Proof::none();
    }
    search.prove(budget);
    search.ledger.proof()
}

/// What a cell is about.
#[derive(Clone, Copy)]
struct Two<'a> {
    a: &'a Leg,
    b: &'a Leg,
    /// What comes off the distance in every lower bound.
    taken_m: f64,
    blur_m: f64,
    rounding_m: f64,
}

impl<'a> Two<'a> {
    fn new(a: &'a Leg, b: &'a Leg) -> Self {
        let rounding_m = rounding_m(a.size_m().max(b.size_m()));
        let blur_m = a.blur_m() + b.blur_m();
        Self { a, b, taken_m: blur_m + rounding_m, blur_m, rounding_m }
    }

    fn last_u(&self) -> f64 {
        self.a.last_u().max(self.b.last_u())
    }

    /// Proven for all u by the boxes about the two, and the way from b to a between these. Nothing is nearer than touching.
    fn bound_of_extents(&self, measure: Measure) -> (f64, DVec3) {
        let way = self.a.extent().way_from(self.b.extent());
        let grown_m = self.a.growth_m(measure) + self.b.growth_m(measure);
        ((way.length() - self.taken_m - grown_m).max(0.0), way)
    }
}

impl<'a> Search<'a> {
    /// Every couple of one piece, with the bound that the boxes about its legs give. False when there is none.
    fn plant(&mut self) -> bool {
        let (a, b) = (self.a, self.b);
        let mut by_piece: Vec<(usize, usize)> = b.iter().enumerate().map(|(k, leg)| (leg.piece, k)).collect();
        by_piece.sort_unstable();
        let mut any = false;
        let mut roots: Vec<(f64, Root)> = Vec::new();
        for (index_a, leg_a) in a.iter().enumerate() {
            let first = by_piece.partition_point(|(piece, _)| *piece < leg_a.piece);
            let same = by_piece.iter().skip(first).take_while(|(piece, _)| *piece == leg_a.piece);
            for &(_, index_b) in same {
                let Some(leg_b) = b.get(index_b) else { continue };
                any = true;
                // The two met like this in the piece before.
                if leg_a.repeats() && leg_b.repeats() {
                    continue;
                }
                let (bound_m, _) = Two::new(leg_a, leg_b).bound_of_extents(self.measure);
                if bound_m >= self.ledger.goal().enough_m() {
                    self.ledger.dismiss(bound_m);
                } else {
                    roots.push((bound_m, [index_a, index_b]));
                }
            }
        }
        self.frontier = Frontier::of(roots.into_iter());
        any
    }

    fn whole(&mut self, bound_m: f64, [a, b]: Root) -> Option<Cell> {
        let two = Two::new(self.a.get(a)?, self.b.get(b)?);
        let couple = self.couples.len();
        self.couples.push(Couple { a, b, half: None, replaced: false });
        let (_, way) = two.bound_of_extents(self.measure);
        Some(Cell { bound_m, couple, from: 0.0, to: two.last_u(), n: way.normalize_or_zero() })
    }

    fn prove(&mut self, budget: u32) {
        while let Some(next) = self.frontier.next() {
            let is_replaced = |cell: &Cell| self.couples.get(cell.couple).is_none_or(|couple| couple.replaced);
            let (cell, is_root) = match next {
                Next::Cell(cell) if is_replaced(&cell) => continue,
                Next::Cell(cell) => (Some(cell), false),
                Next::Root(bound_m, root) => (self.whole(bound_m, root), true),
            };
            let Some(cell) = cell else {
                self.ledger.dismiss(f64::NEG_INFINITY);
                continue;
            };
            if cell.bound_m >= self.ledger.threshold() || !self.ledger.spend(budget) {
                self.ledger.dismiss(cell.bound_m);
                // Every root that is left keeps no less.
                if is_root {
                    self.frontier.no_more_roots().for_each(|(bound_m, _)| self.ledger.dismiss(bound_m));
                }
            } else {
                self.evaluate(&cell);
                if self.ledger.is_short() {
                    return;
                }
            }
        }
    }

    fn evaluate(&mut self, cell: &Cell) {
        let couple = self.couples.get(cell.couple).cloned();
        let half = couple.as_ref().and_then(|couple| couple.half.as_ref());
        let (legs_a, legs_b) = (self.a, self.b);
        let two = match (&couple, half) {
            (_, Some((legs, _))) => Some(Two::new(&legs[0], &legs[1])),
            (Some(couple), None) => legs_a.get(couple.a).zip(legs_b.get(couple.b)).map(|(a, b)| Two::new(a, b)),
            (None, None) => None,
        };
        let Some(two) = two else {
            self.ledger.dismiss(f64::NEG_INFINITY);
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

    fn pose<'p>(leg: &'p Leg, u: f64, phases: &mut Phases, own: &'p mut Pose) -> &'p Pose {
        match leg.known_pose_at(u) {
            Some(pose) => pose,
            None => {
                leg.pose_at(u, phases, own);
                own
            }
        }
    }

    fn look(&mut self, cell: &Cell, two: &Two, u: f64, poses: [&Pose; 2]) {
        // Along the direction that the cell came with, if that proves much of it: no meeting need be found then.
        let threshold = self.ledger.threshold();
        if cell.n != DVec3::ZERO && threshold.is_finite() {
            let least = (cell.to - cell.from) * 0.25;
            if self.carve(cell, two, u, poses, cell.n, threshold, least) {
                return;
            }
        }
        let accuracy = self.ledger.accuracy();
        let found = contact::between(poses, self.measure, cell.n, accuracy);
        let here_m = self.seen(cell, two, u, &found);
        if self.halved(cell, two, found.n, here_m) {
            return;
        }
        // What blur takes cannot be proven back.
        let demand = self.ledger.threshold().min(here_m - two.taken_m - self.ledger.resolution());
        if cell.bound_m >= demand {
            self.ledger.dismiss(cell.bound_m);
            return;
        }
        if self.carve(cell, two, u, poses, found.n, demand, 0.0) {
            return;
        }
        // The closest points were not found well enough: once more, better.
        let better = contact::between(poses, self.measure, found.n, accuracy * 1e-3);
        let here_m = self.seen(cell, two, u, &better).min(here_m);
        let demand = demand.min(here_m - two.taken_m - self.ledger.resolution());
        if self.carve(cell, two, u, poses, better.n, demand, 0.0) {
            return;
        }
        // Then what the direction does prove.
        let keeps = self.bound.value() - self.ledger.resolution();
        if keeps > cell.bound_m && self.carve(cell, two, u, poses, better.n, keeps, 0.0) {
            return;
        }
        self.ledger.dismiss(cell.bound_m);
    }

    /// Takes away what the direction n proves around the instant, and pushes what that leaves; does nothing when it proves
    /// nothing, or less than `least` of u.
    #[allow(clippy::too_many_arguments)]
    fn carve(
        &mut self,
        cell: &Cell,
        two: &Two,
        u: f64,
        poses: [&Pose; 2],
        n: DVec3,
        threshold: f64,
        least: f64,
    ) -> bool {
        self.bound.set_between(poses, self.measure, n, two.taken_m, threshold);
        let Some([from, to]) = self.bound.keeps(threshold, u, [cell.from, cell.to], least) else { return false };
        self.ledger.dismiss(threshold);
        for (from, to) in [(cell.from, from), (to, cell.to)] {
            if to > from {
                let likely_m = self.bound.guess((from + to) / 2.0 - u);
                self.frontier.push(likely_m, Cell { from, to, n, ..*cell });
            }
        }
        true
    }

    /// Where blurred legs cannot be proven any better as they are: halves of both take over, whole.
    fn halved(&mut self, cell: &Cell, two: &Two, n: DVec3, here_m: f64) -> bool {
        let worthwhile = two.blur_m > 0.1 * self.ledger.resolution();
        let demand = here_m - two.taken_m - self.ledger.resolution();
        if !worthwhile || demand >= self.ledger.threshold() {
            return false;
        }
        let Some(halves) = Leg::halves_of_two(two.a, two.b) else { return false };
        let blur_m = |legs: &[Leg; 2]| legs[0].blur_m() + legs[1].blur_m();
        let better = |legs: &[Leg; 2]| legs.iter().all(Leg::is_sound) && blur_m(legs) < two.blur_m;
        if !halves.iter().all(|(legs, _)| better(legs)) {
            return false;
        }
        let Some(couple) = self.couples.get_mut(cell.couple) else { return false };
        couple.replaced = true;
        let (a, b) = (couple.a, couple.b);
        let whole = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        let within = couple.half.as_ref().map_or(whole, |(_, within)| *within);
        for (legs, stretch) in halves {
            let half = Two::new(&legs[0], &legs[1]);
            let (bound_m, way) = half.bound_of_extents(self.measure);
            let (along_m, middle_m) = self.bound_along(n, &half);
            let bound_m = bound_m.max(along_m);
            // Of two that are bound alike the one that is nearer first.
            let likely_m = bound_m + 0.01 * (middle_m - bound_m);
            let to = half.last_u();
            let stretch = Bracket::exactly(within.at(stretch.low())).hull(Bracket::exactly(within.at(stretch.high())));
            let couple = self.couples.len();
            self.couples.push(Couple { a, b, half: Some((Rc::new(legs), stretch)), replaced: false });
            let n = if way == DVec3::ZERO { n } else { way.normalize_or_zero() };
            self.frontier.push(likely_m, Cell { bound_m, couple, from: 0.0, to, n });
        }
        true
    }

    /// Proven for two whole legs by one direction; and for the instant at the middle.
    fn bound_along(&mut self, n: DVec3, two: &Two) -> (f64, f64) {
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

    /// Takes note of a meeting; its gap as the motions are stated, rounded up. The true one may be more by the blurs.
    fn seen(&mut self, cell: &Cell, two: &Two, u: f64, found: &Meeting) -> f64 {
        let here_m = found.distance_m + two.rounding_m;
        let high_m = here_m + two.blur_m;
        if high_m < self.ledger.high_m()
            && let Some(couple) = self.couples.get(cell.couple)
        {
            let u = couple.half.as_ref().map_or(u, |(_, within)| within.at(u));
            let [on_a, on_b] = found.points;
            let witness = PairWitness { piece: two.a.piece, a: couple.a, b: couple.b, u, on_a, on_b };
            self.ledger.nearer(high_m, witness);
        }
        here_m
    }
}

#[cfg(test)]
mod tests;
