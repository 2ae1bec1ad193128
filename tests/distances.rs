//! Approach distances against the published tables.

use outside_checks::{Row, rows};
use scene_core::rules::Exposure::{PhaseToGround, PhaseToPhase};
use scene_core::rules::{RuleError, altitude_factor, approach_distance, at_altitude, crane_distance};

const METRES_PER_FOOT: f64 = 0.3048;

fn approach() -> Vec<Row> {
    rows(include_str!("published/approach_distance_r6_r7.csv"))
}

fn volts(row: &Row, column: &str) -> f64 {
    (row.number(column).unwrap() * 1e3).round()
}

// source: 29 CFR 1910.269 Tables, every row; meters verified in R-6 and the first three rows of R-7,
// memory-checked above; feet from memory (R-6 passes a check).
#[test]
fn every_row_of_the_approach_tables_is_found_at_both_of_its_ends() {
    let table = approach();
    assert_eq!(table.len(), 15);
    for row in &table {
        for voltage_v in [volts(row, "kv_from"), volts(row, "kv_to")] {
            for (exposure, metres, feet) in [
                (PhaseToGround, "phase_ground_m", "phase_ground_ft"),
                (PhaseToPhase, "phase_phase_m", "phase_phase_ft"),
            ] {
                let found = approach_distance(voltage_v, exposure).unwrap();
                assert!(found.row.contains(row.text("table")));
                assert_eq!(found.printed_ft, row.number(feet), "{voltage_v} V");
                match row.number(metres) {
                    Some(metres) => {
                        assert!(!found.avoid_contact);
                        assert_eq!(found.distance_m, metres, "{voltage_v} V {exposure:?}");
                        assert_eq!(found.status, row.text("status_m"));
                    }
                    None => assert!(found.avoid_contact && found.distance_m == 0.0),
                }
            }
        }
    }
}

// source: 29 CFR 1910.269 Table R-6 leaves 15.0-15.1 kV and its like open; the higher row holds.
#[test]
fn between_two_printed_rows_the_higher_one_holds() {
    let table = approach();
    for (row, next) in table.iter().zip(table.iter().skip(1)) {
        let between_v = (volts(row, "kv_to") + volts(next, "kv_from")) / 2.0;
        let found = approach_distance(between_v, PhaseToPhase).unwrap();
        assert_eq!(Some(found.distance_m), next.number("phase_phase_m"), "{between_v} V");
    }
    let last_v = volts(table.last().unwrap(), "kv_to");
    assert!(matches!(approach_distance(last_v + 1.0, PhaseToPhase), Err(RuleError::AboveTable { .. })));
}

// source: 29 CFR 1910.269 Table R-6, feet printed: meters rounded up to 0.01 ft. Feet are memory-checked by this.
#[test]
fn printed_feet_of_table_r_6_are_the_metres_rounded_up() {
    for row in approach().iter().filter(|row| row.text("table") == "R-6" && row.number("phase_ground_m").is_some()) {
        for exposure in [PhaseToGround, PhaseToPhase] {
            let found = approach_distance(volts(row, "kv_to"), exposure).unwrap();
            let up = (found.distance_m / METRES_PER_FOOT * 100.0 - 1e-9).ceil() / 100.0;
            assert!((found.printed_ft.unwrap() - up).abs() < 1e-9, "{}", found.row);
        }
    }
}

// source: 29 CFR 1910.269 Table R-4 (D) and Table R-3 (M); status verified and verified-derived.
#[test]
fn movement_and_electrical_part_add_up_to_table_r_6() {
    for row in rows(include_str!("published/approach_electrical_r4.csv")) {
        let movement_m = row.number("movement_m").unwrap();
        for (exposure, column) in [(PhaseToGround, "d_phase_ground_m"), (PhaseToPhase, "d_phase_phase_m")] {
            let found = approach_distance(volts(&row, "kv_to"), exposure).unwrap();
            assert_eq!(found.movement_m, movement_m);
            assert!((found.movement_m + row.number(column).unwrap() - found.distance_m).abs() < 1e-9, "{}", found.row);
        }
    }
}

/// Table R-3 above 72.5 kV at sea level with the default transient of Table R-9, meters; kV phase to phase.
fn by_equation(kv: f64, to_ground: bool) -> f64 {
    let to_ground_kv = kv / 3f64.sqrt();
    let transient = match kv {
        kv if kv <= 420.0 => 3.5,
        kv if kv <= 550.0 => 3.0,
        _ => 2.5,
    };
    let (c, t) = if to_ground { (0.011, transient) } else { (0.01, 1.35 * transient + 0.45) };
    let peak_kv = t * to_ground_kv * 2f64.sqrt();
    let saturation = if to_ground {
        match peak_kv {
            v if v <= 635.0 => 0.0,
            v if v <= 915.0 => (v - 635.0) / 140_000.0,
            v if v <= 1050.0 => (v - 645.0) / 135_000.0,
            v => (v - 675.0) / 125_000.0,
        }
    } else {
        match peak_kv {
            v if v <= 630.0 => 0.0,
            v if v <= 848.0 => (v - 630.0) / 155_000.0,
            v if v <= 1131.0 => (v - 633.6) / 152_207.0,
            v if v <= 1485.0 => (v - 628.0) / 153_846.0,
            v => (v - 350.5) / 203_666.0,
        }
    };
    METRES_PER_FOOT * (c + saturation) * to_ground_kv * t + 0.31
}

// source: 29 CFR 1910.269 Table R-3 with default T; equations memory-checked: they reproduce every row of R-7, rounded up.
#[test]
fn the_equation_of_table_r_3_reproduces_table_r_7() {
    let table: Vec<Row> = approach().into_iter().filter(|row| row.text("table") == "R-7").collect();
    assert_eq!(table.len(), 8);
    for row in &table {
        let kv = row.number("kv_to").unwrap();
        for exposure in [PhaseToGround, PhaseToPhase] {
            let up = (by_equation(kv, exposure == PhaseToGround) * 100.0 - 1e-9).ceil() / 100.0;
            let found = approach_distance(kv * 1e3, exposure).unwrap();
            assert!((found.distance_m - up).abs() < 1e-9, "{kv} kV {exposure:?}: {} against {up}", found.distance_m);
        }
    }
}

// source: 29 CFR 1910.269 Table R-5; UFC 3-560-01 Table 3-2; status verified (lower limits memory).
#[test]
fn altitude_factors_hold_from_the_lower_to_the_upper_limit_of_their_band() {
    for row in rows(include_str!("published/approach_altitude_r5.csv")) {
        let factor = row.number("factor_a").unwrap();
        for column in ["alt_from_m", "alt_to_m"] {
            assert_eq!(altitude_factor(row.number(column).unwrap()), Ok(factor), "{column} {}", row.text(column));
        }
        // What is printed in feet is a laxer limit than the meters; the stricter one holds.
        let printed_m = row.number("alt_to_ft_printed").unwrap() * METRES_PER_FOOT;
        assert!(altitude_factor(printed_m).is_ok_and(|found| found > factor) || printed_m > 6000.0);
    }
    assert!(matches!(altitude_factor(6000.5), Err(RuleError::Altitude { .. })));
}

// source: 29 CFR 1910.269 Tables with its footnote, 12.47 kV phase to phase, A 1.05: 0.61 + 1.05 × 0.07 and
// 1.05 × 0.68; status verified.
#[test]
fn the_two_readings_of_the_altitude_rule_differ() {
    let row = approach_distance(12_470.0, PhaseToPhase).unwrap();
    let raised = at_altitude(&row, altitude_factor(1500.0).unwrap());
    assert!((raised.electrical_part_m - 0.6835).abs() < 1e-9);
    assert!((raised.whole_m - 0.714).abs() < 1e-9);
}

// source: 29 CFR 1926.1408 Table A, every row; status verified.
#[test]
fn every_row_of_table_a_reaches_up_to_and_with_its_upper_limit() {
    for row in rows(include_str!("published/crane_table_a.csv")) {
        let feet = row.number("distance_ft").unwrap();
        for voltage_v in [volts(&row, "kv_over") + 1.0, volts(&row, "kv_to_inclusive")] {
            let found = crane_distance(voltage_v).unwrap();
            assert_eq!(found.printed_ft, Some(feet), "{voltage_v} V");
            assert!((found.distance_m - feet * METRES_PER_FOOT).abs() < 1e-12);
        }
    }
    assert!(matches!(crane_distance(1_000_001.0), Err(RuleError::AboveTable { .. })));
}

// source: ANSI C84.1 nominal voltages with 29 CFR 1910.269 Tables and 29 CFR 1926.1408 Table A; status verified to
// 34.5 kV, nominal names above from memory. 34.5 kV stays in row 15.1-36.0 although its range B maximum is 36.51 kV.
#[test]
fn nominal_system_voltages_fall_in_the_rows_that_a_reader_finds() {
    for row in rows(include_str!("published/voltage_classes.csv")) {
        let voltage_v = volts(&row, "nominal_ll_kv");
        let metres = |exposure| approach_distance(voltage_v, exposure).unwrap().distance_m;
        assert_eq!(Some(metres(PhaseToGround)), row.number("mad_pg_m"), "{voltage_v} V");
        assert_eq!(Some(metres(PhaseToPhase)), row.number("mad_pp_m"), "{voltage_v} V");
        assert_eq!(crane_distance(voltage_v).unwrap().printed_ft, row.number("table_a_ft"), "{voltage_v} V");
    }
}
