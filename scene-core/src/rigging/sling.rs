//! The choke and what the sling may carry as it is choked.

use crate::quantity::unit::FOOT_M;
use crate::site::Rigging;
use std::f64::consts::PI;

/// The share of its rated CHOKER capacity that a sling has by angle of choke, degrees from … up to the next row's
/// (ASME B30.9, web and wire rope slings). The printed bands end at 119 and begin at 120, and some print "over 120": up
/// to and at 120 the lower band holds.
pub const CHOKE_FACTORS: [(f64, f64); 5] = [(0.0, 0.49), (30.0, 0.62), (60.0, 0.74), (90.0, 0.87), (120.0, 1.00)];

/// The choke should be this far above where the balance point may be at its highest (common practice: 1 to 3 ft carry a pole).
pub const CHOKE_ABOVE_BALANCE_M: f64 = FOOT_M;

/// Half the height of the band that the choke takes up on the pole, wraps and eye.
pub(super) const CHOKE_BAND_M: f64 = FOOT_M / 2.0;

/// Rounding when a stated angle in degrees comes back from radians.
const ANGLE_ROUNDING_DEG: f64 = 1e-6;

/// The share of the rated choker capacity at this angle of choke; `None` outside 0 to 180 degrees.
pub fn choke_factor(choke_angle_rad: f64) -> Option<f64> {
    let degrees = choke_angle_rad.to_degrees();
    if !(0.0..=180.0 + ANGLE_ROUNDING_DEG).contains(&degrees) {
        return None;
    }
    // Only the top band begins beyond its printed start.
    let reached = |from: f64| {
        if from >= 120.0 { degrees > from + ANGLE_ROUNDING_DEG } else { degrees >= from - ANGLE_ROUNDING_DEG }
    };
    CHOKE_FACTORS.iter().rev().find(|(from, _)| reached(*from)).map(|(_, factor)| *factor)
}

/// What the sling may carry as it is choked, kg; `None` when its figures cannot be.
pub fn sling_capacity_kg(rigging: &Rigging) -> Option<f64> {
    let capacity = rigging.choker_capacity_kg;
    (capacity > 0.0 && capacity.is_finite()).then_some(())?;
    Some(choke_factor(rigging.choke_angle)? * capacity)
}

/// Tension in each leg over the load: `1 / (legs · sin(angle from horizontal))`; `None` when there is no leg or the angle
/// is not above zero and up to vertical.
pub fn leg_tension_ratio(legs: u32, angle_from_horizontal_rad: f64) -> Option<f64> {
    let upright = angle_from_horizontal_rad > 0.0 && angle_from_horizontal_rad <= PI / 2.0 + 1e-12;
    (legs > 0 && upright).then(|| 1.0 / (f64::from(legs) * angle_from_horizontal_rad.sin()))
}
