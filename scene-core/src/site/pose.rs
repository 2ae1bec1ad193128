//! Where a step brings the bucket.

use crate::machine::{Control, ElbowSide};
use glam::DVec3;

/// Where the middle of the bucket's rim is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BucketAt {
    /// By a wire as it hangs by itself in still air, in the middle of what is known of its sag.
    Wire {
        wire: usize,
        /// Along the line from abeam the hole, positive toward the wire's last point.
        station_m: f64,
        below_m: f64,
        /// Level, to the left of the wire for who looks toward its last point; negative to the right.
        left_m: f64,
    },
    Point(DVec3),
}

/// A pose of the bucket as people say it.
#[derive(Clone, Debug, PartialEq)]
pub struct BucketPose {
    /// Which lift's, by index into [`super::Site::lifts`].
    pub lift: usize,
    pub at: BucketAt,
    /// The wire that is worked on from there.
    pub works_on: Option<usize>,
    /// Above the line from pin to tip, or below it; the nearer pose when not stated.
    pub elbow: Option<ElbowSide>,
    /// In which the controls are moved; those left out come after these in the order that `sequence` names.
    pub order: Vec<Control>,
}
