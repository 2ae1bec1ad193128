//! Why a step cannot be done, in words.

use super::{GEOMETRY, Words, angle, length};
use crate::finding::{NotANumber, Sequence};
use crate::quantity::show::Units;

pub(super) fn words(fact: &Sequence, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    const BEGINS: &str = "Let the sequence begin, and only begin, with where the pole lies and the boom's length.";
    let (message, fix) = match fact {
        Sequence::NoSteps => {
            return Words::new("The sequence has no steps, so no motion was checked.", "", "");
        }
        Sequence::EndsOnHook => {
            let message =
                "The sequence ends with the pole on the hook, or with the choker on: what comes after was not checked.";
            let fix = "Go on until the pole stands, the hook is free and the boom is away; or lay the pole down.";
            return Words::new(message, fix, "common practice: no load is left on the hook");
        }
        Sequence::RestNotStated => {
            let message = "No step brings the boom from its rest to where the sequence begins, or back: that motion was not checked.";
            let fix = "An observer watches the boom against every wire on its way from its rest and back.";
            return Words::new(message, fix, "29 CFR 1910.269(p)(4): the distance holds whenever the machine moves");
        }
        Sequence::HoistTheOtherWay { hoist, height_m, from_m } => {
            let message = format!(
                "The step says {}, but {} is {} where it is now ({}).",
                if *hoist { "hoist" } else { "lower" },
                m(height_m),
                if *hoist { "below" } else { "above" },
                m(from_m)
            );
            return Words::new(message, "Say hoist or lower as it goes.", "");
        }
        Sequence::CraneRateMissing => (
            "A rate of the crane (swing, boom, extend, hoist, turn) is missing or not above zero.".to_owned(),
            "State all five rates, the fastest the operator may use.",
        ),
        Sequence::NotANumber { what } => {
            let (message, fix) = not_a_number(*what);
            (message.to_owned(), fix)
        }
        Sequence::ChokerOffPole { choker_m } => {
            (format!("The choker at {} is not on the pole.", m(choker_m)), "Put the choker between butt and tip.")
        }
        Sequence::StartMissing => ("The sequence does not begin with a start.".to_owned(), BEGINS),
        Sequence::StartNotFirst => ("A start stands within the sequence.".to_owned(), BEGINS),
        Sequence::NothingToCombine => (
            "The step is combined, but its action runs one control at a time and was checked so.".to_owned(),
            "Leave out `combined`, or let one carry or boom away do all that moves at once.",
        ),
        Sequence::PolePlaceMissing => (
            "Where the pole lies is not said: butt and the point its tip is toward must be two places.".to_owned(),
            "State both places on the ground.",
        ),
        Sequence::GroundTooSteep { slope } => {
            (format!("The ground under the lying pole rises by {}.", angle(*slope)), "Lay the pole on gentler ground.")
        }
        Sequence::TwoBlock { hoist_m, least_m } => (
            format!(
                "The hook block would come to {} of the head sheave; {} is the least before it two-blocks.",
                m(hoist_m),
                m(least_m)
            ),
            "Use more boom, a steeper boom, a lower choke or shorter rigging, or do not raise so far.",
        ),
        Sequence::TwoBlockAtStart { hoist_m } => (
            format!("Over the lying pole the hoist line is only {} long.", m(hoist_m)),
            "Use more boom or shorter rigging.",
        ),
        Sequence::TakenBefore => ("The load was taken before.".to_owned(), "Take the load once."),
        Sequence::HookNotOverPole { off_m } => (
            format!("The hook is {} from plumb over the choke, so the load would be dragged.", m(off_m)),
            "Bring the hook over the choke before the load is taken.",
        ),
        Sequence::NothingToUpend => {
            ("There is no pole on the hook that lies on the ground.".to_owned(), "Take the load first, upend once.")
        }
        Sequence::WillNotUpend { hang } => (
            format!("The pole hangs {} from plumb, which hoisting from where it lies does not come to.", angle(*hang)),
            "Put the choker higher above the balance point.",
        ),
        Sequence::NotUpended => (
            "The pole is on the hook with its butt on the ground.".to_owned(),
            "Upend the pole before it is carried about.",
        ),
        Sequence::ButtInHole => (
            "The pole's butt is in the hole, so the load cannot be moved across.".to_owned(),
            "Hoist the butt above the ground first.",
        ),
        Sequence::NothingToCarry => (
            "There is no pole on the hook to be carried.".to_owned(),
            "Take the load and upend it before it is carried.",
        ),
        Sequence::ButtBelowGround { by_m } => (
            format!("The butt would be {} below the ground at the hole while the load is moved across.", m(by_m)),
            "Hoist before the load is moved across.",
        ),
        Sequence::HookBelowGround => {
            ("The hook would be below the ground.".to_owned(), "Give the hook a height above it.")
        }
        Sequence::LoadNotOverHole { off_m } => (
            format!("The load line is {} from the middle of the hole.", m(off_m)),
            "Bring the load line over the hole before lowering into it.",
        ),
        Sequence::HoleTooShallow { butt_m, hole_m } => (
            format!("The butt would be {} deep, but the hole is {} deep.", m(butt_m), m(hole_m)),
            "Dig deeper or set the pole shallower.",
        ),
        Sequence::ButtInWall { by_m } => (
            format!("The butt stands {} into the wall of the hole.", m(by_m)),
            "Bring the load line nearer to the hole's middle, turn the pole, or use a wider hole.",
        ),
        Sequence::NothingToTurn => {
            ("The pole does not hang, so it cannot be turned.".to_owned(), "Turn the pole while it hangs.")
        }
        Sequence::TurnsIntoWall { by_m } => (
            format!("Turned in the hole the butt would come {} into its wall.", m(by_m)),
            "Turn the pole before it is lowered, or bring the load line over the hole's middle.",
        ),
        Sequence::NotInHole => {
            ("The pole is not in its hole.".to_owned(), "Lower the pole to its setting depth before it is released.")
        }
        Sequence::NotAtDepth { butt_m, setting_m } => (
            format!("The butt is {} deep; the setting depth is {}.", m(butt_m), m(setting_m)),
            "Lower the pole to its setting depth before it is released.",
        ),
        Sequence::BoomAwayLoaded => {
            ("The pole is still on the hook.".to_owned(), "Release the pole before the boom goes away.")
        }
    };
    Words::new(message, fix, GEOMETRY)
}

fn not_a_number(what: NotANumber) -> (&'static str, &'static str) {
    match what {
        NotANumber::Site => (
            "A measure of the crane, the hole, the pole or its rigging is not a number that a job site can have.",
            "Look for a missing or mistyped measure.",
        ),
        NotANumber::PartsOfLine => ("The crane has no parts of line.", "State the parts of line."),
        NotANumber::Height => ("The height is not a number.", "State the height."),
        NotANumber::HookHeight => ("The hook's height is not a number.", "State the hook's height."),
        NotANumber::Facing => ("The way to face is not a number.", "State the bearing to face."),
        NotANumber::Step => ("A place or measure of the step is not a number.", "State it."),
        NotANumber::Minutes => ("The work's minutes are not a number.", "State its minutes."),
        NotANumber::Guides => {
            ("A measure of the guides, or where they are to hold the pole, is not a number.", "State it.")
        }
        NotANumber::Auger => ("A measure of the auger, or the depth to dig, is not a number above zero.", "State it."),
        NotANumber::BucketTruck => ("A place or measure of the bucket truck is not a number.", "State it."),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Sequence> {
    let mut examples = vec![
        Sequence::NoSteps,
        Sequence::EndsOnHook,
        Sequence::RestNotStated,
        Sequence::CraneRateMissing,
        Sequence::ChokerOffPole { choker_m: 20.0 },
        Sequence::StartMissing,
        Sequence::StartNotFirst,
        Sequence::NothingToCombine,
        Sequence::PolePlaceMissing,
        Sequence::GroundTooSteep { slope: 0.6 },
        Sequence::TwoBlock { hoist_m: 0.5, least_m: 1.0 },
        Sequence::TwoBlockAtStart { hoist_m: 0.5 },
        Sequence::TakenBefore,
        Sequence::HookNotOverPole { off_m: 1.0 },
        Sequence::NothingToUpend,
        Sequence::WillNotUpend { hang: 0.4 },
        Sequence::NotUpended,
        Sequence::ButtInHole,
        Sequence::NothingToCarry,
        Sequence::ButtBelowGround { by_m: 0.3 },
        Sequence::HoistTheOtherWay { hoist: true, height_m: 1.0, from_m: 2.0 },
        Sequence::HoistTheOtherWay { hoist: false, height_m: 2.0, from_m: 1.0 },
        Sequence::HookBelowGround,
        Sequence::LoadNotOverHole { off_m: 0.5 },
        Sequence::HoleTooShallow { butt_m: 2.5, hole_m: 2.0 },
        Sequence::ButtInWall { by_m: 0.1 },
        Sequence::NothingToTurn,
        Sequence::TurnsIntoWall { by_m: 0.1 },
        Sequence::NotInHole,
        Sequence::NotAtDepth { butt_m: 1.5, setting_m: 2.0 },
        Sequence::BoomAwayLoaded,
    ];
    examples.extend(NotANumber::ALL.map(|what| Sequence::NotANumber { what }));
    examples
}
