//! What is wrong with how a crane stands on its outrigger pads.

use super::facts;

facts! {
    /// Meters and pascals; slopes and levels as rise over run.
    Leveling {
        PadNotSurveyed { float: &'static str } = "float_not_surveyed",
        BlockingShort { float: &'static str, need_m: f64, has_m: f64 } = "float_blocking_short",
        BlockingNotStated { float: &'static str, need_m: f64 } = "float_blocking_not_stated",
        OutOfLevel { set_to: f64, limit: f64 } = "crane_out_of_level",
        LimitNotStated { set_to: f64 } = "chart_level_limit_not_stated",
        LevelNotStated { limit: f64 } = "crane_level_not_stated",
        /// `bears_pa` on this slope.
        BearingOnSlope { float: &'static str, pressure_pa: f64, bears_pa: f64, slope: f64 } = "float_bearing_on_slope",
    }
}

impl Leveling {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::PadNotSurveyed { float }
            | Self::BlockingShort { float, .. }
            | Self::BlockingNotStated { float, .. }
            | Self::BearingOnSlope { float, .. } => Some(float),
            Self::OutOfLevel { .. } | Self::LimitNotStated { .. } | Self::LevelNotStated { .. } => None,
        }
    }
}
