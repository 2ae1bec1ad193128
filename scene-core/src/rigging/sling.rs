//! The choke, and the capacity of the sling as it is choked.

use crate::quantity::unit::FOOT_M;
use crate::site::Rigging;
use std::f64::consts::PI;

/// A sling's share of its rated choker capacity, by angle of choke. Each row gives the first angle in degrees and the
/// share up to the next row.
///
/// Source: ASME B30.9, web and wire rope slings. The printed bands end at 119 and begin at 120, and some tables print
/// "over 120". At exactly 120 the lower band holds.
pub const CHOKE_FACTORS: [(f64, f64); 5] = [(0.0, 0.49), (30.0, 0.62), (60.0, 0.74), (90.0, 0.87), (120.0, 1.00)];

/// The end of the last band that reduces the rating, 119 degrees, in radians: above it a sling has its full choker
/// rating (same source).
pub(super) const LARGEST_REDUCED_CHOKE: f64 = 119.0 * PI / 180.0;

/// The choke should be this far above the highest possible balance point, meters (common practice: 1 to 3 ft to carry a
/// pole).
pub const CHOKE_ABOVE_BALANCE_M: f64 = FOOT_M;

/// Half the height of the band that wraps and eye cover on the pole, meters.
pub(super) const CHOKE_BAND_M: f64 = FOOT_M / 2.0;

/// Rounding of an angle stated in degrees after its conversion from radians.
const ANGLE_ROUNDING_DEG: f64 = 1e-6;

/// The share of the rated choker capacity at this angle of choke; `None` outside 0 to 180 degrees.
pub fn choke_factor(choke_angle_rad: f64) -> Option<f64> {
    let degrees = choke_angle_rad.to_degrees();
    if !(0.0..=180.0 + ANGLE_ROUNDING_DEG).contains(&degrees) {
        return None;
    }
    // Only the top band excludes its printed start.
    let reached = |from: f64| {
        if from >= 120.0 { degrees > from + ANGLE_ROUNDING_DEG } else { degrees >= from - ANGLE_ROUNDING_DEG }
    };
    CHOKE_FACTORS.iter().rev().find(|(from, _)| reached(*from)).map(|(_, factor)| *factor)
}

/// The capacity of the sling as it is choked, kg; `None` when its figures cannot be used.
pub fn sling_capacity_kg(rigging: &Rigging) -> Option<f64> {
    let capacity = rigging.choker_capacity_kg;
    (capacity > 0.0 && capacity.is_finite()).then_some(())?;
    // A choke that is not stated may be any: the least share holds.
    let share = match rigging.choke_angle {
        Some(angle) => choke_factor(angle)?,
        None => CHOKE_FACTORS.iter().map(|(_, share)| *share).fold(1.0, f64::min),
    };
    Some(share * capacity)
}

/// Tension in each sling leg divided by the load: `1 / (legs · sin(angle from horizontal))`.
///
/// `None` without legs, or for an angle outside 0 (excluded) to 90 degrees.
pub fn leg_tension_ratio(legs: u32, angle_from_horizontal_rad: f64) -> Option<f64> {
    let upright = angle_from_horizontal_rad > 0.0 && angle_from_horizontal_rad <= PI / 2.0 + 1e-12;
    (legs > 0 && upright).then(|| 1.0 / (f64::from(legs) * angle_from_horizontal_rad.sin()))
}
