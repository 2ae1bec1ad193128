//! The setting depth of the pole, compared with published depths.
//!
//! The deeper of two sources counts: the table of setting depths in soil, and the rule "10 percent of the length plus 2
//! ft". Between two rows of the table, the next longer row counts; beyond the table, the rule alone.
//!
//! Not modeled: what the soil bears, slopes, rock, loads on the pole.

use crate::catalog;
use crate::finding::{self, Finding, Unit};
use crate::quantity::unit::FOOT_M;
use crate::site::Pole;

/// Half the reading error of a tape, meters. A depth short by less is not a finding.
const TAPE_M: f64 = 0.005;

/// The published setting depth in soil for a pole of this length, meters, and the source that it comes from.
pub fn published_depth_m(length_m: f64) -> (f64, &'static str) {
    let rule_m = length_m / 10.0 + 2.0 * FOOT_M;
    match catalog::setting_depth(length_m) {
        Some(depth) if depth.soil_m >= rule_m => (depth.soil_m, "table of setting depths in soil, ANSI O5.1"),
        _ => (rule_m, "10 percent of the length and 2 ft (Lineman's and Cableman's Handbook)"),
    }
}

/// A caution when the pole sets shallower than published.
pub fn findings(pole: &Pole) -> Vec<Finding> {
    let (published_m, source) = published_depth_m(pole.length_m);
    if pole.setting_depth_m >= published_m - TAPE_M || published_m.is_nan() {
        return Vec::new();
    }
    let depth_m = pole.setting_depth_m;
    let fact = finding::Pole::SetShallow { depth_m, pole_m: pole.length_m, published_m, source };
    vec![finding::caution(fact).measured(depth_m, published_m, Unit::Meter)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene;

    fn pole(length_ft: f64, depth_ft: f64) -> Pole {
        let mut pole = scene::read("t", scene::template()).and_then(|scene| scene.site()).unwrap().pole;
        (pole.length_m, pole.setting_depth_m) = (length_ft * FOOT_M, depth_ft * FOOT_M);
        pole
    }

    #[test]
    fn a_pole_half_a_foot_shallower_than_its_table_is_a_caution() {
        assert!(findings(&pole(45.0, 6.5)).is_empty());
        let found = findings(&pole(45.0, 6.0));
        assert_eq!((found.len(), found[0].code()), (1, "pole_set_shallow"));
    }

    #[test]
    fn the_table_is_deeper_than_the_rule_for_short_poles() {
        // source: ANSI O5.1 groundline distances, 30 ft: 5.5 ft, against 10 percent and 2 ft: 5.0 ft; status verified
        assert_eq!(findings(&pole(30.0, 5.0)).len(), 1);
        assert!(findings(&pole(30.0, 5.5)).is_empty());
    }

    #[test]
    fn between_two_rows_the_deeper_of_rule_and_next_longer_row_holds() {
        let (depth_m, _) = published_depth_m(32.0 * FOOT_M);
        assert!((depth_m - 6.0 * FOOT_M).abs() < 1e-9);
    }

    #[test]
    fn beyond_the_table_the_rule_holds() {
        let (depth_m, _) = published_depth_m(110.0 * FOOT_M);
        assert!((depth_m - 13.0 * FOOT_M).abs() < 1e-9);
        assert!(findings(&pole(f64::NAN, 1.0)).is_empty());
    }
}
