//! The bucket truck as its maker made it and as it stands here: an aerial lift that a qualified person works from.

use crate::bracket::Bracket;
use crate::machine::{BoomSection, Insulation, Method};
use glam::DVec3;

/// The machine as it stands here. Meters, radians, kilograms.
#[derive(Clone, Debug, PartialEq)]
pub struct BucketTruck {
    pub name: String,
    /// The slew axis at ground level.
    pub at: DVec3,
    /// The way the truck's front points, radians counterclockwise from east; slew 0 is over the front.
    pub heading: f64,
    pub turret: Turret,
    /// The pin of the first boom: ahead of the slew axis the way the slew points (negative behind), and above the ground.
    pub pin_offset_m: f64,
    pub pin_height_m: f64,
    /// Counterclockwise from the front; the whole circle when 2π wide.
    pub slew: Bracket,
    pub linkage: Linkage,
    pub upper: UpperBoom,
    pub bucket: Bucket,
    pub reach: WorkerReach,
    pub insulation: Insulation,
    /// Rated, in the bucket.
    pub capacity_kg: f64,
    /// People, tools and covers in the bucket, when stated.
    pub load_kg: Option<f64>,
    pub rates: BucketRates,
    pub stowed: Stowed,
    /// How the worker in the bucket touches what is energized.
    pub method: Method,
    /// From his hands to the working end of his stick; 0 with gloves.
    pub stick_m: f64,
}

/// An upright drum about the slew axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turret {
    pub radius_m: f64,
    pub from_height_m: f64,
    pub to_height_m: f64,
}

/// What carries the upper boom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Linkage {
    /// A lower boom from the pin to the elbow.
    Articulating {
        length_m: f64,
        width_m: f64,
        depth_m: f64,
        /// Of a ball that holds the elbow.
        elbow_radius_m: f64,
        /// Of the lower boom from level, up.
        angle: Bracket,
        /// The upper boom's angle less the lower one's: 0 in line, positive turned up, ±π folded.
        fold: Bracket,
        /// The upper boom turns with the lower one; otherwise it keeps its angle from level.
        upper_follows: bool,
    },
    /// The upper boom stands on the pin itself; its angle from level.
    Telescoping { angle: Bracket },
}

/// The boom that ends at the bucket, telescoping when its length is a range.
#[derive(Clone, Debug, PartialEq)]
pub struct UpperBoom {
    /// Base section first, measured from the elbow, or from the pin of a telescoping lift.
    pub sections: Vec<BoomSection>,
    pub length_m: Bracket,
}

/// A box that keeps level. The middle of its rim is placed from the upper boom's tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bucket {
    /// The way the slew points.
    pub length_m: f64,
    /// Across it.
    pub width_m: f64,
    /// From floor to rim.
    pub height_m: f64,
    /// Of the rim's middle from the tip: the way the slew points, to its left, and below.
    pub ahead_m: f64,
    pub left_m: f64,
    pub below_m: f64,
}

/// How far the worker's body, hands and what he holds in them may come, his stick left out: a ball about his shoulders,
/// wherever he stands in the bucket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorkerReach {
    /// Of his shoulders above the rim.
    pub above_rim_m: f64,
    pub radius_m: f64,
}

/// The fastest that the operator may go in this job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BucketRates {
    pub slew_rad_s: f64,
    pub lower_rad_s: f64,
    pub upper_rad_s: f64,
    pub extend_m_s: f64,
}

/// The joints on the boom rest. `lower` is 0 for a telescoping lift; both angles are from level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stowed {
    pub slew: f64,
    pub lower: f64,
    pub upper: f64,
    pub length_m: f64,
}
