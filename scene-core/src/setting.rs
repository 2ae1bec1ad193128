//! The setting depth of the pole, compared with published depths.
//!
//! The deeper of two sources counts: the table of setting depths in soil, and the rule "10 percent of the length plus 2
//! ft". Between two rows of the table, the next longer row counts; beyond the table, the rule alone.
//!
//! A pole that sets more than 6 in shallower stops, unless the hole is in solid rock and the pole sets as deep as published for
//! rock, or an engineer's document sets the depth.
//!
//! Not modeled: what the soil bears, slopes, soil over rock, loads on the pole.

use crate::catalog;
use crate::finding::{self, Finding, Unit};
use crate::quantity::unit::FOOT_M;
use crate::site::measured::says_something;
use crate::site::{Pole, Shallow};

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

/// How much shallower than published a pole may set on nobody's word, meters. Source: common practice.
const SHALLOWER_M: f64 = 0.5 * FOOT_M;

/// A finding when the pole sets shallower than published.
pub fn findings(pole: &Pole) -> Vec<Finding> {
    let (published_m, source) = published_depth_m(pole.length_m);
    let depth_m = pole.setting_depth_m;
    // NaN is not deep enough.
    let reaches = |least_m: f64| depth_m >= least_m - TAPE_M;
    if reaches(published_m) || published_m.is_nan() {
        return Vec::new();
    }
    let pole_m = pole.length_m;
    let shallow = finding::caution(finding::Pole::SetShallow { depth_m, pole_m, published_m, source });
    let too_shallow = |least_m: f64, in_rock: bool| {
        let fact = finding::Pole::SetTooShallow { depth_m, pole_m, least_m, in_rock };
        finding::stop(fact).measured(depth_m, least_m, Unit::Meter)
    };
    let rock_m = catalog::setting_depth(pole_m).and_then(|depth| depth.rock_m);
    let found = match (&pole.shallow, rock_m) {
        (Some(Shallow::Engineer { by, document }), _) if says_something(by) && says_something(document) => shallow,
        (Some(Shallow::Rock(seen)), Some(rock_m)) if seen.is_whole() && reaches(rock_m) => shallow,
        (Some(Shallow::Rock(seen)), Some(rock_m)) if seen.is_whole() => too_shallow(rock_m, true),
        _ if reaches(published_m - SHALLOWER_M) => shallow,
        _ => too_shallow(published_m, false),
    };
    vec![match found.measured {
        Some(_) => found,
        None => found.measured(depth_m, published_m, Unit::Meter),
    }]
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
    fn more_than_six_inches_under_is_a_stop_without_rock_or_an_engineers_document() {
        let seen = |by: &str| {
            Shallow::Rock(crate::site::Measurement {
                by: by.into(),
                how: "drilled with the rock auger".into(),
                on: "2 March".into(),
            })
        };
        let engineer = |document: &str| Shallow::Engineer { by: "Lund".into(), document: document.into() };
        let code = |depth_ft: f64, shallow: Option<Shallow>| {
            let pole = Pole { shallow, ..pole(45.0, depth_ft) };
            findings(&pole).first().map(|found| (found.grade, found.code()))
        };
        let stop = Some((finding::Grade::Stop, "pole_set_too_shallow"));
        let caution = Some((finding::Grade::Caution, "pole_set_shallow"));
        assert_eq!(code(6.0, None), caution);
        assert_eq!(code(5.9, None), stop);
        assert_eq!(code(f64::NAN, None), stop);
        assert_eq!(code(4.5, Some(seen("Hale"))), caution);
        assert_eq!(code(4.5, Some(seen("x"))), stop);
        assert_eq!(code(4.4, Some(seen("Hale"))), stop);
        assert_eq!(code(4.0, Some(engineer("footing drawing 7A"))), caution);
        assert_eq!(code(4.0, Some(engineer("-"))), stop);
        // No depth in rock is published for a pole longer than 60 ft.
        let long = Pole { shallow: Some(seen("Hale")), ..pole(70.0, 5.0) };
        assert_eq!(findings(&long)[0].code(), "pole_set_too_shallow");
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
