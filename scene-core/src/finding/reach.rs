//! Where the boom of the crane does not come.

use super::facts;

facts! {
    /// The load's plumb line cannot be brought there. Meters and radians.
    Reach {
        TooNear { radius_m: f64, least_m: f64 } = "out_of_reach",
        TooFar { radius_m: f64, most_m: f64 } = "out_of_reach",
        /// The radius needs a boom angle that the boom does not have; with this boom length it comes from `least_m` to `most_m`.
        BoomAngle { radius_m: f64, angle: f64, least_m: f64, most_m: f64 } = "boom_angle_limit",
        BoomLength { length_m: f64, low_m: f64, high_m: f64 } = "boom_length_limit",
        Swing { swing: f64, low: f64, high: f64 } = "swing_limit",
    }
}

impl Reach {
    pub fn subject(&self) -> Option<&str> {
        None
    }
}
