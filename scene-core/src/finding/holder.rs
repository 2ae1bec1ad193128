//! What holds a phase aside. Meters.

use super::facts;

facts! {
    Holder {
        NotStated { held: String, wire: String } = "holder_not_stated",
        OutOfReach { held: String, far_m: f64, reach_m: f64 } = "holder_out_of_reach",
        /// Where the arm is fixed is not on its pole.
        OffPole { held: String, pole: String, off_m: f64 } = "holder_off_stand",
        TagMissing { held: String } = "holder_tag_not_stated",
    }
}

impl Holder {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::NotStated { held, .. }
            | Self::OutOfReach { held, .. }
            | Self::OffPole { held, .. }
            | Self::TagMissing { held } => Some(held),
        }
    }
}
