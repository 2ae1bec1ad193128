//! Wind limits and swing, in words.

use super::{Words, length, show_length};
use crate::finding::Wind;
use crate::quantity::show::{Round, Units, show_wind};

const MAKER: &str =
    "29 CFR 1926.1417(n): operations are adjusted for wind (recalled; read the current text); the maker's limit";
const PENDULUM: &str = "mechanics of a pendulum whose support moves (any textbook of vibration)";

pub(super) fn words(fact: &Wind, units: Units) -> Words {
    let up = |m_s: &f64| show_wind(*m_s, units, Round::Up);
    let down = |m_s: &f64| show_wind(*m_s, units, Round::Down);
    match fact {
        Wind::StopWorkMissing => Words::new(
            "The wind at which work stops is not stated, so nothing says up to which wind the work must be proven.",
            "State `stop_work_wind` with who or what sets it.",
            MAKER,
        ),
        Wind::CraneLimitMissing { crane } => Words::new(
            format!("The wind up to which {crane} may work is not stated."),
            "State `wind_limit` of the machine with the page of its manual or chart.",
            MAKER,
        ),
        Wind::CasesBelowStopWork { most_m_s, stop_work_m_s } => Words::new(
            format!(
                "Work stops at {}, but the strongest wind that was looked at is {}.",
                down(stop_work_m_s),
                up(most_m_s)
            ),
            "Add a weather case with the wind at which work stops, or stop work at the wind that was looked at.",
            "the work is proven up to the wind at which it stops",
        ),
        Wind::OverCraneLimit { weather, crane, wind_m_s, limit_m_s } => Words::new(
            format!(
                "The wind of {weather}, {}, is above that up to which {crane} may work, {}.",
                up(wind_m_s),
                down(limit_m_s)
            ),
            "Stop work at a lower wind.",
            MAKER,
        ),
        Wind::SwingAllowanceShort { at_butt, swing_m, allowed_m, ramp_s } => Words::new(
            format!(
                "When a motion starts or stops {}, the load swings by up to {} at {}; the swing allowance there is {}.",
                match ramp_s {
                    Some(seconds) => format!("over {seconds:.0} s"),
                    None => "at once".to_owned(),
                },
                show_length(*swing_m, units, Round::Up),
                if *at_butt { "the butt" } else { "the hook" },
                length(*allowed_m, units)
            ),
            "Go slower, bring each motion up to its rate over a stated time (`ramp`), or allow for more swing.",
            PENDULUM,
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Wind> {
    let crane = || "Northfell 40".to_owned();
    vec![
        Wind::StopWorkMissing,
        Wind::CraneLimitMissing { crane: crane() },
        Wind::CasesBelowStopWork { most_m_s: 4.0, stop_work_m_s: 9.0 },
        Wind::OverCraneLimit { weather: "gale".to_owned(), crane: crane(), wind_m_s: 15.0, limit_m_s: 9.0 },
        Wind::SwingAllowanceShort { at_butt: true, swing_m: 0.5, allowed_m: 0.3, ramp_s: None },
        Wind::SwingAllowanceShort { at_butt: false, swing_m: 0.5, allowed_m: 0.3, ramp_s: Some(4.0) },
    ]
}
