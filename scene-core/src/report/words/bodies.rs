//! What may strike what, in words.

use super::{Words, show_length};
use crate::finding::{Bodies, BodyGap, KeepOff};
use crate::quantity::show::{Round, Units};

pub(super) fn words(fact: &Bodies, units: Units) -> Words {
    const UNDER_A_LOAD: &str = "29 CFR 1926.1425, people under a load (from memory)";
    let elsewhere =
        |name: &str| format!("Give {name} a place that the load does not pass over, or another way for the load.");
    match fact {
        Bodies::Undecided { gap } => {
            Words::new(message(fact, gap, units), "Give the motion more room, or split the step.", gap.rule.clone())
        }
        Bodies::Strikes { gap } | Bodies::MayStrike { gap } | Bodies::Short { gap } => {
            Words::new(message(fact, gap, units), keep_off(gap.keep_off), gap.rule.clone())
        }
        Bodies::LoadOverPerson { load, person } => Words::new(
            format!("{load} may pass over {person} while it is on the hook."),
            elsewhere(person),
            UNDER_A_LOAD,
        ),
        Bodies::InFallZone { person, pole_m, is_public } => Words::new(
            format!(
                "{person} stands where the pole may fall: nearer to its butt than its length of {}.",
                show_length(*pole_m, units, Round::Up)
            ),
            if *is_public {
                format!("Keep {person} out of the fall zone while the pole is on the hook.")
            } else {
                format!("Give {person} a place farther away, or say why he is needed there.")
            },
            "29 CFR 1926.1425(b) to (e), the fall zone (from memory); the circle is common practice",
        ),
        Bodies::InTwoPlaces { person, place } => Words::new(
            format!("{person} comes to his place {place} before he leaves the one before."),
            "State for each place the step after which he stands there and the step before which he leaves.",
            "",
        ),
    }
}

fn message(fact: &Bodies, gap: &BodyGap, units: Units) -> String {
    let up = |m: f64| show_length(m, units, Round::Up);
    let BodyGap { body, other, low_m, allowance_m, required_m, .. } = gap;
    let (near, allowance) = (show_length(low_m.max(0.0), units, Round::Down), up(*allowance_m));
    let missing = up(required_m + allowance_m - low_m);
    match fact {
        Bodies::Undecided { .. } => {
            format!("The gap of {body} to {other} could not be proven either way: {near} at least.")
        }
        Bodies::Strikes { .. } => {
            format!("{body} strikes {other} as the motion is stated, allowances of {allowance} not counted.")
        }
        Bodies::Short { .. } => format!(
            "{body} may come to {near} from {other}; less allowances of {allowance} that is {missing} short of the {} required.",
            up(*required_m)
        ),
        _ => format!(
            "{body} may strike {other}: the gap of {near} is no more than the allowances of {allowance}; {missing} is missing."
        ),
    }
}

fn keep_off(keep_off: KeepOff) -> &'static str {
    match keep_off {
        KeepOff::Counterweight => "Keep the load farther out, or swing it round the other side.",
        KeepOff::Carrier => {
            "Set the machine up elsewhere, or lay the pole and lead the load away from where it stands."
        }
        KeepOff::Holder => {
            "Hold the phase from another place, or lead machine and load away from the arm and its truck."
        }
        KeepOff::Boom => {
            "Boom down or out so that the load hangs farther from the boom, leave more hoist line out, or choke so that less of the \
             pole stands beside the boom."
        }
        KeepOff::ChokedPole => {
            "Hoist hook and sling above the pole and all that is on it before anything swings or booms, or move them straight away from it."
        }
        KeepOff::BucketTruck => "Stow the bucket before the load is taken, or set the bucket truck up elsewhere.",
        KeepOff::OtherLift => "Bring one of them away before the other comes there, or set them up farther apart.",
        KeepOff::Standing => "Work from another place, boom up, or raise the load before it passes.",
        KeepOff::NoGo => "Work from another place, or carry the load round it.",
        KeepOff::Person => "Place the person elsewhere, or keep the machine's sweep away from there.",
        KeepOff::Ground => "Boom up, or work from higher ground.",
        KeepOff::GroundTraveling => "Hoist the butt higher before it travels.",
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Bodies> {
    let gap = |keep_off| {
        Box::new(BodyGap {
            body: "pole".to_owned(),
            other: "boom".to_owned(),
            low_m: 0.3,
            allowance_m: 0.4,
            required_m: 0.5,
            keep_off,
            rule: "no contact".to_owned(),
        })
    };
    let (load, person) = (|| "pole".to_owned(), || "the signal person".to_owned());
    let mut examples = vec![
        Bodies::Undecided { gap: gap(KeepOff::Boom) },
        Bodies::MayStrike { gap: gap(KeepOff::Boom) },
        Bodies::Short { gap: gap(KeepOff::Boom) },
        Bodies::LoadOverPerson { load: load(), person: person() },
        Bodies::InFallZone { person: person(), pole_m: 13.7, is_public: true },
        Bodies::InFallZone { person: person(), pole_m: 13.7, is_public: false },
        Bodies::InTwoPlaces { person: person(), place: 2 },
    ];
    examples.extend(KeepOff::ALL.map(|keep_off| Bodies::Strikes { gap: gap(keep_off) }));
    examples
}
