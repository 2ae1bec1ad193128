//! What a digger derrick has besides a crane's boom and winch.

use super::measure::ascending;
use super::value::Value;
use crate::quantity::{Angle, Length, Ratio};
use crate::site;

pub(super) fn derrick(value: &Value<'_>) -> site::Derrick {
    value.fields("the digger derrick's gear", |f| {
        let derrick = site::Derrick {
            guides: guides(&f.need("guides")),
            auger: auger(&f.need("auger")),
            insulated_tip_m: insulated_tip_m(&f.need("insulated_tip")),
        };
        f.note();
        derrick
    })
}

/// The arms at the boom's tip that hold a pole upright.
fn guides(value: &Value<'_>) -> site::PoleGuides {
    value.fields("the pole guides", |f| {
        let guides = site::PoleGuides {
            along_m: f.si::<Length>("along", "-3 ft", "3 ft"),
            below_m: f.si::<Length>("below", "-3 ft", "3 ft"),
            reach_m: f.si::<Length>("reach", "0 in", "5 ft"),
            catch_m: f.si::<Length>("catch", "0 in", "5 ft"),
            width_m: f.si::<Length>("width", "6 in", "10 ft"),
            height_m: f.si::<Length>("height", "1 in", "5 ft"),
            beyond_m: f.si::<Length>("beyond", "1 in", "5 ft"),
            holds_m: f.bracket::<Length>("holds", "2 in", "4 ft"),
            tilt: f.bracket::<Angle>("tilt", "-30 deg", "180 deg"),
        };
        f.note();
        guides
    })
}

/// A flight on a Kelly bar that hangs from the boom, or is stowed back along it.
fn auger(value: &Value<'_>) -> site::Auger {
    value.fields("the auger", |f| {
        let along_m = f.si::<Length>("along", "3 ft", "60 ft");
        let below_m = f.si::<Length>("below", "-5 ft", "5 ft");
        let left_m = f.si::<Length>("left", "-5 ft", "5 ft");
        let length = f.measure::<Length>("length", "3 ft", "40 ft");
        let flight_length = f.measure::<Length>("flight_length", "1 ft", "20 ft");
        let flight_diameter = f.measure::<Length>("flight_diameter", "4 in", "6 ft");
        let bar_diameter = f.measure::<Length>("bar_diameter", "1 in", "2 ft");
        let most_lean = f.si::<Ratio>("most_lean", "0 %", "20 %");
        f.note();
        ascending([&flight_length, &length]);
        ascending([&bar_diameter, &flight_diameter]);
        site::Auger {
            along_m,
            below_m,
            left_m,
            length_m: length.si(),
            flight_length_m: flight_length.si(),
            flight_radius_m: flight_diameter.si() / 2.0,
            bar_radius_m: bar_diameter.si() / 2.0,
            most_lean,
        }
    })
}

/// From the boom's tip back.
fn insulated_tip_m(value: &Value<'_>) -> Option<f64> {
    match value.variant(&["absent", "known"]) {
        Some("known") => Some(value.one().measure::<Length>("6 in", "30 ft").si()),
        found => {
            if found.is_some() {
                value.alone();
            }
            None
        }
    }
}
