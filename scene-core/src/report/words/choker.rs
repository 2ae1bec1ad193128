//! What bounds the choker's heights, in words.

use super::length;
use crate::quantity::show::Units;
use crate::rigging::ChokerWhy;

/// What bounds the choker's heights, or why there are none.
pub fn words(why: &ChokerWhy, units: Units) -> String {
    let m = |m: f64| length(m, units);
    match *why {
        ChokerWhy::OverTheWires { rope, need_m } => format!(
            "{}, over the highest wire with the pole at its depth: the choke at least {} above the butt",
            if rope { "wire rope from the choke up" } else { "hook on non-conductive rigging" },
            m(need_m)
        ),
        ChokerWhy::UnderTheWires { above_choke_m, butt_lift_m, limit_m } => format!(
            "rigging, block and boom head ({} above the choke) under the lowest wire with the butt carried {} high: the choke at \
             most {} above the butt",
            m(above_choke_m),
            m(butt_lift_m),
            m(limit_m)
        ),
        ChokerWhy::ThroughTheOpening { opening_m, hook_m } => format!(
            "the opening of {} takes hook and line, which need {}: any height that hangs butt-heavy",
            m(opening_m),
            m(hook_m)
        ),
        ChokerWhy::OpeningTooNarrow { opening_m, hook_m, ref over } => format!(
            "the opening of {} does not take the hook, which needs {}; {}",
            m(opening_m),
            m(hook_m),
            words(over, units)
        ),
        ChokerWhy::NotANumber => "the pole's heights are not numbers".to_owned(),
        ChokerWhy::NoRoom { least_m, highest_m } => {
            format!("1 ft above the balance point is {}, the choke's highest place is {}", m(least_m), m(highest_m))
        }
        ChokerWhy::TooHigh { need_m, highest_m } => {
            format!("the choke would have to be {} above the butt, its highest place is {}", m(need_m), m(highest_m))
        }
        ChokerWhy::NoneUnderTheWires { least_m, limit_m } => format!(
            "the choke must be at {} or higher to hang butt-heavy, {} or lower to stay under the wires",
            m(least_m),
            m(limit_m)
        ),
    }
}
