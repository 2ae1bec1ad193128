//! What makes a digger derrick of a crane: pole guides at the boom's tip, and an auger. Meters and radians.

use super::crane::bodies::{Corner, corners_of_box, fixed};
use super::crane::chain::Place;
use crate::bracket::Bracket;
use glam::DVec3;
use std::f64::consts::FRAC_PI_2;

/// What a digger derrick has besides a crane's boom and winch.
#[derive(Clone, Debug, PartialEq)]
pub struct Derrick {
    pub guides: PoleGuides,
    pub auger: Auger,
    /// Length of the insulated tip of the boom; `None` where it has none. It is never taken as insulation.
    pub insulated_tip_m: Option<f64>,
}

/// The arms at the boom's tip that hold a pole upright. They tilt about a pin so that they stay level at any boom angle.
#[derive(Clone, Debug, PartialEq)]
pub struct PoleGuides {
    /// Of the pin, from the boom's tip: along the boom, and below its axis.
    pub along_m: f64,
    pub below_m: f64,
    /// From the pin level outward to the axis of a held pole.
    pub reach_m: f64,
    /// How far from there the open arms take a pole's axis in.
    pub catch_m: f64,
    /// Of the arms: across the boom when open, along the pole, and beyond the held pole's axis.
    pub width_m: f64,
    pub height_m: f64,
    pub beyond_m: f64,
    /// Diameters of poles that they hold.
    pub holds_m: Bracket,
    /// Between the boom's axis and the axis of a held pole, both upward, radians.
    pub tilt: Bracket,
}

/// A flight on a Kelly bar, hung from the boom by a pin about which it swings plumb, or stowed back along the boom.
#[derive(Clone, Debug, PartialEq)]
pub struct Auger {
    /// Of the pin, from the foot pin along the boom; it does not move with the extension.
    pub along_m: f64,
    /// Below the boom's axis, and to its left.
    pub below_m: f64,
    pub left_m: f64,
    /// From the pin to the flight's point.
    pub length_m: f64,
    pub flight_length_m: f64,
    pub flight_radius_m: f64,
    pub bar_radius_m: f64,
    /// How far out of plumb the hanging bar may be drawn while it digs, as a ratio of its length.
    pub most_lean: f64,
}

/// Where a digger derrick's auger is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AugerState {
    /// Back along the boom; also where there is none.
    Stowed,
    /// Anywhere between stowed and plumb.
    Swinging,
    /// Plumb below its pin, but for being drawn this far aside by the hole.
    Hanging { aside_m: f64 },
}

impl PoleGuides {
    /// Holding a pole, the box of the arms; otherwise the ball about their pin that holds them at any tilt.
    pub fn hulls(&self, holding: bool) -> Vec<Vec<Corner>> {
        let pin = |out_m: f64, left_m: f64, down_m: f64| Place::Hung {
            along_m: self.along_m,
            share: 1.0,
            left_m,
            below_m: self.below_m,
            out_m,
            down_m,
        };
        let (out_m, half_m, high_m) = (self.reach_m + self.beyond_m, self.width_m / 2.0, self.height_m / 2.0);
        if !holding {
            return vec![vec![fixed(pin(0.0, 0.0, 0.0), DVec3::new(out_m, half_m, high_m).length())]];
        }
        let arms = corners_of_box([0.0, out_m], [-half_m, half_m], [-high_m, high_m]);
        vec![arms.map(|[out_m, left_m, down_m]| fixed(pin(out_m, left_m, down_m), 0.0)).to_vec()]
    }
}

impl Auger {
    /// The bar and the flight, wider by what they are drawn aside; swinging, the fan that they go through. The boom stands still
    /// at this angle while they swing.
    pub fn hulls(&self, state: AugerState, boom_angle: f64) -> Vec<Vec<Corner>> {
        let (along_m, left_m, below_m) = (self.along_m, self.left_m, self.below_m);
        let stowed = |down_m: f64| Place::Boom { along_m: along_m - down_m, share: 0.0, left_m, below_m };
        let hung = |out_m: f64, down_m: f64| Place::Hung { along_m, share: 0.0, left_m, below_m, out_m, down_m };
        let bar_m = self.length_m - self.flight_length_m;
        let (bar, flight) = (self.bar_radius_m, self.flight_radius_m);
        match state {
            AugerState::Stowed => vec![
                vec![fixed(stowed(0.0), bar), fixed(stowed(bar_m), bar)],
                vec![fixed(stowed(bar_m), flight), fixed(stowed(self.length_m), flight)],
            ],
            AugerState::Hanging { aside_m } => vec![
                vec![fixed(hung(0.0, 0.0), bar), fixed(hung(0.0, bar_m), bar + aside_m)],
                vec![fixed(hung(0.0, bar_m), flight + aside_m), fixed(hung(0.0, self.length_m), flight + aside_m)],
            ],
            // Points around the arc: chords of the circle that touches it from outside.
            AugerState::Swinging => {
                const CHORDS: usize = 4;
                let whole = FRAC_PI_2 - boom_angle;
                let step = whole / CHORDS as f64;
                let at = |angle: f64, far_m: f64| fixed(hung(-far_m * angle.sin(), far_m * angle.cos()), flight);
                let around = |i: usize| at((i as f64 + 0.5) * step, self.length_m / (step / 2.0).cos());
                let ends = [fixed(hung(0.0, 0.0), flight), at(0.0, self.length_m), at(whole, self.length_m)];
                vec![ends.into_iter().chain((0..CHORDS).map(around)).collect()]
            }
        }
    }
}
