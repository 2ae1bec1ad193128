//! The distance that a rule demands of a pair and why, and the list that comes with the route of work.
//!
//! | file | what it knows |
//! |---|---|
//! | `distance` | the published tables: by voltage, exposure, altitude |
//! | `required` | which table holds for which body, wire and route |
//! | `distances` | the same, kept once looked up |
//! | `items` | what each route wants arranged, and whether the scene answers it |
//! | `state` | touch, undecided, short, covered, apart |
//!
//! Not modelled: direct current, transient overvoltage other than the tables assume, work with the bare hand, and what a
//! state or a utility adds (the scene may state a stricter distance of its own).

mod distance;
mod distances;
mod items;
mod required;
mod state;
pub(crate) mod table;

pub use distance::{AtAltitude, Distance, altitude_factor, approach_distance, at_altitude, crane_distance};
pub use distances::Distances;
pub use items::{Item, Status, basis, items};
pub use required::{
    BodyKind, Exposure, Part, Required, beyond_insulation, bridging, cover_counts, required, voltage_to_ground,
    works_on,
};
pub use state::{CoverProof, PairState, margin_m, state};

use crate::finding::Finding;
use thiserror::Error;

/// Why there is no required distance. Each is a stop: a pair without one is not checked.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RuleError {
    #[error("Wire {wire} is not in the site, so no approach distance can be looked up for it.")]
    UnknownWire { wire: usize },
    #[error("{wire} belongs to a circuit that is not in the site, so its voltage is not known.")]
    UnknownCircuit { wire: String },
    #[error(
        "A nominal phase-to-phase voltage above zero is needed to look up an approach distance, not {voltage_v} V."
    )]
    Voltage { voltage_v: f64 },
    #[error("{:.1} kV is above {table}, which ends at {:.0} kV: the line's owner or an engineer sets the distance.", voltage_v / 1e3, limit_v / 1e3)]
    AboveTable { table: &'static str, voltage_v: f64, limit_v: f64 },
    #[error("The altitude of {altitude_m:.0} m is outside 1910.269 Table R-5, which ends at 6000 m.")]
    Altitude { altitude_m: f64 },
    #[error("At {:.1} kV the phase-to-phase column of Table R-7 does not hold where a large conductive object, such as a pole, is in the gap: an engineering analysis sets the distance.", voltage_v / 1e3)]
    ObjectInGap { voltage_v: f64 },
    #[error("The scene's own distance of {distance_m} m cannot be used: it must be a number of metres, zero or more.")]
    OwnDistance { distance_m: f64 },
    #[error("Table {table} cannot be read: {fault}.")]
    Table { table: &'static str, fault: crate::csv::Fault },
}

impl RuleError {
    fn code(&self) -> &'static str {
        match self {
            Self::UnknownWire { .. } => "wire_unknown",
            Self::UnknownCircuit { .. } => "circuit_unknown",
            Self::Voltage { .. } => "voltage_unusable",
            Self::AboveTable { .. } => "voltage_above_table",
            Self::Altitude { .. } => "altitude_outside_table",
            Self::ObjectInGap { .. } => "table_not_for_object_in_gap",
            Self::OwnDistance { .. } => "own_distance_unusable",
            Self::Table { .. } => "table_unreadable",
        }
    }
}

impl From<RuleError> for Finding {
    fn from(error: RuleError) -> Self {
        let finding = Finding::stop(error.code(), error.to_string());
        match error {
            RuleError::AboveTable { voltage_v, limit_v, table } => {
                finding.measured(voltage_v, limit_v, "V").rule(format!("29 CFR {table}"))
            }
            RuleError::Altitude { altitude_m } if altitude_m.is_finite() => {
                finding.measured(altitude_m, 6000.0, "m").rule("29 CFR 1910.269 Table R-5")
            }
            RuleError::Altitude { .. } => finding.mend("State the altitude of the work above mean sea level."),
            RuleError::Voltage { .. } | RuleError::UnknownCircuit { .. } => {
                finding.mend("Ask the line's owner for the nominal voltage and state it.")
            }
            _ => finding,
        }
    }
}
