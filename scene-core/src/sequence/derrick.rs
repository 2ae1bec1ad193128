//! What a digger derrick does besides lifting: auger a hole, hold a pole in its guides.

use super::walk::{Done, Phase, ROUNDING, Walk, is_measure, not_a_number, out_of_reach, stop};
use super::{AugerState, Path};
use crate::bracket::Bracket;
use crate::finding::{Derrick, Finding, NotANumber, Unit};
use crate::machine::crane::chain::{Grip, Seat};
use crate::machine::crane::{CraneFrame, Joint, Joints, outward_range};
use crate::premise::Assumed;
use crate::site::Auger;
use glam::DVec3;
use std::f64::consts::FRAC_PI_2;

/// The point of the flight, and the free hook, are kept this high above the ground while nothing is dug (judgment).
const OVER_GROUND_M: f64 = 0.3;
/// How far the guides may draw the winch line aside, per length of it below the tip (judgment: about 14 degrees).
const MOST_LINE_LEAN: f64 = 0.25;
/// How nearly an auger must be as wide as the hole.
const AS_WIDE_M: f64 = 0.01;

impl Walk<'_> {
    /// The joints run from where they are to these with the pole in the guides: they tilt so far, hold a pole so thick, and
    /// do not draw the winch line too far aside.
    pub(super) fn keeps_in_guides(&self, to: &Joints, shortest_hoist_m: f64) -> Done {
        let (Some(grip), Some(derrick)) = (self.grip(), &self.site.crane.derrick) else { return Ok(()) };
        let guides = &derrick.guides;
        let angles = Bracket::exactly(self.now.boom_angle).hull(Bracket::exactly(to.boom_angle));
        let tilts = Bracket::exactly(FRAC_PI_2) - angles;
        let has = guides.tilt.widened(ROUNDING);
        if !(has.allows(tilts.low()) && has.allows(tilts.high())) {
            let worst = if has.allows(tilts.low()) { tilts.high() } else { tilts.low() };
            let (low, high) = (guides.tilt.low(), guides.tilt.high());
            let limit = if worst > high { high } else { low };
            let fact = Derrick::GuidesTilt { tilt: worst, low, high };
            return Err(Box::new(stop(fact).measured(worst, limit, Unit::Radian)));
        }
        let hoist = Bracket::exactly(self.now.hoist_length_m)
            .hull(Bracket::exactly(to.hoist_length_m))
            .hull(Bracket::exactly(shortest_hoist_m));
        let stations = self.chain.held_at(&grip, angles, hoist);
        if !(stations.low() >= -ROUNDING && stations.high() <= self.site.pole.length_m + ROUNDING) {
            let (low_m, high_m) = (stations.low(), stations.high());
            return Err(stop(Derrick::GuidesOffPole { low_m, high_m, pole_m: self.site.pole.length_m }));
        }
        let held = self.outline.stretch(stations.widened(ROUNDING));
        let ends = held.iter().flat_map(|t| [2.0 * t.radius_from_m, 2.0 * t.radius_to_m]);
        let (thin_m, thick_m) = ends.fold((f64::INFINITY, 0.0_f64), |(a, b), d| (a.min(d), b.max(d)));
        if !(guides.holds_m.allows(thin_m) && guides.holds_m.allows(thick_m)) {
            let (holds_low_m, holds_high_m) = (guides.holds_m.low(), guides.holds_m.high());
            return Err(stop(Derrick::GuidesDoNotFit { thin_m, thick_m, holds_low_m, holds_high_m }));
        }
        let aside_m = self.chain.drawn_aside_m(&grip, &self.now, to);
        let crane = &self.chain.crane;
        let most_m = MOST_LINE_LEAN * (hoist.low() + crane.block_length_m + crane.rigging_length_m);
        let straight = aside_m <= most_m;
        if !straight {
            let fact = Derrick::LineDrawnAside { aside_m, most_m };
            return Err(Box::new(stop(fact).measured(aside_m, most_m, Unit::Meter)));
        }
        Ok(())
    }

    pub(super) fn enter_guides(&mut self, from_butt_m: f64) -> Done {
        let Some(derrick) = &self.site.crane.derrick else {
            return Err(stop(Derrick::NoGuides { crane: self.site.crane.name.clone() }));
        };
        if self.phase != Phase::Hanging || self.grip().is_some() {
            return Err(stop(Derrick::NothingForGuides));
        }
        let allowances = &self.site.allowances;
        if allowances.guide_play.is_none() || allowances.guide_lean.is_none() {
            return Err(stop(Derrick::GuidePlayMissing));
        }
        let guides = &derrick.guides;
        let measures = [guides.along_m, guides.below_m, guides.reach_m, guides.catch_m, from_butt_m];
        if !measures.into_iter().all(is_measure) {
            return Err(not_a_number(NotANumber::Guides));
        }
        let (grip, catch_m) = (Grip::of(guides), guides.catch_m);
        let at = Bracket::exactly(self.now.boom_angle);
        let here_m = self.chain.held_at(&grip, at, Bracket::exactly(self.now.hoist_length_m)).middle();
        self.hoist_to(self.now.hoist_length_m + from_butt_m - here_m)?;
        self.may_travel()?;

        let guides_at = grip.in_world(&self.chain.crane, &self.now);
        let butt = self.butt(&self.now);
        let axis = self.chain.pole_direction_in_world(&self.now, DVec3::Z);
        let off_m = (butt + axis * ((guides_at.z - butt.z) / axis.z) - guides_at).truncate().length();
        let caught = off_m <= catch_m;
        if !caught {
            let fact = Derrick::PoleNotAtGuides { off_m, catch_m };
            return Err(Box::new(stop(fact).measured(off_m, catch_m, Unit::Meter)));
        }
        let to = self.now.with(Joint::PoleTilt, 0.0);
        let seat = Seat::InGuides(grip);
        let drawn_in = Seat::Butt { from: butt, to: self.chain.butt_on(&to, &seat) };
        let seconds =
            self.now.pole_tilt.abs() / self.site.crane.rates.turn_rad_s + off_m / self.site.crane.rates.hoist_m_s;
        self.push(to, drawn_in, Path::Even, seconds);
        self.seat = seat;
        self.keeps_in_guides(&to, to.hoist_length_m)?;
        self.assume(Assumed::PlumbInGuides);
        Ok(())
    }

    /// See [`crate::site::Action::Dig`].
    pub(super) fn dig(&mut self, depth_m: f64) -> Done {
        let Some(derrick) = &self.site.crane.derrick else {
            return Err(stop(Derrick::NoAuger { crane: self.site.crane.name.clone() }));
        };
        let (auger, hole) = (derrick.auger.clone(), &self.site.hole);
        if self.phase != Phase::Lying {
            return Err(stop(Derrick::LineNotFree));
        }
        let measures = [auger.along_m, auger.below_m, auger.left_m, auger.length_m, auger.flight_radius_m, depth_m];
        if !(measures.into_iter().all(is_measure) && depth_m > 0.0 && auger.length_m > 0.0) {
            return Err(not_a_number(NotANumber::Auger));
        }
        let deep = depth_m >= hole.depth_m - ROUNDING;
        if !deep {
            let fact = Derrick::DugTooShallow { dug_m: depth_m, hole_m: hole.depth_m };
            return Err(Box::new(stop(fact).measured(depth_m, hole.depth_m, Unit::Meter)));
        }
        let wide = 2.0 * auger.flight_radius_m >= hole.diameter_m - AS_WIDE_M;
        if !wide {
            let wide_m = 2.0 * auger.flight_radius_m;
            let fact = Derrick::AugerTooNarrow { auger_m: wide_m, hole_m: hole.diameter_m };
            return Err(Box::new(stop(fact).measured(wide_m, hole.diameter_m, Unit::Meter)));
        }
        let over = self.boom_angle_with_point_at(&auger, OVER_GROUND_M)?;
        let touching = self.boom_angle_with_point_at(&auger, 0.0)?;
        let deepest = self.boom_angle_with_point_at(&auger, -depth_m)?;
        let (swing, hole_radius_m) = self.swing_with_pin_toward_hole(&auger)?;
        let aside_m =
            self.out_of_plumb_m(&auger, Bracket::exactly(deepest).hull(Bracket::exactly(touching)), hole_radius_m)?;

        self.hook_above_ground_at(deepest)?;
        if self.now.boom_angle < over {
            self.boom_to(over)?;
        }
        self.swing_to(swing)?;
        self.boom_to(over)?;
        let rates = self.site.crane.rates;
        let seconds = (FRAC_PI_2 - over).abs() / rates.boom_rad_s;
        self.swing_auger(AugerState::Hanging { aside_m: 0.0 }, seconds);
        self.boom_to(touching)?;
        self.auger = AugerState::Hanging { aside_m };
        self.boom_to(deepest)?;
        self.boom_to(touching)?;
        self.auger = AugerState::Hanging { aside_m: 0.0 };
        self.boom_to(over)?;
        self.swing_auger(AugerState::Stowed, seconds);
        self.assume(Assumed::DugInOnePass);
        Ok(())
    }

    fn swing_auger(&mut self, to: AugerState, seconds: f64) {
        self.auger = AugerState::Swinging;
        self.push(self.now, self.seat, Path::Even, seconds);
        self.auger = to;
    }

    fn assume(&mut self, what: Assumed) {
        if !self.plan.assumed.contains(&what) {
            self.plan.assumed.push(what);
        }
    }

    /// The crane with the auger's pin in place of the line's top; boom length 0.
    fn at_pin(&self, auger: &Auger) -> CraneFrame {
        CraneFrame {
            head_along_m: auger.along_m,
            head_below_m: auger.below_m,
            sheave_radius_m: 0.0,
            ..self.chain.crane.clone()
        }
    }

    /// With the auger plumb its point is at this height above the ground at the hole: along·sin β − below·cos β = rise.
    fn boom_angle_with_point_at(&self, auger: &Auger, height_m: f64) -> Result<f64, Box<Finding>> {
        let crane = &self.chain.crane;
        let rise_m = height_m + auger.length_m + self.site.hole.at.z - crane.at.z - crane.foot_height_m;
        let share = rise_m / auger.along_m.hypot(auger.below_m);
        let angle = share.asin() + auger.below_m.atan2(auger.along_m);
        let has = crane.boom_angle.widened(ROUNDING);
        if share.abs() <= 1.0 && has.allows(angle) {
            return Ok(angle.clamp(crane.boom_angle.low(), crane.boom_angle.high()));
        }
        let (low, high) = (crane.boom_angle.low(), crane.boom_angle.high());
        Err(stop(Derrick::AugerPin { point_m: height_m, rise_m, low, high }))
    }

    /// The pin is beside the boom's axis, so the boom points past the hole. And how far the hole is in the boom's plane.
    fn swing_with_pin_toward_hole(&self, auger: &Auger) -> Result<(f64, f64), Box<Finding>> {
        let crane = &self.chain.crane;
        let away = self.site.hole.at - crane.at;
        let square = away.truncate().length_squared() - auger.left_m * auger.left_m;
        let beside = square > 0.0;
        if !beside {
            return Err(stop(Derrick::HoleTooNear));
        }
        let ahead_m = square.sqrt();
        let past = crate::machine::crane::chain::about_z(-auger.left_m.atan2(ahead_m), away);
        let swing = crane.swing_toward(crane.at + past, self.now.swing).map_err(out_of_reach)?;
        Ok((swing, ahead_m))
    }

    /// The most that the pin is off the hole's axis while it digs: within what the bar can lean.
    fn out_of_plumb_m(&self, auger: &Auger, angles: Bracket, hole_radius_m: f64) -> Result<f64, Box<Finding>> {
        let pin = self.at_pin(auger);
        let radii =
            outward_range(Bracket::exactly(auger.along_m), auger.below_m, angles) + Bracket::exactly(pin.foot_offset_m);
        let aside_m = (radii.high() - hole_radius_m).abs().max((radii.low() - hole_radius_m).abs());
        let most_m = auger.most_lean * auger.length_m;
        if aside_m <= most_m {
            return Ok(aside_m);
        }
        let (low_m, high_m) = (radii.low(), radii.high());
        let fact = Derrick::AugerOutOfPlumb { low_m, high_m, hole_m: hole_radius_m, most_m };
        Err(Box::new(stop(fact).measured(aside_m, most_m, Unit::Meter)))
    }

    /// Draws the free hook up so far that with the boom at this angle it is above the ground at the hole.
    fn hook_above_ground_at(&mut self, boom_angle: f64) -> Done {
        let crane = &self.chain.crane;
        let low = Joints { boom_angle, ..self.now };
        let room_m = crane.choke_in_world(&low).z - self.site.hole.at.z - OVER_GROUND_M;
        self.hoist_to(self.now.hoist_length_m + room_m.min(0.0))
    }
}

#[cfg(test)]
mod tests;
