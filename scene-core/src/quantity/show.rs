//! SI values as text for people. Only this module chooses the units of a report.
//!
//! Each function takes a rounding. A number that must not look larger than it is (a gap, a capacity) is rounded
//! [`Down`](Round::Down). A number that must not look smaller (a load, a minimum approach distance) is rounded
//! [`Up`](Round::Up). All others are rounded to the nearest.

use super::unit::{FOOT_M, INCH_M, MPH_M_S, POUND_KG, POUND_N, POUND_PER_FT3, PSI_PA};
use std::f64::consts::TAU;

/// The system of units that a person reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Units {
    /// US customary units: feet, pounds, miles per hour.
    #[default]
    Us,
    /// SI units: meters, kilograms, newtons.
    Si,
    /// US units with SI in parentheses, for a reader whose units are not known.
    Both,
}

impl Units {
    /// The text in this system of units.
    fn say(self, us: impl Fn() -> String, si: impl Fn() -> String) -> String {
        match self {
            Self::Us => us(),
            Self::Si => si(),
            Self::Both => format!("{} ({})", us(), si()),
        }
    }
}

/// The direction in which a shown number is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Round {
    /// To the nearest shown digit.
    #[default]
    Nearest,
    /// Never above the value.
    Down,
    /// Never below the value.
    Up,
}

/// The text for a value that is NaN or infinite.
pub const NOT_KNOWN: &str = "not known";

/// Feet and inches to the quarter: "5 ft 3¼ in", "-1½ in". In SI, meters to two decimals: "10.80 m".
pub fn show_length(m: f64, units: Units, round: Round) -> String {
    units.say(|| feet_quarters(m, round), || number(m, 2, round, " m"))
}

/// Feet and whole inches: "12 ft 6 in", "-3 ft 8 in", "7 in". In SI, meters to two decimals: "3.81 m".
pub fn show_feet_inches(m: f64, units: Units, round: Round) -> String {
    units.say(|| feet_inches(m, round), || show_length(m, Units::Si, round))
}

/// Feet and whole inches.
fn feet_inches(m: f64, round: Round) -> String {
    let Some(inches) = rounded(m / INCH_M, 0, round) else {
        return NOT_KNOWN.to_owned();
    };
    let sign = if inches < 0.0 { "-" } else { "" };
    let (feet, rest) = ((inches.abs() / 12.0).floor(), inches.abs() % 12.0);
    match (feet > 0.0, rest > 0.0) {
        (true, true) => format!("{sign}{feet:.0} ft {rest:.0} in"),
        (true, false) => format!("{sign}{feet:.0} ft"),
        _ => format!("{sign}{rest:.0} in"),
    }
}

/// Feet and quarter inches.
fn feet_quarters(m: f64, round: Round) -> String {
    let Some(quarters) = rounded(m / INCH_M * 4.0, 0, round) else {
        return NOT_KNOWN.to_owned();
    };
    let sign = if quarters < 0.0 { "-" } else { "" };
    let (feet, rest) = ((quarters.abs() / 48.0).floor(), quarters.abs() % 48.0);
    let (inches, part) = ((rest / 4.0).floor(), rest % 4.0);
    let part =
        [(1.0, "¼"), (2.0, "½"), (3.0, "¾")].into_iter().find(|(of, _)| *of == part).map_or("", |(_, sign)| sign);
    let inches = if inches > 0.0 || part.is_empty() { format!("{inches:.0}{part}") } else { part.to_owned() };
    match (feet > 0.0, rest > 0.0) {
        (true, true) => format!("{sign}{feet:.0} ft {inches} in"),
        (true, false) => format!("{sign}{feet:.0} ft"),
        _ => format!("{sign}{inches} in"),
    }
}

/// A diameter, sag or overlap: "8.63 in", "219 mm".
pub fn show_small_length(m: f64, units: Units, round: Round) -> String {
    units.say(|| number(m / INCH_M, 2, round, " in"), || number(m * 1000.0, 0, round, " mm"))
}

/// A mass to the whole pound or kilogram: "2000 lb", "907 kg".
pub fn show_mass(kg: f64, units: Units, round: Round) -> String {
    units.say(|| number(kg / POUND_KG, 0, round, " lb"), || number(kg, 0, round, " kg"))
}

/// A force: "450 lbf", "2.00 kN".
pub fn show_force(n: f64, units: Units, round: Round) -> String {
    units.say(|| number(n / POUND_N, 0, round, " lbf"), || number(n / 1000.0, 2, round, " kN"))
}

/// An angle in degrees: "12.5 deg".
pub fn show_angle(radians: f64, round: Round) -> String {
    number(radians.to_degrees(), 1, round, " deg")
}

/// The bearing, clockwise from north, of a direction given in radians counterclockwise from east: "090 deg".
pub fn show_bearing(radians: f64) -> String {
    let Some(degrees) = rounded((TAU / 4.0 - radians).to_degrees(), 0, Round::Nearest) else {
        return NOT_KNOWN.to_owned();
    };
    format!("{:03.0} deg", degrees.rem_euclid(360.0))
}

/// A voltage: "12.47 kV", "480 V".
pub fn show_voltage(v: f64) -> String {
    if v.is_finite() && v.abs() < 1000.0 {
        return number(v, 0, Round::Nearest, " V");
    }
    number(v / 1000.0, 2, Round::Nearest, " kV")
}

/// A wind speed: "15 mph", "6.7 m/s".
pub fn show_wind(m_s: f64, units: Units, round: Round) -> String {
    units.say(|| number(m_s / MPH_M_S, 0, round, " mph"), || number(m_s, 1, round, " m/s"))
}

/// A time to the whole second: "2 min 30 s", "45 s".
pub fn show_duration(s: f64) -> String {
    let Some(seconds) = rounded(s, 0, Round::Nearest) else {
        return NOT_KNOWN.to_owned();
    };
    let sign = if seconds < 0.0 { "-" } else { "" };
    let (minutes, rest) = ((seconds.abs() / 60.0).floor(), seconds.abs() % 60.0);
    match (minutes > 0.0, rest > 0.0) {
        (true, true) => format!("{sign}{minutes:.0} min {rest:.0} s"),
        (true, false) => format!("{sign}{minutes:.0} min"),
        _ => format!("{sign}{rest:.0} s"),
    }
}

/// A density: "60.0 lb/ft3", "961 kg/m3".
pub fn show_density(kg_m3: f64, units: Units, round: Round) -> String {
    units.say(|| number(kg_m3 / POUND_PER_FT3, 1, round, " lb/ft3"), || number(kg_m3, 0, round, " kg/m3"))
}

/// A weight per length: "145.2 lb/1000ft", "2.12 N/m".
pub fn show_line_weight(n_per_m: f64, units: Units, round: Round) -> String {
    units.say(
        || number(n_per_m * 1000.0 * FOOT_M / POUND_N, 1, round, " lb/1000ft"),
        || number(n_per_m, 2, round, " N/m"),
    )
}

/// A pressure: "2000 psf", "95.8 kPa".
pub fn show_pressure(pa: f64, units: Units, round: Round) -> String {
    units.say(|| number(pa / PSI_PA * 144.0, 0, round, " psf"), || number(pa / 1000.0, 1, round, " kPa"))
}

/// A ratio as a percentage: "78.3 %".
pub fn show_percent(ratio: f64, round: Round) -> String {
    number(ratio * 100.0, 1, round, " %")
}

fn number(value: f64, decimals: u8, round: Round, unit: &str) -> String {
    match rounded(value, decimals, round) {
        Some(value) => format!("{value:.*}{unit}", usize::from(decimals)),
        None => NOT_KNOWN.to_owned(),
    }
}

/// `value` rounded to so many decimals; `None` when it is not finite. Never negative zero.
///
/// A value within a billionth of a step counts as on the step, so that 5 ft shows as 5.00 and not as 4.99.
fn rounded(value: f64, decimals: u8, round: Round) -> Option<f64> {
    let steps = 10_f64.powi(i32::from(decimals));
    let (scaled, slack) = (value * steps, 1e-9 * (value * steps).abs().max(1.0));
    let whole = match round {
        Round::Nearest => scaled.round(),
        Round::Down => (scaled + slack).floor(),
        Round::Up => (scaled - slack).ceil(),
    };
    (whole / steps).is_finite().then_some(whole / steps + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quarters_of_an_inch_are_rounded_to_the_careful_side() {
        let shown = |inches: f64, round| show_length(inches * INCH_M, Units::Us, round);
        assert_eq!(shown(63.3, Round::Down), "5 ft 3¼ in");
        assert_eq!(shown(63.3, Round::Up), "5 ft 3½ in");
        assert_eq!(shown(-1.1, Round::Down), "-1¼ in");
        assert_eq!([0.0, 0.25, 12.0, 12.75].map(|i| shown(i, Round::Nearest)), ["0 in", "¼ in", "1 ft", "1 ft ¾ in"]);
        assert_eq!(shown(f64::NAN, Round::Down), NOT_KNOWN);
        assert_eq!(show_length(1.238, Units::Si, Round::Down), "1.23 m");
    }

    #[test]
    fn lengths_show_in_feet_and_in_metres() {
        assert_eq!(show_length(10.0, Units::Us, Round::Nearest), "32 ft 9¾ in");
        assert_eq!(show_length(10.0, Units::Us, Round::Down), "32 ft 9½ in");
        assert_eq!(show_length(5.0 * FOOT_M, Units::Us, Round::Down), "5 ft");
        assert_eq!(show_length(5.0 * FOOT_M, Units::Us, Round::Up), "5 ft");
        assert_eq!(show_length(10.006, Units::Si, Round::Down), "10.00 m");
        assert_eq!(show_length(-0.001, Units::Si, Round::Nearest), "0.00 m");
        assert_eq!(show_length(f64::NAN, Units::Us, Round::Up), "not known");
        assert_eq!(show_length(f64::INFINITY, Units::Us, Round::Up), "not known");
    }

    #[test]
    fn feet_and_inches_carry_over() {
        assert_eq!(show_feet_inches(12.5 * FOOT_M, Units::Us, Round::Nearest), "12 ft 6 in");
        assert_eq!(show_feet_inches(11.99 * FOOT_M, Units::Us, Round::Nearest), "12 ft");
        assert_eq!(show_feet_inches(11.99 * FOOT_M, Units::Us, Round::Down), "11 ft 11 in");
        assert_eq!(show_feet_inches(-44.0 * INCH_M, Units::Us, Round::Nearest), "-3 ft 8 in");
        assert_eq!(show_feet_inches(7.0 * INCH_M, Units::Us, Round::Nearest), "7 in");
        assert_eq!(show_feet_inches(0.0, Units::Us, Round::Nearest), "0 in");
    }

    #[test]
    fn a_bearing_is_clockwise_from_north() {
        assert_eq!(show_bearing(0.0), "090 deg");
        assert_eq!(show_bearing(TAU / 4.0), "000 deg");
        assert_eq!(show_bearing(TAU / 2.0), "270 deg");
        assert_eq!(show_bearing(-TAU / 4.0), "180 deg");
    }

    #[test]
    fn the_rest_shows_with_its_units() {
        assert_eq!(show_mass(1000.0, Units::Us, Round::Up), "2205 lb");
        assert_eq!(show_length(10.8, Units::Both, Round::Nearest), "35 ft 5¼ in (10.80 m)");
        assert_eq!(show_mass(907.2, Units::Both, Round::Nearest), "2000 lb (907 kg)");
        assert_eq!(show_length(1.2629, Units::Both, Round::Down), "4 ft 1½ in (1.26 m)");
        assert_eq!(show_force(2001.7, Units::Both, Round::Nearest), "450 lbf (2.00 kN)");
        assert_eq!(show_length(f64::NAN, Units::Both, Round::Nearest), "not known (not known)");
        assert_eq!(show_mass(1000.0, Units::Si, Round::Up), "1000 kg");
        assert_eq!(show_force(POUND_N * 450.0, Units::Us, Round::Nearest), "450 lbf");
        assert_eq!(show_angle(0.1, Round::Nearest), "5.7 deg");
        assert_eq!(show_voltage(12470.0), "12.47 kV");
        assert_eq!(show_voltage(480.0), "480 V");
        assert_eq!(show_wind(6.7056, Units::Us, Round::Nearest), "15 mph");
        assert_eq!(show_duration(150.0), "2 min 30 s");
        assert_eq!(show_duration(45.0), "45 s");
        assert_eq!(show_duration(120.0), "2 min");
        assert_eq!(show_percent(0.78251, Round::Up), "78.3 %");
        assert_eq!(show_small_length(0.219, Units::Us, Round::Up), "8.63 in");
        assert_eq!(show_density(961.1, Units::Us, Round::Nearest), "60.0 lb/ft3");
        assert_eq!(show_pressure(95760.5, Units::Us, Round::Nearest), "2000 psf");
        assert_eq!(show_line_weight(2.119, Units::Us, Round::Nearest), "145.2 lb/1000ft");
    }
}
