//! How the pole is rigged, in words.

use super::{Words, length, mass};
use crate::finding::Rigging;
use crate::quantity::show::Units;
use crate::quantity::unit::POUND_N;

pub(super) fn words(fact: &Rigging, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    const CHOKE: &str = "ASME B30.9: rated choker capacity by angle of choke";
    const STATICS: &str = "statics; common practice: two tag lines at the butt";
    // In both systems, whichever is asked for.
    let force = |newtons: &f64| format!("{:.0} lb ({newtons:.0} N)", newtons / POUND_N);
    match fact {
        Rigging::Unusable { what, need, got } => Words::new(
            format!("The rigging cannot be judged: {what} of the rigging must be {need}, got {got}."),
            "State the sling as its tag and the rigger give it.",
            "29 CFR 1926.251: slings are used within their tag",
        ),
        Rigging::ChokerOffPole { choker_m, pole_m } => Words::new(
            format!("The choker is placed at {}, but the pole is {} long.", m(choker_m), m(pole_m)),
            "Place the choker on the pole.",
            "geometry",
        ),
        Rigging::ChokerBelowBalance { choker_m, balance_m, choke_at_m } => Words::new(
            format!(
                "The choker at {} is not above the balance point, which may be as high as {}: the pole would turn over.",
                m(choker_m),
                m(balance_m)
            ),
            format!("Choke at {} or higher.", m(choke_at_m)),
            "common practice: the pole is picked butt-heavy",
        ),
        Rigging::ChokerAboveJoint { choker_m, joint_m } => Words::new(
            format!(
                "The choker at {} is above the unlocked slip joint at {}: the lower section could drop.",
                m(choker_m),
                m(joint_m)
            ),
            "Lock the joint before the lift, or choke below it.",
            "common practice: never lift above an unlocked slip joint",
        ),
        Rigging::ChokerNearBalance { choker_m, balance_m, tilt, choke_at_m } => Words::new(
            format!(
                "The choker at {} is less than 1 ft above where the balance point may be, {}: the pole hangs up to {:.0} degrees \
                 from plumb.",
                m(choker_m),
                m(balance_m),
                tilt.to_degrees()
            ),
            format!("Choke at {} or higher, or weigh the pole's balance by trial.", m(choke_at_m)),
            "common practice: 1 to 3 ft above balance to carry a pole, more to thread one",
        ),
        Rigging::NoStopAboveChoke => Words::new(
            "Nothing stops the choker from riding up the smooth tube toward the small end.",
            "Fit a stop above the choke, and double-wrap.",
            "common practice: a stop bolt or cleat above the choke on smooth tube",
        ),
        Rigging::TagLineNotStated { need_n } => Words::new(
            format!(
                "Holding the pole plumb in still air takes up to {} at the butt; what it is held with is not stated.",
                force(need_n)
            ),
            "State the most that hands or tag line hold the butt with.",
            STATICS,
        ),
        Rigging::TagLineShort { need_n, hold_n } => Words::new(
            format!(
                "Holding the pole plumb in still air takes up to {} at the butt; it is held with {}.",
                force(need_n),
                force(hold_n)
            ),
            "Choke higher, or hold the butt with more.",
            STATICS,
        ),
        Rigging::ChokerOnCover { choker_m, on, from_m, to_m } => Words::new(
            format!("The choker at {} bears on {on}, which reaches from {} to {}.", m(choker_m), m(from_m), m(to_m)),
            "Move the choker, or what it bears on, at least 6 in apart.",
            "common practice: never choke over cover, coating, crossarm or hardware",
        ),
        Rigging::ChokeNotStated => Words::new(
            "The angle of choke is not stated; the sling counts with its least share, 49 percent of its choker rating.",
            "Choke the pole, measure the angle between the two legs at the choke, and state it.",
            CHOKE,
        ),
        Rigging::ChokeAssumed { angle } => Words::new(
            format!(
                "The angle of choke is stated as {:.0} degrees, which gives the sling its full choker rating, but nobody is \
                 named who measured it.",
                angle.to_degrees()
            ),
            "Measure it on the choked pole and state who, how, and when; or state 119 degrees, which gives 87 percent.",
            CHOKE,
        ),
        Rigging::SlingBelowLoad { sling_kg, load_kg } => Words::new(
            format!(
                "The sling carries {} as choked; the pole may weigh {}.",
                mass(*sling_kg, units),
                mass(*load_kg, units)
            ),
            "Use a stronger sling, or let the choke open to its free-hanging angle.",
            "29 CFR 1926.251; ASME B30.9 angle of choke",
        ),
        Rigging::Conducts => Words::new(
            "The rigging is wire rope: it conducts, marks the pole, and counts as bare metal near every wire.",
            "Use a dry synthetic sling that is long enough to keep the hook out of the slot.",
            "common practice: non-conductive rigging where it passes a phase",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Rigging> {
    vec![
        Rigging::Unusable { what: "angle of choke", need: "0 to 180 degrees", got: 200.0 },
        Rigging::ChokerOffPole { choker_m: 16.0, pole_m: 15.0 },
        Rigging::ChokerBelowBalance { choker_m: 6.0, balance_m: 7.0, choke_at_m: 7.3 },
        Rigging::ChokerAboveJoint { choker_m: 8.0, joint_m: 7.0 },
        Rigging::ChokerNearBalance { choker_m: 7.1, balance_m: 7.0, tilt: 0.3, choke_at_m: 7.3 },
        Rigging::NoStopAboveChoke,
        Rigging::TagLineNotStated { need_n: 400.0 },
        Rigging::TagLineShort { need_n: 400.0, hold_n: 200.0 },
        Rigging::ChokeNotStated,
        Rigging::ChokeAssumed { angle: 2.3 },
        Rigging::ChokerOnCover { choker_m: 8.0, on: "arm".to_owned(), from_m: 7.9, to_m: 8.1 },
        Rigging::SlingBelowLoad { sling_kg: 500.0, load_kg: 700.0 },
        Rigging::Conducts,
    ]
}
