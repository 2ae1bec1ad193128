//! The basis of work, in words.

use super::Words;
use crate::finding::Rules;

const NOMINAL: &str = "Ask the line's owner for the nominal voltage and state it.";

/// Distances are in meters, whatever is asked for.
pub(super) fn words(fact: &Rules) -> Words {
    match fact {
        Rules::WireUnknown { wire } => Words::new(
            format!("Wire {wire} is not in the site, so no approach distance can be looked up for it."),
            "",
            "",
        ),
        Rules::CircuitUnknown { wire } => Words::new(
            format!("{wire} belongs to a circuit that is not in the site, so its voltage is not known."),
            NOMINAL,
            "",
        ),
        Rules::VoltageUnusable { voltage_v } => Words::new(
            format!(
                "A nominal phase-to-phase voltage above zero is needed to look up an approach distance, not {voltage_v} V."
            ),
            NOMINAL,
            "",
        ),
        Rules::VoltageAboveTable { table, voltage_v, limit_v } => Words::new(
            format!(
                "{:.1} kV is above {table}, which ends at {:.0} kV: the line's owner or an engineer sets the distance.",
                voltage_v / 1e3,
                limit_v / 1e3
            ),
            "",
            format!("29 CFR {table}"),
        ),
        Rules::AltitudeOutsideTable { altitude_m } => {
            let message =
                format!("The altitude of {altitude_m:.0} m is outside 1910.269 Table R-5, which ends at 6000 m.");
            match altitude_m.is_finite() {
                true => Words::new(message, "", "29 CFR 1910.269 Table R-5"),
                false => Words::new(message, "State the altitude of the work above mean sea level.", ""),
            }
        }
        Rules::TableNotForObject { voltage_v } => Words::new(
            format!(
                "At {:.1} kV the phase-to-phase column of Table R-7 does not hold where a large conductive object, such as a pole, \
                 is in the gap: an engineering analysis sets the distance.",
                voltage_v / 1e3
            ),
            "",
            "",
        ),
        Rules::OwnDistanceUnusable { distance_m } => Words::new(
            format!(
                "The scene's own distance of {distance_m} m cannot be used: it must be a number of metres, zero or more."
            ),
            "",
            "",
        ),
        Rules::TableUnreadable { table, fault } => {
            Words::new(format!("Table {table} cannot be read: {fault}."), "", "")
        }
        Rules::RouteNeedsDerrick { crane } => Words::new(
            format!(
                "The route of work is a digger derrick's, but {crane} has no pole guides and no auger: a crane that sets a pole is \
                 under the crane rules."
            ),
            "Choose another route of work, or a digger derrick.",
            "29 CFR 1926.1400(c)(4) (recalled in part; read the current text)",
        ),
        Rules::OwnDistanceBelowRule { own_m, rule_m, row, circuit } => Words::new(
            format!(
                "The scene's own distance of {own_m:.2} m is less than the {rule_m:.2} m of {row} for {circuit} between phases; the \
                 greater one holds."
            ),
            "Leave the scene's own distance out, or make it at least the rule's.",
            format!("29 CFR {row}"),
        ),
        Rules::ResidualGapUnusable => Words::new(
            "The gap that must remain even between covers is not a number of metres, zero or more.",
            "State it, for example 4 in.",
            "",
        ),
        Rules::ResidualGapZero => Words::new(
            "No gap is demanded between covers: cover is for brush contact, and nothing keeps the pole from leaning on it.",
            "State the gap that must remain even between covers.",
            "ASTM F712, significance and use",
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Rules> {
    let name = || "feeder".to_owned();
    vec![
        Rules::WireUnknown { wire: 7 },
        Rules::CircuitUnknown { wire: name() },
        Rules::VoltageUnusable { voltage_v: 0.0 },
        Rules::VoltageAboveTable { table: "1910.269 Table R-6", voltage_v: 900e3, limit_v: 800e3 },
        Rules::AltitudeOutsideTable { altitude_m: 7000.0 },
        Rules::AltitudeOutsideTable { altitude_m: f64::NAN },
        Rules::TableNotForObject { voltage_v: 115e3 },
        Rules::OwnDistanceUnusable { distance_m: -1.0 },
        Rules::TableUnreadable { table: "R-6", fault: "line 3".to_owned() },
        Rules::RouteNeedsDerrick { crane: name() },
        Rules::OwnDistanceBelowRule { own_m: 0.5, rule_m: 0.67, row: "Table R-6".to_owned(), circuit: name() },
        Rules::ResidualGapUnusable,
        Rules::ResidualGapZero,
    ]
}
