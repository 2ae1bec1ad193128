//! The steps, walked in order, as pieces of joint motion.
//!
//! ```no_run
//! # fn plan(site: &scene_core::site::Site, hang: &scene_core::rigging::Hang) {
//! let plan = scene_core::sequence::plan(site, hang);
//! for piece in &plan.pieces { /* each joint runs evenly from `piece.from` to `piece.to` */ }
//! # }
//! ```
//!
//! One motion at a time unless a step is `combined`. A step that moves several joints moves them in the order its action
//! names. When a machine cannot do a step, that machine's motion ends before it with a finding graded `stop`. The other
//! machines go on; where the one that ended is from then on is not known, and nothing of it is checked.
//!
//! Not modeled: acceleration and sway (allowances), the ground away from butt and hole, the drum's capacity, the change of
//! hoist line between winch and head while booming.

mod derrick;
pub mod pose;
#[cfg(test)]
mod tests;
pub mod upend;
mod walk;

pub use crate::machine::derrick::AugerState;
pub use walk::plan;

use crate::bracket::Bracket;
use crate::finding::Finding;
use crate::machine::JointValues;
use crate::machine::crane::chain::{Chain, Seat};
use crate::machine::crane::{CraneFrame, Joint, Joints};
use crate::premise::Assumed;
use crate::rigging::Hang;
use crate::site::During;
use std::ops::Range;
use std::sync::Arc;
use upend::Upend;

/// What the sequence is as motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    pub chain: Arc<Chain>,
    /// The pole moves as the middle of this has it; what it leaves open is in the pole's allowances.
    pub hang: Hang,
    /// In order of time; every step done has at least one.
    pub pieces: Vec<Piece>,
    /// One per step of the site, up to the one that ends everything. A step that its machine could not do takes no time.
    pub steps: Vec<StepTime>,
    pub hold_points: Vec<HoldPoint>,
    pub findings: Vec<Finding>,
    /// What was taken for granted, each a sentence.
    pub assumed: Vec<Assumed>,
    /// The first step that the lifting machine could not do. From there on nothing of it and of the pole was checked.
    pub stopped_at: Option<usize>,
    /// By lift, the same for it.
    pub lifts_stopped_at: Vec<Option<usize>>,
    /// The tilt at which the butt was guided into the hole, radians, if it was.
    pub guided_tilt: Option<f64>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct StepTime {
    pub from_s: f64,
    pub to_s: f64,
    pub pieces: Range<usize>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct HoldPoint {
    pub step: usize,
    pub time_s: f64,
    pub question: String,
}

/// How the joints that differ between a piece's ends run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Path {
    /// Evenly together: one control, or two that are tied (line drawn in by the boom's extension, a load carried round).
    Even,
    /// In any combination. `lead` has the longest effect on the hook; the parts follow it and are blurred by the others.
    Box { lead: Joint },
    /// Hoist evenly; the tilt follows with the butt on the ground.
    Upend(Upend),
}

/// What the hook holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoadState {
    /// Nothing; the pole lies on the ground.
    Free,
    /// Part of the pole, its butt on the ground; tilt from plumb in radians.
    ButtOnGround { tilt: Bracket },
    /// The whole pole.
    Hanging,
    /// Nothing; the pole stands in its hole.
    Standing,
    /// The lifting machine could not do a step. Where it and the pole are from then on is not known, and nothing of them is
    /// checked.
    Unknown,
}

impl LoadState {
    pub fn on_hook(self) -> bool {
        matches!(self, LoadState::ButtOnGround { .. } | LoadState::Hanging)
    }
}

/// Standard hand signals for crane operation. 29 CFR 1926 Subpart CC Appendix A, ASME B30.5 (names from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    Hoist,
    Lower,
    RaiseBoom,
    LowerBoom,
    Swing,
    Extend,
    Retract,
    /// Nothing of the crane moves.
    Stop,
}

impl Signal {
    pub fn name(self) -> &'static str {
        match self {
            Signal::Hoist => "hoist",
            Signal::Lower => "lower",
            Signal::RaiseBoom => "raise boom",
            Signal::LowerBoom => "lower boom",
            Signal::Swing => "swing",
            Signal::Extend => "extend",
            Signal::Retract => "retract",
            Signal::Stop => "stop",
        }
    }
}

/// A lift over one piece: each joint runs evenly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LiftMotion {
    pub from: JointValues,
    pub to: JointValues,
    /// The one wire that is worked on from it, or approached for it, or just left.
    pub works_on: Option<usize>,
    /// The wire that it goes straight from to the one that is worked on next.
    pub leaves: Option<usize>,
    /// What its operator does, in the trade's words: the standard hand signals do not apply.
    pub does: Option<&'static str>,
    /// `false` from the step on that the lift could not do: where it is then is not known, and nothing of it is checked.
    pub is_known: bool,
}

impl LiftMotion {
    pub fn still(&self) -> bool {
        self.from == self.to
    }

    pub fn joints_at(&self, u: f64) -> JointValues {
        self.from.toward(&self.to, u)
    }
}

/// A stretch of time over which each joint runs evenly.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    pub step: usize,
    pub time_from_s: f64,
    pub time_to_s: f64,
    pub from: Joints,
    pub to: Joints,
    pub path: Path,
    pub seat: Seat,
    /// The shortest that the hoist line gets: shorter than at both ends when a combined carry raises before it lowers.
    pub shortest_hoist_m: f64,
    pub load: LoadState,
    pub auger: AugerState,
    /// More than one only when motions are combined.
    pub signals: Vec<Signal>,
    /// By lift of the site. Of all machines one moves at a time.
    pub lifts: Vec<LiftMotion>,
}

/// What one piece spans, each range holding every instant of it; widened by a nanometer, or nanoradian, for rounding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PieceRange {
    /// From the slew axis to the load's plumb line, level; in pole guides to the pole's axis as well.
    pub radius_m: Bracket,
    pub boom_length_m: Bracket,
    pub boom_angle: Bracket,
    /// Not wrapped.
    pub swing: Bracket,
    pub hoist_length_m: Bracket,
    pub load: LoadState,
}

const ROUNDING: f64 = 1e-9;

impl Piece {
    /// The ends of every joint's range, in no order but for those that run with u.
    pub fn ends(&self) -> (Joints, Joints) {
        let (from_m, to_m) = (self.from.hoist_length_m, self.to.hoist_length_m);
        if self.shortest_hoist_m < from_m.min(to_m) {
            let longest = self.from.with(Joint::HoistLength, from_m.max(to_m));
            return (longest, self.to.with(Joint::HoistLength, self.shortest_hoist_m));
        }
        (self.from, self.to)
    }

    pub fn moves(&self, joint: Joint) -> bool {
        let (from, to) = self.ends();
        from.get(joint) != to.get(joint)
    }

    /// True when nothing of any lift moves.
    pub fn lifts_still(&self) -> bool {
        self.lifts.iter().all(LiftMotion::still)
    }

    /// True when neither crane nor pole moves.
    pub fn still(&self) -> bool {
        let carried = matches!(self.seat, Seat::Butt { from, to } if from != to);
        !carried && !Joint::ALL.iter().any(|&joint| self.moves(joint))
    }

    /// The joints at the fraction u of the piece; of a box, those on its diagonal.
    pub fn joints_at(&self, u: f64) -> Joints {
        let even = self.from.toward(&self.to, u);
        match self.path {
            Path::Even | Path::Box { .. } => even,
            Path::Upend(arc) => even.with(Joint::PoleTilt, arc.tilt_at(even.hoist_length_m)),
        }
    }

    /// When it is at the fraction u of the piece.
    pub fn time_s(&self, u: f64) -> f64 {
        self.time_from_s + (self.time_to_s - self.time_from_s) * u
    }

    pub fn span(&self, joint: Joint) -> Bracket {
        let (from, to) = self.ends();
        Bracket::exactly(from.get(joint)).hull(Bracket::exactly(to.get(joint))).widened(ROUNDING)
    }

    pub fn range(&self, crane: &CraneFrame) -> PieceRange {
        let (boom_angle, boom_length_m) = (self.span(Joint::BoomAngle), self.span(Joint::BoomLength));
        let mut radius_m = crane.radius_range(boom_angle, boom_length_m);
        if let Seat::InGuides(grip) = self.seat {
            radius_m = radius_m.hull(grip.frame(crane).radius_range(boom_angle, boom_length_m));
        }
        PieceRange {
            radius_m: radius_m.widened(ROUNDING),
            boom_length_m,
            boom_angle,
            swing: self.span(Joint::Swing),
            hoist_length_m: self.span(Joint::HoistLength),
            load: self.load,
        }
    }
}

impl Plan {
    /// Where in time something is fully present: from the end of the step that puts it on to the start of the one that takes
    /// it off, in seconds. `None` when it never is.
    pub fn present_s(&self, during: &During) -> Option<Bracket> {
        let end_s = self.steps.last().map_or(0.0, |step| step.to_s);
        let from_s = during.on_after_step.map_or(Some(0.0), |step| self.steps.get(step).map(|s| s.to_s))?;
        let to_s = during.off_before_step.map_or(end_s, |step| self.steps.get(step).map_or(end_s, |s| s.from_s));
        if from_s <= to_s { Bracket::between(from_s, to_s) } else { None }
    }

    /// The largest deviation of the true tilt from an even run in any piece, radians; it is in the parts' blur.
    pub fn upend_deviation(&self) -> f64 {
        let of = |piece: &Piece| match piece.path {
            Path::Upend(arc) => {
                Bracket::between(piece.from.pole_tilt, piece.to.pole_tilt).map_or(0.0, |t| arc.deviation(t))
            }
            _ => 0.0,
        };
        self.pieces.iter().map(of).fold(0.0, f64::max)
    }

    /// The piece that goes on at this time: the last that began at or before it.
    pub fn piece_at(&self, time_s: f64) -> Option<&Piece> {
        let next = self.pieces.partition_point(|piece| piece.time_from_s <= time_s);
        self.pieces.get(next.saturating_sub(1))
    }
}
