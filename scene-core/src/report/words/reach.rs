//! Where the boom does not come, in words.

use super::{GEOMETRY, Words, angle, length};
use crate::finding::Reach;
use crate::quantity::show::Units;

const NEARER: &str = "Set the crane up nearer, or extend the boom.";
const FARTHER: &str = "Set the crane up farther away, or retract the boom.";

pub(super) fn words(fact: &Reach, units: Units) -> Words {
    let m = |m: &f64| length(*m, units);
    let (message, fix) = match fact {
        Reach::TooNear { radius_m, least_m } => {
            (format!("Radius {} is nearer than the boom comes ({}).", m(radius_m), m(least_m)), FARTHER)
        }
        Reach::TooFar { radius_m, most_m } => {
            (format!("Radius {} is farther than the boom reaches ({}).", m(radius_m), m(most_m)), NEARER)
        }
        Reach::BoomAngle { radius_m, angle: needed, least_m, most_m } => (
            format!(
                "Radius {} needs a boom angle of {}; with this boom length radii from {} to {} can be had.",
                m(radius_m),
                angle(*needed),
                m(least_m),
                m(most_m)
            ),
            if radius_m > most_m { NEARER } else { FARTHER },
        ),
        Reach::BoomLength { length_m, low_m, high_m } => (
            format!("Boom length {} is outside {} to {}.", m(length_m), m(low_m), m(high_m)),
            "Use a length that the boom has.",
        ),
        Reach::Swing { swing, low, high } => (
            format!("Swing {} is outside the crane's {} to {}.", angle(*swing), angle(*low), angle(*high)),
            "Turn the carrier or set up elsewhere.",
        ),
    };
    Words::new(message, fix, GEOMETRY)
}

#[cfg(test)]
pub(super) fn examples() -> Vec<Reach> {
    vec![
        Reach::TooNear { radius_m: 2.0, least_m: 3.0 },
        Reach::TooFar { radius_m: 30.0, most_m: 25.0 },
        Reach::BoomAngle { radius_m: 30.0, angle: 0.1, least_m: 3.0, most_m: 25.0 },
        Reach::BoomLength { length_m: 40.0, low_m: 10.0, high_m: 30.0 },
        Reach::Swing { swing: 4.0, low: -1.0, high: 1.0 },
    ]
}
