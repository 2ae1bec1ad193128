//! What the basis of work lacks, and where no required distance can be looked up.

use super::facts;

facts! {
    /// Meters and volts.
    Rules {
        WireUnknown { wire: usize } = "wire_unknown",
        CircuitUnknown { wire: String } = "circuit_unknown",
        VoltageUnusable { voltage_v: f64 } = "voltage_unusable",
        VoltageAboveTable { table: &'static str, voltage_v: f64, limit_v: f64 } = "voltage_above_table",
        AltitudeOutsideTable { altitude_m: f64 } = "altitude_outside_table",
        TableNotForObject { voltage_v: f64 } = "table_not_for_object_in_gap",
        OwnDistanceUnusable { distance_m: f64 } = "own_distance_unusable",
        TableUnreadable { table: &'static str, fault: String } = "table_unreadable",
        RouteNeedsDerrick { crane: String } = "route_needs_derrick",
        OwnDistanceBelowRule { own_m: f64, rule_m: f64, row: String, circuit: String } = "own_distance_below_rule",
        ResidualGapUnusable = "residual_gap_unusable",
        ResidualGapZero = "residual_gap_zero",
    }
}

impl Rules {
    pub fn subject(&self) -> Option<&str> {
        match self {
            Self::CircuitUnknown { wire: name }
            | Self::RouteNeedsDerrick { crane: name }
            | Self::OwnDistanceBelowRule { circuit: name, .. } => Some(name),
            _ => None,
        }
    }
}
