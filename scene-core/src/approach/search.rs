//! Branch and bound over (leg, strand, u, and the family's own ranges), best first.

use super::carve::LowerBound;
use super::contact::{self, Contact};
use super::leg::{Leg, Pose};
use super::{Measure, Proof, Strand, Witness};
use crate::bracket::Bracket;
use crate::conductor::{Member, Patch};
use crate::motion::track::Phases;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

#[derive(Clone, Copy, Debug)]
pub(super) enum Goal {
    Bracket { tolerance_m: f64 },
    Decide { threshold_m: f64 },
}

/// To what a decision is resolved: a placement nearer than this to the threshold is undecided.
const RESOLUTION_M: f64 = 1e-5;

/// What is still to be proven: a stretch of u of one leg against a part of one strand's family.
#[derive(Clone, Copy, Debug)]
struct Cell {
    /// What the gap is likely to be; the order of the search.
    likely_m: f64,
    order: u32,
    /// Proven for the whole cell.
    bound_m: f64,
    leg: usize,
    strand: usize,
    from: f64,
    to: f64,
    patch: Patch,
    /// Fraction of the run where the contact is likely.
    guess: f64,
}

impl PartialEq for Cell {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Cell {}

impl PartialOrd for Cell {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The least likely gap is the greatest cell; of equals the one that came first.
impl Ord for Cell {
    fn cmp(&self, other: &Self) -> Ordering {
        other
            .likely_m
            .total_cmp(&self.likely_m)
            .then(other.order.cmp(&self.order))
    }
}

struct Search<'a> {
    legs: &'a [Leg],
    strands: &'a [Strand<'a>],
    measure: Measure,
    goal: Goal,
    cells: BinaryHeap<Cell>,
    order: u32,
    /// The lowest of all that has been dismissed.
    low_m: f64,
    high_m: f64,
    witness: Option<Witness>,
    evaluations: u32,
    phases: Phases,
    pose: Pose,
    bound: LowerBound,
}

pub(super) fn run(
    legs: &[Leg],
    strands: &[Strand],
    measure: Measure,
    goal: Goal,
    budget: u32,
) -> Proof {
    let sound = legs.iter().all(Leg::is_sound) && strands.iter().all(Strand::is_sound);
    let goal_sound = match goal {
        Goal::Bracket { tolerance_m } => tolerance_m > 0.0 && tolerance_m.is_finite(),
        Goal::Decide { threshold_m } => threshold_m.is_finite(),
    };
    if legs.is_empty() || strands.is_empty() || !sound || !goal_sound {
        return Proof {
            low_m: f64::NEG_INFINITY,
            high_m: f64::INFINITY,
            witness: None,
            closed: false,
            evaluations: 0,
        };
    }
    let mut search = Search {
        legs,
        strands,
        measure,
        goal,
        cells: BinaryHeap::new(),
        order: 0,
        low_m: f64::INFINITY,
        high_m: f64::INFINITY,
        witness: None,
        evaluations: 0,
        phases: Phases::default(),
        pose: Pose::default(),
        bound: LowerBound::default(),
    };
    search.plant();
    search.prove(budget);
    search.proof()
}

impl Search<'_> {
    /// One cell for every leg and strand, with the bound that the boxes about them give.
    fn plant(&mut self) {
        for (leg_index, leg) in self.legs.iter().enumerate() {
            for (strand_index, strand) in self.strands.iter().enumerate() {
                let taken = self.taken(leg, strand);
                let apart = leg.gap_of_extents(strand.extent(), self.measure) - taken;
                let floor = -strand.family().radius_m;
                self.push(Cell {
                    likely_m: apart,
                    order: 0,
                    bound_m: apart.max(floor),
                    leg: leg_index,
                    strand: strand_index,
                    from: 0.0,
                    to: leg.last_u(),
                    patch: strand.patch(),
                    guess: f64::NAN,
                });
            }
        }
    }

    fn push(&mut self, mut cell: Cell) {
        cell.order = self.order;
        self.order += 1;
        self.cells.push(cell);
    }

    fn prove(&mut self, budget: u32) {
        while let Some(cell) = self.cells.pop() {
            if cell.bound_m >= self.threshold() {
                self.dismiss(cell.bound_m);
            } else if self.evaluations >= budget {
                self.dismiss(cell.bound_m);
                for cell in std::mem::take(&mut self.cells) {
                    self.dismiss(cell.bound_m);
                }
            } else {
                self.evaluations += 1;
                self.evaluate(&cell);
                if matches!(self.goal, Goal::Decide { threshold_m } if self.high_m < threshold_m) {
                    return;
                }
            }
        }
    }

    fn proof(self) -> Proof {
        let low_m = self.low_m.min(self.high_m);
        let closed = match self.goal {
            Goal::Bracket { tolerance_m } => self.high_m - low_m <= tolerance_m,
            Goal::Decide { threshold_m } => low_m >= threshold_m || self.high_m < threshold_m,
        };
        let Self {
            high_m,
            witness,
            evaluations,
            ..
        } = self;
        Proof {
            low_m,
            high_m,
            witness,
            closed,
            evaluations,
        }
    }

    /// Everything at or above this may be dismissed.
    fn threshold(&self) -> f64 {
        match self.goal {
            // No use in proving more in one place than has been given up in another.
            Goal::Bracket { .. } => (self.high_m - self.resolution()).min(self.low_m),
            Goal::Decide { threshold_m } => threshold_m,
        }
    }

    fn resolution(&self) -> f64 {
        match self.goal {
            // A little less than asked for: rounding comes on top.
            Goal::Bracket { tolerance_m } => tolerance_m * 0.99,
            Goal::Decide { .. } => RESOLUTION_M,
        }
    }

    /// Every dismissal goes through here.
    fn dismiss(&mut self, proven_m: f64) {
        // A NaN is no proof.
        self.low_m = if proven_m <= self.low_m {
            proven_m
        } else if proven_m.is_nan() {
            f64::NEG_INFINITY
        } else {
            self.low_m
        };
    }

    /// Rounding at the size of the coordinates.
    fn rounding(&self, leg: &Leg, strand: &Strand) -> f64 {
        1e-9 + 1e-12 * leg.size_m().max(strand.size_m())
    }

    /// What comes off the distance to the centre line in every lower bound.
    fn taken(&self, leg: &Leg, strand: &Strand) -> f64 {
        let family = strand.family();
        family.radius_m + family.form_m + leg.blur_m() + self.rounding(leg, strand)
    }

    fn evaluate(&mut self, cell: &Cell) {
        let (Some(leg), Some(strand)) = (self.legs.get(cell.leg), self.strands.get(cell.strand))
        else {
            self.dismiss(f64::NEG_INFINITY);
            return;
        };
        let mut own_pose = std::mem::take(&mut self.pose);
        let pose = match leg.known_pose_within(cell.from, cell.to) {
            Some(pose) => pose,
            None => {
                let middle = cell.from + (cell.to - cell.from) / 2.0;
                leg.pose_at(middle, &mut self.phases, &mut own_pose);
                &own_pose
            }
        };
        let family = strand.family();
        let guess = if cell.guess.is_nan() {
            let chord = family.b[0] - family.a[0];
            let along = (Leg::centre(pose) - family.a[0]).dot(chord) / chord.length_squared();
            if along.is_finite() { along } else { 0.5 }
        } else {
            cell.guess
        };
        let accuracy = (self.resolution() * 0.02).min(1e-5);
        let found = contact::near(pose, self.measure, family, &cell.patch, guess, accuracy);
        self.look(cell, leg, strand, pose, &found);
        self.pose = own_pose;
    }

    fn look(&mut self, cell: &Cell, leg: &Leg, strand: &Strand, pose: &Pose, found: &Contact) {
        let family = strand.family();
        let rounding = self.rounding(leg, strand);
        let here_m = found.distance_m - family.radius_m + rounding;
        if here_m < self.high_m {
            self.high_m = here_m;
            self.witness = Some(Witness {
                piece: leg.piece,
                leg: cell.leg,
                strand: cell.strand,
                u: pose.u,
                member: found.member,
                on_body: found.on_body,
                on_wire: found.on_wire,
            });
        }
        let taken = self.taken(leg, strand);
        // What form and blur take cannot be proven back; more than this is not to be had here.
        let attainable = here_m - (taken - family.radius_m) - rounding - self.resolution();
        let threshold = self.threshold().min(attainable);
        if cell.bound_m >= threshold {
            self.dismiss(cell.bound_m);
            return;
        }
        let (reach, farthest) = family.support(found.n, &cell.patch);
        let room = (attainable + self.resolution() - threshold).max(0.0);
        let mut bound = std::mem::take(&mut self.bound);
        bound.set(pose, self.measure, found.n, reach + taken, room * 0.5);
        if bound.value() >= threshold {
            self.dismiss(threshold);
            let back = bound.reach(threshold, -1.0, pose.u - cell.from);
            let on = bound.reach(threshold, 1.0, cell.to - pose.u);
            for (from, to) in [(cell.from, pose.u - back), (pose.u + on, cell.to)] {
                if to > from {
                    let likely_m = bound.guess((from + to) / 2.0 - pose.u);
                    self.push(Cell {
                        likely_m,
                        from,
                        to,
                        guess: found.member.t,
                        ..*cell
                    });
                }
            }
        } else {
            self.split(cell, strand, pose, found, &farthest, here_m, room);
        }
        self.bound = bound;
    }

    /// Splits what makes the bound loose: telescopes from the farthest member of the patch to the one in contact, one
    /// range after another, and takes the range that loses most.
    #[allow(clippy::too_many_arguments)]
    fn split(
        &mut self,
        cell: &Cell,
        strand: &Strand,
        pose: &Pose,
        found: &Contact,
        farthest: &Member,
        here_m: f64,
        room_m: f64,
    ) {
        let family = strand.family();
        let (n, near) = (found.n, &found.member);
        let mut between = *farthest;
        let mut along = n.dot(family.point(&between));
        let mut lost_to = |change: &dyn Fn(&mut Member)| {
            change(&mut between);
            let next = n.dot(family.point(&between));
            let lost = along - next;
            along = next;
            lost
        };
        let lost = [
            lost_to(&|member| member.t = near.t),
            lost_to(&|member| member.curvature = near.curvature),
            lost_to(&|member| member.blowout = near.blowout),
            lost_to(&|member| member.a = near.a),
            lost_to(&|member| member.b = near.b),
        ];
        let patch = &cell.patch;
        let ranges = [patch.t, patch.curvature, patch.blowout, patch.a, patch.b];
        let worst = (0..5)
            .filter(|&k| ranges[k].width() > 1e-12)
            .max_by(|&i, &j| lost[i].abs().total_cmp(&lost[j].abs()));
        let small = self.resolution() * 0.02;
        let parts: Vec<Patch> = match worst {
            Some(k) if lost[k].abs() > small => {
                let beta = (0.2 * room_m).max(0.1 * self.resolution());
                let per_width = match k {
                    0 => {
                        let g = n.dot(family.down(near.blowout)).abs();
                        g * family.catenary(near.curvature).bend(near.t)
                    }
                    2 => family.depth(near.t, near.curvature),
                    _ => 0.0,
                };
                let at = [near.t, near.curvature, near.blowout, near.a, near.b][k];
                let width = (2.0 * beta / per_width).sqrt();
                let pieces = cut(ranges[k], at, width);
                pieces
                    .into_iter()
                    .flatten()
                    .map(|piece| with_range(patch, k, piece))
                    .collect()
            }
            _ => Vec::new(),
        };
        if !parts.is_empty() {
            for part in parts {
                self.push(Cell {
                    likely_m: here_m,
                    patch: part,
                    guess: near.t,
                    ..*cell
                });
            }
        } else if cell.to - cell.from > 1e-9 {
            self.push(Cell {
                likely_m: here_m,
                to: pose.u,
                guess: near.t,
                ..*cell
            });
            self.push(Cell {
                likely_m: here_m,
                from: pose.u,
                guess: near.t,
                ..*cell
            });
        } else {
            self.dismiss(cell.bound_m);
        }
    }
}

fn with_range(patch: &Patch, which: usize, range: Bracket) -> Patch {
    let mut part = *patch;
    match which {
        0 => part.t = range,
        1 => part.curvature = range,
        2 => part.blowout = range,
        3 => part.a = range,
        _ => part.b = range,
    }
    part
}

/// Three pieces, the middle one `width` to either side of `at`; halves when that is no less than about a half.
fn cut(range: Bracket, at: f64, width: f64) -> [Option<Bracket>; 3] {
    let [low, high] = range.halves();
    let halves = [Some(low), Some(high), None];
    if !(width < range.width() / 3.0) {
        return halves;
    }
    let (from, to) = (at - width, at + width);
    let piece = |from: f64, to: f64| Bracket::between(from, to).filter(|piece| piece.width() > 0.0);
    let left = if from > range.low() {
        piece(range.low(), from)
    } else {
        None
    };
    let right = if to < range.high() {
        piece(to, range.high())
    } else {
        None
    };
    [
        left,
        piece(from.max(range.low()), to.min(range.high())),
        right,
    ]
}
