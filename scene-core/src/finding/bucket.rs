//! Why a bucket truck's step cannot be done, and what of the truck is missing, too little, or relied on.

use super::facts;

/// A joint of an aerial lift.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BucketJoint {
    /// Its fixed name for people: "lower boom's angle".
    pub name: &'static str,
    /// Meters; otherwise radians.
    pub is_length: bool,
}

/// What a worker in the bucket relies on besides the insulation of the lift.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Protection {
    /// Rubber gloves and sleeves of this class or better.
    Gloves {
        class: String,
    },
    Stick,
}

facts! {
    /// Meters, kilograms and volts; `by` in radians, or in meters where the joint is a length.
    Bucket {
        NotStated = "bucket_truck_not_stated",
        NoTruck = "no_bucket_truck",
        PlaceMissing = "bucket_place_missing",
        RateMissing = "bucket_rate_missing",
        /// On its way the booms would go beyond what the linkage allows.
        Linkage { joint: BucketJoint, by: f64 } = "bucket_limit",
        BelowGround { by_m: f64 } = "bucket_below_ground",
        TooFar { by_m: f64 } = "bucket_out_of_reach",
        TooNear { by_m: f64 } = "bucket_out_of_reach",
        BeyondLimit { joint: BucketJoint, by: f64 } = "bucket_out_of_reach",
        InsulationUnknown = "lift_insulation_unknown",
        Uninsulated { why: String } = "lift_uninsulated",
        RatedTooLow { rated_v: f64, line_v: f64 } = "lift_rating_low",
        LoadMissing = "bucket_load_missing",
        Overloaded { load_kg: f64, capacity_kg: f64 } = "bucket_overloaded",
        WorkedOnEnergized { wire: String, by: Protection } = "worked_on_energized",
        UpUnderLoad = "bucket_up_under_load",
        CoverOutOfReach { cover: String, wire: String, station_m: f64 } = "cover_out_of_reach",
    }
}

impl Bucket {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::WorkedOnEnergized { wire, .. } => Some(wire),
            Self::CoverOutOfReach { cover, .. } => Some(cover),
            _ => None,
        }
    }
}
