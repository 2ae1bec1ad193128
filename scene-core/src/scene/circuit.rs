//! Circuits: the nominal voltage as the owner says it, grounding, and which wires of the circuit are here.

use super::fault::FaultKind;
use super::names::Names;
use super::value::{List, Value};
use crate::quantity::{Quantity, QuantityFault, Voltage};
use crate::site::{self, NeutralHere, Phases, VoltageStated};

const LOW: &str = "50 V";
const HIGH: &str = "800 kV";

pub(super) fn circuits(list: &List<'_>) -> Vec<site::Circuit> {
    let names = Names::of(list, "a circuit");
    let read = |circuit: &Value<'_>| {
        circuit.fields("a circuit", |f| {
            let name = f.text("name");
            let (voltage_v, stated) = voltage(&f.need("voltage"));
            let circuit = site::Circuit {
                name,
                voltage_v,
                stated,
                grounding: f.need("grounding").word([
                    ("effectively_grounded", site::Grounding::EffectivelyGrounded),
                    ("ungrounded", site::Grounding::Ungrounded),
                ]),
                phases: f.may("phases").map(|value| {
                    value.word([
                        ("three", Phases::Three),
                        ("two_phase_tap", Phases::TwoPhaseTap),
                        ("single_phase_tap", Phases::SinglePhaseTap),
                    ])
                }),
                neutral: f.may("neutral").map(|value| neutral(&value, &names)),
            };
            f.note();
            circuit
        })
    };
    let circuits = list.items.iter().map(read).collect();
    list.named_once("the circuit");
    circuits
}

fn neutral(value: &Value<'_>, circuits: &Names<'_>) -> NeutralHere {
    match value.variant(&["own", "none", "shared"]) {
        Some("shared") => circuits.find(&value.one()).map_or(NeutralHere::None, NeutralHere::Shared),
        Some("own") => {
            value.alone();
            NeutralHere::Own
        }
        Some(_) => {
            value.alone();
            NeutralHere::None
        }
        None => NeutralHere::None,
    }
}

/// "7.2/12.47 kV", "12.47 kV", or "4.8 kV delta".
fn voltage(value: &Value<'_>) -> (f64, VoltageStated) {
    let kind = || format!("both voltages, such as 7.2/12.47 kV, or one and the word delta, {LOW} to {HIGH}");
    value.noted(|record, path| record.kind(path, kind()));
    let said = value.quoted(|| "a voltage in quotes, such as 7.2/12.47 kV".to_owned()).unwrap_or_default();
    let figure = |text: &str| match Quantity::<Voltage>::parse(text) {
        Ok(quantity) => {
            value.check_band::<Voltage>(text, [quantity.si()], LOW, HIGH);
            quantity.si()
        }
        Err(fault) => {
            value.fault_if(value.node().is_some(), || FaultKind::Quantity { found: said.to_owned(), fault });
            f64::NAN
        }
    };
    let trimmed = said.trim();
    let delta = trimmed.len().checked_sub(5).and_then(|at| trimmed.split_at_checked(at));
    let delta = delta.filter(|(_, word)| word.eq_ignore_ascii_case("delta")).map(|(rest, _)| rest.trim_end());
    match (delta, trimmed.split_once('/')) {
        (Some(_), Some(_)) => {
            value.shape("one voltage before the word delta, such as 4.8 kV delta");
            (f64::NAN, VoltageStated::Delta)
        }
        (Some(one), None) => (figure(one), VoltageStated::Delta),
        (None, Some((first, second))) => {
            let second_v = figure(second);
            let first = first.trim().trim_end_matches(['Y', 'y']);
            // "7.2/12.47 kV": the unit stands once.
            let without_unit = matches!(Quantity::<Voltage>::parse(first), Err(QuantityFault::NoUnit { .. }));
            let unit = second.trim_start_matches(|c: char| c.is_ascii_digit() || ". ".contains(c));
            let first_v = figure(&if without_unit { format!("{first} {unit}") } else { first.to_owned() });
            pair(first_v.min(second_v), first_v.max(second_v))
        }
        (None, None) => (figure(said), VoltageStated::OneFigure),
    }
}

/// Both figures in volts, and the voltage between phases that holds. Where they do not agree, the greater one.
fn pair(to_ground_v: f64, between_v: f64) -> (f64, VoltageStated) {
    let stated = VoltageStated::Both { to_ground_v, between_v };
    let holds = if stated.figures_agree() { between_v } else { between_v.max(to_ground_v * 3_f64.sqrt()) };
    (holds, stated)
}
