//! A corner's way over a piece as a [`Track`]: exact for any joints that run evenly.
//!
//! How turnings become waves is in [`super::turning`].

use super::track::{Track, Wave};
use super::turning::{Turning, left_of};
use crate::machine::crane::Joints;
use crate::machine::crane::chain::{Chain, Place, Seat, about_z};
use glam::DVec3;

/// `value + drift·u`.
#[derive(Clone, Copy)]
struct Even {
    value: f64,
    drift: f64,
}

/// Joints running evenly from one end to the other. The pole's turn does not run.
pub(super) struct Run<'a> {
    chain: &'a Chain,
    seat: Seat,
    from: Joints,
    by: Joints,
    /// At the start: the level way the boom points, and the pole's top leans.
    outward: DVec3,
    ahead: DVec3,
    /// Sine and cosine at the start.
    boom: (f64, f64),
    tilt: (f64, f64),
    turning: Turning,
}

impl<'a> Run<'a> {
    pub(super) fn new(chain: &'a Chain, from: &Joints, to: &Joints, seat: Seat) -> Self {
        let by = Joints {
            swing: to.swing - from.swing,
            boom_angle: to.boom_angle - from.boom_angle,
            boom_length_m: to.boom_length_m - from.boom_length_m,
            hoist_length_m: to.hoist_length_m - from.hoist_length_m,
            pole_tilt: to.pole_tilt - from.pole_tilt,
            pole_heading: to.pole_heading - from.pole_heading,
            pole_turn: 0.0,
        };
        Self {
            chain,
            seat,
            from: *from,
            by,
            outward: chain.crane.outward(from.swing),
            ahead: about_z(from.pole_heading, DVec3::X),
            boom: from.boom_angle.sin_cos(),
            tilt: from.pole_tilt.sin_cos(),
            turning: Turning::default(),
        }
    }

    /// The rates that the tracks made so far refer to.
    pub(super) fn into_rates(self) -> Vec<f64> {
        self.turning.rates
    }

    pub(super) fn place(&mut self, place: &Place) -> Track {
        let mut track = Track { base: self.chain.crane.at, ..Track::default() };
        match *place {
            Place::Upper(point) => self.upper(&mut track, point),
            Place::Boom { along_m, share, left_m, below_m } => {
                let along = self.along(along_m, share);
                self.boom(&mut track, along, left_m, below_m, 0.0);
            }
            Place::Hung { along_m, share, left_m, below_m, out_m, down_m } => {
                let along = self.along(along_m, share);
                self.boom(&mut track, along, left_m, below_m, out_m);
                track.base.z -= down_m;
            }
            Place::Line { below_m, hoisted, inward_m } => self.line(&mut track, below_m, hoisted, inward_m),
            Place::Pole(point) => match self.seat {
                Seat::OnHook => {
                    let crane = &self.chain.crane;
                    self.line(&mut track, crane.block_length_m + crane.rigging_length_m, true, 0.0);
                    self.pole_direction(&mut track, point - self.chain.choke_in_pole);
                }
                Seat::InGuides(grip) => {
                    let (crane, at) = (&self.chain.crane, track.base);
                    let along = self.along(grip.along_m, 1.0);
                    self.boom(&mut track, along, 0.0, grip.below_m, grip.out_m);
                    let mut height = Track { base: at, ..Track::default() };
                    self.line(&mut height, crane.block_length_m + crane.rigging_length_m, true, 0.0);
                    track = merged(&track, &height);
                    self.pole_direction(&mut track, point - DVec3::Z * self.chain.choke_in_pole.z);
                }
                Seat::Butt { from, to } => {
                    track.base = from;
                    track.drift = to - from;
                    self.pole_direction(&mut track, point);
                }
            },
        }
        track
    }

    /// The pole's axis, a unit vector.
    pub(super) fn pole_axis(&mut self) -> Track {
        let mut track = Track::default();
        self.pole_direction(&mut track, DVec3::Z);
        track
    }

    fn along(&self, along_m: f64, share: f64) -> Even {
        Even { value: along_m + share * self.from.boom_length_m, drift: share * self.by.boom_length_m }
    }

    fn upper(&mut self, track: &mut Track, point: DVec3) {
        let level = self.outward * point.x + left_of(self.outward) * point.y;
        self.turning.level(track, self.by.swing, level);
        track.base.z += point.z;
    }

    /// `further_m` is level, outward.
    fn boom(&mut self, track: &mut Track, along: Even, left_m: f64, below_m: f64, further_m: f64) {
        let crane = &self.chain.crane;
        let fixed = DVec3::new(crane.foot_offset_m + further_m, left_m, crane.foot_height_m);
        self.upper(track, fixed);
        // (along, −below) in the upright plane, turned up by the boom angle.
        let (sin, cos) = self.boom;
        let out = [along.value * cos + below_m * sin, along.drift * cos];
        let up = [along.value * sin - below_m * cos, along.drift * sin];
        self.turning.upright(track, self.by.swing, self.outward, self.by.boom_angle, out, up);
    }

    fn line(&mut self, track: &mut Track, below_m: f64, hoisted: bool, inward_m: f64) {
        let crane = &self.chain.crane;
        let (along_m, head_below_m, further_m) =
            (crane.head_along_m, crane.head_below_m, crane.sheave_radius_m - inward_m);
        let along = self.along(along_m, 1.0);
        self.boom(track, along, 0.0, head_below_m, further_m);
        track.base.z -= below_m;
        if hoisted {
            track.base.z -= self.from.hoist_length_m;
            track.drift.z -= self.by.hoist_length_m;
        }
    }

    fn pole_direction(&mut self, track: &mut Track, direction: DVec3) {
        let turned = about_z(self.from.pole_turn, direction);
        let (sin, cos) = self.tilt;
        let sideways = left_of(self.ahead) * turned.y;
        self.turning.level(track, self.by.pole_heading, sideways);
        let out = [turned.x * cos + turned.z * sin, 0.0];
        let up = [turned.z * cos - turned.x * sin, 0.0];
        // Tilting goes from up to ahead: against the sense of a boom going up.
        self.turning.upright(track, self.by.pole_heading, self.ahead, -self.by.pole_tilt, out, up);
    }
}

/// The level part of one and the height of the other.
fn merged(level: &Track, height: &Track) -> Track {
    let (flat, up) = (DVec3::new(1.0, 1.0, 0.0), DVec3::Z);
    let scaled = |wave: &Wave, by: DVec3| Wave {
        rate: wave.rate,
        cos: wave.cos * by,
        sin: wave.sin * by,
        cos_drift: wave.cos_drift * by,
        sin_drift: wave.sin_drift * by,
    };
    let mut waves: Vec<Wave> = level.waves.iter().map(|wave| scaled(wave, flat)).collect();
    for wave in &height.waves {
        let wave = scaled(wave, up);
        match waves.iter_mut().find(|w| w.rate == wave.rate) {
            Some(same) => {
                same.cos += wave.cos;
                same.sin += wave.sin;
                same.cos_drift += wave.cos_drift;
                same.sin_drift += wave.sin_drift;
            }
            None => waves.push(wave),
        }
    }
    Track { base: level.base * flat + height.base * up, drift: level.drift * flat + height.drift * up, waves }
}
