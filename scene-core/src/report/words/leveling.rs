//! How a crane stands on its pads, in words.

use super::{Words, known};
use crate::finding::Leveling;
use crate::quantity::show::{Round, Units, show_feet_inches, show_percent, show_pressure};

const LEVEL: &str = "29 CFR 1926.1402(b), ASME B30.5: level within the maker's limit (from memory)";

pub(super) fn words(fact: &Leveling, units: Units) -> Words {
    let tall = |m: f64, round| show_feet_inches(m, known(m, units), round);
    let percent = |share: f64, round| show_percent(share, round);
    match fact {
        Leveling::PadNotSurveyed { float } => Words::new(
            format!("The {float} pad stands where no spot elevations say how the ground lies."),
            "Take more spots around the pads, or set up elsewhere.",
            LEVEL,
        ),
        Leveling::BlockingShort { float, need_m, has_m } => Words::new(
            format!(
                "The {float} pad needs up to {} of jack and blocking to level the crane; {} is there.",
                tall(*need_m, Round::Up),
                tall(*has_m, Round::Down)
            ),
            "Bring more blocking, bench the ground, or set up where it falls less.",
            LEVEL,
        ),
        Leveling::BlockingNotStated { float, need_m } => Words::new(
            format!(
                "The ground falls under the pads: {float} needs up to {} of jack and blocking, and what there is, is not stated.",
                tall(*need_m, Round::Up)
            ),
            "State under outriggers, leveling, how much jack stroke and blocking there is.",
            LEVEL,
        ),
        Leveling::OutOfLevel { set_to, limit } => Words::new(
            format!(
                "The crane is set to {} of level; its chart holds to {}.",
                percent(*set_to, Round::Up),
                percent(*limit, Round::Down)
            ),
            "Level it better, by bubble and by the jacks, before any load.",
            LEVEL,
        ),
        Leveling::LimitNotStated { set_to } => Words::new(
            format!(
                "The crane is set to {} of level; how level its chart wants it is not stated.",
                percent(*set_to, Round::Up)
            ),
            "State the chart's limit of level.",
            LEVEL,
        ),
        Leveling::LevelNotStated { limit } => Words::new(
            format!(
                "The chart wants the crane within {} of level; how level it is set is not stated.",
                percent(*limit, Round::Down)
            ),
            "State how level the crew sets it, and by which bubble.",
            LEVEL,
        ),
        Leveling::BearingOnSlope { float, pressure_pa, bears_pa, slope } => Words::new(
            format!(
                "The {float} mat presses {} on ground that falls {}, which bears {} there.",
                show_pressure(*pressure_pa, known(*pressure_pa, units), Round::Up),
                percent(*slope, Round::Up),
                show_pressure(*bears_pa, known(*bears_pa, units), Round::Down)
            ),
            "Bench the ground level under the mat, use a larger mat, or set up elsewhere.",
            "Meyerhof 1953, load inclined to its footing (from memory)",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Leveling> {
    let float = "rear left";
    vec![
        Leveling::PadNotSurveyed { float },
        Leveling::BlockingShort { float, need_m: 0.3, has_m: 0.2 },
        Leveling::BlockingNotStated { float, need_m: 0.3 },
        Leveling::OutOfLevel { set_to: 0.02, limit: 0.01 },
        Leveling::LimitNotStated { set_to: 0.02 },
        Leveling::LevelNotStated { limit: 0.01 },
        Leveling::BearingOnSlope { float, pressure_pa: 90_000.0, bears_pa: 80_000.0, slope: 0.2 },
    ]
}
