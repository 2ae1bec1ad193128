//! Whether a circuit's voltage is stated so that nobody can take one figure for the other, and whether all of its wires are here.

use crate::catalog::{NominalVoltage, nominal_voltages};
use crate::finding::{self, Circuits, Finding, Unit};
use crate::site::{Circuit, Grounding, NeutralHere, Phases, Site, VoltageStated, Wire, WireKind};
use glam::DVec3;

/// A figure is a nominal one when it is no farther from it than this, as a ratio: the rounding of nominal figures.
const NOMINAL_TOLERANCE: f64 = 0.01;

pub(super) fn findings(site: &Site) -> Vec<Finding> {
    let of_circuit = |(index, circuit): (usize, &Circuit)| {
        let mut found: Vec<Finding> = voltage(circuit).into_iter().collect();
        found.extend(delta_grounded(circuit));
        found.extend(phases(site, index, circuit));
        found.extend(neutral(site, index, circuit));
        found
    };
    site.circuits.iter().enumerate().flat_map(of_circuit).collect()
}

// ---------------------------------------------------------------------------------------------------------- voltage

/// What a figure may be.
struct Known {
    /// Between phases of a four-wire circuit, by a published list.
    between: bool,
    /// To ground of a circuit that has this voltage between phases.
    to_ground: Option<f64>,
    /// Of a three-wire circuit.
    three_wire: bool,
}

fn known(voltage_v: f64) -> Known {
    let is = |nominal_v: f64| (voltage_v / nominal_v - 1.0).abs() <= NOMINAL_TOLERANCE;
    let any = |what: &dyn Fn(&NominalVoltage) -> bool| nominal_voltages().any(|nominal| what(&nominal));
    Known {
        between: any(&|nominal| nominal.to_ground_v.is_some() && nominal.verified && is(nominal.between_v)),
        to_ground: nominal_voltages()
            .find(|nominal| nominal.to_ground_v.is_some_and(is))
            .map(|nominal| nominal.between_v),
        three_wire: any(&|nominal| nominal.to_ground_v.is_none() && is(nominal.between_v)),
    }
}

/// Where a voltage is not a number above zero, `rules` says so.
fn voltage(circuit: &Circuit) -> Option<Finding> {
    let (name, voltage_v) = (circuit.name.clone(), circuit.voltage_v);
    if !(voltage_v > 0.0 && voltage_v.is_finite()) && circuit.stated.figures_agree() {
        return None;
    }
    let only_to_ground = |between_v: f64| {
        let fact = Circuits::OnlyToGround { circuit: name.clone(), voltage_v, between_v };
        finding::stop(fact).measured(voltage_v, between_v, Unit::Volt)
    };
    let Known { between, to_ground, three_wire } = known(voltage_v);
    match circuit.stated {
        VoltageStated::Both { to_ground_v, between_v } if !circuit.stated.figures_agree() => {
            let fact = Circuits::PairDisagrees { circuit: name, to_ground_v, between_v, holds_v: voltage_v };
            Some(finding::stop(fact).measured(between_v, to_ground_v * 3_f64.sqrt(), Unit::Volt))
        }
        VoltageStated::Both { .. } => match (to_ground, is_listed_between(voltage_v)) {
            (_, true) => None,
            (Some(between_v), false) => Some(only_to_ground(between_v)),
            (None, false) => Some(finding::caution(Circuits::UnlistedButSaid { circuit: name, voltage_v })),
        },
        VoltageStated::Delta if three_wire || is_listed_between(voltage_v) => None,
        VoltageStated::Delta => Some(finding::caution(Circuits::UnlistedButSaid { circuit: name, voltage_v })),
        VoltageStated::OneFigure => Some(match (between, to_ground, three_wire) {
            (_, _, true) | (true, Some(_), _) => finding::stop(Circuits::OnBothLists { circuit: name, voltage_v }),
            (false, Some(between_v), false) => only_to_ground(between_v),
            (true, None, false) => finding::caution(Circuits::OneFigure { circuit: name, voltage_v }),
            (false, None, false) => finding::stop(Circuits::Unlisted { circuit: name, voltage_v }),
        }),
    }
}

/// Between phases of a four-wire circuit by any row: both figures, or the word delta, say already which figure it is.
fn is_listed_between(voltage_v: f64) -> bool {
    let is = |nominal: NominalVoltage| (voltage_v / nominal.between_v - 1.0).abs() <= NOMINAL_TOLERANCE;
    nominal_voltages().filter(|nominal| nominal.to_ground_v.is_some()).any(is)
}

fn delta_grounded(circuit: &Circuit) -> Option<Finding> {
    let contradicts = circuit.stated == VoltageStated::Delta && circuit.grounding == Grounding::EffectivelyGrounded;
    contradicts.then(|| finding::stop(Circuits::DeltaGrounded { circuit: circuit.name.clone() }))
}

// ------------------------------------------------------------------------------------------------------------ wires

fn phases(site: &Site, index: usize, circuit: &Circuit) -> Option<Finding> {
    let name = || circuit.name.clone();
    let Some(phases) = circuit.phases else {
        return Some(finding::stop(Circuits::PhasesMissing { circuit: name() }));
    };
    let (stated, found) = (phases.count(), of_kind(site, WireKind::Phase { circuit: index }).len());
    if found < stated {
        return Some(finding::stop(Circuits::FewerPhases { circuit: name(), stated, found }));
    }
    (found > stated).then(|| finding::caution(Circuits::MorePhases { circuit: name(), stated, found }))
}

fn neutral(site: &Site, index: usize, circuit: &Circuit) -> Vec<Finding> {
    let name = || circuit.name.clone();
    let carriers = |of: usize| of_kind(site, WireKind::Neutral { circuit: of });
    let missing = |of: &Circuit| finding::stop(Circuits::NeutralWireMissing { circuit: name(), of: of.name.clone() });
    match circuit.neutral {
        None => vec![finding::stop(Circuits::NeutralMissing { circuit: name() })],
        Some(NeutralHere::Own) if carriers(index).is_empty() => vec![missing(circuit)],
        Some(NeutralHere::Own) => Vec::new(),
        Some(NeutralHere::Shared(of)) if carriers(of).is_empty() => {
            vec![missing(site.circuits.get(of).unwrap_or(circuit))]
        }
        Some(NeutralHere::Shared(_)) => Vec::new(),
        Some(NeutralHere::None) => {
            let there = |wire: &&Wire| Circuits::NeutralThere { circuit: name(), wire: wire.name.clone() };
            let mut found: Vec<Finding> = carriers(index).iter().map(|wire| finding::stop(there(wire))).collect();
            if circuit.phases == Some(Phases::SinglePhaseTap) {
                found.push(finding::stop(Circuits::TapWithoutReturn { circuit: name() }));
            }
            found
        }
    }
}

/// The wires of this kind that run along the line: those that pass the hole, or all of them where none does. Jumpers, drops and
/// guys do not count.
fn of_kind(site: &Site, kind: WireKind) -> Vec<&Wire> {
    let wires = site.wires.iter().enumerate();
    let all: Vec<&Wire> = wires
        .filter(|(index, wire)| wire.kind == kind && !site.branch_wires.contains(index))
        .map(|(_, wire)| wire)
        .collect();
    let passing: Vec<&Wire> = all.iter().copied().filter(|wire| passes(wire, site.hole.at)).collect();
    if passing.is_empty() { all } else { passing }
}

/// The point of a span's line nearest to `place` in plan lies between its supports.
pub(super) fn passes(wire: &Wire, place: DVec3) -> bool {
    wire.spans.iter().any(|span| {
        let (from, along) = (span.from.truncate(), (span.to - span.from).truncate());
        let share = (place.truncate() - from).dot(along) / along.length_squared();
        (0.0..=1.0).contains(&share)
    })
}
