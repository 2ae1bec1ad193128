//! The load on a meter of wire: its weight, ice, wind across it, and their resultant.

use crate::bracket::Bracket;
pub use crate::quantity::unit::GRAVITY;
use crate::site::Ice;

/// Wind pressure per squared speed, Pa/(m/s)²: half the density of standard air, as in 0.00256 lb/ft² per (mile/h)².
///
/// Source: ASCE 7 velocity pressure, all factors 1; NESC Rule 250C form.
pub const PRESSURE_PER_SPEED_SQUARED: f64 = 0.00256 * 47.880_258_980_335_84 / (0.447_04 * 0.447_04);

/// Drag coefficient of a round wire. Source: NESC Rule 251/252 (cylindrical surfaces 1.0).
pub const WIRE_SHAPE_FACTOR: f64 = 1.0;

/// Newtons per meter of wire, in the plane across it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Downward: wire and ice.
    pub vertical_n_per_m: f64,
    /// Horizontal, across the span: wind.
    pub transverse_n_per_m: f64,
}

impl Load {
    /// Magnitude of the load, N/m.
    pub fn resultant_n_per_m(&self) -> f64 {
        self.vertical_n_per_m.hypot(self.transverse_n_per_m)
    }

    /// Angle from vertical of the plane in which the wire hangs, radians.
    pub fn blowout(&self) -> f64 {
        self.transverse_n_per_m.atan2(self.vertical_n_per_m)
    }
}

/// Weight of a radial thickness of ice, N/m: ρ·g·π·t·(d + t).
///
/// With ice of 57 lb/ft³ and US units this is the handbooks' 1.2448·t·(d + t) lb/ft, with inches.
pub fn ice_n_per_m(wire_diameter_m: f64, thickness_m: f64, ice_density_kg_m3: f64) -> f64 {
    ice_density_kg_m3 * GRAVITY * std::f64::consts::PI * thickness_m * (wire_diameter_m + thickness_m)
}

/// The least and the greatest weight of ice on a wire, N/m.
pub(super) fn ice_weight_n_per_m(diameter_m: f64, ice: &Ice) -> Bracket {
    let weight = |thickness_m, density_kg_m3| ice_n_per_m(diameter_m, thickness_m, density_kg_m3);
    Bracket::between(
        weight(ice.thickness_m.low(), ice.density_kg_m3.low()),
        weight(ice.thickness_m.high(), ice.density_kg_m3.high()),
    )
    .unwrap_or(Bracket::exactly(0.0))
}

/// Pressure of wind of this speed on a flat face, pascals.
pub fn wind_pressure_pa(wind_m_s: f64) -> f64 {
    PRESSURE_PER_SPEED_SQUARED * wind_m_s * wind_m_s
}

/// Wind load square to a wire, N/m, on its diameter including ice.
pub fn wind_n_per_m(pressure_pa: f64, overall_diameter_m: f64) -> f64 {
    pressure_pa * WIRE_SHAPE_FACTOR * overall_diameter_m
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_handbooks_ice_formula_is_57_pounds_a_cubic_foot() {
        let (inch, pound_per_foot) = (0.0254, 4.448_221_615_260_5 / 0.3048);
        let ice = ice_n_per_m(1.093 * inch, 0.5 * inch, 57.0 * 16.018_463_374) / pound_per_foot;
        // source: rigging handbooks' 1.2448·t·(d + t) lb/ft, as used in the NESC heavy loading district
        assert!((ice - 1.2448 * 0.5 * 1.593).abs() < 1e-3, "{ice}");
    }

    #[test]
    fn a_forty_mile_wind_presses_with_4_1_pounds_a_square_foot() {
        let psf = wind_pressure_pa(40.0 * 0.447_04) / 47.880_258_980_335_84;
        assert!((psf - 4.096).abs() < 1e-12, "{psf}");
        assert!((PRESSURE_PER_SPEED_SQUARED - 0.6133).abs() < 1e-4, "{PRESSURE_PER_SPEED_SQUARED}");
    }

    #[test]
    fn equal_wind_and_weight_blow_a_wire_out_to_45_degrees() {
        let load = Load { vertical_n_per_m: 3.0, transverse_n_per_m: 3.0 };
        assert!((load.blowout().to_degrees() - 45.0).abs() < 1e-12);
        assert!((load.resultant_n_per_m() - 18f64.sqrt()).abs() < 1e-12);
    }
}
