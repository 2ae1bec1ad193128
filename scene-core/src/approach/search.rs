//! Branch and bound over motion, wire, u and the parameters of the family, smallest estimated gap first.

use super::claim::{Claim, Leaf};
use super::contact::{self, Contact};
use super::lower_bound::LowerBound;
use super::part_motion::{PartMotion, Pose};
use super::progress::{Goal, Progress};
use super::proof::{Measure, Proof, Witness, rounding_m};
use super::queue::{Next, SearchQueue};
use super::split::{cut, widest_range};
use super::wire_arc::WireArc;
use crate::conductor::{Member, Patch};
use crate::motion::track::Phases;
use glam::DVec3;
use std::collections::BTreeSet;
use std::rc::Rc;

/// A stretch of u of one motion with a part of one family.
#[derive(Clone, Copy, Debug)]
struct Cell {
    /// Lower bound for the whole cell, meters.
    bound_m: f64,
    part_motion: usize,
    arc: usize,
    from: f64,
    to: f64,
    patch: Patch,
    /// Fraction of the run where the contact is likely, and an estimate of the vector from the wire there; zero when
    /// unknown.
    guess: f64,
    n: DVec3,
}

/// A whole motion with a whole family, by their indices.
type Root = [usize; 2];

/// Half of a motion with motion error.
#[derive(Clone)]
struct Half {
    part_motion: Rc<PartMotion>,
    /// Index of the given motion that it is a part of.
    of: usize,
}

struct Search<'a> {
    part_motions: &'a [PartMotion],
    arcs: &'a [WireArc<'a>],
    measure: Measure,
    /// Halves of motions whose error was too large, numbered after the given motions.
    halves: Vec<Half>,
    /// Motions and families whose cells the halves have replaced.
    replaced: BTreeSet<(usize, usize)>,
    queue: SearchQueue<Root, Cell>,
    progress: Progress<Witness>,
    /// The vector from the wire at the nearest placement so far.
    witness_n: DVec3,
    phases: Phases,
    pose: Pose,
    bound: LowerBound,
    /// The leaves of the certificate, when one is wanted.
    leaves: Option<Vec<Leaf>>,
}

/// Searches until the goal is reached or the budget is used up.
pub(super) fn run(part_motions: &[PartMotion], arcs: &[WireArc], measure: Measure, goal: Goal, budget: u32) -> Proof {
    run_and_note(part_motions, arcs, measure, goal, budget, None).0
}

/// Like [`run`], and records the leaves of the proof when a list is given.
pub(super) fn run_and_note(
    part_motions: &[PartMotion],
    arcs: &[WireArc],
    measure: Measure,
    goal: Goal,
    budget: u32,
    leaves: Option<Vec<Leaf>>,
) -> (Proof, Option<Vec<Leaf>>) {
    let sound = part_motions.iter().all(PartMotion::is_sound) && arcs.iter().all(WireArc::is_sound);
    // Without a motion and a wire of one piece there is nothing to prove.
    let meet = part_motions.iter().any(|part_motion| arcs.iter().any(|arc| arc.meets(part_motion.piece)));
    if !meet || !sound || !goal.is_sound() {
        return (Proof::none(), None);
    }
    let mut search = Search {
        part_motions,
        arcs,
        measure,
        halves: Vec::new(),
        replaced: BTreeSet::new(),
        queue: SearchQueue::of(std::iter::empty()),
        progress: Progress::new(goal, part_motions.iter().any(|part_motion| part_motion.motion_error_m() > 0.0)),
        witness_n: DVec3::ZERO,
        phases: Phases::default(),
        pose: Pose::default(),
        bound: LowerBound::default(),
        leaves,
    };
    search.seed();
    search.prove(budget);
    let leaves = search.leaves.take();
    (search.progress.proof(), leaves)
}

impl Search<'_> {
    /// Puts every motion with every family into the queue, with the bound from the boxes around them.
    fn seed(&mut self) {
        let mut roots: Vec<(f64, Root)> = Vec::new();
        let mut before: Option<(usize, &PartMotion)> = None;
        for (part_motion_index, part_motion) in self.part_motions.iter().enumerate() {
            let first = roots.len();
            for (arc_index, arc) in self.arcs.iter().enumerate() {
                if !arc.meets(part_motion.piece) {
                    continue;
                }
                let (bound_m, _) = self.bound_of_extents(part_motion, arc);
                let root = [part_motion_index, arc_index];
                if bound_m >= self.progress.goal().enough_m() {
                    self.dismiss_root(bound_m, root);
                } else {
                    roots.push((bound_m, root));
                }
            }
            if roots.len() == first {
                before = Some((part_motion_index, part_motion));
                continue;
            }
            // A still part usually stands where the motion before it ended, or where the next one starts.
            let after = self
                .part_motions
                .get(part_motion_index + 1)
                .filter(|after| after.moves())
                .map(|part_motion| (part_motion_index + 1, part_motion));
            let held = [before, after].into_iter().flatten().find(|(_, other)| part_motion.is_held_by(other));
            let Some((by, holder)) = held else {
                before = Some((part_motion_index, part_motion));
                continue;
            };
            for (bound_m, root) in roots.split_off(first) {
                if self.arcs.get(root[1]).is_some_and(|arc| arc.meets(holder.piece)) {
                    self.note_root(bound_m, root, Claim::Held { by });
                } else {
                    roots.push((bound_m, root));
                }
            }
        }
        self.queue = SearchQueue::of(roots.into_iter());
    }

    /// A lower bound for a whole motion and a whole family from the boxes around them, and the vector between the
    /// boxes.
    fn bound_of_extents(&self, part_motion: &PartMotion, arc: &WireArc) -> (f64, DVec3) {
        let taken = self.taken(part_motion, arc) + part_motion.growth_m(self.measure);
        let way = part_motion.extent().way_from(arc.extent());
        // No gap is below that of contact.
        ((way.length() - taken).max(-arc.family().radius_m), way)
    }

    fn whole(&self, bound_m: f64, [part_motion, arc]: Root) -> Option<Cell> {
        let (of_part_motion, of_arc) = (self.part_motions.get(part_motion)?, self.arcs.get(arc)?);
        Some(Cell {
            bound_m,
            part_motion,
            arc,
            from: 0.0,
            to: of_part_motion.last_u(),
            patch: of_arc.patch(),
            guess: f64::NAN,
            n: self.bound_of_extents(of_part_motion, of_arc).1.normalize_or_zero(),
        })
    }

    fn prove(&mut self, budget: u32) {
        while let Some(next) = self.queue.next() {
            let (cell, root) = match next {
                Next::Cell(cell) if self.replaced.contains(&(cell.part_motion, cell.arc)) => continue,
                Next::Cell(cell) => (Some(cell), None),
                Next::Root(bound_m, root) => (self.whole(bound_m, root), Some(root)),
            };
            let Some(cell) = cell else {
                self.progress.dismiss(f64::NEG_INFINITY);
                continue;
            };
            if cell.bound_m >= self.progress.threshold() || !self.progress.spend(budget) {
                self.dismiss_as_bound(&cell);
                // Every remaining root has at least this bound.
                let rest: Vec<(f64, Root)> = root.map_or(Vec::new(), |_| self.queue.drain_roots().collect());
                rest.into_iter().for_each(|(bound_m, root)| self.dismiss_root(bound_m, root));
            } else {
                self.evaluate(&cell);
                if self.progress.is_short() {
                    return;
                }
            }
        }
    }

    fn dismiss_root(&mut self, bound_m: f64, root: Root) {
        self.progress.dismiss(bound_m);
        self.note_root(bound_m, root, Claim::Boxes);
    }

    fn note_root(&mut self, bound_m: f64, root: Root, claim: Claim) {
        if self.leaves.is_some()
            && let Some(whole) = self.whole(bound_m, root)
        {
            self.note(whole, claim);
        }
    }

    /// Dismisses a cell at the bound from its boxes.
    fn dismiss_as_bound(&mut self, cell: &Cell) {
        self.progress.dismiss(cell.bound_m);
        self.note(*cell, Claim::Boxes);
    }

    fn note(&mut self, cell: Cell, claim: Claim) {
        if let Some(leaves) = &mut self.leaves {
            let Cell { part_motion, arc, from, to, patch, .. } = cell;
            leaves.push(Leaf { part_motion, arc, from, to, patch, claim });
        }
    }

    /// The rounding allowance for coordinates of this size, meters.
    fn rounding(&self, part_motion: &PartMotion, arc: &WireArc) -> f64 {
        rounding_m(part_motion.size_m().max(arc.size_m()))
    }

    /// What every lower bound subtracts from the distance to the center line, meters.
    fn taken(&self, part_motion: &PartMotion, arc: &WireArc) -> f64 {
        let family = arc.family();
        family.radius_m + family.shape_error_m + part_motion.motion_error_m() + self.rounding(part_motion, arc)
    }

    fn evaluate(&mut self, cell: &Cell) {
        let arc = self.arcs.get(cell.arc);
        let half = cell.part_motion.checked_sub(self.part_motions.len()).and_then(|k| self.halves.get(k)).cloned();
        let part_motion = half.as_ref().map(|half| &*half.part_motion).or(self.part_motions.get(cell.part_motion));
        let (Some(part_motion), Some(arc)) = (part_motion, arc) else {
            self.progress.dismiss(f64::NEG_INFINITY);
            return;
        };
        let mut own_pose = std::mem::take(&mut self.pose);
        let known = if cell.guess.is_nan() {
            part_motion.pose_against(cell.n, cell.from, cell.to)
        } else {
            part_motion.known_pose_within(cell.from, cell.to)
        };
        let pose = match known {
            Some(pose) => pose,
            None => {
                let middle = cell.from + (cell.to - cell.from) / 2.0;
                part_motion.pose_at(middle, &mut self.phases, &mut own_pose);
                &own_pose
            }
        };
        // For a new cell, try the direction of the nearest placement so far, then that of the boxes.
        let as_nearest = Cell { n: self.witness_n, ..*cell };
        let unseen = cell.guess.is_nan() && as_nearest.n != DVec3::ZERO;
        if unseen && self.excluded_cheaply(&as_nearest, part_motion, arc, pose)
            || cell.n != DVec3::ZERO && self.excluded_cheaply(cell, part_motion, arc, pose)
        {
            self.pose = own_pose;
            return;
        }
        let family = arc.family();
        let guess = if cell.guess.is_nan() {
            let chord = family.b[0] - family.a[0];
            let along = (PartMotion::center(pose) - family.a[0]).dot(chord) / chord.length_squared();
            if along.is_finite() { along } else { 0.5 }
        } else {
            cell.guess
        };
        let accuracy = self.progress.accuracy();
        let found = contact::near(pose, self.measure, family, &cell.patch, guess, cell.n, accuracy);
        self.look(cell, part_motion, arc, pose, &found);
        self.pose = own_pose;
    }

    /// Excludes a stretch around the pose's instant, or splits the patch.
    fn look(&mut self, cell: &Cell, part_motion: &PartMotion, arc: &WireArc, pose: &Pose, found: &Contact) {
        let here_m = self.seen(cell, part_motion, arc, pose.u, found);
        if self.settled(cell, part_motion, arc, pose, found, here_m) {
            return;
        }
        let family = arc.family();
        // Above the wire, its curve gets in the way: no single direction separates all of it.
        let (reach, farthest) = family.support(found.n, &cell.patch);
        let lost = reach - found.n.dot(family.point(&Member { t: found.member.t, ..farthest }));
        let over = found.n.dot(family.down(found.member.blowout)) <= 0.0;
        if over && lost > 0.5 * (reach - found.n.dot(found.on_wire)) && lost > self.progress.accuracy() {
            self.split(cell, arc, found, [1.0, 0.0, 0.0, 0.0, 0.0], here_m);
            return;
        }
        // Otherwise try the best direction for the whole patch. If the patch is too large for one, learn what to split.
        let start = found.n;
        let accuracy = self.progress.accuracy();
        let apart = contact::apart(pose, self.measure, family, &cell.patch, start, accuracy);
        let mut near = *found;
        if let Some(contact) = apart.contact {
            let here_m = self.seen(cell, part_motion, arc, pose.u, &contact).min(here_m);
            if self.settled(cell, part_motion, arc, pose, &contact, here_m) {
                return;
            }
            if contact.distance_m < near.distance_m {
                near = contact;
            }
        }
        self.split(cell, arc, &near, apart.spread, here_m);
    }

    /// The contact suffices to dismiss the cell, or a part of it.
    fn settled(
        &mut self,
        cell: &Cell,
        part_motion: &PartMotion,
        arc: &WireArc,
        pose: &Pose,
        contact: &Contact,
        here_m: f64,
    ) -> bool {
        self.halved(cell, part_motion, arc, contact.n, here_m)
            || self.dismissed(cell, part_motion, arc, here_m)
            || self.excluded(cell, part_motion, arc, pose, contact, here_m)
    }

    /// Replaces a motion whose error prevents a better bound by its halves.
    fn halved(&mut self, cell: &Cell, part_motion: &PartMotion, arc: &WireArc, n: DVec3, here_m: f64) -> bool {
        let worthwhile = part_motion.motion_error_m() > 0.1 * self.progress.resolution();
        if !worthwhile || self.demand(part_motion, arc, here_m) >= self.progress.threshold() {
            return false;
        }
        let Some(parts) = part_motion.halves() else { return false };
        let given = cell.part_motion.checked_sub(self.part_motions.len()).and_then(|k| self.halves.get(k));
        let of = given.map_or(cell.part_motion, |half| half.of);
        if !parts.iter().all(|part| part.is_sound() && part.motion_error_m() < part_motion.motion_error_m()) {
            return false;
        }
        self.replaced.insert((cell.part_motion, cell.arc));
        for part in parts {
            let (bound_m, way) = self.bound_of_extents(&part, arc);
            let (along_m, middle_m) = self.bound_along(n, &part, arc);
            let bound_m = bound_m.max(along_m);
            let half = Cell {
                bound_m,
                part_motion: self.part_motions.len() + self.halves.len(),
                arc: cell.arc,
                from: 0.0,
                to: part.last_u(),
                patch: arc.patch(),
                guess: f64::NAN,
                n: way.normalize_or_zero(),
            };
            self.halves.push(Half { part_motion: Rc::new(part), of });
            // Of two halves with equal bounds, the nearer one comes first.
            self.queue.push(bound_m + 0.01 * (middle_m - bound_m), half);
        }
        true
    }

    /// A lower bound for a whole motion and a whole family from one direction, and its value at the middle instant.
    fn bound_along(&mut self, n: DVec3, part_motion: &PartMotion, arc: &WireArc) -> (f64, f64) {
        let Some(pose) = part_motion.known_pose_within(0.0, part_motion.last_u()) else {
            return (f64::NEG_INFINITY, f64::NEG_INFINITY);
        };
        let taken = arc.family().support(n, &arc.patch()).0 + self.taken(part_motion, arc);
        self.bound.set(pose, self.measure, n, taken, f64::NEG_INFINITY);
        let least = self.bound.least(1.0, part_motion.last_u() - pose.u).min(self.bound.least(-1.0, pose.u));
        (least, self.bound.value())
    }

    /// The bound that a cell must reach when its gap is `here_m` at one placement. Shape error and motion error cannot
    /// be recovered.
    fn demand(&self, part_motion: &PartMotion, arc: &WireArc, here_m: f64) -> f64 {
        let most = here_m - (self.taken(part_motion, arc) - arc.family().radius_m);
        self.progress.threshold().min(most - self.progress.resolution())
    }

    fn dismissed(&mut self, cell: &Cell, part_motion: &PartMotion, arc: &WireArc, here_m: f64) -> bool {
        let enough = cell.bound_m >= self.demand(part_motion, arc, here_m);
        if enough {
            self.dismiss_as_bound(cell);
        }
        enough
    }

    /// Excludes along the direction that the cell already has, when that covers much of it. No contact is needed then,
    /// because nothing in this stretch is nearer than the nearest so far.
    fn excluded_cheaply(&mut self, cell: &Cell, part_motion: &PartMotion, arc: &WireArc, pose: &Pose) -> bool {
        let threshold = self.progress.threshold();
        if !threshold.is_finite() {
            return false;
        }
        let least = (cell.to - cell.from) * 0.25;
        self.exclude(cell, part_motion, arc, pose, (cell.n, cell.guess), threshold, least)
    }

    /// Excludes along a contact's direction.
    fn excluded(
        &mut self,
        cell: &Cell,
        part_motion: &PartMotion,
        arc: &WireArc,
        pose: &Pose,
        contact: &Contact,
        here_m: f64,
    ) -> bool {
        let threshold = self.demand(part_motion, arc, here_m);
        self.exclude(cell, part_motion, arc, pose, (contact.n, contact.member.t), threshold, 0.0)
    }

    /// Excludes the stretch around the pose's instant over which the direction n proves `threshold`, and queues the
    /// rest. Does nothing when it proves nothing, or less than `least` of u.
    #[allow(clippy::too_many_arguments)]
    fn exclude(
        &mut self,
        cell: &Cell,
        part_motion: &PartMotion,
        arc: &WireArc,
        pose: &Pose,
        (n, guess): (DVec3, f64),
        threshold: f64,
        least: f64,
    ) -> bool {
        let taken = arc.family().support(n, &cell.patch).0 + self.taken(part_motion, arc);
        self.bound.set(pose, self.measure, n, taken, threshold);
        let Some([from, to]) = self.bound.holds_over(threshold, pose.u, [cell.from, cell.to], least) else {
            return false;
        };
        self.progress.dismiss(threshold);
        self.note(Cell { from, to, ..*cell }, Claim::Along { n, u: pose.u, keeps_m: threshold });
        for (from, to) in [(cell.from, from), (to, cell.to)] {
            if to > from {
                let likely_m = self.bound.guess((from + to) / 2.0 - pose.u);
                self.queue.push(likely_m, Cell { from, to, guess, n, ..*cell });
            }
        }
        true
    }

    /// Records a contact and returns its gap, rounded up, for the motion as stated. The true gap may exceed it by the
    /// motion error.
    fn seen(&mut self, cell: &Cell, part_motion: &PartMotion, arc: &WireArc, u: f64, found: &Contact) -> f64 {
        let here_m = found.distance_m - arc.family().radius_m + self.rounding(part_motion, arc);
        let high_m = here_m + part_motion.motion_error_m();
        if high_m < self.progress.high_m() {
            self.witness_n = found.n;
            let half = cell.part_motion.checked_sub(self.part_motions.len()).and_then(|k| self.halves.get(k));
            let witness = Witness {
                piece: part_motion.piece,
                part_motion: half.map_or(cell.part_motion, |half| half.of),
                arc: cell.arc,
                u: part_motion.u_in_piece(u),
                member: found.member,
                on_body: found.on_body,
                on_wire: found.on_wire,
            };
            self.progress.nearer(high_m, witness);
        }
        here_m
    }

    /// Splits the range with the largest spread in meters, or else the largest range.
    fn split(&mut self, cell: &Cell, arc: &WireArc, near: &Contact, spread: [f64; 5], here_m: f64) {
        let family = arc.family();
        let (n, member, patch) = (near.n, &near.member, &cell.patch);
        let Some(which) = widest_range(family, member, patch, spread, self.progress.accuracy()) else {
            self.dismiss_as_bound(cell);
            return;
        };
        // The middle piece is as wide as the bound allows; the loss grows with the square of its width.
        let room_m = here_m - self.progress.threshold();
        let beta = (0.2 * room_m).max(0.1 * self.progress.resolution());
        let (at, bend) = match which {
            0 => {
                let g = n.dot(family.down(member.blowout)).abs();
                (member.t, g * family.catenary(member.curvature).bend_m(member.t))
            }
            2 => (member.blowout, family.depth(member.t, member.curvature)),
            _ => (0.0, 0.0),
        };
        for range in cut(patch.ranges()[which], at, (2.0 * beta / bend).sqrt()).into_iter().flatten() {
            let patch = patch.with(which, range);
            self.queue.push(here_m, Cell { patch, guess: member.t, ..*cell });
        }
    }
}
