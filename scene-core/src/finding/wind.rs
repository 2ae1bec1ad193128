//! The wind at which work stops, the crane's own limit, and the swing that the machine's rates give the load.

use super::facts;

facts! {
    /// Meters per second, meters.
    Wind {
        StopWorkMissing = "stop_work_wind_missing",
        CraneLimitMissing { crane: String } = "crane_wind_limit_missing",
        /// The strongest wind of all weather cases is below that at which work stops.
        CasesBelowStopWork { most_m_s: f64, stop_work_m_s: f64 } = "no_case_at_stop_work_wind",
        OverCraneLimit { weather: String, crane: String, wind_m_s: f64, limit_m_s: f64 } = "wind_over_crane_limit",
        /// At the pole's butt where `at_butt`, at the hook otherwise. `ramp_s` is the stated time to reach full rate.
        SwingAllowanceShort { at_butt: bool, swing_m: f64, allowed_m: f64, ramp_s: Option<f64> } =
            "swing_allowance_below_pendulum",
    }
}

impl Wind {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::OverCraneLimit { weather, .. } => Some(weather),
            Self::CraneLimitMissing { crane } => Some(crane),
            _ => None,
        }
    }
}
