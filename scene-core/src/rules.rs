//! The distance that a rule demands of a pair and why, and the list that comes with the route of work.
//!
//! | file | what it knows |
//! |---|---|
//! | `distance` | the published tables: by voltage, exposure, altitude |
//! | `required` | which table holds for which body, wire and route |
//! | `distances` | the same, kept once looked up |
//! | `gates` | what each route wants arranged, whether the scene answers it, and whether the crew may do it |
//! | `basis` | what the basis of work lacks, gates and all |
//! | `state` | touch, undecided, short, covered, apart |
//!
//! Not modeled: direct current, transient overvoltage other than the tables assume, work with the bare hand, and what a
//! state or a utility adds (the scene may state a stricter distance of its own).

mod basis;
mod distance;
mod distances;
pub(crate) mod gates;
mod required;
mod state;
pub(crate) mod table;

pub use basis::basis;
pub use distance::{AtAltitude, Distance, altitude_factor, approach_distance, at_altitude, crane_distance};
pub use distances::Distances;
pub use gates::{Item, Status, When, Who, items, optional};
pub use required::{
    Apart, Exposure, Part, Required, beyond_insulation, bridging, cover_counts, required, voltage_to_ground,
    wires_apart, works_on,
};
pub use state::{CoverProof, PairState, margin_m, state};

use crate::finding::{self, Finding, Rules, Unit};
use thiserror::Error;

/// Why there is no required distance. Each is a stop: a pair without one is not checked.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RuleError {
    #[error("no wire {wire}")]
    UnknownWire { wire: usize },
    #[error("no circuit for {wire}")]
    UnknownCircuit { wire: String },
    #[error("nominal voltage of {voltage_v} V")]
    Voltage { voltage_v: f64 },
    #[error("{voltage_v} V is above {table}, which ends at {limit_v} V")]
    AboveTable { table: &'static str, voltage_v: f64, limit_v: f64 },
    #[error("altitude of {altitude_m} m")]
    Altitude { altitude_m: f64 },
    #[error("no distance with a large object in the gap at {voltage_v} V")]
    ObjectInGap { voltage_v: f64 },
    #[error("own distance of {distance_m} m")]
    OwnDistance { distance_m: f64 },
    #[error("table {table}: {fault}")]
    Table { table: &'static str, fault: crate::csv::Fault },
}

impl From<RuleError> for Finding {
    fn from(error: RuleError) -> Self {
        match error {
            RuleError::UnknownWire { wire } => finding::stop(Rules::WireUnknown { wire }),
            RuleError::UnknownCircuit { wire } => finding::stop(Rules::CircuitUnknown { wire }),
            RuleError::Voltage { voltage_v } => finding::stop(Rules::VoltageUnusable { voltage_v }),
            RuleError::AboveTable { table, voltage_v, limit_v } => {
                let above = finding::stop(Rules::VoltageAboveTable { table, voltage_v, limit_v });
                above.measured(voltage_v, limit_v, Unit::Volt)
            }
            RuleError::Altitude { altitude_m } => {
                let outside = finding::stop(Rules::AltitudeOutsideTable { altitude_m });
                match altitude_m.is_finite() {
                    true => outside.measured(altitude_m, 6000.0, Unit::Meter),
                    false => outside,
                }
            }
            RuleError::ObjectInGap { voltage_v } => finding::stop(Rules::TableNotForObject { voltage_v }),
            RuleError::OwnDistance { distance_m } => finding::stop(Rules::OwnDistanceUnusable { distance_m }),
            RuleError::Table { table, fault } => {
                finding::stop(Rules::TableUnreadable { table, fault: fault.to_string() })
            }
        }
    }
}
