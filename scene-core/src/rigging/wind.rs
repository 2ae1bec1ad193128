//! How the wind leans the load line and the pole.

use super::error::RiggingError;
use super::hang::{GRAVITY_M_S2, hang};
use crate::conductor::load::wind_pressure_pa;
use crate::pole::{self, Mass};
use crate::site::{Pole, Rigging, Weather};

/// Drag of a pole in planning winds (textbook value for a cylinder below Reynolds 2·10⁵, from memory; the loading code's
/// 1.0 for round poles is lower).
pub const POLE_DRAG: f64 = 1.2;

/// Drag of hardware and covers: flat surfaces (NESC).
pub const ITEM_DRAG: f64 = 1.6;

/// What one weather does to the hanging pole, at most.
#[derive(Clone, Debug, PartialEq)]
pub struct WindLean {
    pub weather: String,
    pub pressure_pa: f64,
    /// On pole and items, from the side.
    pub force_n: f64,
    /// The load line leans by this, sideways over down: force over weight.
    pub line_ratio: f64,
    /// The pole leans by this about its choke, on top of how it hangs: where the wind presses is not where the weight pulls.
    pub pole_ratio: f64,
}

impl WindLean {
    /// How far a point may be shifted sideways, m: the choke hangs `below_sheave_m` under the sheave, the point is
    /// `from_choke_m` along the pole from the choke. It grows along the pole and is largest at its ends.
    pub fn shift_m(&self, below_sheave_m: f64, from_choke_m: f64) -> f64 {
        self.line_ratio * below_sheave_m.abs() + self.pole_ratio * from_choke_m.abs()
    }
}

/// The lean in each weather. Items count whole or, in the lee of the pole, not at all, whichever is worse.
pub fn wind_leans(
    pole: &Pole,
    mass: &Mass,
    rigging: &Rigging,
    weather: &[Weather],
) -> Result<Vec<WindLean>, RiggingError> {
    let hang = hang(pole, mass, rigging)?;
    let choker_m = rigging.choker_from_butt_m;
    let bare = pole::side_area_m2(pole, 0.0, pole.length_m)? * POLE_DRAG;
    let mut area = bare;
    let about_choke = bare * (choker_m - pole::side_centre_m(pole)?);
    let (mut one_way, mut other_way) = (about_choke.max(0.0), (-about_choke).max(0.0));
    for item in &pole.items {
        let radius = if item.radius_m.is_finite() { item.radius_m.abs() } else { 0.0 };
        let seen = (item.from.distance(item.to) + 2.0 * radius) * 2.0 * radius * ITEM_DRAG;
        area += seen;
        let lever = choker_m - (item.from.z + item.to.z) / 2.0;
        one_way += (seen * lever).max(0.0);
        other_way += (-seen * lever).max(0.0);
    }
    let weight_n = mass.kg.low() * GRAVITY_M_S2;
    let moment_area = one_way.max(other_way);
    weather
        .iter()
        .map(|case| {
            let pressure_pa = wind_pressure_pa(case.wind_m_s);
            let force_n = pressure_pa * area;
            let pole_ratio = pressure_pa * moment_area / (weight_n * hang.lever_m.low());
            let line_ratio = force_n / weight_n;
            if !(line_ratio.is_finite() && pole_ratio.is_finite()) {
                return Err(RiggingError::Number { what: "lean in the wind", need: "a number", got: line_ratio });
            }
            Ok(WindLean { weather: case.name.clone(), pressure_pa, force_n, line_ratio, pole_ratio })
        })
        .collect()
}
