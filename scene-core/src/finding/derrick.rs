//! Why a digger derrick cannot dig, or hold a pole in its guides, as stated.

use super::facts;

facts! {
    /// Meters and radians.
    Derrick {
        GuidesTilt { tilt: f64, low: f64, high: f64 } = "guides_tilt_limit",
        /// The guides would be from … to … from the butt.
        GuidesOffPole { low_m: f64, high_m: f64, pole_m: f64 } = "guides_off_pole",
        GuidesDoNotFit { thin_m: f64, thick_m: f64, holds_low_m: f64, holds_high_m: f64 } = "guides_do_not_fit",
        LineDrawnAside { aside_m: f64, most_m: f64 } = "line_drawn_aside",
        NoGuides { crane: String } = "no_guides",
        NothingForGuides = "no_load",
        GuidePlayMissing = "guide_play_missing",
        PoleNotAtGuides { off_m: f64, catch_m: f64 } = "pole_not_at_guides",
        NoAuger { crane: String } = "no_auger",
        LineNotFree = "load_on_hook",
        DugTooShallow { dug_m: f64, hole_m: f64 } = "hole_too_shallow",
        AugerTooNarrow { auger_m: f64, hole_m: f64 } = "auger_too_narrow",
        /// To have the auger's point at this height its pin would be `rise_m` from the height of the foot pin.
        AugerPin { point_m: f64, rise_m: f64, low: f64, high: f64 } = "auger_out_of_reach",
        HoleTooNear = "auger_out_of_reach",
        /// While it digs the pin is from … to … from the slew axis, the hole `hole_m`.
        AugerOutOfPlumb { low_m: f64, high_m: f64, hole_m: f64, most_m: f64 } = "auger_out_of_plumb",
    }
}

impl Derrick {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::NoGuides { crane } | Self::NoAuger { crane } => Some(crane),
            _ => None,
        }
    }
}
