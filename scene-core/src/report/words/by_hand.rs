//! A pole that people guide by hand past one that stands, in words.

use super::{Words, length, show_length};
use crate::finding::ByHand;
use crate::quantity::show::{Round, Units};

const HANDLING: &str = "29 CFR 1910.269(q)(1) [1926.964(a)], handling poles; the figures are common practice";

pub(super) fn words(fact: &ByHand, units: Units) -> Words {
    match fact {
        ByHand::TooFewGuides => Words::new(
            "A pole guided by hand needs two people with the task tag_line, each with a place during every step of it.",
            "Name two people who guide, and say where they stand.",
            HANDLING,
        ),
        ByHand::HandsUnprotected => Words::new(
            "The gloves that guide the pole are of too low a class for the line, or no class is made for its voltage.",
            "State gloves of the class for the voltage, or insulated tools.",
            HANDLING,
        ),
        ByHand::NotHanging => Words::new(
            "Hands guide a pole only while it hangs and one motion is made at a time.",
            "State steps in which the pole hangs, none of them combined.",
            HANDLING,
        ),
        ByHand::TooHigh { butt_m, limit_m } => Words::new(
            format!("The butt is {} above grade: hands do not hold it.", show_length(*butt_m, units, Round::Up)),
            format!("Guide by hand from {} down, in a step of its own.", length(*limit_m, units)),
            HANDLING,
        ),
        ByHand::Relied { beside, swing_m } => Words::new(
            format!(
                "Past {beside} the pole is guided by hand: its gap rests on hands that let it swing no more than {}.",
                length(*swing_m, units)
            ),
            "Lower only while both guides hold it; stop when either lets go.",
            HANDLING,
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<ByHand> {
    vec![
        ByHand::TooFewGuides,
        ByHand::HandsUnprotected,
        ByHand::NotHanging,
        ByHand::TooHigh { butt_m: 2.5, limit_m: 1.2 },
        ByHand::Relied { beside: "pole 7".to_owned(), swing_m: 0.1 },
    ]
}
