//! Where the ground is not known, or not as high as what stands on it.

use super::facts;

/// What stands or lies on the ground, or comes to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OnGround {
    Hole,
    Crane,
    LyingPole,
    /// The point of the step with this name.
    Step {
        name: String,
    },
}

/// Why spot elevations make no surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoSurface {
    TooFew { spots: usize },
    OnOneLine,
    NotANumber,
}

facts! {
    /// Meters.
    Ground {
        NoSurface { why: NoSurface } = "terrain_unusable",
        /// It reaches outside the surveyed ground at this place.
        NotSurveyed { what: OnGround, east_m: f64, north_m: f64 } = "terrain_unknown",
        /// So far above the ground that the spots give; below it where negative.
        Disagrees { what: OnGround, above_m: f64, accuracy_m: f64 } = "terrain_disagrees",
        /// The same where no spots are stated, so that the ground is level at the hole.
        OffLevel { what: OnGround, above_m: f64, allowed_m: f64 } = "off_level_ground",
    }
}

impl Ground {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::NotSurveyed { what: OnGround::Step { name }, .. } => Some(name),
            _ => None,
        }
    }
}
