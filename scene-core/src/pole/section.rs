//! Volume, mass and centroid of timber and of tube sections, by formula.

use crate::quantity::unit::{FOOT_M, POUND_PER_FT3};
use crate::site::{Sides, TubeSection};
use std::f64::consts::PI;

/// Steel, 490 lb/ft³: the weight that pipe tables are made with (UFC 3-220-01A pipe table, 12 in × 0.250 in).
pub const STEEL_KG_M3: f64 = 490.0 * POUND_PER_FT3;

pub(super) const SIX_FEET_M: f64 = 6.0 * FOOT_M;

/// Volume of a cone frustum, m³: `πL/3·(R² + Rr + r²)`.
pub fn frustum_volume_m3(length_m: f64, butt_radius_m: f64, top_radius_m: f64) -> f64 {
    let (b, t) = (butt_radius_m, top_radius_m);
    PI * length_m / 3.0 * (b * b + b * t + t * t)
}

/// Centroid of a cone frustum from its butt, m: `L/4·(R² + 2Rr + 3r²)/(R² + Rr + r²)`.
pub fn frustum_centroid_m(length_m: f64, butt_radius_m: f64, top_radius_m: f64) -> f64 {
    let (b, t) = (butt_radius_m, top_radius_m);
    length_m / 4.0 * (b * b + 2.0 * b * t + 3.0 * t * t) / (b * b + b * t + t * t)
}

/// Butt circumference of a wood pole whose taper is straight from the top through the size 6 ft from the butt, m. The
/// standard (ANSI O5.1) fixes the size at 6 ft, not the butt.
pub fn butt_circumference_m(length_m: f64, top_m: f64, at_6_ft_m: f64) -> f64 {
    at_6_ft_m + SIX_FEET_M * (at_6_ft_m - top_m) / (length_m - SIX_FEET_M)
}

/// Area of a tube's wall is this times mean diameter (across flats) times wall: `n·tan(π/n)`, π for a round one. Exact,
/// not only for thin walls, since it is the difference of two regular polygons.
pub fn wall_area_coefficient(sides: Sides) -> f64 {
    count(sides).map_or(PI, |n| n * (PI / n).tan())
}

/// Across corners over across flats: `1/cos(π/n)`, 1 for a round tube.
pub fn corner_factor(sides: Sides) -> f64 {
    count(sides).map_or(1.0, |n| 1.0 / (PI / n).cos())
}

/// Mass of one tapered section, kg, bare steel.
pub fn tube_mass_kg(sides: Sides, section: &TubeSection) -> f64 {
    let (a, b) = mean_diameters(section);
    wall_area_coefficient(sides) * (a + b) / 2.0 * section.wall_m * section.length_m * STEEL_KG_M3
}

/// Centroid of one tapered section from its bottom, m: `L/3·(b + 2a)/(a + b)` with mean diameters a on top, b below.
pub fn tube_centroid_m(section: &TubeSection) -> f64 {
    let (a, b) = mean_diameters(section);
    section.length_m / 3.0 * (b + 2.0 * a) / (a + b)
}

fn mean_diameters(section: &TubeSection) -> (f64, f64) {
    (section.top_m - section.wall_m, section.bottom_m - section.wall_m)
}

fn count(sides: Sides) -> Option<f64> {
    match sides {
        Sides::Round => None,
        Sides::Eight => Some(8.0),
        Sides::Twelve => Some(12.0),
        Sides::Sixteen => Some(16.0),
    }
}
