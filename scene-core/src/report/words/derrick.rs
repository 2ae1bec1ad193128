//! Why a digger derrick cannot do a step, in words.

use super::{GEOMETRY, Words, angle, length};
use crate::finding::Derrick;
use crate::quantity::show::Units;

pub(super) fn words(fact: &Derrick, units: Units) -> Words {
    let m = |m: f64| length(m, units);
    let (message, fix) = match *fact {
        Derrick::GuidePlayMissing => {
            let message = "How far the pole can be off in the guides, and out of plumb, is not said.";
            let fix = "State the allowances `guide_play` and `guide_lean`.";
            return Words::new(message, fix, "allowances of the scene");
        }
        Derrick::AugerOutOfPlumb { low_m, high_m, hole_m, most_m } => {
            let message = format!(
                "While the auger digs its pin is {} to {} from the slew axis, the hole {}: {} out of plumb is the most.",
                m(low_m),
                m(high_m),
                m(hole_m),
                m(most_m)
            );
            let fix = format!(
                "Set the truck so that the hole is {} to {} from its slew axis.",
                m(high_m - most_m),
                m(low_m + most_m)
            );
            return Words::new(message, fix, GEOMETRY);
        }
        Derrick::GuidesTilt { tilt, low, high } => (
            format!(
                "To keep the pole plumb the guides would tilt {} from the boom; they tilt from {} to {}.",
                angle(tilt),
                angle(low),
                angle(high)
            ),
            "Use another boom length or another place for the truck.",
        ),
        Derrick::GuidesOffPole { low_m, high_m, pole_m } => (
            format!(
                "The guides would be at {} to {} from the butt; the pole is {} long.",
                m(low_m),
                m(high_m),
                m(pole_m)
            ),
            "Choke the pole elsewhere, or hoist less.",
        ),
        Derrick::GuidesDoNotFit { thin_m, thick_m, holds_low_m, holds_high_m } => (
            format!(
                "The pole is {} to {} thick where the guides hold it; they hold {} to {}.",
                m(thin_m),
                m(thick_m),
                m(holds_low_m),
                m(holds_high_m)
            ),
            "Hold the pole elsewhere, or use other guides.",
        ),
        Derrick::LineDrawnAside { aside_m, most_m } => (
            format!(
                "The guides would draw the winch line {} aside at the choke; over its length there {} is the most.",
                m(aside_m),
                m(most_m)
            ),
            "Choke on the face toward the boom, use longer rigging, or do not raise the choke so near the tip.",
        ),
        Derrick::NoGuides { ref crane } => {
            (format!("{crane} has no pole guides."), "Use a digger derrick, or leave the step out.")
        }
        Derrick::NothingForGuides => (
            "No pole hangs free on the winch line with its butt above the ground.".to_owned(),
            "Upend the pole, then bring it into the guides once.",
        ),
        Derrick::PoleNotAtGuides { off_m, catch_m } => (
            format!("The pole hangs {} from the middle of the guides; their arms take in {}.", m(off_m), m(catch_m)),
            "Turn the pole so that its choke faces the boom, or choke nearer to the guides.",
        ),
        Derrick::NoAuger { ref crane } => {
            (format!("{crane} has no auger."), "Use a digger derrick, or dig by other means before the lift.")
        }
        Derrick::LineNotFree => {
            ("The winch line is not free, or the pole stands already.".to_owned(), "Dig before the load is taken.")
        }
        Derrick::DugTooShallow { dug_m, hole_m } => {
            (format!("{} is dug, but the hole is to be {} deep.", m(dug_m), m(hole_m)), "Dig to the hole's depth.")
        }
        Derrick::AugerTooNarrow { auger_m, hole_m } => (
            format!("The auger is {} wide, the hole {}.", m(auger_m), m(hole_m)),
            "Use a wider flight, or state the hole as it will be.",
        ),
        Derrick::AugerPin { point_m, rise_m, low, high } => (
            format!(
                "To have the auger's point {} {} the ground at the hole its pin would be {} from the foot pin's height, which boom \
                 angles from {} to {} do not give.",
                m(point_m.abs()),
                if point_m < 0.0 { "below" } else { "above" },
                m(rise_m),
                angle(low),
                angle(high)
            ),
            "Set the truck higher or lower, or use a longer or shorter bar.",
        ),
        Derrick::HoleTooNear => (
            "The hole is too near to the slew axis for the auger beside the boom.".to_owned(),
            "Set the truck up farther away.",
        ),
    };
    Words::new(message, fix, GEOMETRY)
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Derrick> {
    let crane = || "Derrick".to_owned();
    vec![
        Derrick::GuidesTilt { tilt: 1.0, low: 0.1, high: 0.9 },
        Derrick::GuidesOffPole { low_m: 12.0, high_m: 14.0, pole_m: 13.0 },
        Derrick::GuidesDoNotFit { thin_m: 0.2, thick_m: 0.5, holds_low_m: 0.15, holds_high_m: 0.4 },
        Derrick::LineDrawnAside { aside_m: 1.5, most_m: 1.0 },
        Derrick::NoGuides { crane: crane() },
        Derrick::NothingForGuides,
        Derrick::GuidePlayMissing,
        Derrick::PoleNotAtGuides { off_m: 0.9, catch_m: 0.6 },
        Derrick::NoAuger { crane: crane() },
        Derrick::LineNotFree,
        Derrick::DugTooShallow { dug_m: 1.5, hole_m: 2.0 },
        Derrick::AugerTooNarrow { auger_m: 0.4, hole_m: 0.6 },
        Derrick::AugerPin { point_m: -2.0, rise_m: 1.0, low: 0.0, high: 1.2 },
        Derrick::AugerPin { point_m: 0.3, rise_m: 1.0, low: 0.0, high: 1.2 },
        Derrick::HoleTooNear,
        Derrick::AugerOutOfPlumb { low_m: 4.0, high_m: 6.0, hole_m: 5.0, most_m: 0.5 },
    ]
}
