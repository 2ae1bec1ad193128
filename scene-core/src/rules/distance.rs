//! Distances as the published tables give them, before anything is known of bodies and routes.

use super::table::Published;
use super::{Exposure, RuleError};
use crate::csv::Row;
use crate::quantity::unit::FOOT_M;
use std::sync::LazyLock;

static APPROACH: LazyLock<Published> =
    LazyLock::new(|| Published::read("approach_distance", include_str!("../../../assets/approach_distance.csv")));
static ALTITUDE: LazyLock<Published> =
    LazyLock::new(|| Published::read("approach_altitude", include_str!("../../../assets/approach_altitude.csv")));
static CRANE: LazyLock<Published> =
    LazyLock::new(|| Published::read("crane_distance", include_str!("../../../assets/crane_distance.csv")));

/// Lowest ground there is to work on lies near 430 m below the sea; what is deeper is a slip of the pen.
const LOWEST_ALTITUDE_M: f64 = -500.0;

/// A row of a table of distances, for one exposure.
#[derive(Clone, Debug, PartialEq)]
pub struct Distance {
    /// Meters; 0 where the table says to avoid contact.
    pub distance_m: f64,
    /// Feet as printed, which is not a conversion of the meters.
    pub printed_ft: Option<f64>,
    /// The part of `distance_m` that is there for movement, not for the voltage; meters.
    pub movement_m: f64,
    /// "Table R-6 row 5.1-15.0 kV".
    pub row: String,
    /// Nothing stands in the table but "avoid contact".
    pub avoid_contact: bool,
    /// How well the row is known: `verified`, `memory-checked` or `memory`.
    pub status: &'static str,
}

/// The approach distance at 900 m or lower, by 29 CFR 1910.269 Tables R-6 and R-7 (twins 1926.960 V-5 and V-6).
///
/// `voltage_v` is nominal, phase to phase, rms. (For a single-phase system the tables mean its voltage to ground; the
/// phase-to-phase voltage of the circuit that it is tapped from errs high.) Between two rows the higher one holds. Up
/// to 300 V the table says to avoid contact; so we read it below its first row too.
pub fn approach_distance(voltage_v: f64, exposure: Exposure) -> Result<Distance, RuleError> {
    let kv = usable_kv(voltage_v)?;
    let (metres, feet) = match exposure {
        Exposure::PhaseToGround => ("phase_ground_m", "phase_ground_ft"),
        Exposure::PhaseToPhase => ("phase_phase_m", "phase_phase_ft"),
    };
    let read = |row: &'static Row| {
        let avoid_contact = row.text(metres)?.is_empty() && row.figure("kv_to")? <= 0.3;
        Ok(Distance {
            distance_m: if avoid_contact { 0.0 } else { row.figure(metres)? },
            printed_ft: row.number(feet)?,
            movement_m: if avoid_contact { 0.0 } else { row.figure("movement_m")? },
            row: format!("Table {} row {}-{} kV", row.text("table")?, row.text("kv_from")?, row.text("kv_to")?),
            avoid_contact,
            status: row.text("status_m")?,
        })
    };
    APPROACH.first(|row| Ok(kv <= row.figure("kv_to")?), read)?.ok_or(RuleError::AboveTable {
        table: "1910.269 Table R-7",
        voltage_v,
        limit_v: 800e3,
    })
}

/// The altitude factor A of Table R-5 for meters above mean sea level; between two bands the higher one holds.
///
/// The limits in meters are taken: each is below the limit printed in feet, so that they err high.
pub fn altitude_factor(altitude_m: f64) -> Result<f64, RuleError> {
    if !altitude_m.is_finite() || altitude_m < LOWEST_ALTITUDE_M {
        return Err(RuleError::Altitude { altitude_m });
    }
    let factor = |row: &Row| {
        let factor = row.figure("factor")?;
        if factor >= 1.0 { Ok(factor) } else { Err(row.unusable("factor")) }
    };
    ALTITUDE
        .first(|row| Ok(altitude_m <= row.figure("altitude_to_m")?), factor)?
        .ok_or(RuleError::Altitude { altitude_m })
}

/// The two readings of the altitude factor `factor` on a row, meters: by Table R-3 it multiplies the electrical part
/// alone, by the footnote of Tables the whole distance.
pub fn at_altitude(row: &Distance, factor: f64) -> AtAltitude {
    let electrical = row.distance_m - row.movement_m;
    AtAltitude { electrical_part_m: row.movement_m + electrical * factor, whole_m: row.distance_m * factor }
}

/// Both readings of the altitude rule; the greater one holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtAltitude {
    pub electrical_part_m: f64,
    pub whole_m: f64,
}

/// The distance of a crane at work by 29 CFR 1926.1408 Table A; a row's upper limit belongs to it.
pub fn crane_distance(voltage_v: f64) -> Result<Distance, RuleError> {
    let kv = usable_kv(voltage_v)?;
    let read = |row: &'static Row| {
        let feet = row.figure("distance_ft")?;
        Ok(Distance {
            distance_m: feet * FOOT_M,
            printed_ft: Some(feet),
            movement_m: 0.0,
            row: format!("Table A row over {} to {} kV", row.text("kv_over")?, row.text("kv_to")?),
            avoid_contact: false,
            status: row.text("status")?,
        })
    };
    CRANE.first(|row| Ok(kv <= row.figure("kv_to")?), read)?.ok_or(RuleError::AboveTable {
        table: "1926.1408 Table A",
        voltage_v,
        limit_v: 1e6,
    })
}

/// A circuit without a voltage is not known, and not a dead one.
fn usable_kv(voltage_v: f64) -> Result<f64, RuleError> {
    if voltage_v.is_finite() && voltage_v > 0.0 {
        Ok(voltage_v / 1000.0)
    } else {
        Err(RuleError::Voltage { voltage_v })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Exposure::{PhaseToGround, PhaseToPhase};

    fn ground(voltage_v: f64) -> f64 {
        approach_distance(voltage_v, PhaseToGround).unwrap().distance_m
    }

    #[test]
    fn between_two_rows_the_higher_one_holds() {
        assert_eq!(ground(15_000.0), 0.65);
        assert_eq!(ground(15_050.0), 0.77);
        assert_eq!(ground(5_000.0), 0.63);
        assert_eq!(ground(5_050.0), 0.65);
        assert_eq!(ground(300.5), 0.33);
    }

    #[test]
    fn low_voltage_is_no_contact_and_not_no_rule() {
        for voltage_v in [12.0, 49.0, 120.0, 300.0] {
            let row = approach_distance(voltage_v, PhaseToPhase).unwrap();
            assert!(row.avoid_contact && row.distance_m == 0.0);
        }
    }

    #[test]
    fn a_voltage_that_is_missing_or_beyond_the_table_has_no_distance() {
        for voltage_v in [f64::NAN, 0.0, -7200.0, f64::INFINITY] {
            assert!(matches!(approach_distance(voltage_v, PhaseToGround), Err(RuleError::Voltage { .. })));
            assert!(matches!(crane_distance(voltage_v), Err(RuleError::Voltage { .. })));
        }
        assert!(matches!(approach_distance(801e3, PhaseToGround), Err(RuleError::AboveTable { .. })));
        assert!(matches!(crane_distance(1_000_001.0), Err(RuleError::AboveTable { .. })));
    }

    #[test]
    fn the_upper_limit_of_a_crane_row_belongs_to_it() {
        assert_eq!(crane_distance(50e3).unwrap().printed_ft, Some(10.0));
        assert_eq!(crane_distance(50_001.0).unwrap().printed_ft, Some(15.0));
    }

    #[test]
    fn altitude_is_never_taken_for_sea_level_when_it_is_not_known() {
        assert_eq!(altitude_factor(-430.0), Ok(1.0));
        assert_eq!(altitude_factor(900.0), Ok(1.0));
        assert_eq!(altitude_factor(900.5), Ok(1.02));
        assert!(altitude_factor(f64::NAN).is_err());
        assert!(altitude_factor(6000.1).is_err());
        assert!(altitude_factor(-5000.0).is_err());
    }
}
