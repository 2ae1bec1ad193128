//! Rated voltages of covers by class.

use crate::finding::Inadequate;
use crate::rules::table::Published;
use crate::rules::{Exposure, RuleError};
use crate::site::{Circuit, CoverMake, Grounding};
use std::sync::LazyLock;

static RUBBER: LazyLock<Published> =
    LazyLock::new(|| Published::read("cover_rubber", include_str!("../../../assets/cover_rubber.csv")));
static PLASTIC: LazyLock<Published> =
    LazyLock::new(|| Published::read("cover_plastic", include_str!("../../../assets/cover_plastic.csv")));

/// Rated voltages of a class, volts rms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Class {
    /// Nominal, phase to phase; for plastic from covered phase to covered phase.
    pub max_phase_phase_v: f64,
    /// To ground. Rubber is rated by its maximum use voltage alone, which may be read to ground only where a second phase
    /// cannot be reached.
    pub max_phase_ground_v: f64,
    /// `verified` (read in the published table), `memory` (recalled) or `own` (in the planner's catalog).
    pub status: &'static str,
}

impl From<RuleError> for Inadequate {
    fn from(error: RuleError) -> Self {
        match error {
            RuleError::Table { table, fault } => Self::TableUnreadable { table, fault: fault.to_string() },
            // Reading a table gives no other error.
            error => Self::TableUnreadable { table: "cover", fault: error.to_string() },
        }
    }
}

/// Rated voltages: rubber by 29 CFR 1910.137 Table I-4, plastic by ASTM F712 (numbers from memory).
///
/// Class 00 cannot be told from class 0 in a [`CoverMake`]: 0 is read as class 0, and class 00 is not a class of covers.
pub fn class(make: CoverMake) -> Result<Class, Inadequate> {
    let found = match make {
        CoverMake::Rubber { class } => {
            let label = class.to_string();
            RUBBER.first(
                |row| Ok(row.text("class")? == label),
                |row| {
                    let (max_use_v, status) = (row.figure("max_use_v")?, row.text("status")?);
                    Ok(Class { max_phase_phase_v: max_use_v, max_phase_ground_v: max_use_v, status })
                },
            )?
        }
        CoverMake::Plastic { class } => {
            let label = class.to_string();
            PLASTIC.first(
                |row| Ok(row.text("class")? == label),
                |row| {
                    Ok(Class {
                        max_phase_phase_v: row.figure("max_use_phase_phase_kv")? * 1e3,
                        max_phase_ground_v: row.figure("max_use_phase_ground_kv")? * 1e3,
                        status: row.text("status")?,
                    })
                },
            )?
        }
        CoverMake::Own { max_phase_phase_v, max_phase_ground_v } => Some(Class {
            max_phase_phase_v: f64::from(max_phase_phase_v),
            max_phase_ground_v: f64::from(max_phase_ground_v),
            status: "own",
        }),
    };
    found.ok_or_else(|| Inadequate::UnknownClass { make: format!("{make:?}") })
}

/// Whether a make suffices for a circuit at an exposure.
///
/// Phase to phase: the circuit's nominal voltage must be within the phase-to-phase rating, and its voltage to ground
/// within that to ground. Phase to ground holds only where a second phase cannot be reached and the circuit is
/// effectively grounded; a circuit that is not may stand at its phase-to-phase voltage to ground.
pub fn adequate(make: CoverMake, circuit: &Circuit, exposure: Exposure) -> Result<(), Inadequate> {
    let voltage_v = circuit.voltage_v;
    if !voltage_v.is_finite() || voltage_v <= 0.0 {
        return Err(Inadequate::Voltage { voltage_v });
    }
    let class = class(make)?;
    let (exposure, to_ground_v) = match circuit.grounding {
        Grounding::EffectivelyGrounded => (exposure, voltage_v / 3f64.sqrt()),
        Grounding::Ungrounded => (Exposure::PhaseToPhase, voltage_v),
    };
    if exposure == Exposure::PhaseToPhase && voltage_v > class.max_phase_phase_v {
        let limit_v = class.max_phase_phase_v;
        return Err(Inadequate::PhaseToPhase { limit_v, voltage_v });
    }
    if to_ground_v > class.max_phase_ground_v {
        let limit_v = class.max_phase_ground_v;
        return Err(Inadequate::ToGround { limit_v, voltage_v: to_ground_v });
    }
    Ok(())
}

/// The lowest class of rubber gloves for a nominal phase-to-phase voltage, as its label reads; `None` above class 4.
pub fn glove_class(voltage_v: f64) -> Option<&'static str> {
    if voltage_v.is_nan() || voltage_v <= 0.0 {
        return None;
    }
    RUBBER.first(|row| Ok(voltage_v <= row.figure("max_use_v")?), |row| row.text("class")).ok().flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use Exposure::{PhaseToGround, PhaseToPhase};

    fn circuit(voltage_v: f64, grounding: Grounding) -> Circuit {
        Circuit { grounding, ..crate::fixtures::line::circuit("feeder", voltage_v) }
    }

    #[test]
    fn class_1_hose_stands_7_2_kv_to_ground_but_not_12_47_kv_between_phases() {
        let feeder = circuit(12_470.0, Grounding::EffectivelyGrounded);
        let hose = CoverMake::Rubber { class: 1 };
        assert_eq!(adequate(hose, &feeder, PhaseToGround), Ok(()));
        assert!(matches!(adequate(hose, &feeder, PhaseToPhase), Err(Inadequate::PhaseToPhase { .. })));
        assert_eq!(adequate(CoverMake::Rubber { class: 2 }, &feeder, PhaseToPhase), Ok(()));
    }

    #[test]
    fn on_a_delta_circuit_a_cover_must_stand_the_phase_to_phase_voltage_to_ground() {
        let delta = circuit(12_470.0, Grounding::Ungrounded);
        assert!(adequate(CoverMake::Rubber { class: 1 }, &delta, PhaseToGround).is_err());
        // Plastic class 2 stands 14.6 kV between covered phases, but 8.4 kV to ground.
        let guard = CoverMake::Plastic { class: 2 };
        assert!(matches!(adequate(guard, &delta, PhaseToPhase), Err(Inadequate::ToGround { .. })));
        assert_eq!(adequate(guard, &circuit(12_470.0, Grounding::EffectivelyGrounded), PhaseToPhase), Ok(()));
    }

    #[test]
    fn a_class_that_is_not_made_and_a_voltage_that_is_not_known_do_not_suffice() {
        let feeder = circuit(12_470.0, Grounding::EffectivelyGrounded);
        for make in [CoverMake::Rubber { class: 5 }, CoverMake::Plastic { class: 1 }, CoverMake::Plastic { class: 255 }]
        {
            assert_eq!(
                adequate(make, &feeder, PhaseToPhase),
                Err(Inadequate::UnknownClass { make: format!("{make:?}") })
            );
        }
        for voltage_v in [f64::NAN, 0.0, -1.0, f64::INFINITY] {
            let unknown = circuit(voltage_v, Grounding::EffectivelyGrounded);
            assert!(adequate(CoverMake::Rubber { class: 4 }, &unknown, PhaseToPhase).is_err());
        }
    }

    #[test]
    fn gloves_end_at_class_4() {
        assert_eq!(glove_class(480.0), Some("00"));
        assert_eq!(glove_class(12_470.0), Some("2"));
        assert_eq!(glove_class(34_500.0), Some("4"));
        assert_eq!(glove_class(46_000.0), None);
        assert_eq!(glove_class(f64::NAN), None);
    }
}
