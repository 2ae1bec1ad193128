//! Facts of a wire that may be but are not usual: somebody measures, or corrects them.

use super::facts;

facts! {
    /// Meters; spans count from 1; shares are plain ratios.
    Unusual {
        Sag { wire: String, span: usize, sag_m: f64, usual_m: f64 } = "sag_unusual",
        /// More than so many times its usual: it stops until somebody measured it.
        SagFar { wire: String, span: usize, sag_m: f64, usual_m: f64 } = "sag_far_beyond_usual",
        SagSmall { wire: String, span: usize, sag_m: f64, usual_m: f64 } = "sag_unusual",
        Tension { wire: String, span: usize, share: f64, usual: f64 } = "tension_unusual",
        /// The lowest point over the ground.
        Low { wire: String, span: usize, above_m: f64, usual_m: f64, over_road: bool } = "height_unusual",
        /// A support over the ground.
        High { wire: String, span: usize, above_m: f64, usual_m: f64 } = "height_unusual",
        /// Of both supports, on level ground.
        Uneven { wire: String, span: usize, difference_m: f64, usual_m: f64 } = "height_unusual",
        Span { wire: String, span: usize, run_m: f64, least_m: f64, most_m: f64 } = "span_unusual",
        /// It ends so near the hole, and what moves comes so far.
        EndsInTheOpen { wire: String, end_m: f64, swept_m: f64 } = "wire_ends_in_the_open",
    }
}

impl Unusual {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::Sag { wire, .. }
            | Self::SagFar { wire, .. }
            | Self::SagSmall { wire, .. }
            | Self::Tension { wire, .. }
            | Self::Low { wire, .. }
            | Self::High { wire, .. }
            | Self::Uneven { wire, .. }
            | Self::Span { wire, .. }
            | Self::EndsInTheOpen { wire, .. } => Some(wire),
        }
    }
}
