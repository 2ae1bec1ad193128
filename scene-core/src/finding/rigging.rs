//! What is wrong with the way the pole is rigged.

use super::facts;

facts! {
    /// Meters from the butt, kilograms, newtons, radians.
    Rigging {
        /// A figure of the rigging is not what it needs to be.
        Unusable { what: &'static str, need: &'static str, got: f64 } = "rigging_unusable",
        ChokerOffPole { choker_m: f64, pole_m: f64 } = "choker_off_pole",
        /// To be choked at `choke_at_m` or higher.
        ChokerBelowBalance { choker_m: f64, balance_m: f64, choke_at_m: f64 } = "choker_below_balance",
        ChokerAboveJoint { choker_m: f64, joint_m: f64 } = "choker_above_unlocked_joint",
        /// The pole hangs up to `tilt` from plumb; to be choked at `choke_at_m` or higher.
        ChokerNearBalance { choker_m: f64, balance_m: f64, tilt: f64, choke_at_m: f64 } = "choker_near_balance",
        NoStopAboveChoke = "no_stop_above_choke",
        TagLineNotStated { need_n: f64 } = "tag_line_hold_not_stated",
        TagLineShort { need_n: f64, hold_n: f64 } = "tag_line_hold_short",
        ChokerOnCover { choker_m: f64, on: String, from_m: f64, to_m: f64 } = "choker_on_cover",
        ChokeNotStated = "choke_angle_not_stated",
        /// It is stated above 119 degrees, and nobody measured it.
        ChokeAssumed { angle: f64 } = "choke_angle_assumed",
        SlingBelowLoad { sling_kg: f64, load_kg: f64 } = "sling_below_load",
        Conducts = "rigging_conducts",
    }
}

impl Rigging {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::ChokerOnCover { on, .. } => Some(on),
            _ => None,
        }
    }
}
