//! Where an eye is that looks at a point: around it, above it, away from it. Engine axes.

use bevy::prelude::*;

/// An eye and the point that it looks at. As a component it marks the camera of the site view.
#[derive(Component, Clone, Copy)]
pub struct Orbit {
    pub about: Vec3,
    /// Radians from south, toward east.
    pub around: f32,
    /// Radians above the horizon.
    pub above: f32,
    pub away_m: f32,
}

impl Orbit {
    /// The eye of a person who stands at `eye` and looks at `about`: a little before his face.
    pub fn from_to(eye: Vec3, about: Vec3) -> Self {
        const BEFORE_FACE_M: f32 = 0.7;
        let away = eye + (about - eye).normalize_or_zero() * BEFORE_FACE_M - about;
        let level = Vec2::new(away.x, away.z).length();
        Self { about, around: away.x.atan2(away.z), above: away.y.atan2(level), away_m: away.length().max(0.5) }
    }

    /// A share of the way to another, turning the shorter way.
    pub fn toward(&self, to: &Self, share: f32) -> Self {
        use std::f32::consts::{PI, TAU};
        let turn = (to.around - self.around + PI).rem_euclid(TAU) - PI;
        Self {
            about: self.about.lerp(to.about, share),
            around: self.around + turn * share,
            above: self.above + (to.above - self.above) * share,
            away_m: self.away_m + (to.away_m - self.away_m) * share,
        }
    }

    /// Nobody could see a difference to the other.
    pub fn is_at(&self, to: &Self) -> bool {
        let near = self.toward(to, 1.0);
        self.about.distance(to.about) < 0.02
            && (near.around - self.around).abs() < 0.002
            && (to.above - self.above).abs() < 0.002
            && (to.away_m - self.away_m).abs() < 0.02
    }

    /// The place of the eye, looking at the point.
    pub fn transform(&self) -> Transform {
        let level = self.away_m * self.above.cos();
        let from = Vec3::new(level * self.around.sin(), self.away_m * self.above.sin(), level * self.around.cos());
        Transform::from_translation(self.about + from).looking_at(self.about, Vec3::Y)
    }
}
