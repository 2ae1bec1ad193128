//! Volume, mass and centroid of timber and of tube sections, by formula.

use crate::quantity::unit::{FOOT_M, POUND_PER_FT3};
use crate::site::{Sides, TubeSection};
use std::f64::consts::PI;

/// Density of steel, kg/m³: 490 lb/ft³, the value behind pipe tables (UFC 3-220-01A pipe table, 12 in × 0.250 in).
pub const STEEL_KG_M3: f64 = 490.0 * POUND_PER_FT3;

/// Distance from the butt at which the standard fixes a wood pole's size, meters.
pub(super) const SIX_FEET_M: f64 = 6.0 * FOOT_M;

/// Volume of a cone frustum, m³: `πL/3·(R² + Rr + r²)`.
pub fn frustum_volume_m3(length_m: f64, butt_radius_m: f64, top_radius_m: f64) -> f64 {
    let (b, t) = (butt_radius_m, top_radius_m);
    PI * length_m / 3.0 * (b * b + b * t + t * t)
}

/// Centroid of a cone frustum from its butt, meters: `L/4·(R² + 2Rr + 3r²)/(R² + Rr + r²)`.
pub fn frustum_centroid_m(length_m: f64, butt_radius_m: f64, top_radius_m: f64) -> f64 {
    let (b, t) = (butt_radius_m, top_radius_m);
    length_m / 4.0 * (b * b + 2.0 * b * t + 3.0 * t * t) / (b * b + b * t + t * t)
}

/// Butt circumference of a wood pole, meters. The taper is straight from the top through the size 6 ft from the butt.
/// ANSI O5.1 fixes the size at 6 ft, not at the butt.
pub fn butt_circumference_m(length_m: f64, top_m: f64, at_6_ft_m: f64) -> f64 {
    at_6_ft_m + SIX_FEET_M * (at_6_ft_m - top_m) / (length_m - SIX_FEET_M)
}

/// The factor c in "wall area = c · mean diameter across flats · wall": `n·tan(π/n)`, or π for a round tube. Exact for
/// any wall, because it is the difference of two regular polygons.
pub fn wall_area_coefficient(sides: Sides) -> f64 {
    count(sides).map_or(PI, |n| n * (PI / n).tan())
}

/// Diameter across corners divided by diameter across flats: `1/cos(π/n)`, or 1 for a round tube.
pub fn corner_factor(sides: Sides) -> f64 {
    count(sides).map_or(1.0, |n| 1.0 / (PI / n).cos())
}

/// Mass of one tapered section in bare steel, kg.
pub fn tube_mass_kg(sides: Sides, section: &TubeSection) -> f64 {
    let (a, b) = mean_diameters(section);
    wall_area_coefficient(sides) * (a + b) / 2.0 * section.wall_m * section.length_m * STEEL_KG_M3
}

/// Centroid of one tapered section from its bottom, meters: `L/3·(b + 2a)/(a + b)`, with the mean diameters a at the
/// top and b at the bottom.
pub fn tube_centroid_m(section: &TubeSection) -> f64 {
    let (a, b) = mean_diameters(section);
    section.length_m / 3.0 * (b + 2.0 * a) / (a + b)
}

/// Diameters across flats at the middle of the wall, top and bottom, meters.
fn mean_diameters(section: &TubeSection) -> (f64, f64) {
    (section.top_m - section.wall_m, section.bottom_m - section.wall_m)
}

/// Number of sides; `None` for a round tube.
fn count(sides: Sides) -> Option<f64> {
    match sides {
        Sides::Round => None,
        Sides::Eight => Some(8.0),
        Sides::Twelve => Some(12.0),
        Sides::Sixteen => Some(16.0),
    }
}
