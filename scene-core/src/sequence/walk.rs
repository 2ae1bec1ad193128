//! One step after the other: what each asks for, whether it can be done, and the pieces that do it.

mod lift;

use super::upend::Upend;
use super::{AugerState, HoldPoint, LoadState, Path, Piece, Plan, Signal, StepTime};
use crate::bracket::Bracket;
use crate::finding::{self, Fact, Finding, NotANumber, Reach, Sequence, Unit};
use crate::machine::crane::chain::{Chain, Grip, Seat, about_z};
use crate::machine::crane::reach::{ReachError, shortest_turn};
use crate::machine::crane::{CraneFrame, Joint, Joints};
use crate::pole::Outline;
use crate::premise::Assumed;
use crate::rigging::Hang;
use crate::site::{Action, Rates, Site};
use glam::DVec3;
use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

/// Pieces that the pole's rise is cut into.
const UPEND_PIECES: usize = 24;
/// From here the crew brings the hook over the choke by hand signals; farther off it is a planning fault.
const BRING_OVER_M: f64 = 0.25;
/// How nearly at depth the butt must be for release.
const AT_DEPTH_M: f64 = 0.02;
/// Ground that rises more than this along the lying pole is not what the upend's model is for.
const STEEPEST_GROUND: f64 = 0.5;
/// Numbers beyond this are no measures of a job site.
const NOT_A_SITE: f64 = 1e6;
pub(super) const ROUNDING: f64 = 1e-9;

pub(super) type Done = Result<(), Box<Finding>>;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Phase {
    /// Hook free, pole on the ground.
    Lying,
    /// Choked, the pole not raised yet.
    Taken,
    Hanging,
    /// Hanging with the butt guided into the hole.
    InHole,
    Standing,
}

pub(super) struct Walk<'a> {
    pub site: &'a Site,
    hang: &'a Hang,
    pub chain: Arc<Chain>,
    pub outline: Outline,
    butt_radius_m: f64,
    rest_slope: f64,
    ground_slope: f64,
    pub now: Joints,
    pub seat: Seat,
    pub phase: Phase,
    pub auger: AugerState,
    /// By lift of the site.
    lifts: Vec<lift::LiftNow>,
    step: usize,
    time_s: f64,
    pub plan: Plan,
}

/// The steps of the site as motion of its crane and of the pole that hangs as `hang` says.
pub fn plan(site: &Site, hang: &Hang) -> Plan {
    let (sin, cos) = site.rigging.choker_face.sin_cos();
    let offset_m = hang.choke_offset_m.middle();
    let chain = Arc::new(Chain {
        crane: CraneFrame::of(&site.crane, site.rigging.length_m),
        choke_in_pole: DVec3::new(offset_m * cos, offset_m * sin, site.rigging.choker_from_butt_m),
    });
    let outline = Outline::of(&site.pole);
    let unknown = outline.as_ref().err().map(|error| error.finding());
    let outline = outline.unwrap_or_default();
    let mut walk = Walk {
        site,
        hang,
        butt_radius_m: outline.butt_radius_m(),
        rest_slope: outline.rest_slope(),
        outline,
        ground_slope: 0.0,
        now: Joints::default(),
        seat: Seat::Butt { from: DVec3::ZERO, to: DVec3::ZERO },
        phase: Phase::Lying,
        auger: AugerState::Stowed,
        lifts: site.lifts.iter().map(lift::LiftNow::at_rest).collect(),
        step: 0,
        time_s: 0.0,
        plan: Plan {
            chain: Arc::clone(&chain),
            hang: *hang,
            pieces: Vec::new(),
            steps: Vec::new(),
            hold_points: Vec::new(),
            findings: Vec::new(),
            assumed: assumed(site),
            stopped_at: None,
            lifts_stopped_at: vec![None; site.lifts.len()],
            guided_tilt: None,
        },
        chain,
    };
    match unknown {
        Some(finding) => walk.stopped(finding),
        None => walk.all(),
    }
    walk.plan
}

fn assumed(site: &Site) -> Vec<Assumed> {
    let crane = [
        Assumed::EvenMotion,
        Assumed::LiesOnShell,
        Assumed::LiesLeanDown,
        Assumed::ButtSlides,
        Assumed::TagLines,
        Assumed::TurnsWithChoker,
        Assumed::ExtendingDrawsLine,
        Assumed::ButtGuided,
    ];
    let truck = [Assumed::BucketControls, Assumed::BucketSetByStillWire, Assumed::BucketLevel];
    let truck = truck.into_iter().filter(|_| !site.lifts.is_empty());
    crane.into_iter().chain(truck).collect()
}

/// A number that a job site can have.
pub(super) fn is_measure(x: f64) -> bool {
    x.abs() <= NOT_A_SITE
}

pub(super) fn stop(fact: impl Into<Fact>) -> Box<Finding> {
    Box::new(finding::stop(fact))
}

pub(super) fn not_a_number(what: NotANumber) -> Box<Finding> {
    stop(Sequence::NotANumber { what })
}

/// Whose motion a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Machine {
    Lifting,
    /// By index.
    Lift(usize),
}

impl Machine {
    /// `None` where no machine moves.
    fn of(action: &Action) -> Option<Self> {
        match action {
            Action::BucketTo(pose) => Some(Self::Lift(pose.lift)),
            Action::BucketStow { lift } => Some(Self::Lift(*lift)),
            Action::Hold { .. } | Action::Work { .. } => None,
            _ => Some(Self::Lifting),
        }
    }
}

impl Walk<'_> {
    fn all(&mut self) {
        let site = self.site;
        if let Err(finding) = self.usable() {
            return self.stopped(*finding);
        }
        if site.steps.is_empty() {
            return self.stopped(finding::stop(Sequence::NoSteps));
        }
        for (index, step) in site.steps.iter().enumerate() {
            self.step = index;
            let (from_s, first) = (self.time_s, self.plan.pieces.len());
            let machine = Machine::of(&step.action);
            if machine.is_none_or(|machine| !self.has_ended(machine))
                && let Err(finding) = self.act(&step.action, step.combined)
            {
                self.plan.pieces.truncate(first);
                self.time_s = from_s;
                self.ends(machine.unwrap_or(Machine::Lifting), *finding);
            }
            if self.plan.pieces.len() == first {
                self.push(self.now, self.seat, Path::Even, 0.0);
            }
            self.plan.steps.push(StepTime { from_s, to_s: self.time_s, pieces: first..self.plan.pieces.len() });
        }
        let lifts_on = self.plan.stopped_at.is_none();
        if lifts_on && matches!(self.phase, Phase::Taken | Phase::Hanging | Phase::InHole) {
            let ends = finding::stop(Sequence::EndsOnHook);
            self.plan.findings.push(ends.at_step(self.step).at_time(self.time_s));
        }
    }

    /// Nothing can be done at all.
    fn stopped(&mut self, finding: Finding) {
        self.ends(Machine::Lifting, finding);
        self.plan.lifts_stopped_at.fill(Some(self.step));
    }

    /// A machine cannot do this step: its motion ends here.
    fn ends(&mut self, machine: Machine, mut finding: Finding) {
        let step = self.site.steps.get(self.step).map_or_else(String::new, |step| step.name.clone());
        let of = match machine {
            Machine::Lifting => None,
            Machine::Lift(lift) => Some(self.site.lift_called(lift)),
        };
        finding.fact = Fact::MotionEnds { step, of, by: Box::new(finding.fact) };
        self.plan.findings.push(finding.at_step(self.step).at_time(self.time_s));
        match machine {
            Machine::Lifting => self.plan.stopped_at = Some(self.step),
            Machine::Lift(lift) => {
                if let Some(known) = self.lifts.get_mut(lift) {
                    known.is_known = false;
                }
                if let Some(at) = self.plan.lifts_stopped_at.get_mut(lift) {
                    *at = Some(self.step);
                }
            }
        }
    }

    fn has_ended(&self, machine: Machine) -> bool {
        match machine {
            Machine::Lifting => self.plan.stopped_at.is_some(),
            Machine::Lift(lift) => self.plan.lifts_stopped_at.get(lift).is_some_and(Option::is_some),
        }
    }

    /// Every number that the motion rests on is one that a job site can have.
    fn usable(&self) -> Done {
        let crane = &self.chain.crane;
        let Rates { swing_rad_s, boom_rad_s, extend_m_s, hoist_m_s, turn_rad_s } = self.site.crane.rates;
        let rates = [swing_rad_s, boom_rad_s, extend_m_s, hoist_m_s, turn_rad_s];
        if !rates.iter().all(|rate| *rate > 0.0 && rate.is_finite()) {
            return Err(stop(Sequence::CraneRateMissing));
        }
        let (hole, hang) = (&self.site.hole, self.hang);
        let numbers = [
            crane.heading,
            crane.foot_offset_m,
            crane.foot_height_m,
            crane.head_along_m,
            crane.head_below_m,
            crane.sheave_radius_m,
            crane.block_length_m,
            crane.rigging_length_m,
            crane.boom_length_m.high(),
            crane.boom_length_m.low(),
            crane.boom_angle.low(),
            crane.boom_angle.high(),
            crane.swing.low(),
            crane.swing.high(),
            self.site.crane.two_block_m,
            self.site.pole.length_m,
            self.site.pole.setting_depth_m,
            hole.facing,
            hole.depth_m,
            hole.diameter_m,
            hang.tilt_rad.low(),
            hang.tilt_rad.high(),
            hang.choke_offset_m.low(),
            hang.choke_offset_m.high(),
            hang.tip_leans.low(),
            hang.tip_leans.high(),
            self.butt_radius_m,
            self.rest_slope,
        ];
        let points = [crane.at, hole.at, self.chain.choke_in_pole];
        if !numbers.into_iter().chain(points.into_iter().flat_map(|p| p.to_array())).all(is_measure) {
            return Err(not_a_number(NotANumber::Site));
        }
        let choke_m = self.site.rigging.choker_from_butt_m;
        if !(choke_m > 0.0 && choke_m < self.site.pole.length_m) {
            return Err(stop(Sequence::ChokerOffPole { choker_m: choke_m }));
        }
        if self.site.crane.parts_of_line == 0 {
            return Err(not_a_number(NotANumber::PartsOfLine));
        }
        Ok(())
    }

    // ------------------------------------------------------------------------------------------------ what is where

    fn pole_turn(&self) -> f64 {
        -self.hang.tip_leans.middle()
    }

    /// The choke from the axis at the butt: x the way the top leans, y left of it, z along the axis.
    fn choke_in_lean(&self) -> DVec3 {
        about_z(self.pole_turn(), self.chain.choke_in_pole)
    }

    /// Of the butt's lowest point above the ground at the hole.
    pub(super) fn butt_height_m(&self, joints: &Joints) -> f64 {
        self.butt(joints).z - self.butt_radius_m * joints.pole_tilt.sin().abs() - self.site.hole.at.z
    }

    /// The center of the butt of a pole on the hook or in the guides.
    pub(super) fn butt(&self, joints: &Joints) -> DVec3 {
        match self.seat {
            Seat::InGuides(_) => self.chain.butt_on(joints, &self.seat),
            Seat::OnHook | Seat::Butt { .. } => self.chain.butt_in_world(joints),
        }
    }

    pub(super) fn grip(&self) -> Option<Grip> {
        match self.seat {
            Seat::InGuides(grip) => Some(grip),
            Seat::OnHook | Seat::Butt { .. } => None,
        }
    }

    /// The crane as it reaches with what is moved: the pole's axis in the guides, or else the load's plumb line.
    fn reaching(&self) -> CraneFrame {
        let crane = &self.chain.crane;
        self.grip().map_or_else(|| crane.clone(), |grip| grip.frame(crane))
    }

    /// What a turning pole goes round.
    fn turns_about(&self) -> DVec3 {
        let plumb = || self.chain.crane.choke_in_world(&self.now);
        self.grip().map_or_else(plumb, |grip| grip.in_world(&self.chain.crane, &self.now))
    }

    fn hook_height_m(&self, joints: &Joints) -> f64 {
        self.chain.crane.hook_in_world(joints).z - self.site.hole.at.z
    }

    /// The hoist length at which a pole on the hook can take any tilt between plumb and hanging, its butt at the ground.
    fn hoist_at_guiding_m(&self) -> f64 {
        let choke = self.choke_in_lean();
        let above_m = choke.z.hypot(self.butt_radius_m - choke.x);
        let now_above_m = self.chain.crane.choke_in_world(&self.now).z - self.site.hole.at.z;
        self.now.hoist_length_m + now_above_m - above_m
    }

    fn load(&self) -> LoadState {
        match self.phase {
            Phase::Lying => LoadState::Free,
            Phase::Taken => LoadState::ButtOnGround { tilt: Bracket::exactly(self.now.pole_tilt) },
            Phase::Hanging | Phase::InHole => LoadState::Hanging,
            Phase::Standing => LoadState::Standing,
        }
    }

    fn loaded(&self) -> bool {
        self.load().on_hook()
    }

    // ------------------------------------------------------------------------------------------------------ pieces

    pub(super) fn push(&mut self, to: Joints, seat: Seat, path: Path, seconds: f64) {
        let load = match path {
            Path::Upend(_) => LoadState::ButtOnGround {
                tilt: Bracket::exactly(self.now.pole_tilt).hull(Bracket::exactly(to.pole_tilt)),
            },
            _ if self.plan.stopped_at.is_some() => LoadState::Unknown,
            _ => self.load(),
        };
        let time_to_s = self.time_s + seconds;
        let shortest_hoist_m = self.now.hoist_length_m.min(to.hoist_length_m);
        self.plan.pieces.push(Piece {
            step: self.step,
            time_from_s: self.time_s,
            time_to_s,
            from: self.now,
            to,
            path,
            seat,
            shortest_hoist_m,
            load,
            auger: self.auger,
            signals: signals(&self.now, &to),
            lifts: self.lifts.iter().map(lift::LiftNow::stands).collect(),
        });
        self.now = to;
        self.seat = match seat {
            Seat::OnHook | Seat::InGuides(_) => seat,
            Seat::Butt { to, .. } => Seat::Butt { from: to, to },
        };
        self.time_s = time_to_s;
    }

    /// One piece, if it moves anything and the line allows it.
    fn run(&mut self, to: Joints, path: Path, seconds: f64) -> Done {
        if self.is_there(&to) {
            return Ok(());
        }
        // The hoist length runs evenly, so its ends say all.
        self.keeps_from_two_block(to.hoist_length_m)?;
        self.keeps_in_guides(&to, to.hoist_length_m)?;
        self.push(to, self.seat, path, seconds);
        Ok(())
    }

    fn is_there(&self, to: &Joints) -> bool {
        Joint::ALL.iter().all(|&joint| (to.get(joint) - self.now.get(joint)).abs() <= 1e-12)
    }

    pub(super) fn keeps_from_two_block(&self, hoist_length_m: f64) -> Done {
        let least_m = self.site.crane.two_block_m;
        if hoist_length_m >= least_m - ROUNDING {
            return Ok(());
        }
        let fact = Sequence::TwoBlock { hoist_m: hoist_length_m, least_m };
        Err(Box::new(stop(fact).measured(hoist_length_m, least_m, Unit::Meter)))
    }

    /// Swing, boom angle and hoist in any combination, as one piece. The hoist line may get as short as `shortest_hoist_m`
    /// before it is at its end.
    fn combined(&mut self, swing: f64, boom_angle: f64, hoist_length_m: f64, shortest_hoist_m: f64) -> Done {
        let now = self.now;
        let shortest_hoist_m = shortest_hoist_m.min(now.hoist_length_m).min(hoist_length_m);
        let mut to = Joints { swing, boom_angle, hoist_length_m, ..now };
        if self.loaded() {
            to.pole_heading += swing - now.swing;
        }
        if self.is_there(&to) {
            return Ok(());
        }
        let longest_m = now.hoist_length_m.max(hoist_length_m);
        let least_butt_m = self.least_butt_height_m(boom_angle) - (longest_m - now.hoist_length_m);
        self.keeps_off_ground(least_butt_m)?;
        self.keeps_from_two_block(shortest_hoist_m)?;
        self.keeps_in_guides(&to, shortest_hoist_m)?;
        let rates = self.site.crane.rates;
        let boom_m = now.boom_length_m + self.chain.crane.head_along_m;
        let hoisted_m = (now.hoist_length_m - shortest_hoist_m) + (hoist_length_m - shortest_hoist_m);
        let swung = (swing - now.swing).abs();
        let boomed = (boom_angle - now.boom_angle).abs();
        // What each joint does to the hook. A hoist that turns back on its way does not run with u, so it cannot lead.
        let turns_back = shortest_hoist_m < now.hoist_length_m.min(hoist_length_m);
        let effects = [
            (Joint::Swing, swung * boom_m),
            (Joint::BoomAngle, boomed * boom_m),
            (Joint::HoistLength, if turns_back { f64::NEG_INFINITY } else { hoisted_m }),
        ];
        let lead = effects.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map_or(Joint::Swing, |effect| effect.0);
        let seconds = (swung / rates.swing_rad_s).max(boomed / rates.boom_rad_s).max(hoisted_m / rates.hoist_m_s);
        self.push(to, self.seat, Path::Box { lead }, seconds);
        if let Some(piece) = self.plan.pieces.last_mut() {
            piece.shortest_hoist_m = shortest_hoist_m;
            if turns_back {
                piece.signals = signals(&now, &Joints { hoist_length_m: shortest_hoist_m, ..to });
                piece.signals.push(Signal::Lower);
            }
        }
        Ok(())
    }

    pub(super) fn hoist_to(&mut self, hoist_length_m: f64) -> Done {
        let seconds = (hoist_length_m - self.now.hoist_length_m).abs() / self.site.crane.rates.hoist_m_s;
        self.run(self.now.with(Joint::HoistLength, hoist_length_m), Path::Even, seconds)
    }

    fn tilt_to(&mut self, tilt: f64) -> Done {
        let seconds = (tilt - self.now.pole_tilt).abs() / self.site.crane.rates.turn_rad_s;
        self.run(self.now.with(Joint::PoleTilt, tilt), Path::Even, seconds)
    }

    pub(super) fn swing_to(&mut self, swing: f64) -> Done {
        let by = swing - self.now.swing;
        let mut to = self.now.with(Joint::Swing, swing);
        if self.loaded() {
            to.pole_heading += by;
        }
        self.run(to, Path::Even, by.abs() / self.site.crane.rates.swing_rad_s)
    }

    pub(super) fn boom_to(&mut self, angle: f64) -> Done {
        let to = self.now.with(Joint::BoomAngle, angle);
        self.keeps_off_ground(self.least_butt_height_m(angle))?;
        self.run(to, Path::Even, (angle - self.now.boom_angle).abs() / self.site.crane.rates.boom_rad_s)
    }

    /// The lowest that the butt comes on the boom's way to this angle.
    fn least_butt_height_m(&self, boom_angle: f64) -> f64 {
        let span = Bracket::exactly(boom_angle).hull(Bracket::exactly(self.now.boom_angle));
        let tops = self.chain.crane.line_top_height_range(span, Bracket::exactly(self.now.boom_length_m));
        let top_m = self.chain.crane.line_top_in_world(&self.now).z - self.chain.crane.at.z;
        self.butt_height_m(&self.now) - (top_m - tops.low())
    }

    fn keeps_off_ground(&self, least_butt_height_m: f64) -> Done {
        if !self.loaded() || least_butt_height_m >= -1e-6 {
            return Ok(());
        }
        let fact = Sequence::ButtBelowGround { by_m: -least_butt_height_m };
        Err(Box::new(stop(fact).measured(least_butt_height_m, 0.0, Unit::Meter)))
    }

    /// The load may be carried about: nothing on the hook, or the whole pole above the ground.
    pub(super) fn may_travel(&self) -> Done {
        match self.phase {
            Phase::Lying | Phase::Standing => Ok(()),
            Phase::Taken => Err(stop(Sequence::NotUpended)),
            Phase::InHole => Err(stop(Sequence::ButtInHole)),
            Phase::Hanging => self.keeps_off_ground(self.butt_height_m(&self.now)),
        }
    }

    // ------------------------------------------------------------------------------------------------------ actions

    fn act(&mut self, action: &Action, combined: bool) -> Done {
        let first = self.step == 0;
        if first != matches!(action, Action::Start { .. }) {
            return Err(stop(if first { Sequence::StartMissing } else { Sequence::StartNotFirst }));
        }
        if combined && !matches!(action, Action::Carry { .. } | Action::BoomAway { .. }) {
            self.one_control();
        }
        match action {
            Action::Start { butt, tip_toward, boom_length_m } => self.start(*butt, *tip_toward, *boom_length_m),
            Action::TakeLoad => self.take_load(),
            Action::Upend => self.upend(),
            Action::HoistTo { height_m } => self.height(*height_m, true),
            Action::LowerTo { height_m } => self.height(*height_m, false),
            Action::SwingToward { point } => {
                self.may_travel()?;
                let swing = self.reaching().swing_toward(*point, self.now.swing).map_err(out_of_reach)?;
                self.swing_to(swing)
            }
            Action::BoomToRadius { radius_m } => self.boom_to_radius(*radius_m),
            Action::BoomOver { point } => self.boom_to_radius((*point - self.chain.crane.at).truncate().length()),
            Action::Carry { point, height_m } => self.carry(*point, *height_m, combined),
            Action::Extend { boom_length_m } => self.extend(*boom_length_m),
            Action::Turn { facing } => self.turn(*facing),
            Action::Dig { depth_m } => self.dig(*depth_m),
            Action::IntoGuides { from_butt_m } => self.enter_guides(*from_butt_m),
            Action::Hold { question } => {
                let hold = HoldPoint { step: self.step, time_s: self.time_s, question: question.clone() };
                self.plan.hold_points.push(hold);
                Ok(())
            }
            Action::Work { minutes } => {
                if !(0.0..=NOT_A_SITE).contains(minutes) {
                    return Err(not_a_number(NotANumber::Minutes));
                }
                self.push(self.now, self.seat, Path::Even, minutes * 60.0);
                Ok(())
            }
            Action::Release => self.release(),
            Action::BoomAway { point, hook_height_m } => self.boom_away(*point, *hook_height_m, combined),
            Action::BucketTo(pose) => self.bucket_to(pose),
            Action::BucketStow { lift } => self.bucket_stow(*lift),
        }
    }

    /// A step that is to be combined although its action has nothing to combine: whoever wrote it means more than is
    /// checked, so it is a stop; the rest is still checked, one joint at a time.
    fn one_control(&mut self) {
        let finding = finding::stop(Sequence::NothingToCombine);
        self.plan.findings.push(finding.at_step(self.step).at_time(self.time_s));
    }

    /// The pole on the ground, the hook over its choke with the rigging reaching down to it.
    fn start(&mut self, butt: DVec3, tip_toward: DVec3, boom_length_m: f64) -> Done {
        let along = tip_toward - butt;
        let level_m = along.truncate().length();
        let numbers = [butt, tip_toward].into_iter().flat_map(|p| p.to_array()).chain([boom_length_m]);
        if !numbers.into_iter().all(is_measure) || level_m <= ROUNDING {
            return Err(stop(Sequence::PolePlaceMissing));
        }
        self.ground_slope = along.z.atan2(level_m);
        if self.ground_slope.abs() > STEEPEST_GROUND {
            return Err(stop(Sequence::GroundTooSteep { slope: self.ground_slope }));
        }
        let inclination = self.rest_slope.atan();
        let heading = along.y.atan2(along.x);
        let ahead = DVec3::new(heading.cos(), heading.sin(), 0.0);
        let normal = DVec3::Z * self.ground_slope.cos() - ahead * self.ground_slope.sin();
        let center = butt + normal * (self.butt_radius_m * inclination.cos());
        self.now = Joints {
            pole_tilt: FRAC_PI_2 - inclination - self.ground_slope,
            pole_heading: heading,
            pole_turn: self.pole_turn(),
            boom_length_m,
            ..Joints::default()
        };
        self.seat = Seat::Butt { from: center, to: center };
        let limits = (self.chain.crane.swing, self.chain.crane.boom_angle);
        let swing = 0.0_f64.clamp(limits.0.low(), limits.0.high());
        self.hook_over_choke(swing, limits.1.middle()).map(|joints| self.now = joints)?;
        let (hoist_m, least_m) = (self.now.hoist_length_m, self.site.crane.two_block_m);
        if hoist_m < least_m {
            let fact = Sequence::TwoBlockAtStart { hoist_m };
            return Err(Box::new(stop(fact).measured(hoist_m, least_m, Unit::Meter)));
        }
        Ok(())
    }

    /// The joints with the free hook plumb over the choke of the pole where it is.
    fn hook_over_choke(&self, near_swing: f64, near_angle: f64) -> Result<Joints, Box<Finding>> {
        let crane = &self.chain.crane;
        let place = crate::machine::crane::chain::Place::Pole(self.chain.choke_in_pole);
        let choke = self.chain.place_in_world(&place, &self.now, &self.seat, 1.0);
        let (swing, boom_angle) =
            crane.reach(choke, self.now.boom_length_m, near_swing, near_angle).map_err(out_of_reach)?;
        let joints = Joints { swing, boom_angle, ..self.now };
        let hoist_length_m =
            crane.line_top_in_world(&joints).z - crane.block_length_m - crane.rigging_length_m - choke.z;
        Ok(Joints { hoist_length_m, ..joints })
    }

    fn take_load(&mut self) -> Done {
        if self.phase != Phase::Lying {
            return Err(stop(Sequence::TakenBefore));
        }
        let over = self.hook_over_choke(self.now.swing, self.now.boom_angle)?;
        let crane = &self.chain.crane;
        let off_m = (crane.hook_in_world(&over) - crane.hook_in_world(&self.now)).truncate().length();
        if off_m > BRING_OVER_M {
            let fact = Sequence::HookNotOverPole { off_m };
            return Err(Box::new(stop(fact).measured(off_m, BRING_OVER_M, Unit::Meter)));
        }
        self.swing_to(over.swing)?;
        self.boom_to(over.boom_angle)?;
        // Booming changed the hook's height, not the hoist length that is wanted in the end.
        self.hoist_to(over.hoist_length_m)?;
        self.seat = Seat::OnHook;
        self.phase = Phase::Taken;
        Ok(())
    }

    fn upend(&mut self) -> Done {
        if self.phase != Phase::Taken {
            return Err(stop(Sequence::NothingToUpend));
        }
        let choke = self.choke_in_lean();
        let arc = Upend::new(
            choke.z,
            -choke.x,
            self.butt_radius_m,
            self.ground_slope,
            self.now.pole_tilt,
            self.now.hoist_length_m,
        );
        let (start, hang) = (self.now.pole_tilt, self.hang.tilt_rad.middle());
        if !(hang >= 0.0 && hang < start && arc.tilt_of_lift() < start) {
            return Err(stop(Sequence::WillNotUpend { hang }));
        }
        // Choked so high that the butt comes plumb under the choke before the pole's balance does: it is lifted off there
        // and then swings to the tilt it hangs with.
        for tilt in arc.knots(hang.max(arc.tilt_of_lift()), UPEND_PIECES).into_iter().skip(1) {
            let hoist_m = arc.hoist_at(tilt);
            let seconds = (hoist_m - self.now.hoist_length_m).abs() / self.site.crane.rates.hoist_m_s;
            let to = self.now.with(Joint::PoleTilt, tilt).with(Joint::HoistLength, hoist_m);
            self.run(to, Path::Upend(arc), seconds)?;
        }
        self.phase = Phase::Hanging;
        self.tilt_to(hang)
    }

    fn height(&mut self, height_m: f64, up: bool) -> Done {
        if !is_measure(height_m) {
            return Err(not_a_number(NotANumber::Height));
        }
        let from_m = match self.phase {
            Phase::Taken => return self.may_travel(),
            Phase::Lying | Phase::Standing => self.hook_height_m(&self.now),
            Phase::Hanging | Phase::InHole => self.butt_height_m(&self.now),
        };
        if up != (height_m >= from_m) && (height_m - from_m).abs() > ROUNDING {
            let finding = finding::caution(Sequence::HoistTheOtherWay { hoist: up, height_m, from_m });
            self.plan.findings.push(finding.at_step(self.step).at_time(self.time_s));
        }
        match self.phase {
            Phase::Hanging | Phase::InHole if self.grip().is_some() => {
                let hoist_length_m = self.now.hoist_length_m + from_m - height_m;
                if height_m < 0.0 {
                    self.fits_hole(height_m)?;
                    self.phase = Phase::InHole;
                    return self.hoist_to(hoist_length_m);
                }
                self.hoist_to(hoist_length_m)?;
                self.phase = Phase::Hanging;
                Ok(())
            }
            Phase::Hanging if height_m < 0.0 => self.lower_into_hole(height_m),
            Phase::InHole if height_m >= 0.0 => {
                let level_m = self.hoist_at_guiding_m().min(self.now.hoist_length_m);
                self.hoist_to(level_m)?;
                self.tilt_to(self.hang.tilt_rad.middle())?;
                self.phase = Phase::Hanging;
                self.hoist_to(self.now.hoist_length_m + self.butt_height_m(&self.now) - height_m)
            }
            Phase::InHole => {
                self.fits_hole(height_m)?;
                self.hoist_to(self.now.hoist_length_m + from_m - height_m)
            }
            Phase::Lying | Phase::Standing if height_m < 0.0 => Err(stop(Sequence::HookBelowGround)),
            _ => self.hoist_to(self.now.hoist_length_m + from_m - height_m),
        }
    }

    /// Down to the ground, the butt guided over the hole's middle, and down.
    fn lower_into_hole(&mut self, height_m: f64) -> Done {
        let hole = &self.site.hole;
        let plumb = self.chain.crane.choke_in_world(&self.now);
        let away = (hole.at - plumb).truncate();
        if away.length() > hole.diameter_m / 2.0 {
            let off_m = away.length();
            let fact = Sequence::LoadNotOverHole { off_m };
            return Err(Box::new(stop(fact).measured(off_m, hole.diameter_m / 2.0, Unit::Meter)));
        }
        let choke = self.choke_in_lean();
        let (sin, cos) = self.now.pole_heading.sin_cos();
        let ahead_m = away.x * cos + away.y * sin;
        // The butt is z·sin(tilt) + x·cos(tilt) behind the choke; it is wanted `ahead_m` before it.
        let lever_m = choke.z.hypot(choke.x);
        let tilt = (-ahead_m / lever_m).clamp(-1.0, 1.0).asin() - choke.x.atan2(choke.z);
        let level_m = self.hoist_at_guiding_m().max(self.now.hoist_length_m);
        self.hoist_to(level_m)?;
        self.tilt_to(tilt)?;
        self.phase = Phase::InHole;
        self.plan.guided_tilt = Some(tilt);
        self.fits_hole(height_m)?;
        let from_m = self.butt_height_m(&self.now);
        self.hoist_to(self.now.hoist_length_m + from_m - height_m)
    }

    /// The guided pole's shell, lowered to this height, is inside the hole's wall and above its bottom.
    fn fits_hole(&self, height_m: f64) -> Done {
        let hole = &self.site.hole;
        if height_m < -hole.depth_m - ROUNDING {
            let fact = Sequence::HoleTooShallow { butt_m: -height_m, hole_m: hole.depth_m };
            return Err(Box::new(stop(fact).measured(-height_m, hole.depth_m, Unit::Meter)));
        }
        let room_m = hole.diameter_m / 2.0 - self.butt_off_hole_m(-height_m);
        if room_m < 0.0 {
            return Err(Box::new(stop(Sequence::ButtInWall { by_m: -room_m }).measured(room_m, 0.0, Unit::Meter)));
        }
        Ok(())
    }

    /// From the hole's axis to the farthest of the shell between butt and ground, with the butt this deep.
    fn butt_off_hole_m(&self, depth_m: f64) -> f64 {
        let butt = self.butt(&self.now);
        let axis = self.chain.pole_direction_in_world(&self.now, DVec3::Z);
        let at_ground = butt + axis * depth_m.max(0.0);
        let off = |point: DVec3| (point - self.site.hole.at).truncate().length();
        off(butt).max(off(at_ground)) + self.butt_radius_m
    }

    fn boom_to_radius(&mut self, radius_m: f64) -> Done {
        self.may_travel()?;
        let now = self.now;
        let angle =
            self.reaching().boom_angle_for(radius_m, now.boom_length_m, now.boom_angle).map_err(out_of_reach)?;
        self.boom_to(angle)
    }

    fn carry(&mut self, point: DVec3, height_m: f64, combined: bool) -> Done {
        if matches!(self.phase, Phase::Lying | Phase::Standing) {
            return Err(stop(Sequence::NothingToCarry));
        }
        if !is_measure(height_m) {
            return Err(not_a_number(NotANumber::Height));
        }
        self.may_travel()?;
        self.keeps_off_ground(height_m)?;
        let now = self.now;
        let (swing, boom_angle) =
            self.reaching().reach(point, now.boom_length_m, now.swing, now.boom_angle).map_err(out_of_reach)?;
        let raised_m = now.hoist_length_m - (height_m - self.butt_height_m(&now)).max(0.0);
        let over = Joints { swing, boom_angle, hoist_length_m: raised_m, ..now };
        let hoist_length_m = raised_m + self.butt_height_m(&over) - height_m;
        if combined {
            return self.combined(swing, boom_angle, hoist_length_m, raised_m);
        }
        self.hoist_to(raised_m)?;
        self.swing_to(swing)?;
        self.boom_to(boom_angle)?;
        self.hoist_to(hoist_length_m)
    }

    fn extend(&mut self, boom_length_m: f64) -> Done {
        self.may_travel()?;
        self.chain.crane.accepts_length(boom_length_m).map_err(out_of_reach)?;
        let by_m = boom_length_m - self.now.boom_length_m;
        let mut to = self.now.with(Joint::BoomLength, boom_length_m);
        to.hoist_length_m -= by_m / f64::from(self.site.crane.parts_of_line);
        if self.loaded() {
            // Height runs evenly with the length, so its ends say all.
            self.keeps_off_ground(self.butt_height_m(&to))?;
        }
        self.run(to, Path::Even, by_m.abs() / self.site.crane.rates.extend_m_s)
    }

    fn turn(&mut self, facing: f64) -> Done {
        if !matches!(self.phase, Phase::Hanging | Phase::InHole) {
            return Err(stop(Sequence::NothingToTurn));
        }
        if !is_measure(facing) {
            return Err(not_a_number(NotANumber::Facing));
        }
        let now_facing = self.now.pole_heading + self.now.pole_turn;
        let by = shortest_turn(now_facing, facing);
        if self.phase == Phase::InHole {
            // Turning about the load line carries the butt round it.
            let plumb = self.turns_about();
            let off = |a: DVec3, b: DVec3| (a - b).truncate().length();
            let around_m = off(self.butt(&self.now), plumb) + off(plumb, self.site.hole.at);
            let room_m = self.site.hole.diameter_m / 2.0 - around_m - self.butt_radius_m;
            if room_m < 0.0 {
                let fact = Sequence::TurnsIntoWall { by_m: -room_m };
                return Err(Box::new(stop(fact).measured(room_m, 0.0, Unit::Meter)));
            }
        }
        let to = self.now.with(Joint::PoleHeading, self.now.pole_heading + by);
        self.run(to, Path::Even, by.abs() / self.site.crane.rates.turn_rad_s)
    }

    /// The pole is plumbed in the middle of the hole while the hook still carries, then stands by itself.
    fn release(&mut self) -> Done {
        let depth_m = self.site.pole.setting_depth_m;
        if self.phase != Phase::InHole {
            return Err(stop(Sequence::NotInHole));
        }
        let height_m = self.butt_height_m(&self.now);
        if height_m > -depth_m + AT_DEPTH_M {
            let fact = Sequence::NotAtDepth { butt_m: -height_m, setting_m: depth_m };
            return Err(Box::new(stop(fact).measured(-height_m, depth_m, Unit::Meter)));
        }
        self.fits_hole(height_m)?;
        let hole = self.site.hole.at;
        let seat = Seat::Butt { from: self.butt(&self.now), to: DVec3::new(hole.x, hole.y, hole.z + height_m) };
        let to = self.now.with(Joint::PoleTilt, 0.0);
        let seconds = self.now.pole_tilt.abs() / self.site.crane.rates.turn_rad_s;
        self.push(to, seat, Path::Even, seconds);
        self.phase = Phase::Standing;
        self.push(self.now, self.seat, Path::Even, 0.0);
        Ok(())
    }

    fn boom_away(&mut self, point: DVec3, hook_height_m: f64, combined: bool) -> Done {
        if self.loaded() {
            return Err(stop(Sequence::BoomAwayLoaded));
        }
        if !is_measure(hook_height_m) {
            return Err(not_a_number(NotANumber::HookHeight));
        }
        let now = self.now;
        let (swing, boom_angle) =
            self.chain.crane.reach(point, now.boom_length_m, now.swing, now.boom_angle).map_err(out_of_reach)?;
        let rise_m = (hook_height_m - self.hook_height_m(&now)).max(0.0);
        let hoist_length_m = now.hoist_length_m - rise_m;
        if combined {
            return self.combined(swing, boom_angle, hoist_length_m, hoist_length_m);
        }
        self.hoist_to(hoist_length_m)?;
        self.boom_to(boom_angle)?;
        self.swing_to(swing)
    }
}

fn signals(from: &Joints, to: &Joints) -> Vec<Signal> {
    let by = |joint: Joint| to.get(joint) - from.get(joint);
    let pick = |by: f64, up: Signal, down: Signal| match by {
        by if by > 0.0 => Some(up),
        by if by < 0.0 => Some(down),
        _ => None,
    };
    // Line drawn in by the boom's extension is not hoisted.
    let hoist = if by(Joint::BoomLength) == 0.0 { by(Joint::HoistLength) } else { 0.0 };
    let given: Vec<Signal> = [
        pick(by(Joint::Swing), Signal::Swing, Signal::Swing),
        pick(by(Joint::BoomAngle), Signal::RaiseBoom, Signal::LowerBoom),
        pick(by(Joint::BoomLength), Signal::Extend, Signal::Retract),
        pick(hoist, Signal::Lower, Signal::Hoist),
    ]
    .into_iter()
    .flatten()
    .collect();
    if given.is_empty() { vec![Signal::Stop] } else { given }
}

/// A place that the crane cannot come to.
pub(super) fn out_of_reach(error: ReachError) -> Box<Finding> {
    Box::new(match error {
        ReachError::NotANumber => *not_a_number(NotANumber::Step),
        ReachError::TooNear { radius_m, least_m } => {
            stop(Reach::TooNear { radius_m, least_m }).measured(radius_m, least_m, Unit::Meter)
        }
        ReachError::TooFar { radius_m, most_m } => {
            stop(Reach::TooFar { radius_m, most_m }).measured(radius_m, most_m, Unit::Meter)
        }
        ReachError::BoomAngle { radius_m, angle, low, high, least_m, most_m } => {
            let limit = if radius_m > most_m { low } else { high };
            stop(Reach::BoomAngle { radius_m, angle, least_m, most_m }).measured(angle, limit, Unit::Radian)
        }
        ReachError::BoomLength { length_m, low_m, high_m } => {
            let limit_m = if length_m > high_m { high_m } else { low_m };
            stop(Reach::BoomLength { length_m, low_m, high_m }).measured(length_m, limit_m, Unit::Meter)
        }
        ReachError::Swing { swing, low, high } => {
            let limit = if swing > high { high } else { low };
            stop(Reach::Swing { swing, low, high }).measured(swing, limit, Unit::Radian)
        }
    })
}
