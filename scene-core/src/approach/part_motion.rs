//! A part over one piece of motion, prepared for the search.

use super::proof::Measure;
use crate::bracket::Bracket;
use crate::motion::spread::halves_of_two;
use crate::motion::track::{Bounds, Moment, Phases};
use crate::motion::{MovingFeature, MovingPart, Track};
use crate::solid::Extent;
use glam::DVec3;
use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

/// A moving part stores its poses at the ends of this many equal stretches of u.
const STRETCHES: u32 = 4;

/// A part over one piece of motion, prepared once and used against every wire and body. Clones share the prepared data.
#[derive(Clone, Debug)]
pub struct PartMotion {
    /// The caller's number for the piece of motion. A witness returns it.
    pub piece: usize,
    /// The part stands exactly as in the piece before.
    repeats: bool,
    path: Arc<PartPath>,
}

/// The part's motion, independent of the piece's number.
#[derive(Debug)]
struct PartPath {
    rates: Vec<f64>,
    corners: Vec<Corner>,
    motion_error_m: f64,
    most_allowance_m: f64,
    moves: bool,
    /// The position of every corner at the first and at the last instant.
    ends: [Vec<CornerPosition>; 2],
    /// The poses at the ends of the stretches; a single pose when nothing moves. Computed on first use, because for
    /// most parts the box suffices.
    poses: OnceLock<Vec<Pose>>,
    /// A box around the solid over all u, without motion error and allowances.
    extent: Extent,
    /// The largest coordinate magnitude, meters, for rounding.
    size_m: f64,
    sound: bool,
    /// Kept when there is motion error to halve.
    part: Option<MovingPart>,
}

/// A ball of `ball_m` around a point, or around a flat disc of `disc_m` when there is an axis.
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

/// One corner at one u, with everything that a bound around it needs.
#[derive(Clone, Copy, Debug)]
pub(super) struct CornerPose {
    pub at: Moment,
    pub at_bounds: Bounds,
    /// Zero for a ball.
    pub axis: Moment,
    pub axis_bounds: Bounds,
    /// Radius of the flat disc, meters; zero for a ball.
    pub disc_m: f64,
    /// Radius of the ball added to it, meters.
    pub ball_m: f64,
    allowance_m: f64,
}

/// The position of a corner at one instant.
#[derive(Clone, Copy, Debug)]
struct CornerPosition {
    at: DVec3,
    /// Zero for a ball.
    axis: DVec3,
}

impl CornerPose {
    /// Radius of the ball, grown by the allowance when the measure subtracts it.
    pub fn ball(&self, measure: Measure) -> f64 {
        match measure {
            Measure::Gap => self.ball_m,
            Measure::GapLessAllowance => self.ball_m + self.allowance_m,
        }
    }
}

impl PartMotion {
    /// Prepares `part` for the search. A part with unusable numbers gives a motion that no proof accepts. Cost: a few
    /// microseconds.
    pub fn new(piece: usize, part: &MovingPart) -> Self {
        let unit = Bracket::exactly(0.0).hull(Bracket::exactly(1.0));
        let corners: Vec<Corner> = part
            .features
            .iter()
            .map(|feature| {
                // An axis that is not a unit vector is useless. The ball around the disc encloses it in any
                // orientation.
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
        let mut path = PartPath {
            rates: part.rates.clone(),
            corners,
            motion_error_m: part.motion_error_m,
            most_allowance_m: part.features.iter().fold(0.0, |most, f| f.allowance_m.max(most)),
            moves: !part.is_still(),
            ends: [Vec::new(), Vec::new()],
            poses: OnceLock::new(),
            extent: Extent::EMPTY,
            size_m: 0.0,
            sound: false,
            part: part.spread.is_some().then(|| part.clone()),
        };
        path.measure_up();
        Self { piece, repeats: false, path: Arc::new(path) }
    }

    /// The same motion under another piece number.
    #[must_use]
    pub fn in_piece(&self, piece: usize) -> Self {
        Self { piece, repeats: false, ..self.clone() }
    }

    /// The same still part in the next piece. A search skips a pair when both of its parts repeat.
    pub fn repeated(&self) -> Self {
        Self { piece: self.piece + 1, repeats: true, ..self.clone() }
    }

    /// The part stands exactly as in the piece before, where the search already examined it against everything that is
    /// not new.
    pub(super) fn repeats(&self) -> bool {
        self.repeats
    }

    /// The same motion, without the knowledge that the piece before was the same.
    pub fn anew(&self) -> Self {
        Self { repeats: false, ..self.clone() }
    }

    /// As it stands at the instant u, in the middle of what is not known of its motion.
    #[must_use]
    pub fn standing_at(&self, u: f64) -> Self {
        let phases = Phases::at(&self.path.rates, u);
        let still = |track: &Track| Track::still(track.at(&phases));
        let feature = |corner: &Corner| MovingFeature {
            at: still(&corner.at),
            radius_m: if corner.axis.is_some() { corner.disc_m } else { corner.ball_m },
            axis: corner.axis.as_ref().map(|(axis, _)| still(axis)),
            allowance_m: corner.allowance_m,
        };
        let features = self.path.corners.iter().map(feature).collect();
        Self::new(self.piece, &MovingPart { features, ..MovingPart::default() })
    }

    /// The part at the instant u, standing still.
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
        self.path.pose_at(u, phases, pose);
    }

    /// A stored pose well inside a stretch of u, if there is one.
    pub(super) fn known_pose_within(&self, from: f64, to: f64) -> Option<&Pose> {
        let steps = (self.path.poses().len() as f64 - 1.0).max(0.0);
        let nearest = ((from + to) / 2.0 * steps).round();
        let pose = self.path.poses().get(nearest as usize)?;
        let quarter = (to - from) / 4.0;
        (pose.u >= from + quarter && pose.u <= to - quarter).then_some(pose)
    }

    /// The stored pose at u, if there is one; the only pose when nothing moves.
    pub(super) fn known_pose_at(&self, u: f64) -> Option<&Pose> {
        if !self.moves() {
            return self.path.poses().first();
        }
        let pose = self.path.poses().get((u * f64::from(STRETCHES)).round() as usize)?;
        (pose.u == u).then_some(pose)
    }

    /// The stored pose within a stretch of u that reaches farthest against `n`, if there is one.
    pub(super) fn pose_against(&self, n: DVec3, from: f64, to: f64) -> Option<&Pose> {
        if n == DVec3::ZERO {
            return self.known_pose_within(from, to);
        }
        let mut best = (f64::INFINITY, None);
        for pose in self.path.poses().iter().filter(|pose| (from..=to).contains(&pose.u)) {
            let nearest = pose.corners.iter().map(|corner| n.dot(corner.at.at) - corner.ball_m);
            let along = nearest.fold(f64::INFINITY, f64::min);
            if along < best.0 {
                best = (along, Some(pose));
            }
        }
        best.1
    }

    /// 1, or 0 when nothing moves.
    pub(super) fn last_u(&self) -> f64 {
        if self.moves() { 1.0 } else { 0.0 }
    }

    pub(super) fn moves(&self) -> bool {
        self.path.moves
    }

    pub(super) fn motion_error_m(&self) -> f64 {
        self.path.motion_error_m
    }

    pub(super) fn size_m(&self) -> f64 {
        self.path.size_m
    }

    pub(super) fn is_sound(&self) -> bool {
        self.path.sound
    }

    /// The part is still and stands exactly where `other` starts or ends. So everything proven for `other` holds here.
    pub(super) fn is_held_by(&self, other: &Self) -> bool {
        let sharp = self.path.motion_error_m == 0.0 && other.path.motion_error_m == 0.0;
        let [still, _] = &self.path.ends;
        sharp && !self.moves() && other.path.ends.iter().any(|end| self.path.stands_within(still, &other.path, end))
    }

    /// Removes every still motion that stands where another one starts or ends, because the proof of the other holds
    /// for it. All given motions must meet the same wires and bodies.
    pub fn distinct(part_motions: Vec<Self>) -> Vec<Self> {
        let mut kept: Vec<Self> = Vec::with_capacity(part_motions.len());
        let (moving, still): (Vec<Self>, Vec<Self>) = part_motions.into_iter().partition(Self::moves);
        kept.extend(moving);
        for part_motion in still {
            if !kept.iter().any(|other| part_motion.is_held_by(other)) {
                kept.push(part_motion);
            }
        }
        kept.sort_by_key(|part_motion| part_motion.piece);
        kept
    }

    /// Two motions that together enclose this one, each with a smaller motion error.
    pub(super) fn halves(&self) -> Option<[Self; 2]> {
        let halves = self.path.part.as_ref()?.halves()?;
        Some(halves.map(|half| Self::new(self.piece, &half)))
    }

    /// Two pairs of motions that together enclose two simultaneous motions, each pair with a smaller motion error, and
    /// the stretch of u that each pair covers.
    pub(super) fn halves_of_two(a: &Self, b: &Self) -> Option<[([Self; 2], Bracket); 2]> {
        let (part_a, part_b) = (a.as_part(), b.as_part());
        let halves = halves_of_two(&part_a, &part_b)?;
        let part_motion = |of: &Self, part: &MovingPart| Self::new(of.piece, part);
        Some(halves.map(|half| ([part_motion(a, &half.parts[0]), part_motion(b, &half.parts[1])], half.stretch)))
    }

    fn as_part(&self) -> Cow<'_, MovingPart> {
        if let Some(part) = &self.path.part {
            return Cow::Borrowed(part);
        }
        let feature = |corner: &Corner| MovingFeature {
            at: corner.at.clone(),
            radius_m: if corner.axis.is_some() { corner.disc_m } else { corner.ball_m },
            axis: corner.axis.as_ref().map(|(axis, _)| axis.clone()),
            allowance_m: corner.allowance_m,
        };
        let features = self.path.corners.iter().map(feature).collect();
        Cow::Owned(MovingPart {
            rates: self.path.rates.clone(),
            features,
            motion_error_m: self.path.motion_error_m,
            spread: None,
        })
    }

    pub(super) fn u_in_piece(&self, u: f64) -> f64 {
        self.path.part.as_ref().map_or(u, |part| part.u_in_piece(u))
    }

    /// A box around the solid over all u, without motion error and allowances.
    pub(crate) fn extent(&self) -> Extent {
        self.path.extent
    }

    /// The most by which the measure grows any corner, meters.
    pub(super) fn growth_m(&self, measure: Measure) -> f64 {
        match measure {
            Measure::Gap => 0.0,
            Measure::GapLessAllowance => self.path.most_allowance_m,
        }
    }

    /// The largest allowance of any corner, meters.
    pub fn most_allowance_m(&self) -> f64 {
        self.path.most_allowance_m
    }

    /// The allowance of all corners, meters, when they have the same one.
    pub fn even_allowance_m(&self) -> Option<f64> {
        let mut all = self.path.corners.iter().map(|corner| corner.allowance_m);
        let first = all.next()?;
        all.all(|other| other == first).then_some(first)
    }

    /// The mean of all corners.
    pub(super) fn center(pose: &Pose) -> DVec3 {
        let sum: DVec3 = pose.corners.iter().map(|corner| corner.at.at).sum();
        sum / (pose.corners.len().max(1) as f64)
    }
}

impl PartPath {
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

    /// Every corner at one position lies inside the other's corner, within far less than the rounding allowance.
    fn stands_within(&self, mine: &[CornerPosition], other: &Self, theirs: &[CornerPosition]) -> bool {
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
        let mut sound = !self.corners.is_empty() && self.motion_error_m >= 0.0 && self.motion_error_m < 1e9;
        for corner in &self.corners {
            let axis = corner.axis.as_ref();
            let bounds = [corner.at_bounds, axis.map_or(Bounds::default(), |(_, bounds)| *bounds)];
            sound &= bounds.iter().all(|b| b.second.is_finite() && b.third.is_finite());
            let radii = [corner.disc_m, corner.ball_m, corner.allowance_m];
            sound &= radii.iter().all(|&radius| (0.0..1e9).contains(&radius));
            // A position that is finite at the start and has finite derivatives stays finite.
            let start = Phases::at(&self.rates, 0.0);
            let moments = [corner.at.moment(&start), axis.map_or(Moment::default(), |(axis, _)| axis.moment(&start))];
            sound &= moments.iter().all(|moment| moment.first.is_finite() && moment.second.is_finite());
        }
        let mut phases = Phases::default();
        for k in 0..=self.stretches() {
            phases.set(&self.rates, f64::from(k) / f64::from(STRETCHES));
            let place = |corner: &Corner| CornerPosition {
                at: corner.at.moment(&phases).at,
                axis: corner.axis.as_ref().map_or(DVec3::ZERO, |(axis, _)| axis.moment(&phases).at),
            };
            let places: Vec<CornerPosition> = self.corners.iter().map(place).collect();
            for (corner, place) in self.corners.iter().zip(&places) {
                // Between two poses a corner leaves the straight segment by at most this.
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
