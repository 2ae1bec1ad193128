//! A part whose corners are fixed to the chain, as it moves over a piece; and what of its motion is only known to a motion error.
//!
//! - Combined motion: the leading joint runs, the others stand in the middle of their ranges. Bringing them one after the other
//!   to where they truly are moves a corner by at most half a range times its longest lever each; the sum is the motion error.
//! - Upending: between two knots the tilt is taken as even; its deviation has a closed bound, which times the lever from the
//!   choke is the motion error.
//!
//! [`MovingPart::halves`] cuts what makes most of the motion error.

use super::run::Run;
use super::track::{MovingFeature, MovingPart};
use crate::bracket::Bracket;
use crate::machine::crane::chain::{Chain, Place, Seat, about_z};
use crate::machine::crane::{Joint, Joints, outward_range};
use crate::sequence::Path;
use crate::sequence::upend::Upend;
use glam::DVec3;
use std::sync::Arc;

/// Added to a motion error for the rounding of its own arithmetic, meters.
const ROUNDING_M: f64 = 1e-9;
/// Joints that turn by the same angle to this go round as one.
const TOGETHER: f64 = 1e-12;

/// A corner of a part, fixed to a link of the chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    pub place: Place,
    pub radius_m: f64,
    /// A flat disc square to the pole's axis; a ball otherwise.
    pub disc: bool,
    pub allowance_m: f64,
    /// Added to the allowance per meter from the line's top to the choke: the wind's lean of the line.
    pub line_lean: f64,
}

/// A part over a stretch of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    pub chain: Arc<Chain>,
    pub corners: Arc<[Corner]>,
    /// The ends of the joints' ranges: in order along u for those that run, in any order for the others.
    pub from: Joints,
    pub to: Joints,
    pub path: Path,
    pub seat: Seat,
    /// Where the part's own u ∈ [0, 1] is in the piece.
    pub u: Bracket,
}

impl Spread {
    /// The part with its motion error.
    pub fn part(self) -> MovingPart {
        let (from, to, motion_error_m) = match self.path {
            Path::Even => (self.from, self.to, 0.0),
            Path::Upend(arc) => {
                let tilts = Bracket::exactly(self.from.pole_tilt).hull(Bracket::exactly(self.to.pole_tilt));
                let lever_m = self.corners.iter().map(|c| self.lever_m(c, Joint::PoleTilt)).fold(0.0, f64::max);
                (self.from, self.to, arc.deviation(tilts) * lever_m)
            }
            Path::Box { lead } => {
                let middle = self.from.toward(&self.to, 0.5);
                let runs = |joint: Joint| {
                    joint == lead || (lead == Joint::Swing && joint == Joint::PoleHeading && self.rides())
                };
                let end = |of: &Joints| {
                    let pick =
                        |at: Joints, &joint: &Joint| if runs(joint) { at.with(joint, of.get(joint)) } else { at };
                    Joint::ALL.iter().fold(middle, pick)
                };
                let motion_error =
                    |corner: &Corner| self.effects_m(corner, lead).iter().map(|(_, by_m)| by_m).sum::<f64>();
                (end(&self.from), end(&self.to), self.corners.iter().map(motion_error).fold(0.0, f64::max))
            }
        };
        let mut run = Run::new(&self.chain, &from, &to, self.seat);
        let crane = &self.chain.crane;
        let hoist_m = self.from.hoist_length_m.max(self.to.hoist_length_m).max(0.0);
        let line_m = hoist_m + crane.block_length_m + crane.rigging_length_m;
        let feature = |corner: &Corner| MovingFeature {
            at: run.place(&corner.place),
            radius_m: corner.radius_m,
            axis: corner.disc.then(|| run.pole_axis()),
            allowance_m: corner.allowance_m + corner.line_lean * line_m,
        };
        let features = self.corners.iter().map(feature).collect();
        let rates = run.into_rates();
        // A motion error that is not a number stays one, so that nothing is proven with it.
        if motion_error_m == 0.0 {
            MovingPart { rates, features, motion_error_m, spread: None }
        } else {
            MovingPart { rates, features, motion_error_m: motion_error_m + ROUNDING_M, spread: Some(Arc::new(self)) }
        }
    }

    fn range(&self, joint: Joint) -> Bracket {
        Bracket::exactly(self.from.get(joint)).hull(Bracket::exactly(self.to.get(joint)))
    }

    /// The pole follows the boom's tip, hanging or in the guides.
    fn on_hook(&self) -> bool {
        !matches!(self.seat, Seat::Butt { .. })
    }

    /// The pole on the hook goes round with the crane.
    fn rides(&self) -> bool {
        let by = |joint: Joint| self.to.get(joint) - self.from.get(joint);
        self.on_hook() && by(Joint::Swing) != 0.0 && (by(Joint::Swing) - by(Joint::PoleHeading)).abs() <= TOGETHER
    }

    /// How far each joint but the leading one may move the corner from where it is with that joint in its middle.
    fn effects_m(&self, corner: &Corner, lead: Joint) -> [(Joint, f64); 7] {
        Joint::ALL.map(|joint| {
            let tied = joint == lead || (joint == Joint::PoleHeading && self.rides());
            let half = self.range(joint).width() / 2.0;
            (joint, if tied || half == 0.0 { 0.0 } else { half * self.lever_m(corner, joint) })
        })
    }

    /// The longest way a corner goes per unit of a joint, anywhere in the box.
    fn lever_m(&self, corner: &Corner, joint: Joint) -> f64 {
        let crane = &self.chain.crane;
        let (angle, length) = (self.range(Joint::BoomAngle), self.range(Joint::BoomLength));
        let farthest = |range: Bracket| range.low().abs().max(range.high().abs());
        let line_out_m = |inward_m: f64| farthest(crane.radius_range(angle, length) - Bracket::exactly(inward_m));
        let head_m = farthest(length + Bracket::exactly(crane.head_along_m)).hypot(crane.head_below_m);
        match (corner.place, joint) {
            (Place::Upper(point), Joint::Swing) => point.truncate().length(),
            (Place::Upper(_), _) => 0.0,
            (Place::Boom { along_m, share, left_m, below_m }, _) => {
                let along = length * share + Bracket::exactly(along_m);
                match joint {
                    Joint::Swing => {
                        let out = outward_range(along, below_m, angle) + Bracket::exactly(crane.foot_offset_m);
                        farthest(out).hypot(left_m)
                    }
                    Joint::BoomAngle => farthest(along).hypot(below_m),
                    Joint::BoomLength => share.abs(),
                    _ => 0.0,
                }
            }
            (Place::Hung { along_m, share, left_m, below_m, out_m, .. }, _) => {
                let along = length * share + Bracket::exactly(along_m);
                match joint {
                    Joint::Swing => {
                        let fixed = Bracket::exactly(crane.foot_offset_m + out_m);
                        farthest(outward_range(along, below_m, angle) + fixed).hypot(left_m)
                    }
                    Joint::BoomAngle => farthest(along).hypot(below_m),
                    Joint::BoomLength => share.abs(),
                    _ => 0.0,
                }
            }
            (Place::Line { inward_m, hoisted, .. }, _) => match joint {
                Joint::Swing => line_out_m(inward_m),
                Joint::BoomAngle => head_m,
                Joint::BoomLength => 1.0,
                Joint::HoistLength if hoisted => 1.0,
                _ => 0.0,
            },
            (Place::Pole(point), _) => {
                let on_hook = self.on_hook();
                let choke = self.chain.choke_in_pole;
                // In the guides the pole's axis goes with the grip, its height with the line.
                let (pivot, line_out_m, head_m) = match self.seat {
                    Seat::OnHook => (choke, line_out_m(0.0), head_m),
                    Seat::InGuides(grip) => {
                        let frame = grip.frame(crane);
                        let grip_m = farthest(length + Bracket::exactly(grip.along_m)).hypot(grip.below_m);
                        let out_m = farthest(frame.radius_range(angle, length));
                        (DVec3::Z * choke.z, out_m, grip_m.hypot(head_m))
                    }
                    Seat::Butt { .. } => (DVec3::ZERO, 0.0, 0.0),
                };
                let arm = about_z(self.from.pole_turn, point - pivot);
                let disc_m = if corner.disc { corner.radius_m } else { 0.0 };
                let level_m = || farthest(outward_range_of(arm, self.range(Joint::PoleTilt))).hypot(arm.y) + disc_m;
                match joint {
                    Joint::PoleTilt => arm.x.hypot(arm.z) + disc_m,
                    Joint::PoleHeading => level_m(),
                    Joint::Swing if on_hook && self.rides() => line_out_m + level_m(),
                    Joint::Swing if on_hook => line_out_m,
                    Joint::BoomAngle if on_hook => head_m,
                    Joint::BoomLength | Joint::HoistLength if on_hook => 1.0,
                    _ => 0.0,
                }
            }
        }
    }

    fn halves(&self) -> Option<[MovingPart; 2]> {
        match self.path {
            Path::Even => None,
            Path::Upend(arc) => Some(self.halves_of_upend(arc).0),
            Path::Box { lead } => Some(self.halves_of_box(longest(&[self], lead)?)),
        }
    }

    /// Its earlier and its later half, and where in its own u they meet.
    fn halves_of_upend(&self, arc: Upend) -> ([MovingPart; 2], f64) {
        let middle = self.from.toward(&self.to, 0.5);
        let hoist_m = arc.hoist_at(middle.pole_tilt);
        // The hoist runs evenly, so it says where in the piece this is.
        let run_m = self.to.hoist_length_m - self.from.hoist_length_m;
        let share = (hoist_m - self.from.hoist_length_m) / run_m;
        let cut = Bracket::exactly(self.u.at(share));
        let middle = middle.with(Joint::HoistLength, hoist_m);
        let [from, to] = [self.u.low(), self.u.high()].map(Bracket::exactly);
        let near = Spread { to: middle, u: from.hull(cut), ..self.clone() };
        let far = Spread { from: middle, u: cut.hull(to), ..self.clone() };
        ([near.part(), far.part()], share)
    }

    fn halves_of_box(&self, joint: Joint) -> [MovingPart; 2] {
        let middle = self.from.toward(&self.to, 0.5);
        let cut = |end: &Joints| {
            let cut = end.with(joint, middle.get(joint));
            // Heading stays with the swing that carries it round.
            match joint {
                Joint::Swing if self.rides() => cut.with(Joint::PoleHeading, middle.pole_heading),
                _ => cut,
            }
        };
        let near = Spread { to: cut(&self.to), ..self.clone() };
        let far = Spread { from: cut(&self.from), ..self.clone() };
        [near.part(), far.part()]
    }

    /// Both are of one machine over the same stretch of the same piece.
    fn goes_with(&self, other: &Self) -> bool {
        let ends = |of: &Self| (of.from, of.to, of.path, of.seat, of.u);
        Arc::ptr_eq(&self.chain, &other.chain) && ends(self) == ends(other)
    }
}

/// The joint that makes most of the motion error of these, each where it is largest.
fn longest(spreads: &[&Spread], lead: Joint) -> Option<Joint> {
    let sum = |effects: &[(Joint, f64); 7]| effects.iter().map(|effect| effect.1).sum::<f64>();
    let mut effects = Joint::ALL.map(|joint| (joint, 0.0));
    for spread in spreads {
        let all = spread.corners.iter().map(|corner| spread.effects_m(corner, lead));
        let worst = all.max_by(|a, b| sum(a).total_cmp(&sum(b)))?;
        effects.iter_mut().zip(worst).for_each(|(sum, (_, by_m))| sum.1 += by_m);
    }
    let (joint, by_m) = effects.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    (by_m > 0.0).then_some(joint)
}

/// A half of what two parts of one piece may do at once.
pub struct HalfOfTwo {
    pub parts: [MovingPart; 2],
    /// Where the half's own u ∈ [0, 1] is in the u of the parts that were halved.
    pub stretch: Bracket,
}

/// Halves of two parts of one piece, less inexact. What both hang on is cut for both at once: a boom that is raised raises
/// its load, and a half of the one is not held against the other half of the other. `None` when there is nothing to halve.
pub fn halves_of_two(a: &MovingPart, b: &MovingPart) -> Option<[HalfOfTwo; 2]> {
    match (&a.spread, &b.spread) {
        (None, None) => None,
        (Some(one), Some(other)) if one.goes_with(other) => match one.path {
            Path::Even => None,
            Path::Upend(arc) => {
                let (of_a, share) = one.halves_of_upend(arc);
                Some(halves(of_a, other.halves_of_upend(arc).0, stretches(share)?))
            }
            Path::Box { lead } => {
                let joint = longest(&[one, other], lead)?;
                Some(halves(one.halves_of_box(joint), other.halves_of_box(joint), [whole(); 2]))
            }
        },
        (Some(one), Some(_)) if a.motion_error_m >= b.motion_error_m => halves_of_one(one, b),
        (Some(one), None) => halves_of_one(one, b),
        (_, Some(other)) => Some(
            halves_of_one(other, a)?
                .map(|HalfOfTwo { parts: [other, one], stretch }| HalfOfTwo { parts: [one, other], stretch }),
        ),
    }
}

/// One is halved, the other taken as it is over the same time.
fn halves_of_one(one: &Spread, other: &MovingPart) -> Option<[HalfOfTwo; 2]> {
    match one.path {
        Path::Upend(_) if other.spread.is_some() => None,
        Path::Upend(arc) => {
            let (of_one, share) = one.halves_of_upend(arc);
            let stretches = stretches(share)?;
            Some(halves(of_one, stretches.map(|stretch| other.during(stretch)), stretches))
        }
        _ => Some(halves(one.halves()?, [other.clone(), other.clone()], [whole(); 2])),
    }
}

fn halves([a0, a1]: [MovingPart; 2], [b0, b1]: [MovingPart; 2], stretches: [Bracket; 2]) -> [HalfOfTwo; 2] {
    let [first, second] = stretches;
    [HalfOfTwo { parts: [a0, b0], stretch: first }, HalfOfTwo { parts: [a1, b1], stretch: second }]
}

fn whole() -> Bracket {
    Bracket::exactly(0.0).hull(Bracket::exactly(1.0))
}

fn stretches(share: f64) -> Option<[Bracket; 2]> {
    if !(0.0..=1.0).contains(&share) {
        return None;
    }
    Some([Bracket::between(0.0, share)?, Bracket::between(share, 1.0)?])
}

/// How far ahead the arm reaches over a range of tilts.
fn outward_range_of(arm: DVec3, tilts: Bracket) -> Bracket {
    outward_range(Bracket::exactly(arm.x), arm.z, tilts)
}

impl MovingPart {
    /// Two parts that together hold all that this one does, each with less motion error: what makes most of it is halved.
    /// `None` when there is no motion error to halve. See [`MovingPart::u_in_piece`].
    pub fn halves(&self) -> Option<[MovingPart; 2]> {
        self.spread.as_ref()?.halves()
    }

    /// Where the part's own u is in the piece: halves of an upend are its earlier and its later half.
    pub fn u_in_piece(&self, u: f64) -> f64 {
        self.spread.as_ref().map_or(u, |spread| spread.u.at(u))
    }
}
