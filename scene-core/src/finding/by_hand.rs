//! A pole that people guide by hand past one that stands.

use super::facts;

facts! {
    /// Meters.
    ByHand {
        /// Fewer than two people guide, or one of them has no place then, or another task.
        TooFewGuides = "by_hand_people",
        HandsUnprotected = "by_hand_hands",
        /// The pole does not hang, or several motions are combined.
        NotHanging = "by_hand_not_hanging",
        TooHigh { butt_m: f64, limit_m: f64 } = "by_hand_high",
        Relied { beside: String, swing_m: f64 } = "by_hand",
    }
}

impl ByHand {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::Relied { beside, .. } => Some(beside),
            _ => None,
        }
    }
}
