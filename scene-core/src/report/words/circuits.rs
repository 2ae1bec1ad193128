//! Voltage, phases and neutral of a circuit, in words.

use super::Words;
use crate::finding::Circuits;
use crate::quantity::show::show_voltage;

const ASK: &str = "Ask the line's owner for both nominal voltages and state them, such as \"7.2/12.47 kV\".";
const LIST: &str = "ANSI C84.1, nominal system voltages";
const FOUND_OUT: &str = "29 CFR 1910.269(a)(4): nominal voltages are found out before the work";

pub(super) fn words(fact: &Circuits) -> Words {
    let kv = |v: &f64| show_voltage(*v);
    match fact {
        Circuits::OneFigure { circuit, voltage_v } => Words::new(
            format!("{circuit} is stated by one voltage, {}; it counts between phases.", kv(voltage_v)),
            ASK,
            FOUND_OUT,
        ),
        Circuits::OnlyToGround { circuit, voltage_v, between_v } => Words::new(
            format!(
                "{} is a voltage to ground: {circuit} may have {} between phases, and every distance would be that of a \
                 lower voltage.",
                kv(voltage_v),
                kv(between_v)
            ),
            ASK,
            LIST,
        ),
        Circuits::OnBothLists { circuit, voltage_v } => Words::new(
            format!(
                "{} of {circuit} may be between phases or to ground, or that of a delta: one figure does not say which.",
                kv(voltage_v)
            ),
            "Ask the line's owner. State both nominal voltages, such as \"7.2/12.47 kV\", or one with the word delta, such as \
             \"4.8 kV delta\".",
            LIST,
        ),
        Circuits::Unlisted { circuit, voltage_v } => Words::new(
            format!(
                "{} of {circuit} is not a nominal voltage between phases that is known for certain, and one figure does \
                 not say what it is.",
                kv(voltage_v)
            ),
            ASK,
            LIST,
        ),
        Circuits::UnlistedButSaid { circuit, voltage_v } => Words::new(
            format!("{} between phases of {circuit} is not on the list of nominal voltages.", kv(voltage_v)),
            "Ask the line's owner whether it is the nominal voltage.",
            LIST,
        ),
        Circuits::PairDisagrees { circuit, to_ground_v, between_v, holds_v } => Words::new(
            format!(
                "The two voltages of {circuit}, {} to ground and {} between phases, are not those of one circuit: between \
                 phases is 1.732 times to ground. {} counts between phases.",
                kv(to_ground_v),
                kv(between_v),
                kv(holds_v)
            ),
            ASK,
            "arithmetic of a three-phase circuit",
        ),
        Circuits::DeltaGrounded { circuit } => Words::new(
            format!("{circuit} is stated as a delta and as effectively grounded; it cannot be both."),
            "Ask the line's owner. A delta is `grounding: ungrounded`; a grounded wye has two voltages.",
            FOUND_OUT,
        ),
        Circuits::PhasesMissing { circuit } => Words::new(
            format!("How many phases of {circuit} are here is not stated, so a missing wire cannot be noticed."),
            "State `phases`: three, two_phase_tap or single_phase_tap.",
            FOUND_OUT,
        ),
        Circuits::FewerPhases { circuit, stated, found } => Words::new(
            format!(
                "{circuit} has {stated} phases here, but {found} of its phase wires pass the hole: wires are missing."
            ),
            "State every phase wire, or correct which wire belongs to which circuit. List jumpers and drops under `near`.",
            FOUND_OUT,
        ),
        Circuits::MorePhases { circuit, stated, found } => Words::new(
            format!("{circuit} has {stated} phases here, but {found} of its phase wires pass the hole."),
            "Correct `phases`, or which wire belongs to which circuit. List jumpers and drops under `near`.",
            FOUND_OUT,
        ),
        Circuits::NeutralMissing { circuit } => Words::new(
            format!("Whether the neutral of {circuit} is here is not stated."),
            "State `neutral`: own, none, or shared( … ) with the circuit whose neutral serves both.",
            FOUND_OUT,
        ),
        Circuits::NeutralWireMissing { circuit, of } => Words::new(
            match circuit == of {
                true => format!("The neutral of {circuit} is here, but no wire that passes the hole carries it."),
                false => format!("{circuit} shares the neutral of {of}, but no wire that passes the hole carries it."),
            },
            "State the neutral among the wires.",
            FOUND_OUT,
        ),
        Circuits::NeutralThere { circuit, wire } => Words::new(
            format!("{circuit} is stated to have no neutral here, but {wire} carries it."),
            "Correct `neutral`, or what the wire carries.",
            FOUND_OUT,
        ),
        Circuits::TapWithoutReturn { circuit } => Words::new(
            format!("{circuit} is a single-phase tap without a neutral: its second wire is missing."),
            "State the neutral; a tap of two phases is two_phase_tap.",
            FOUND_OUT,
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Circuits> {
    let circuit = || "Juniper 4".to_owned();
    vec![
        Circuits::OneFigure { circuit: circuit(), voltage_v: 12_470.0 },
        Circuits::OnlyToGround { circuit: circuit(), voltage_v: 7200.0, between_v: 12_470.0 },
        Circuits::OnBothLists { circuit: circuit(), voltage_v: 13_200.0 },
        Circuits::Unlisted { circuit: circuit(), voltage_v: 11_000.0 },
        Circuits::UnlistedButSaid { circuit: circuit(), voltage_v: 11_000.0 },
        Circuits::PairDisagrees { circuit: circuit(), to_ground_v: 7200.0, between_v: 13_800.0, holds_v: 13_800.0 },
        Circuits::DeltaGrounded { circuit: circuit() },
        Circuits::PhasesMissing { circuit: circuit() },
        Circuits::FewerPhases { circuit: circuit(), stated: 3, found: 2 },
        Circuits::MorePhases { circuit: circuit(), stated: 1, found: 2 },
        Circuits::NeutralMissing { circuit: circuit() },
        Circuits::NeutralWireMissing { circuit: circuit(), of: circuit() },
        Circuits::NeutralWireMissing { circuit: circuit(), of: "Meadow 1".to_owned() },
        Circuits::NeutralThere { circuit: circuit(), wire: "neutral".to_owned() },
        Circuits::TapWithoutReturn { circuit: circuit() },
    ]
}
