//! The findings about bodies and wires.

use super::super::Inputs;
use super::WireGap;
use crate::finding::{self, Approach, Bare, BodyClass, Finding, Unit};
use crate::machine::Role;
use crate::rules::PairState;

/// One finding for each body and wire that do not stay apart, worst weather.
pub(super) fn findings(gaps: &[WireGap], residual_gap_m: f64) -> Vec<Finding> {
    let mut worst: Vec<&WireGap> = Vec::new();
    for pair in gaps.iter().filter(|p| p.row.state != PairState::Apart) {
        let rank = |p: &WireGap| (p.row.state, p.row.margin_m);
        match worst.iter_mut().find(|w| w.row.body == pair.row.body && w.wire == pair.wire) {
            Some(kept) if rank(pair) < rank(kept) => *kept = pair,
            Some(_) => {}
            None => worst.push(pair),
        }
    }
    worst.into_iter().map(|pair| finding(pair, residual_gap_m)).collect()
}

fn finding(pair: &WireGap, residual_m: f64) -> Finding {
    let row = &pair.row;
    let limit = row.required_m.max(residual_m) + row.allowance_m;
    let gap = Box::new(finding::WireGap {
        body: row.body.clone(),
        class: body_class(pair.kind),
        hangs: pair.hangs,
        wire: row.other.clone(),
        weather: row.weather.clone(),
        low_m: row.low_m,
        allowance_m: row.allowance_m,
        required_m: row.required_m,
        residual_m,
        bare: pair.bare.map(|bare| Bare { body: bare.body_m < 0.0, wire: bare.wire_m < 0.0 }),
        rule: row.rule.clone(),
    });
    let finding = match row.state {
        PairState::Touch => finding::stop(Approach::Touch { gap }),
        PairState::Undecided => finding::stop(Approach::Undecided { gap }),
        PairState::Short => finding::stop(Approach::Short { gap }),
        _ => finding::caution(Approach::Covered { gap }),
    };
    let finding = finding.measured(row.low_m, limit, Unit::Meter);
    Finding { step: row.step, time_s: row.time_s, place: row.point_on_body, ..finding }
}

/// As a finding names it.
pub(in crate::pairs) fn body_class(kind: Role) -> BodyClass {
    match kind {
        Role::MachineConductive => BodyClass::Machine,
        Role::NonConductiveRigging => BodyClass::NonConductiveRigging,
        Role::Load => BodyClass::Load,
        Role::LiftConductive => BodyClass::Lift,
        Role::InsulatedLift => BodyClass::InsulatedLift,
        Role::Worker => BodyClass::Worker,
    }
}

/// Wires whose hang is not known were compared with nothing.
pub(super) fn not_hung(inputs: &Inputs) -> Vec<Finding> {
    let site = inputs.site;
    let mut found = Vec::new();
    for (wire, name) in site.wires.iter().map(|w| &w.name).enumerate() {
        for weather in 0..site.weather.len() {
            let steps = inputs.plan.steps.len();
            let missing =
                (0..steps).find(|step| !inputs.wires.wires.at_step(*step, weather).any(|state| state.wire == wire));
            if let Some(step) = missing {
                found.push(finding::stop(finding::Conductor::NotHung { wire: name.clone() }).at_step(step));
                break;
            }
        }
    }
    found
}
