//! What the basis of work lacks: the gates, the scene's own distance and residual gap, altitude, and every circuit whose
//! distance cannot be looked up.

use super::distance::{approach_distance, crane_distance};
use super::{Exposure, RuleError, altitude_factor, gates, required};
use crate::finding::{self, Finding, Rules, Unit};
use crate::machine::Role;
use crate::site::{Basis, Route, Site};

/// What the basis of work lacks. Everything here is found once, whatever the bodies do.
pub fn basis(site: &Site) -> Vec<Finding> {
    let mut found = gates::findings(site);
    found.extend(without_derrick(site));
    found.extend(own_distance(site));
    found.extend(residual_gap(&site.basis));
    if let Err(error) = altitude_factor(site.altitude_m) {
        found.push(error.into());
    }
    found.extend(without_distance(site));
    found
}

/// The route is the derrick's alone: "A CRANE setting a pole gets no such exemption."
fn without_derrick(site: &Site) -> Option<Finding> {
    let named = site.basis.route == Route::DiggerDerrick && site.crane.derrick.is_none();
    named.then(|| finding::stop(Rules::RouteNeedsDerrick { crane: site.crane.name.clone() }))
}

/// A distance of the scene's own that is laxer than the rule's for some circuit does not hold there.
fn own_distance(site: &Site) -> Vec<Finding> {
    let Some(own_m) = site.basis.own_distance_m else {
        return Vec::new();
    };
    if !own_m.is_finite() || own_m < 0.0 {
        return vec![RuleError::OwnDistance { distance_m: own_m }.into()];
    }
    site.circuits
        .iter()
        .filter_map(|circuit| {
            let row = match site.basis.route {
                Route::CraneTable => crane_distance(circuit.voltage_v),
                _ => approach_distance(circuit.voltage_v, Exposure::PhaseToPhase),
            }
            .ok()?;
            // With altitude, where the factor applies and is known: without it there is a stop already.
            let factor = match site.basis.route {
                Route::CraneTable => 1.0,
                _ => altitude_factor(site.altitude_m).unwrap_or(1.0),
            };
            let rule_m = row.distance_m * factor;
            (own_m < rule_m).then(|| {
                let circuit = circuit.name.clone();
                let fact = Rules::OwnDistanceBelowRule { own_m, rule_m, row: row.row.clone(), circuit };
                finding::caution(fact).measured(own_m, rule_m, Unit::Meter)
            })
        })
        .collect()
}

fn residual_gap(basis: &Basis) -> Option<Finding> {
    let gap_m = basis.residual_gap_m;
    if !gap_m.is_finite() || gap_m < 0.0 {
        return Some(finding::stop(Rules::ResidualGapUnusable));
    }
    (gap_m == 0.0).then(|| finding::caution(Rules::ResidualGapZero).measured(0.0, 0.0, Unit::Meter))
}

/// Wires that have no distance to be held to, each circuit named once.
fn without_distance(site: &Site) -> Vec<Finding> {
    // A voltage that is not a number is the same as itself, too.
    let is_same = |a: &RuleError, b: &RuleError| format!("{a:?}") == format!("{b:?}");
    let mut errors: Vec<RuleError> = Vec::new();
    for wire in 0..site.wires.len() {
        for body in [Role::MachineConductive, Role::Worker] {
            match required(site, body, wire, Exposure::PhaseToGround) {
                Err(RuleError::Altitude { .. } | RuleError::OwnDistance { .. }) | Ok(_) => {}
                Err(error) if errors.iter().any(|known| is_same(known, &error)) => {}
                Err(error) => errors.push(error),
            }
        }
    }
    errors.into_iter().map(Finding::from).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Grade;
    use crate::fixtures::line::site;

    fn codes(site: &Site) -> Vec<(Grade, &'static str)> {
        basis(site).iter().map(|finding| (finding.grade, finding.code())).collect()
    }

    #[test]
    fn a_laxer_distance_of_ones_own_is_a_caution_and_an_unusable_one_a_stop() {
        let mut site = site(12_470.0);
        site.basis.own_distance_m = Some(0.5);
        assert_eq!(codes(&site), [(Grade::Caution, "own_distance_below_rule")]);
        site.basis.own_distance_m = Some(f64::NAN);
        assert_eq!(codes(&site), [(Grade::Stop, "own_distance_unusable")]);
    }

    #[test]
    fn a_residual_gap_of_nothing_is_said_and_one_that_is_no_number_stops() {
        let mut site = site(12_470.0);
        site.basis.residual_gap_m = 0.0;
        assert_eq!(codes(&site), [(Grade::Caution, "residual_gap_zero")]);
        site.basis.residual_gap_m = f64::NAN;
        assert_eq!(codes(&site), [(Grade::Stop, "residual_gap_unusable")]);
    }

    #[test]
    fn altitude_and_voltage_that_are_not_known_stop_once_each() {
        let mut site = site(f64::NAN);
        site.altitude_m = 7000.0;
        assert_eq!(codes(&site), [(Grade::Stop, "altitude_outside_table"), (Grade::Stop, "voltage_unusable")]);
    }
}
