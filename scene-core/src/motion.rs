//! Every part at every instant.
//!
//! Over one piece of the sequence each joint runs evenly, so that every point follows a sum of sinusoids with evenly
//! growing amplitudes in the path parameter u ∈ [0, 1]: a [`Track`]. Position, derivatives and bounds on them come from
//! it in closed form, without knowing what machine moves.

use glam::DVec3;

/// One sinusoid of a [`Track`]: `(cos + cos_drift·u)·cos(ωu) + (sin + sin_drift·u)·sin(ωu)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wave {
    /// Which of [`MovingPart::rates`] is ω, radians per unit of u.
    pub rate: usize,
    pub cos: DVec3,
    pub sin: DVec3,
    pub cos_drift: DVec3,
    pub sin_drift: DVec3,
}

/// Where a point is over the piece, metres in the world frame: `base + drift·u + Σ waves`.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Track {
    pub base: DVec3,
    pub drift: DVec3,
    pub waves: Vec<Wave>,
}

/// A corner of a moving hull.
#[derive(Clone, Debug, PartialEq)]
pub struct MovingFeature {
    pub at: Track,
    pub radius_m: f64,
    /// The unit normal when the corner is a flat disc; `None` for a ball.
    pub axis: Option<Track>,
    /// What the world may shift this corner by (survey, placing, swing …); subtracted from the gap, never from the geometry.
    pub allowance_m: f64,
}

/// A convex part over one piece, u ∈ [0, 1].
#[derive(Clone, Debug, PartialEq, Default)]
pub struct MovingPart {
    /// ω of the waves, radians per unit of u; shared by all features.
    pub rates: Vec<f64>,
    pub features: Vec<MovingFeature>,
    /// Radius added to every feature because the true motion is known only to this (other joints of a combined motion,
    /// deviation between knots).
    pub blur_m: f64,
}
