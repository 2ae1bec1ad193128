//! Capacity and floats, in words.

use super::{Words, angle, length, mass, show_force, show_length};
use crate::finding::{Capacity, CapacityFigure, LimitKind, OutsideChart};
use crate::quantity::show::{Round, Units, show_pressure};

const NEVER_ABOVE: &str = "29 CFR 1926.1417(o): never above rated capacity (from memory)";
const STRONGER_SLING: &str = "Use a stronger sling, or let the choke open to its free-hanging angle.";

pub(super) fn words(fact: &Capacity, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    let used = |step: &str, load_kg: &f64, by: &LimitKind, rated_kg: &f64, percent: &f64| {
        let (load, by, rated) = (mass(*load_kg, units), limit_kind(by, units), mass(*rated_kg, units));
        format!("{step}: up to {load} on {by}, rated {rated}: {percent:.0} percent")
    };
    let beyond = |step: &str, what: &str, value: String, limit: String| {
        let message = format!("{step}: {what} {value} is beyond the crane's {limit}.");
        Words::new(message, "Move the crane, or change the path.", "the maker's limits")
    };
    match fact {
        Capacity::NoMotion => Words::new("No motion of the crane was held against its chart.", "", ""),
        Capacity::FigureMissing { what } => {
            let what = figure(*what);
            Words::new(
                format!("The crane's capacity cannot be judged without {what}."),
                format!("State {what}."),
                NEVER_ABOVE,
            )
        }
        Capacity::OutsideChart { step, why } => Words::new(
            format!("{step}: {}; nothing is rated there.", outside_chart(why)),
            "Move the crane, or change boom length or path so that the whole motion is on the chart.",
            format!("{NEVER_ABOVE}; the maker's load chart"),
        ),
        Capacity::OverRated { step, load_kg, limit_kind, rated_kg, percent } => Words::new(
            used(step, load_kg, limit_kind, rated_kg, percent) + ".",
            match limit_kind {
                LimitKind::Chart { .. } => "Bring the crane nearer, shorten the boom, or take a larger crane.",
                LimitKind::LinePull => "Reeve more parts of line.",
                LimitKind::HookBlock => "Use a block of higher capacity.",
                LimitKind::Sling => STRONGER_SLING,
            },
            "29 CFR 1926.1417(o)(1): never above rated capacity (from memory)",
        ),
        Capacity::NearRated { step, load_kg, limit_kind, rated_kg, percent } => Words::new(
            used(step, load_kg, limit_kind, rated_kg, percent) + "; the weight must be known, not estimated.",
            "Weigh the pole at the trial pick before it goes on.",
            "common practice; 29 CFR 1926.1417(o)(3): weight verified above 75 percent (from memory)",
        ),
        Capacity::BoomAngle { step, angle: at, limit } => beyond(step, "a boom angle of", angle(*at), angle(*limit)),
        Capacity::BoomLength { step, length_m, limit_m } => beyond(step, "a boom length of", m(length_m), m(limit_m)),
        Capacity::Swing { step, swing, limit } => beyond(step, "a swing of", angle(*swing), angle(*limit)),
        Capacity::LinePullIdeal { percent } => Words::new(
            format!(
                "Line pull times parts is taken without friction in the sheaves; {percent:.0} percent of it is used."
            ),
            "Take the line pull for the parts reeved from the maker's table.",
            "common practice: each sheave takes a few percent (from memory)",
        ),
        Capacity::SpreadNotStated => Words::new(
            "Where the floats stand is not stated, so the chart may be for a wider stance, and no float was weighed.",
            "State `outriggers` of the crane.",
            "29 CFR 1926.1404(q) (recalled; read the current text); the load chart holds for its own stance",
        ),
        Capacity::ChartSpreadNotStated => Words::new(
            "The load chart does not say for which spread of the floats it was made.",
            "State `floats` of the chart: along and across, as the maker prints them.",
            "the load chart holds for its own stance",
        ),
        Capacity::SpreadNarrow { is_across, stands_m, chart_m } => Words::new(
            format!(
                "The floats stand {} apart {} the carrier; the chart was made for {}.",
                show_length(*stands_m, units, Round::Down),
                if *is_across { "across" } else { "along" },
                show_length(*chart_m, units, Round::Up)
            ),
            "Extend the outriggers fully, or take the maker's chart for this stance.",
            "the load chart holds for its own stance",
        ),
        Capacity::FloatsUnknown => Words::new(
            "The floats' forces cannot be computed from what is stated of the outriggers.",
            "State distances, masses, mats and bearing above zero.",
            "",
        ),
        Capacity::FloatsLift => Words::new(
            "Beyond its floats: the weights of crane and load may come to act outside the floats, so that a pair of them lifts.",
            "Swing, boom and extend less far, or set the outriggers wider.",
            "equilibrium of a rigid body on supports that only press",
        ),
        Capacity::FloatBearing { float, force_n, pressure_pa, bears_pa } => {
            let pressure = |pa: &f64, round| show_pressure(*pa, Units::Us, round);
            Words::new(
                format!(
                    "The {float} float may press with {}, {} under its mat; the ground is stated to bear {}.",
                    show_force(*force_n, units, Round::Up),
                    pressure(pressure_pa, Round::Up),
                    pressure(bears_pa, Round::Down)
                ),
                "Lay larger mats, carry the load nearer, or find ground that bears more.",
                "29 CFR 1926.1402(b): the ground must support the equipment (from memory)",
            )
        }
    }
}

/// "load chart, over the rear, row 25.00 ft, boom 60.00 ft".
pub(super) fn limit_kind(limit_kind: &LimitKind, units: Units) -> String {
    match limit_kind {
        LimitKind::Chart { sector, radius_m, boom_m } => {
            format!("load chart, {sector}, row {}, boom {}", length(*radius_m, units), length(*boom_m, units))
        }
        LimitKind::LinePull => "line pull".to_owned(),
        LimitKind::HookBlock => "hook block".to_owned(),
        LimitKind::Sling => "sling".to_owned(),
    }
}

/// Why the chart rates nothing; radii and lengths in meters, whatever is asked for.
pub(super) fn outside_chart(why: &OutsideChart) -> String {
    match why {
        OutsideChart::Unusable { what } => format!("the chart has no {what}"),
        OutsideChart::NotANumber => "the position on the chart is not a number".to_owned(),
        OutsideChart::Swing { swing_deg } => {
            format!("the chart covers no swing of {swing_deg:.1} degrees from over the front")
        }
        OutsideChart::Radius { sector, radius_m, from_m, to_m } => {
            format!("radius {radius_m:.2} m is outside the chart ({from_m:.2} to {to_m:.2} m) in sector {sector}")
        }
        OutsideChart::BoomLength { sector, length_m, from_m, to_m } => {
            format!("boom length {length_m:.2} m is outside the chart ({from_m:.2} to {to_m:.2} m) in sector {sector}")
        }
        OutsideChart::Blank { sector, radius_m, length_m } => {
            format!(
                "the chart prints nothing at radius {radius_m:.2} m with {length_m:.2} m of boom in sector {sector}"
            )
        }
    }
}

fn figure(what: CapacityFigure) -> &'static str {
    match what {
        CapacityFigure::PartsOfLine => "the parts of line",
        CapacityFigure::LinePull => "the line pull of one part",
        CapacityFigure::LineWeight => "the weight of the hoist line",
        CapacityFigure::BlockCapacity => "the hook block's capacity",
        CapacityFigure::BlockMass => "the hook block's mass",
        CapacityFigure::RiggingMass => "the rigging's mass",
        CapacityFigure::Sling => "the sling's rated choker capacity and angle of choke",
        CapacityFigure::Deductions => "the chart's deductions",
        CapacityFigure::RadiusGrowth => "the radius growth",
        CapacityFigure::Placing => "the placing allowance",
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Capacity> {
    let (step, sector) = (|| "Swing".to_owned(), || "all round".to_owned());
    let rulers = || {
        [
            LimitKind::Chart { sector: sector(), radius_m: 8.0, boom_m: 20.0 },
            LimitKind::LinePull,
            LimitKind::HookBlock,
            LimitKind::Sling,
        ]
    };
    let outside = [
        OutsideChart::Unusable { what: "rows".to_owned() },
        OutsideChart::NotANumber,
        OutsideChart::Swing { swing_deg: 90.0 },
        OutsideChart::Radius { sector: sector(), radius_m: 20.0, from_m: 3.0, to_m: 18.0 },
        OutsideChart::BoomLength { sector: sector(), length_m: 30.0, from_m: 10.0, to_m: 25.0 },
        OutsideChart::Blank { sector: sector(), radius_m: 20.0, length_m: 20.0 },
    ];
    let over =
        |limit_kind| Capacity::OverRated { step: step(), load_kg: 900.0, limit_kind, rated_kg: 800.0, percent: 112.5 };
    let near =
        |limit_kind| Capacity::NearRated { step: step(), load_kg: 900.0, limit_kind, rated_kg: 1000.0, percent: 90.0 };
    let mut examples = vec![
        Capacity::NoMotion,
        Capacity::BoomAngle { step: step(), angle: 1.5, limit: 1.4 },
        Capacity::BoomLength { step: step(), length_m: 30.0, limit_m: 25.0 },
        Capacity::Swing { step: step(), swing: 2.0, limit: 1.0 },
        Capacity::LinePullIdeal { percent: 60.0 },
        Capacity::SpreadNotStated,
        Capacity::ChartSpreadNotStated,
        Capacity::SpreadNarrow { is_across: true, stands_m: 5.0, chart_m: 6.1 },
        Capacity::SpreadNarrow { is_across: false, stands_m: 5.0, chart_m: 6.1 },
        Capacity::FloatsUnknown,
        Capacity::FloatsLift,
        Capacity::FloatBearing { float: "front left", force_n: 5e4, pressure_pa: 2e5, bears_pa: 1e5 },
    ];
    examples.extend(CapacityFigure::ALL.map(|what| Capacity::FigureMissing { what }));
    examples.extend(outside.map(|why| Capacity::OutsideChart { step: step(), why }));
    examples.extend(rulers().map(over));
    examples.extend(rulers().map(near));
    examples
}
