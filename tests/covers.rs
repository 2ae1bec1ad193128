//! Cover classes against the published tables.

use outside_checks::{Row, rows};
use scene_core::cover::{adequate, class, glove_class};
use scene_core::rules::Exposure::{self, PhaseToGround, PhaseToPhase};
use scene_core::site::{Circuit, CoverMake};

fn circuit(voltage_v: f64) -> Circuit {
    fixtures::line::circuit("feeder", voltage_v)
}

fn suffices(make: CoverMake, voltage_v: f64, exposure: Exposure) -> bool {
    adequate(make, &circuit(voltage_v), exposure).is_ok()
}

/// The lowest class of rubber cover that suffices, as a label.
fn lowest_rubber(voltage_v: f64, exposure: Exposure) -> String {
    (0..=4)
        .find(|class| suffices(CoverMake::Rubber { class: *class }, voltage_v, exposure))
        .map_or_else(|| "none".to_string(), |class| class.to_string())
}

// source: 29 CFR 1910.137 Tables I-1 and I-4, every class; status verified (class 00 by ASTM D120 glove data).
#[test]
fn rubber_is_good_up_to_its_maximum_use_voltage_between_phases_and_not_a_volt_above() {
    let table: Vec<Row> = rows(include_str!("published/cover_class_rubber.csv"));
    assert_eq!(table.len(), 6);
    for row in &table {
        let label = row.text("class");
        let max_use_v = row.number("max_use_v_ac").unwrap();
        assert_eq!(glove_class(max_use_v), Some(label));
        assert_ne!(glove_class(max_use_v + 1.0), Some(label));
        if label == "00" {
            continue; // no class of covers
        }
        let make = CoverMake::Rubber { class: label.parse().unwrap() };
        assert_eq!(class(make).unwrap().max_phase_phase_v, max_use_v);
        assert!(suffices(make, max_use_v, PhaseToPhase));
        assert!(!suffices(make, max_use_v + 1.0, PhaseToPhase));
    }
}

// source: ASTM F712, classes 2 to 6; status memory: this holds the program to what is remembered, not to the standard.
#[test]
fn plastic_is_good_up_to_both_of_its_ratings() {
    for row in rows(include_str!("published/cover_class_plastic.csv")) {
        let make = CoverMake::Plastic { class: row.text("class").parse().unwrap() };
        let phase_phase_v = row.number("max_use_phase_phase_kv").unwrap() * 1e3;
        let phase_ground_v = row.number("max_use_phase_ground_kv").unwrap() * 1e3;
        let found = class(make).unwrap();
        assert!((found.max_phase_phase_v - phase_phase_v).abs() < 1e-6);
        assert!((found.max_phase_ground_v - phase_ground_v).abs() < 1e-6);
        assert_eq!(found.status, "memory");
        assert!(!suffices(make, phase_phase_v + 1.0, PhaseToPhase));
        assert!(!suffices(make, (phase_ground_v + 1.0) * 3f64.sqrt(), PhaseToGround));
        let within_both_v = phase_phase_v.min(phase_ground_v * 3f64.sqrt()) - 1.0;
        assert!(suffices(make, within_both_v, PhaseToPhase));
    }
}

// source: ANSI C84.1 nominal voltages with 29 CFR 1910.137 Table I-4; status verified to 34.5 kV, names above from memory.
#[test]
fn nominal_system_voltages_need_the_class_that_a_reader_finds() {
    for row in rows(include_str!("published/voltage_classes.csv")) {
        let voltage_v = (row.number("nominal_ll_kv").unwrap() * 1e3).round();
        assert_eq!(lowest_rubber(voltage_v, PhaseToPhase), row.text("rubber_class_ll"), "{voltage_v} V");
        assert_eq!(lowest_rubber(voltage_v, PhaseToGround), row.text("rubber_class_lg"), "{voltage_v} V");
        assert_eq!(glove_class(voltage_v).unwrap_or("none"), row.text("rubber_class_ll"), "{voltage_v} V");
    }
}
