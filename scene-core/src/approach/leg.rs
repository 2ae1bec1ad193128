//! A part over one piece of the motion, made ready for the search.

use super::Measure;
use crate::bracket::Bracket;
use crate::motion::spread::halves_of_two;
use crate::motion::track::{Bounds, Moment, Phases};
use crate::motion::{MovingFeature, MovingPart, Track};
use crate::solid::Extent;
use glam::DVec3;
use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

/// How many equal stretches of u a moving leg knows its poses at the ends of.
const STRETCHES: u32 = 4;

/// A part over one piece of the motion. Make it once and use it against everything; a copy shares what was made.
#[derive(Clone, Debug)]
pub struct Leg {
    /// The caller's own number for the piece of motion; handed back in a witness.
    pub piece: usize,
    /// The piece before has the very same leg.
    repeats: bool,
    way: Arc<Way>,
}

/// How the part goes, whatever the piece.
#[derive(Debug)]
struct Way {
    rates: Vec<f64>,
    corners: Vec<Corner>,
    blur_m: f64,
    most_allowance_m: f64,
    moves: bool,
    /// Where every corner is at the first and the last instant.
    ends: [Vec<Place>; 2],
    /// At the ends of the stretches; one pose when nothing moves. Worked out when first asked for: of most legs the box tells
    /// enough.
    poses: OnceLock<Vec<Pose>>,
    /// Holds the solid (without blur and allowances) over all u.
    extent: Extent,
    /// The largest magnitude of a coordinate, for rounding.
    size_m: f64,
    sound: bool,
    /// Kept when there is blur to halve.
    part: Option<MovingPart>,
}

/// A ball of `ball_m`, about a flat disc of `disc_m` when there is an axis, about a point otherwise.
#[derive(Clone, Debug)]
struct Corner {
    at: Track,
    at_bounds: Bounds,
    axis: Option<(Track, Bounds)>,
    disc_m: f64,
    ball_m: f64,
    allowance_m: f64,
}

/// All corners at one u.
#[derive(Clone, Debug, Default)]
pub(super) struct Pose {
    pub u: f64,
    pub corners: Vec<CornerPose>,
}

/// One corner at one u, with all that a bound around it needs.
#[derive(Clone, Copy, Debug)]
pub(super) struct CornerPose {
    pub at: Moment,
    pub at_bounds: Bounds,
    /// Zero for a ball.
    pub axis: Moment,
    pub axis_bounds: Bounds,
    /// Radius of the flat disc; zero for a ball.
    pub disc_m: f64,
    /// Radius of the ball that is added to it.
    pub ball_m: f64,
    allowance_m: f64,
}

/// A corner at one instant.
#[derive(Clone, Copy, Debug)]
struct Place {
    at: DVec3,
    /// Zero for a ball.
    axis: DVec3,
}

impl CornerPose {
    pub fn ball(&self, measure: Measure) -> f64 {
        match measure {
            Measure::Gap => self.ball_m,
            Measure::GapLessAllowance => self.ball_m + self.allowance_m,
        }
    }
}

impl Leg {
    pub fn new(piece: usize, part: &MovingPart) -> Self {
        let unit = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        let corners: Vec<Corner> = part
            .features
            .iter()
            .map(|feature| {
                // An axis that is not a unit vector tells nothing: the ball about the disc holds it whichever way it turns.
                let axis = feature.axis.as_ref().filter(|axis| is_unit(axis, &part.rates));
                let (disc_m, ball_m) = if axis.is_some() { (feature.radius_m, 0.0) } else { (0.0, feature.radius_m) };
                Corner {
                    at: feature.at.clone(),
                    at_bounds: feature.at.bounds(&part.rates, unit),
                    axis: axis.map(|axis| (axis.clone(), axis.bounds(&part.rates, unit))),
                    disc_m,
                    ball_m,
                    allowance_m: feature.allowance_m,
                }
            })
            .collect();
        let mut way = Way {
            rates: part.rates.clone(),
            corners,
            blur_m: part.blur_m,
            most_allowance_m: part.features.iter().fold(0.0, |most, f| f.allowance_m.max(most)),
            moves: !part.is_still(),
            ends: [Vec::new(), Vec::new()],
            poses: OnceLock::new(),
            extent: Extent::EMPTY,
            size_m: 0.0,
            sound: false,
            part: part.spread.is_some().then(|| part.clone()),
        };
        way.measure_up();
        Self { piece, repeats: false, way: Arc::new(way) }
    }

    /// The same leg in another piece.
    #[must_use]
    pub fn in_piece(&self, piece: usize) -> Self {
        Self { piece, repeats: false, ..self.clone() }
    }

    /// The same leg in the next piece.
    pub fn repeated(&self) -> Self {
        Self { piece: self.piece + 1, repeats: true, ..self.clone() }
    }

    /// It stands where it stood in the piece before, where what it meets was looked at unless that is new.
    pub(super) fn repeats(&self) -> bool {
        self.repeats
    }

    /// As if nothing were known of the piece before.
    pub fn anew(&self) -> Self {
        Self { repeats: false, ..self.clone() }
    }

    /// The part as it is at u, standing still.
    pub fn frozen(part: &MovingPart, u: f64) -> Self {
        let phases = Phases::at(&part.rates, u);
        let still = |track: &Track| Track::still(track.at(&phases));
        let mut frozen = MovingPart { spread: None, ..part.clone() };
        for feature in &mut frozen.features {
            feature.at = still(&feature.at);
            feature.axis = feature.axis.as_ref().map(still);
        }
        Self::new(0, &frozen)
    }

    /// Computes the pose at u into `pose`.
    pub(super) fn pose_at(&self, u: f64, phases: &mut Phases, pose: &mut Pose) {
        self.way.pose_at(u, phases, pose);
    }

    /// A pose known beforehand well inside a stretch of u.
    pub(super) fn known_pose_within(&self, from: f64, to: f64) -> Option<&Pose> {
        let steps = (self.way.poses().len() as f64 - 1.0).max(0.0);
        let nearest = ((from + to) / 2.0 * steps).round();
        let pose = self.way.poses().get(nearest as usize)?;
        let quarter = (to - from) / 4.0;
        (pose.u >= from + quarter && pose.u <= to - quarter).then_some(pose)
    }

    /// The pose at u when it was known beforehand; the one pose there is when nothing moves.
    pub(super) fn known_pose_at(&self, u: f64) -> Option<&Pose> {
        if !self.moves() {
            return self.way.poses().first();
        }
        let pose = self.way.poses().get((u * f64::from(STRETCHES)).round() as usize)?;
        (pose.u == u).then_some(pose)
    }

    /// Of the poses known beforehand in a stretch of u, the one that reaches farthest against `n`, if that is any.
    pub(super) fn pose_against(&self, n: DVec3, from: f64, to: f64) -> Option<&Pose> {
        if n == DVec3::ZERO {
            return self.known_pose_within(from, to);
        }
        let mut best = (f64::INFINITY, None);
        for pose in self.way.poses().iter().filter(|pose| (from..=to).contains(&pose.u)) {
            let nearest = pose.corners.iter().map(|corner| n.dot(corner.at.at) - corner.ball_m);
            let along = nearest.fold(f64::INFINITY, f64::min);
            if along < best.0 {
                best = (along, Some(pose));
            }
        }
        best.1
    }

    /// [0, 1], or [0, 0] when nothing moves.
    pub(super) fn last_u(&self) -> f64 {
        if self.moves() { 1.0 } else { 0.0 }
    }

    pub(super) fn moves(&self) -> bool {
        self.way.moves
    }

    pub(super) fn blur_m(&self) -> f64 {
        self.way.blur_m
    }

    pub(super) fn size_m(&self) -> f64 {
        self.way.size_m
    }

    pub(super) fn is_sound(&self) -> bool {
        self.way.sound
    }

    /// Nothing moves, and `other` comes by exactly so at its first or last instant: whatever is proven of it holds here.
    pub(super) fn is_held_by(&self, other: &Self) -> bool {
        let sharp = self.way.blur_m == 0.0 && other.way.blur_m == 0.0;
        let [still, _] = &self.way.ends;
        sharp && !self.moves() && other.way.ends.iter().any(|end| self.way.stands_within(still, &other.way, end))
    }

    /// Without those that stand as another of them does at its first or last instant: whatever is proven of the others
    /// holds for all. Only among legs that meet the same strands.
    pub fn distinct(legs: Vec<Self>) -> Vec<Self> {
        let mut kept: Vec<Self> = Vec::with_capacity(legs.len());
        let (moving, still): (Vec<Self>, Vec<Self>) = legs.into_iter().partition(Self::moves);
        kept.extend(moving);
        for leg in still {
            if !kept.iter().any(|other| leg.is_held_by(other)) {
                kept.push(leg);
            }
        }
        kept.sort_by_key(|leg| leg.piece);
        kept
    }

    /// Two legs that together hold all that this one may do, each with less blur.
    pub(super) fn halves(&self) -> Option<[Self; 2]> {
        let halves = self.way.part.as_ref()?.halves()?;
        Some(halves.map(|half| Self::new(self.piece, &half)))
    }

    /// Two pairs of legs that together hold all that two legs of one piece may do at once, each with less blur; and the
    /// stretch of this u that each is of.
    pub(super) fn halves_of_two(a: &Self, b: &Self) -> Option<[([Self; 2], Bracket); 2]> {
        let (part_a, part_b) = (a.as_part(), b.as_part());
        let halves = halves_of_two(&part_a, &part_b)?;
        let leg = |of: &Self, part: &MovingPart| Self::new(of.piece, part);
        Some(halves.map(|half| ([leg(a, &half.parts[0]), leg(b, &half.parts[1])], half.stretch)))
    }

    fn as_part(&self) -> Cow<'_, MovingPart> {
        if let Some(part) = &self.way.part {
            return Cow::Borrowed(part);
        }
        let feature = |corner: &Corner| MovingFeature {
            at: corner.at.clone(),
            radius_m: if corner.axis.is_some() { corner.disc_m } else { corner.ball_m },
            axis: corner.axis.as_ref().map(|(axis, _)| axis.clone()),
            allowance_m: corner.allowance_m,
        };
        let features = self.way.corners.iter().map(feature).collect();
        Cow::Owned(MovingPart { rates: self.way.rates.clone(), features, blur_m: self.way.blur_m, spread: None })
    }

    pub(super) fn u_in_piece(&self, u: f64) -> f64 {
        self.way.part.as_ref().map_or(u, |part| part.u_in_piece(u))
    }

    /// Holds the solid, without blur and allowances, over all u.
    pub(super) fn extent(&self) -> Extent {
        self.way.extent
    }

    /// The most that any corner grows by.
    pub(super) fn growth_m(&self, measure: Measure) -> f64 {
        match measure {
            Measure::Gap => 0.0,
            Measure::GapLessAllowance => self.way.most_allowance_m,
        }
    }

    /// The greatest allowance of any corner.
    pub fn most_allowance_m(&self) -> f64 {
        self.way.most_allowance_m
    }

    /// The allowance of every corner, where they all have the same.
    pub fn even_allowance_m(&self) -> Option<f64> {
        let mut all = self.way.corners.iter().map(|corner| corner.allowance_m);
        let first = all.next()?;
        all.all(|other| other == first).then_some(first)
    }

    /// Somewhere in the middle of all corners.
    pub(super) fn centre(pose: &Pose) -> DVec3 {
        let sum: DVec3 = pose.corners.iter().map(|corner| corner.at.at).sum();
        sum / (pose.corners.len().max(1) as f64)
    }
}

impl Way {
    fn stretches(&self) -> u32 {
        if self.moves { STRETCHES } else { 0 }
    }

    fn poses(&self) -> &[Pose] {
        self.poses.get_or_init(|| {
            let mut phases = Phases::default();
            let at = |k: u32| {
                let mut pose = Pose::default();
                self.pose_at(f64::from(k) / f64::from(STRETCHES), &mut phases, &mut pose);
                pose
            };
            (0..=self.stretches()).map(at).collect()
        })
    }

    /// Every corner at one place lies within the other's, up to much less than what is added for rounding.
    fn stands_within(&self, mine: &[Place], other: &Self, theirs: &[Place]) -> bool {
        let corners = self.corners.iter().zip(&other.corners);
        self.corners.len() == other.corners.len()
            && corners.zip(mine.iter().zip(theirs)).all(|((my_corner, their_corner), (mine, theirs))| {
                (mine.at - theirs.at).abs().max_element() <= 1e-11
                    && (mine.axis - theirs.axis).abs().max_element() <= 1e-12
                    && my_corner.disc_m <= their_corner.disc_m
                    && my_corner.ball_m <= their_corner.ball_m
                    && my_corner.allowance_m <= their_corner.allowance_m
            })
    }

    fn measure_up(&mut self) {
        let half_step = 0.5 / f64::from(STRETCHES);
        let mut extent = Extent::EMPTY;
        let mut sound = !self.corners.is_empty() && self.blur_m >= 0.0 && self.blur_m < 1e9;
        for corner in &self.corners {
            let axis = corner.axis.as_ref();
            let bounds = [corner.at_bounds, axis.map_or(Bounds::default(), |(_, bounds)| *bounds)];
            sound &= bounds.iter().all(|b| b.second.is_finite() && b.third.is_finite());
            let radii = [corner.disc_m, corner.ball_m, corner.allowance_m];
            sound &= radii.iter().all(|&radius| (0.0..1e9).contains(&radius));
            // What is finite at the start and bends finitely stays finite.
            let start = Phases::at(&self.rates, 0.0);
            let moments = [corner.at.moment(&start), axis.map_or(Moment::default(), |(axis, _)| axis.moment(&start))];
            sound &= moments.iter().all(|moment| moment.first.is_finite() && moment.second.is_finite());
        }
        let mut phases = Phases::default();
        for k in 0..=self.stretches() {
            phases.set(&self.rates, f64::from(k) / f64::from(STRETCHES));
            let place = |corner: &Corner| Place {
                at: corner.at.moment(&phases).at,
                axis: corner.axis.as_ref().map_or(DVec3::ZERO, |(axis, _)| axis.moment(&phases).at),
            };
            let places: Vec<Place> = self.corners.iter().map(place).collect();
            for (corner, place) in self.corners.iter().zip(&places) {
                // Between two poses a corner leaves the segment between them by no more than this.
                let bulge = corner.at_bounds.second * half_step * half_step / 2.0;
                extent = extent.with_ball(place.at, corner.disc_m + corner.ball_m + bulge);
                sound &= place.at.is_finite() && place.axis.is_finite();
            }
            if k == 0 {
                self.ends[0].clone_from(&places);
            }
            if k == self.stretches() {
                self.ends[1] = places;
            }
        }
        self.size_m = extent.low.abs().max(extent.high.abs()).max_element();
        self.extent = extent;
        self.sound = sound && self.size_m < 1e9;
    }

    fn pose_at(&self, u: f64, phases: &mut Phases, pose: &mut Pose) {
        phases.set(&self.rates, u);
        pose.u = u;
        pose.corners.clear();
        pose.corners.extend(self.corners.iter().map(|corner| {
            let (axis, axis_bounds) = match &corner.axis {
                Some((axis, bounds)) => (axis.moment(phases), *bounds),
                None => Default::default(),
            };
            CornerPose {
                at: corner.at.moment(phases),
                at_bounds: corner.at_bounds,
                axis,
                axis_bounds,
                disc_m: corner.disc_m,
                ball_m: corner.ball_m,
                allowance_m: corner.allowance_m,
            }
        }));
    }
}

fn is_unit(axis: &Track, rates: &[f64]) -> bool {
    [0.0, 0.31, 0.5, 0.87, 1.0].iter().all(|&u| (axis.at(&Phases::at(rates, u)).length_squared() - 1.0).abs() < 1e-9)
}
