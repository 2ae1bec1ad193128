//! The covers as stated, in words.

use super::Words;
use crate::finding::{ClassSource, Cover, Inadequate};

const ORDER: &str = "common practice: on from the nearest and lowest outward, off in reverse";
const RUBBER: &str = "29 CFR 1910.137 Table I-4";
const PLASTIC: &str = "ASTM F712 (class values from memory)";
const OWN: &str = "the planner's own catalog of cover classes";

/// Stations and lengths are in meters, whatever is asked for.
pub(super) fn words(fact: &Cover) -> Words {
    let handled = |put_on: &bool| if *put_on { "put on" } else { "taken off" };
    match fact {
        Cover::CircuitUnknown { cover, on } => Words::new(
            format!("{cover} is on {on}, whose circuit is not known, so that no class can be said to suffice."),
            "Name a wire and a circuit of the scene.",
            "",
        ),
        Cover::ClassTooLow { cover, make, source, on, circuit, why } => Words::new(
            format!(
                "{cover} ({make}) on {on} does not suffice for {circuit}: {}. It counts as no cover.",
                inadequate(why)
            ),
            "Use cover of a class that is rated for the voltage between phases.",
            match source {
                ClassSource::Rubber => RUBBER,
                ClassSource::Plastic => PLASTIC,
                ClassSource::Own => OWN,
            },
        ),
        Cover::GlovesAboveClass { cover, circuit, voltage_v } => Words::new(
            format!(
                "{cover} is to be put on with gloves, and no class of gloves is rated for {circuit} at {:.2} kV.",
                voltage_v / 1e3
            ),
            "Put it on with hot sticks.",
            RUBBER,
        ),
        Cover::PieceUnusable { cover, piece_m, overlap_m, length_m } => Words::new(
            format!(
                "{cover}: pieces of {piece_m:.2} m that lap {overlap_m:.2} m do not make up a length of {length_m:.2} m. It counts \
                 as no cover."
            ),
            "State a length above zero and a lap shorter than a piece.",
            "",
        ),
        Cover::JointOpen { cover } => Words::new(
            format!("{cover}: its pieces do not lap, so that every joint is bare."),
            "State how far each piece laps the next.",
            "common practice: pieces lap at every joint",
        ),
        Cover::BeyondEnd { cover, on_pole, from_m, to_m, whole_from_m, whole_to_m } => {
            let end = if *on_pole { "the pole's end" } else { "the wire's last support" };
            Words::new(
                format!(
                    "{cover} is stated from {from_m:.2} to {to_m:.2} m, beyond {end} ({whole_from_m:.2} to {whole_to_m:.2} m)."
                ),
                "Check from where its place is counted.",
                "",
            )
        }
        Cover::StepUnknown { cover, put_on, step } => Words::new(
            format!("{cover} is {} in step {step}, and there is no such step.", handled(put_on)),
            "Name a step of the sequence.",
            "",
        ),
        Cover::HandledWhileMoving { cover, put_on, step, name } => Words::new(
            format!(
                "{cover} is {} in step {step} ({name}), which is no step of work for people: nothing else may move meanwhile.",
                handled(put_on)
            ),
            "Give it a step of work of its own.",
            "common practice: one thing moves at a time",
        ),
        Cover::NeverOn { cover } => Words::new(
            format!("{cover}: taken off before any step has passed with it on: it never counts."),
            "Take it off in a later step.",
            "",
        ),
        Cover::OffUnderLoad { cover } => Words::new(
            format!("{cover}: taken off while the pole still hangs on the hook."),
            "Take it off after the release.",
            "common practice: cover stays until the pole stands by itself and the hook is free",
        ),
        Cover::OnUnderLoad { cover } => Words::new(
            format!("{cover}: put on while the pole already hangs on the hook."),
            "Put it on before the pole is lifted.",
            "common practice: cover first, then lift",
        ),
        Cover::HandsNotProtected { cover } => Words::new(
            format!("{cover} is handled on the pole beside live phases, and what protects the hands is not stated."),
            "State `hands` of the guard: gloves and sleeves with their class, or the stick.",
            "29 CFR 1910.269(q)(1) [1926.964(a)]: who handles the pole wears rated equipment or uses insulated tools",
        ),
        Cover::Gap { on, from_m, to_m } => Words::new(
            format!(
                "Between two covers on {on} it is bare from {from_m:.2} to {to_m:.2} m (or they only meet and do not lap)."
            ),
            "Lap the covers, or cover what is between them.",
            "common practice: no gaps at insulators, dead ends and joints",
        ),
        Cover::OneSided { pole } => {
            let (covered, bare) = if *pole { ("pole is", "no wire is") } else { ("wires are", "the pole is not") };
            Words::new(
                format!("The {covered} covered and {bare}: cover on one side does not lessen any distance here."),
                "Cover both, or keep the whole distance.",
                "ASTM F712, significance and use; common practice of double cover",
            )
        }
        Cover::OrderOn { higher, lower } => Words::new(
            format!("{higher} goes on before {lower}, which is on a lower wire: the lower one is reached past first."),
            "",
            ORDER,
        ),
        Cover::OrderOff { lower, higher } => Words::new(
            format!("{lower} comes off before {higher}, which is on a higher wire and is then worked over bare wire."),
            "",
            ORDER,
        ),
        Cover::WoodNoInsulation => Words::new(
            "The wood pole counts as conductive: damp, treatment and the ground lead on it make wood no insulation.",
            "",
            "",
        ),
        Cover::RestsOnRecalled { covers } => Words::new(
            format!(
                "A gap below the required distance rests on {}, whose rated voltage is recalled, not read in the standard.",
                covers.join(", ")
            ),
            "Compare the class on the label with the current standard before the work.",
            "ASTM F712 (from memory)",
        ),
        Cover::ClassRecalled => Words::new(
            "The rated voltages of plastic guards are recalled, not read in the standard: compare them with the label.",
            "",
            PLASTIC,
        ),
        Cover::ClassOwn { covers } => Words::new(
            format!(
                "The rated voltages of {} are from the planner's own catalog: compare them with the label.",
                covers.join(", ")
            ),
            "",
            OWN,
        ),
        Cover::DoesNotCount => Words::new(
            "By this route of work cover does not lessen the required distance.",
            "On the closer-by-agreement route, answer `load_cover_rule` with the rule that lets it.",
            "29 CFR 1926.1408 Table A; 1926.1410(c)(2)",
        ),
    }
}

fn inadequate(why: &Inadequate) -> String {
    let rated = |limit_v: &f64, between: &str, voltage_v: &f64| {
        let (limit, voltage) = (limit_v / 1e3, voltage_v / 1e3);
        format!("it is rated {limit:.1} kV {between}, and the circuit has {voltage:.2} kV")
    };
    match why {
        Inadequate::UnknownClass { make } => format!("{make} is no class of the standard"),
        Inadequate::PhaseToPhase { limit_v, voltage_v } => rated(limit_v, "phase to phase", voltage_v),
        Inadequate::ToGround { limit_v, voltage_v } => rated(limit_v, "to ground", voltage_v),
        Inadequate::Voltage { voltage_v } => format!("the circuit's voltage of {voltage_v} V cannot be used"),
        Inadequate::TableUnreadable { table, fault } => format!("Table {table} cannot be read: {fault}."),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Cover> {
    let cover = || "hose".to_owned();
    let on = || "B".to_owned();
    let too_low = |source, why| Cover::ClassTooLow {
        cover: cover(),
        make: "rubber class 2".to_owned(),
        source,
        on: on(),
        circuit: "feeder".to_owned(),
        why,
    };
    vec![
        Cover::CircuitUnknown { cover: cover(), on: on() },
        too_low(ClassSource::Rubber, Inadequate::UnknownClass { make: "class 9".to_owned() }),
        too_low(ClassSource::Rubber, Inadequate::PhaseToPhase { limit_v: 17_000.0, voltage_v: 25_000.0 }),
        too_low(ClassSource::Plastic, Inadequate::ToGround { limit_v: 17_000.0, voltage_v: 25_000.0 }),
        too_low(ClassSource::Own, Inadequate::Voltage { voltage_v: 0.0 }),
        too_low(
            ClassSource::Plastic,
            Inadequate::TableUnreadable { table: "cover_plastic", fault: "line 3".to_owned() },
        ),
        Cover::GlovesAboveClass { cover: cover(), circuit: "feeder".to_owned(), voltage_v: 46_000.0 },
        Cover::PieceUnusable { cover: cover(), piece_m: 1.0, overlap_m: 1.0, length_m: 5.0 },
        Cover::JointOpen { cover: cover() },
        Cover::BeyondEnd {
            cover: cover(),
            on_pole: true,
            from_m: 12.0,
            to_m: 15.0,
            whole_from_m: 0.0,
            whole_to_m: 13.7,
        },
        Cover::BeyondEnd {
            cover: cover(),
            on_pole: false,
            from_m: -9.0,
            to_m: 9.0,
            whole_from_m: -5.0,
            whole_to_m: 50.0,
        },
        Cover::StepUnknown { cover: cover(), put_on: true, step: 30 },
        Cover::StepUnknown { cover: cover(), put_on: false, step: 30 },
        Cover::HandledWhileMoving { cover: cover(), put_on: true, step: 3, name: "Swing".to_owned() },
        Cover::NeverOn { cover: cover() },
        Cover::OffUnderLoad { cover: cover() },
        Cover::OnUnderLoad { cover: cover() },
        Cover::Gap { on: on(), from_m: 1.0, to_m: 2.0 },
        Cover::OneSided { pole: true },
        Cover::OneSided { pole: false },
        Cover::OrderOn { higher: on(), lower: cover() },
        Cover::OrderOff { lower: on(), higher: cover() },
        Cover::WoodNoInsulation,
        Cover::ClassRecalled,
        Cover::RestsOnRecalled { covers: vec!["guard".to_owned(), "second guard".to_owned()] },
        Cover::HandsNotProtected { cover: "guard".to_owned() },
        Cover::ClassOwn { covers: vec![cover(), on()] },
        Cover::DoesNotCount,
    ]
}
