//! Branch and bound over (leg, strand, u, and the family's own ranges), best first.

use super::carve::LowerBound;
use super::certificate::{Claim, Leaf};
use super::contact::{self, Contact};
use super::frontier::{Frontier, Next};
use super::ledger::{Goal, Ledger};
use super::leg::{Leg, Pose};
use super::{Measure, Proof, Strand, Witness, rounding_m};
use crate::bracket::Bracket;
use crate::conductor::{Member, Patch};
use crate::motion::track::Phases;
use glam::DVec3;
use std::collections::BTreeSet;
use std::rc::Rc;

/// A stretch of u of one leg against a part of one strand's family.
#[derive(Clone, Copy, Debug)]
struct Cell {
    /// Proven for the whole cell.
    bound_m: f64,
    leg: usize,
    strand: usize,
    from: f64,
    to: f64,
    patch: Patch,
    /// Fraction of the run where the contact is likely, and about the way from the wire there; zero when unknown.
    guess: f64,
    n: DVec3,
}

/// A whole leg against a whole strand, by their indices.
type Root = [usize; 2];

/// Half of what a blurred leg may do.
#[derive(Clone)]
struct Half {
    leg: Rc<Leg>,
    /// Index of the leg given that it is a part of.
    of: usize,
}

struct Search<'a> {
    legs: &'a [Leg],
    strands: &'a [Strand<'a>],
    measure: Measure,
    /// Of legs whose blur was in the way, numbered after the legs given.
    halves: Vec<Half>,
    /// Leg and strand whose cells the halves have taken over.
    replaced: BTreeSet<(usize, usize)>,
    frontier: Frontier<Root, Cell>,
    ledger: Ledger<Witness>,
    /// The way from the wire there.
    witness_n: DVec3,
    phases: Phases,
    pose: Pose,
    bound: LowerBound,
    /// What is proven and how, when that is wanted.
    leaves: Option<Vec<Leaf>>,
}

pub(super) fn run(legs: &[Leg], strands: &[Strand], measure: Measure, goal: Goal, budget: u32) -> Proof {
    run_and_note(legs, strands, measure, goal, budget, None).0
}

/// With the leaves of the proof when a place for them is given.
pub(super) fn run_and_note(
    legs: &[Leg],
    strands: &[Strand],
    measure: Measure,
    goal: Goal,
    budget: u32,
    leaves: Option<Vec<Leaf>>,
) -> (Proof, Option<Vec<Leaf>>) {
    let sound = legs.iter().all(Leg::is_sound) && strands.iter().all(Strand::is_sound);
    // Of a leg that no strand meets, and so of no legs or no strands, there is nothing to say.
    let meet = legs.iter().any(|leg| strands.iter().any(|strand| strand.meets(leg.piece)));
    if !meet || !sound || !goal.is_sound() {
        return (Proof::none(), None);
    }
    let mut search = Search {
        legs,
        strands,
        measure,
        halves: Vec::new(),
        replaced: BTreeSet::new(),
        frontier: Frontier::of(std::iter::empty()),
        ledger: Ledger::new(goal, legs.iter().any(|leg| leg.blur_m() > 0.0)),
        witness_n: DVec3::ZERO,
        phases: Phases::default(),
        pose: Pose::default(),
        bound: LowerBound::default(),
        leaves,
    };
    search.plant();
    search.prove(budget);
    let leaves = search.leaves.take();
    (search.ledger.proof(), leaves)
}

impl Search<'_> {
    /// Every leg with every strand, with the bound that the boxes about them give.
    fn plant(&mut self) {
        let mut roots: Vec<(f64, Root)> = Vec::new();
        let mut before: Option<(usize, &Leg)> = None;
        for (leg_index, leg) in self.legs.iter().enumerate() {
            let first = roots.len();
            for (strand_index, strand) in self.strands.iter().enumerate() {
                if !strand.meets(leg.piece) {
                    continue;
                }
                let (bound_m, _) = self.bound_of_extents(leg, strand);
                let root = [leg_index, strand_index];
                if bound_m >= self.ledger.goal().enough_m() {
                    self.dismiss_root(bound_m, root);
                } else {
                    roots.push((bound_m, root));
                }
            }
            if roots.len() == first {
                before = Some((leg_index, leg));
                continue;
            }
            // What stands still is part of the motion just before or after it.
            let after = self.legs.get(leg_index + 1).filter(|after| after.moves()).map(|leg| (leg_index + 1, leg));
            let held = [before, after].into_iter().flatten().find(|(_, other)| leg.is_held_by(other));
            let Some((by, holder)) = held else {
                before = Some((leg_index, leg));
                continue;
            };
            for (bound_m, root) in roots.split_off(first) {
                if self.strands.get(root[1]).is_some_and(|strand| strand.meets(holder.piece)) {
                    self.note_root(bound_m, root, Claim::Held { by });
                } else {
                    roots.push((bound_m, root));
                }
            }
        }
        self.frontier = Frontier::of(roots.into_iter());
    }

    /// Proven for a whole leg and a whole strand by the boxes about them, and the way between these.
    fn bound_of_extents(&self, leg: &Leg, strand: &Strand) -> (f64, DVec3) {
        let taken = self.taken(leg, strand) + leg.growth_m(self.measure);
        let way = leg.extent().way_from(strand.extent());
        // Nothing is nearer than touching.
        ((way.length() - taken).max(-strand.family().radius_m), way)
    }

    fn whole(&self, bound_m: f64, [leg, strand]: Root) -> Option<Cell> {
        let (of_leg, of_strand) = (self.legs.get(leg)?, self.strands.get(strand)?);
        Some(Cell {
            bound_m,
            leg,
            strand,
            from: 0.0,
            to: of_leg.last_u(),
            patch: of_strand.patch(),
            guess: f64::NAN,
            n: self.bound_of_extents(of_leg, of_strand).1.normalize_or_zero(),
        })
    }

    fn prove(&mut self, budget: u32) {
        while let Some(next) = self.frontier.next() {
            let (cell, root) = match next {
                Next::Cell(cell) if self.replaced.contains(&(cell.leg, cell.strand)) => continue,
                Next::Cell(cell) => (Some(cell), None),
                Next::Root(bound_m, root) => (self.whole(bound_m, root), Some(root)),
            };
            let Some(cell) = cell else {
                self.ledger.dismiss(f64::NEG_INFINITY);
                continue;
            };
            if cell.bound_m >= self.ledger.threshold() || !self.ledger.spend(budget) {
                self.dismiss_as_bound(&cell);
                // Every root that is left keeps no less.
                let rest: Vec<(f64, Root)> = root.map_or(Vec::new(), |_| self.frontier.no_more_roots().collect());
                rest.into_iter().for_each(|(bound_m, root)| self.dismiss_root(bound_m, root));
            } else {
                self.evaluate(&cell);
                if self.ledger.is_short() {
                    return;
                }
            }
        }
    }

    fn dismiss_root(&mut self, bound_m: f64, root: Root) {
        self.ledger.dismiss(bound_m);
        self.note_root(bound_m, root, Claim::Boxes);
    }

    fn note_root(&mut self, bound_m: f64, root: Root, claim: Claim) {
        if self.leaves.is_some()
            && let Some(whole) = self.whole(bound_m, root)
        {
            self.note(whole, claim);
        }
    }

    /// Dismisses a cell at what the boxes about its leg and strand prove.
    fn dismiss_as_bound(&mut self, cell: &Cell) {
        self.ledger.dismiss(cell.bound_m);
        self.note(*cell, Claim::Boxes);
    }

    fn note(&mut self, cell: Cell, claim: Claim) {
        if let Some(leaves) = &mut self.leaves {
            let Cell { leg, strand, from, to, patch, .. } = cell;
            leaves.push(Leaf { leg, strand, from, to, patch, claim });
        }
    }

    /// Rounding at the size of the coordinates.
    fn rounding(&self, leg: &Leg, strand: &Strand) -> f64 {
        rounding_m(leg.size_m().max(strand.size_m()))
    }

    /// What comes off the distance to the centre line in every lower bound.
    fn taken(&self, leg: &Leg, strand: &Strand) -> f64 {
        let family = strand.family();
        family.radius_m + family.form_m + leg.blur_m() + self.rounding(leg, strand)
    }

    fn evaluate(&mut self, cell: &Cell) {
        let strand = self.strands.get(cell.strand);
        let half = cell.leg.checked_sub(self.legs.len()).and_then(|k| self.halves.get(k)).cloned();
        let leg = half.as_ref().map(|half| &*half.leg).or(self.legs.get(cell.leg));
        let (Some(leg), Some(strand)) = (leg, strand) else {
            self.ledger.dismiss(f64::NEG_INFINITY);
            return;
        };
        let mut own_pose = std::mem::take(&mut self.pose);
        let known = if cell.guess.is_nan() {
            leg.pose_against(cell.n, cell.from, cell.to)
        } else {
            leg.known_pose_within(cell.from, cell.to)
        };
        let pose = match known {
            Some(pose) => pose,
            None => {
                let middle = cell.from + (cell.to - cell.from) / 2.0;
                leg.pose_at(middle, &mut self.phases, &mut own_pose);
                &own_pose
            }
        };
        // What has not been looked at yet is likely to lie as the nearest does, or as the boxes do.
        let as_nearest = Cell { n: self.witness_n, ..*cell };
        let unseen = cell.guess.is_nan() && as_nearest.n != DVec3::ZERO;
        if unseen && self.carved_cheaply(&as_nearest, leg, strand, pose)
            || cell.n != DVec3::ZERO && self.carved_cheaply(cell, leg, strand, pose)
        {
            self.pose = own_pose;
            return;
        }
        let family = strand.family();
        let guess = if cell.guess.is_nan() {
            let chord = family.b[0] - family.a[0];
            let along = (Leg::centre(pose) - family.a[0]).dot(chord) / chord.length_squared();
            if along.is_finite() { along } else { 0.5 }
        } else {
            cell.guess
        };
        let accuracy = self.ledger.accuracy();
        let found = contact::near(pose, self.measure, family, &cell.patch, guess, cell.n, accuracy);
        self.look(cell, leg, strand, pose, &found);
        self.pose = own_pose;
    }

    /// Carves around the instant of the pose, or splits the patch.
    fn look(&mut self, cell: &Cell, leg: &Leg, strand: &Strand, pose: &Pose, found: &Contact) {
        let here_m = self.seen(cell, leg, strand, pose.u, found);
        if self.settled(cell, leg, strand, pose, found, here_m) {
            return;
        }
        let family = strand.family();
        // Above the wire its curve is the obstacle: no direction serves the whole of it.
        let (reach, farthest) = family.support(found.n, &cell.patch);
        let lost = reach - found.n.dot(family.point(&Member { t: found.member.t, ..farthest }));
        let over = found.n.dot(family.down(found.member.blowout)) <= 0.0;
        if over && lost > 0.5 * (reach - found.n.dot(found.on_wire)) && lost > self.ledger.accuracy() {
            self.split(cell, strand, found, [1.0, 0.0, 0.0, 0.0, 0.0], here_m);
            return;
        }
        // Otherwise the best direction for the whole patch, or else what it is too large by.
        let start = found.n;
        let accuracy = self.ledger.accuracy();
        let apart = contact::apart(pose, self.measure, family, &cell.patch, start, accuracy);
        let mut near = *found;
        if let Some(contact) = apart.contact {
            let here_m = self.seen(cell, leg, strand, pose.u, &contact).min(here_m);
            if self.settled(cell, leg, strand, pose, &contact, here_m) {
                return;
            }
            if contact.distance_m < near.distance_m {
                near = contact;
            }
        }
        self.split(cell, strand, &near, apart.spread, here_m);
    }

    /// A contact was enough to be done with the cell, or with a part of it.
    fn settled(
        &mut self,
        cell: &Cell,
        leg: &Leg,
        strand: &Strand,
        pose: &Pose,
        contact: &Contact,
        here_m: f64,
    ) -> bool {
        self.halved(cell, leg, strand, contact.n, here_m)
            || self.dismissed(cell, leg, strand, here_m)
            || self.carved(cell, leg, strand, pose, contact, here_m)
    }

    /// Where a blurred leg cannot be proven any better as it is: its halves take over, whole.
    fn halved(&mut self, cell: &Cell, leg: &Leg, strand: &Strand, n: DVec3, here_m: f64) -> bool {
        let worthwhile = leg.blur_m() > 0.1 * self.ledger.resolution();
        if !worthwhile || self.demand(leg, strand, here_m) >= self.ledger.threshold() {
            return false;
        }
        let Some(parts) = leg.halves() else { return false };
        let given = cell.leg.checked_sub(self.legs.len()).and_then(|k| self.halves.get(k));
        let of = given.map_or(cell.leg, |half| half.of);
        if !parts.iter().all(|part| part.is_sound() && part.blur_m() < leg.blur_m()) {
            return false;
        }
        self.replaced.insert((cell.leg, cell.strand));
        for part in parts {
            let (bound_m, way) = self.bound_of_extents(&part, strand);
            let (along_m, middle_m) = self.bound_along(n, &part, strand);
            let bound_m = bound_m.max(along_m);
            let half = Cell {
                bound_m,
                leg: self.legs.len() + self.halves.len(),
                strand: cell.strand,
                from: 0.0,
                to: part.last_u(),
                patch: strand.patch(),
                guess: f64::NAN,
                n: way.normalize_or_zero(),
            };
            self.halves.push(Half { leg: Rc::new(part), of });
            // Of two that are bound alike the one that is nearer first.
            self.frontier.push(bound_m + 0.01 * (middle_m - bound_m), half);
        }
        true
    }

    /// Proven for a whole leg and a whole strand by one direction; and for the instant at the middle.
    fn bound_along(&mut self, n: DVec3, leg: &Leg, strand: &Strand) -> (f64, f64) {
        let Some(pose) = leg.known_pose_within(0.0, leg.last_u()) else {
            return (f64::NEG_INFINITY, f64::NEG_INFINITY);
        };
        let taken = strand.family().support(n, &strand.patch()).0 + self.taken(leg, strand);
        self.bound.set(pose, self.measure, n, taken, f64::NEG_INFINITY);
        let least = self.bound.least(1.0, leg.last_u() - pose.u).min(self.bound.least(-1.0, pose.u));
        (least, self.bound.value())
    }

    /// What must be proven of a cell whose gap is `here_m` at one place: what form and blur take cannot be proven back.
    fn demand(&self, leg: &Leg, strand: &Strand, here_m: f64) -> f64 {
        let most = here_m - (self.taken(leg, strand) - strand.family().radius_m);
        self.ledger.threshold().min(most - self.ledger.resolution())
    }

    fn dismissed(&mut self, cell: &Cell, leg: &Leg, strand: &Strand, here_m: f64) -> bool {
        let enough = cell.bound_m >= self.demand(leg, strand, here_m);
        if enough {
            self.dismiss_as_bound(cell);
        }
        enough
    }

    /// Carves along the direction that the cell came with, if that proves much of it: no contact need be found then,
    /// for nothing here is nearer than the nearest so far.
    fn carved_cheaply(&mut self, cell: &Cell, leg: &Leg, strand: &Strand, pose: &Pose) -> bool {
        let threshold = self.ledger.threshold();
        if !threshold.is_finite() {
            return false;
        }
        let least = (cell.to - cell.from) * 0.25;
        self.carve(cell, leg, strand, pose, (cell.n, cell.guess), threshold, least)
    }

    /// Carves along a contact's direction.
    fn carved(&mut self, cell: &Cell, leg: &Leg, strand: &Strand, pose: &Pose, contact: &Contact, here_m: f64) -> bool {
        let threshold = self.demand(leg, strand, here_m);
        self.carve(cell, leg, strand, pose, (contact.n, contact.member.t), threshold, 0.0)
    }

    /// Takes away what the direction n proves around the instant of the pose, and pushes what that leaves; does nothing
    /// when it proves nothing, or less than `least` of u.
    #[allow(clippy::too_many_arguments)]
    fn carve(
        &mut self,
        cell: &Cell,
        leg: &Leg,
        strand: &Strand,
        pose: &Pose,
        (n, guess): (DVec3, f64),
        threshold: f64,
        least: f64,
    ) -> bool {
        let taken = strand.family().support(n, &cell.patch).0 + self.taken(leg, strand);
        self.bound.set(pose, self.measure, n, taken, threshold);
        let Some([from, to]) = self.bound.keeps(threshold, pose.u, [cell.from, cell.to], least) else { return false };
        self.ledger.dismiss(threshold);
        self.note(Cell { from, to, ..*cell }, Claim::Along { n, u: pose.u, keeps_m: threshold });
        for (from, to) in [(cell.from, from), (to, cell.to)] {
            if to > from {
                let likely_m = self.bound.guess((from + to) / 2.0 - pose.u);
                self.frontier.push(likely_m, Cell { from, to, guess, n, ..*cell });
            }
        }
        true
    }

    /// Takes note of a pair; its gap as the motion is stated, rounded up. The true motion may be farther by the blur.
    fn seen(&mut self, cell: &Cell, leg: &Leg, strand: &Strand, u: f64, found: &Contact) -> f64 {
        let here_m = found.distance_m - strand.family().radius_m + self.rounding(leg, strand);
        let high_m = here_m + leg.blur_m();
        if high_m < self.ledger.high_m() {
            self.witness_n = found.n;
            let half = cell.leg.checked_sub(self.legs.len()).and_then(|k| self.halves.get(k));
            let witness = Witness {
                piece: leg.piece,
                leg: half.map_or(cell.leg, |half| half.of),
                strand: cell.strand,
                u: leg.u_in_piece(u),
                member: found.member,
                on_body: found.on_body,
                on_wire: found.on_wire,
            };
            self.ledger.nearer(high_m, witness);
        }
        here_m
    }

    /// Splits the range that is spread farthest in metres, or else the largest.
    fn split(&mut self, cell: &Cell, strand: &Strand, near: &Contact, spread: [f64; 5], here_m: f64) {
        let family = strand.family();
        let (n, member, patch) = (near.n, &near.member, &cell.patch);
        let ranges = patch.ranges();
        let depth_m = family.depth(member.t, member.curvature);
        let [taut, slack] = [patch.curvature.low(), patch.curvature.high()];
        let sizes = [
            family.tangent(member).length() * patch.t.width(),
            family.depth(member.t, slack) - family.depth(member.t, taut),
            depth_m * patch.blowout.width(),
            family.a[0].distance(family.a[1]) * patch.a.width() * (1.0 - member.t),
            family.b[0].distance(family.b[1]) * patch.b.width() * member.t,
        ];
        let mut worst = (0.0, None);
        for (k, size) in sizes.into_iter().enumerate() {
            let badness = size * (spread[k] + 1e-6);
            if ranges[k].width() > 1e-12 && size > self.ledger.accuracy() && badness > worst.0 {
                worst = (badness, Some(k));
            }
        }
        let Some(which) = worst.1 else {
            self.dismiss_as_bound(cell);
            return;
        };
        // Around the contact as wide as the bound can bear, where the loss grows with the square of the width.
        let room_m = here_m - self.ledger.threshold();
        let beta = (0.2 * room_m).max(0.1 * self.ledger.resolution());
        let (at, bend) = match which {
            0 => {
                let g = n.dot(family.down(member.blowout)).abs();
                (member.t, g * family.catenary(member.curvature).bend_m(member.t))
            }
            2 => (member.blowout, depth_m),
            _ => (0.0, 0.0),
        };
        for range in cut(ranges[which], at, (2.0 * beta / bend).sqrt()).into_iter().flatten() {
            let patch = patch.with(which, range);
            self.frontier.push(here_m, Cell { patch, guess: member.t, ..*cell });
        }
    }
}

/// Three pieces, the middle one `width` to either side of `at`; halves when that is no less than about a half.
fn cut(range: Bracket, at: f64, width: f64) -> [Option<Bracket>; 3] {
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
