//! How wind tilts the load line and the pole.

use super::error::RiggingError;
use super::hang::{GRAVITY_M_S2, hang};
use crate::conductor::load::wind_pressure_pa;
use crate::pole::{self, Mass};
use crate::site::{Pole, Rigging, Weather};

/// Drag coefficient of a pole in planning winds. A textbook value for a cylinder below Reynolds number 2·10⁵, from
/// memory; the loading code's 1.0 for round poles is lower.
pub const POLE_DRAG: f64 = 1.2;

/// Drag coefficient of hardware and covers: flat surfaces (NESC).
pub const ITEM_DRAG: f64 = 1.6;

/// The greatest effect of one weather case on the hanging pole.
#[derive(Clone, Debug, PartialEq)]
pub struct WindLean {
    /// The weather case's name.
    pub weather: String,
    /// Wind pressure on a flat face, pascals.
    pub pressure_pa: f64,
    /// Force on the pole and its items from the side, newtons.
    pub force_n: f64,
    /// Tilt of the load line, sideways over down: force over weight.
    pub line_ratio: f64,
    /// Tilt of the pole about its choke, sideways over along, in addition to its still-air tilt. It arises because wind
    /// and weight act at different heights.
    pub pole_ratio: f64,
}

impl WindLean {
    /// The greatest sideways shift of a point, meters. The choke hangs `below_sheave_m` under the sheave and the point
    /// is `from_choke_m` along the pole from the choke. The shift is largest at the pole's ends.
    pub fn shift_m(&self, below_sheave_m: f64, from_choke_m: f64) -> f64 {
        self.line_ratio * below_sheave_m.abs() + self.pole_ratio * from_choke_m.abs()
    }
}

/// The tilt in each weather case. An item in the lee of the pole may catch no wind, so each item counts or not,
/// whichever is worse.
///
/// # Errors Those of [`hang()`], and a tilt that is not a number.
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
    let about_choke = bare * (choker_m - pole::side_center_m(pole)?);
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
