//! Numbers with units: reading what people write, and printing SI for people.
//!
//! A quantity is a text such as `"55 ft"`, `"12 ft 6 in"`, `"-3 ft 8 in"`, `"8 5/8 in"`, `"12.47 kV"`, `"145.2
//! lb/1000ft"` or `"1.2 m"`. The parser keeps the text, so that saving a scene gives it back unchanged. It refuses a
//! number without a unit: a reader of the scene must never guess.
//!
//! [`show`] does the reverse. It is the only place where SI values become text for people.

pub mod show;
pub mod unit;

use std::fmt;
use std::marker::PhantomData;
use thiserror::Error;
use unit::{DIMENSIONS, Dimension, DimensionInfo};

pub use unit::{
    Angle, AngularSpeed, Density, Duration, Expansion, Force, Length, LineWeight, Mass, Pressure, Ratio, Speed,
    Temperature, Voltage,
};

/// Longest accepted text, bytes. No quantity needs more.
const LONGEST: usize = 64;

/// A value of dimension `D`: the text that was typed and its value in SI.
pub struct Quantity<D> {
    said: String,
    si: f64,
    dimension: PhantomData<D>,
}

impl<D: Dimension> Quantity<D> {
    /// Parses a text that a person typed.
    ///
    /// # Errors [`QuantityFault`] says what was expected, in words that fit after "expected".
    pub fn parse(text: &str) -> Result<Self, QuantityFault> {
        Ok(Self { said: text.to_owned(), si: parse_si(text, &D::INFO)?, dimension: PhantomData })
    }

    /// The text exactly as it was typed.
    pub fn said(&self) -> &str {
        &self.said
    }

    /// The value in SI units: meters, kilograms, newtons, radians, volts, meters per second, and so on. NaN for a
    /// [default](Self::default) quantity, which was never parsed.
    pub fn si(&self) -> f64 {
        self.si
    }
}

impl<D> Default for Quantity<D> {
    /// An empty text with the value NaN.
    fn default() -> Self {
        Self { said: String::new(), si: f64::NAN, dimension: PhantomData }
    }
}

impl<D> Clone for Quantity<D> {
    fn clone(&self) -> Self {
        Self { said: self.said.clone(), si: self.si, dimension: PhantomData }
    }
}

impl<D> PartialEq for Quantity<D> {
    fn eq(&self, other: &Self) -> bool {
        self.said == other.said
    }
}

impl<D> fmt::Debug for Quantity<D> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?} = {}", self.said, self.si)
    }
}

/// Two values of dimension `D`, low and high, written as `"700 lbf to 900 lbf"`.
#[derive(Debug)]
pub struct Range<D> {
    said: String,
    low: f64,
    high: f64,
    dimension: PhantomData<D>,
}

impl<D: Dimension> Range<D> {
    /// Parses `"low to high"`. The unit may stand once, after the high end.
    ///
    /// # Errors [`QuantityFault`], also when the low end is above the high end.
    pub fn parse(text: &str) -> Result<Self, QuantityFault> {
        if text.len() > 2 * LONGEST {
            return Err(QuantityFault::TooLong);
        }
        let (low_text, high_text) = text.split_once(" to ").ok_or(QuantityFault::NotARange { what: D::INFO.what })?;
        let high = parse_si(high_text, &D::INFO)?;
        let low = match parse_si(low_text, &D::INFO) {
            // Accepts "700 to 900 lbf", but not "1 to 2 ft 9 in": the low end might have inches too.
            Err(QuantityFault::NoUnit { what, units }) => match lone_unit(high_text, &D::INFO) {
                Some(unit) => parse_si(&format!("{} {unit}", low_text.trim()), &D::INFO)?,
                None => return Err(QuantityFault::NoUnit { what, units }),
            },
            other => other?,
        };
        if low > high {
            return Err(QuantityFault::Backwards {
                low: low_text.trim().to_owned(),
                high: high_text.trim().to_owned(),
            });
        }
        Ok(Self { said: text.to_owned(), low, high, dimension: PhantomData })
    }

    /// The text exactly as it was typed.
    pub fn said(&self) -> &str {
        &self.said
    }

    /// The low end in SI; NaN for a default range.
    pub fn low(&self) -> f64 {
        self.low
    }

    /// The high end in SI; NaN for a default range.
    pub fn high(&self) -> f64 {
        self.high
    }
}

impl<D> Default for Range<D> {
    fn default() -> Self {
        Self { said: String::new(), low: f64::NAN, high: f64::NAN, dimension: PhantomData }
    }
}

impl<D> Clone for Range<D> {
    fn clone(&self) -> Self {
        Self { said: self.said.clone(), low: self.low, high: self.high, dimension: PhantomData }
    }
}

impl<D> PartialEq for Range<D> {
    fn eq(&self, other: &Self) -> bool {
        self.said == other.said
    }
}

/// Why a text is not the quantity that was expected.
///
/// The `Display` text names what was expected; [`QuantityFault::help`] says how to correct it. In every variant, `what`
/// names the dimension with its article ("a length") and `units` lists the accepted units.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum QuantityFault {
    /// The text is empty.
    #[error("{what} in {units}")]
    Empty {
        /// The dimension, with its article.
        what: &'static str,
        /// The accepted units, as a list for people.
        units: String,
    },
    /// A unit stands without a number before it.
    #[error("a number before the unit")]
    NoNumber {
        /// What stands where the number should.
        unit: String,
    },
    /// The number has a comma, an underscore, two points or a bad fraction.
    #[error("a plain number")]
    BadNumber {
        /// The text that is not a number.
        number: String,
    },
    /// The number is NaN, infinite or too large for a 64-bit float.
    #[error("a finite number")]
    NotFinite,
    /// A number stands without a unit.
    #[error("{what} in {units}")]
    NoUnit {
        /// The dimension, with its article.
        what: &'static str,
        /// The accepted units, as a list for people.
        units: String,
    },
    /// No dimension has a unit of this name.
    #[error("{what} in {units}")]
    UnknownUnit {
        /// The unknown name.
        unit: String,
        /// The dimension, with its article.
        what: &'static str,
        /// The accepted units, as a list for people.
        units: String,
    },
    /// The unit belongs to another dimension.
    #[error("{what} in {units}")]
    WrongDimension {
        /// The unit as it was typed.
        unit: String,
        /// The dimension that the unit belongs to, with its article.
        is: &'static str,
        /// The expected dimension, with its article.
        what: &'static str,
        /// The accepted units, as a list for people.
        units: String,
    },
    /// Two numbers with units that do not combine, such as `"12.5 ft 6 in"` or `"12 ft 14 in"`.
    #[error("one number with its unit, or feet and inches")]
    BadCompound,
    /// A range lacks the word "to".
    #[error("{what} from low to high, such as \"2 ft to 3 ft\"")]
    NotARange {
        /// The dimension, with its article.
        what: &'static str,
    },
    /// The low end of a range is above its high end.
    #[error("the low end first")]
    Backwards {
        /// The first number as it was typed.
        low: String,
        /// The second number as it was typed.
        high: String,
    },
    /// The text is longer than any quantity.
    #[error("a number with its unit, at most {LONGEST} characters")]
    TooLong,
}

impl QuantityFault {
    /// How to correct the text, beyond what was expected. Empty when the expectation says it all.
    pub fn help(&self) -> String {
        match self {
            Self::NoUnit { .. } => "a number needs its unit".to_owned(),
            Self::UnknownUnit { unit, .. } => format!("there is no unit \"{unit}\""),
            Self::WrongDimension { unit, is, .. } => format!("\"{unit}\" is a unit of {is}"),
            Self::BadNumber { number } if number.contains(',') => {
                format!("write \"{}\" without the comma", number.replace(',', ""))
            }
            Self::BadNumber { .. } => "such as 12, 12.5, 12 1/2".to_owned(),
            Self::BadCompound => "inches are less than 12 and follow whole feet, with one sign in front".to_owned(),
            Self::NotARange { .. } => "say how well it is known: the least and the most it may be".to_owned(),
            Self::Backwards { low, high } => format!("write \"{high} to {low}\""),
            _ => String::new(),
        }
    }
}

/// The SI value of a text in the dimension `info`.
fn parse_si(text: &str, info: &DimensionInfo) -> Result<f64, QuantityFault> {
    if text.len() > LONGEST {
        return Err(QuantityFault::TooLong);
    }
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(QuantityFault::Empty { what: info.what, units: info.allowed() });
    }
    let (negative, body) = match trimmed.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, trimmed.strip_prefix('+').unwrap_or(trimmed).trim_start()),
    };
    let si = parse_unsigned(body, if negative { -1.0 } else { 1.0 }, info)?;
    if si.is_finite() { Ok(si) } else { Err(QuantityFault::NotFinite) }
}

/// The unit of a text that consists of one number and one unit; `None` for any other text.
fn lone_unit<'t>(text: &'t str, info: &DimensionInfo) -> Option<&'t str> {
    let (_, unit) = take_number(text.trim().trim_start_matches(['-', '+', '\u{2212}']).trim_start()).ok()?;
    info.unit(unit).map(|_| unit)
}

/// The SI value of a text without its sign.
fn parse_unsigned(body: &str, sign: f64, info: &DimensionInfo) -> Result<f64, QuantityFault> {
    let (number, rest) = take_number(body)?;
    if rest.is_empty() {
        return Err(QuantityFault::NoUnit { what: info.what, units: info.allowed() });
    }
    if let Some(unit) = info.unit(rest) {
        return Ok(unit.to_si(sign * number));
    }
    // Feet and inches, minutes and seconds: a second number follows the first unit.
    if let Some((first, second)) = info.compound {
        let split = rest.find(|c: char| c.is_ascii_digit() || c == '-').unwrap_or(rest.len());
        let (unit, tail) = rest.split_at(split);
        if !tail.is_empty() && info.unit(unit.trim()).is_some_and(|unit| unit.names.first() == Some(&first)) {
            let (small, small_unit) = take_number(tail).map_err(|_| QuantityFault::BadCompound)?;
            let Some(small_unit) = info.unit(small_unit).filter(|unit| unit.names.first() == Some(&second)) else {
                return Err(QuantityFault::BadCompound);
            };
            let (Some(large), small) = (info.unit(unit.trim()), small_unit.to_si(small)) else {
                return Err(QuantityFault::BadCompound);
            };
            if number.fract() != 0.0 || small >= large.to_si(1.0) * (1.0 - 1e-12) {
                return Err(QuantityFault::BadCompound);
            }
            return Ok(sign * (large.to_si(number) + small));
        }
    }
    let unit = rest.to_owned();
    match DIMENSIONS.iter().find(|other| other.what != info.what && other.unit(rest).is_some()) {
        Some(other) => {
            Err(QuantityFault::WrongDimension { unit, is: other.what, what: info.what, units: info.allowed() })
        }
        None => Err(QuantityFault::UnknownUnit { unit, what: info.what, units: info.allowed() }),
    }
}

/// Splits off the unsigned number at the start of a text (`12`, `12.5`, `.5`, `1.2e3`, `3/16`, `8 5/8`) and returns it
/// with the rest.
fn take_number(text: &str) -> Result<(f64, &str), QuantityFault> {
    let bytes = text.as_bytes();
    let mut end = 0;
    while bytes.get(end).is_some_and(|b| b.is_ascii_digit() || matches!(b, b'.' | b',' | b'_')) {
        end += 1;
    }
    // An exponent needs digits after it: "3 ea" has none.
    if end > 0 && matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let mut after = end + 1 + sign;
        while bytes.get(after).is_some_and(u8::is_ascii_digit) {
            after += 1;
        }
        if after > end + 1 + sign {
            end = after;
        }
    }
    let (digits, rest) = text.split_at(end);
    if digits.is_empty() {
        let unit = rest.trim();
        return Err(match unit.to_ascii_lowercase().split_whitespace().next() {
            Some("nan" | "inf" | "infinity") => QuantityFault::NotFinite,
            _ => QuantityFault::NoNumber { unit: unit.to_owned() },
        });
    }
    let bad = || QuantityFault::BadNumber { number: digits.to_owned() };
    if digits.contains([',', '_']) {
        return Err(bad());
    }
    let whole: f64 = digits.parse().map_err(|_| bad())?;
    if !whole.is_finite() {
        return Err(QuantityFault::NotFinite);
    }
    if let Some(below) = rest.strip_prefix('/') {
        let (value, rest) = over(whole, digits, below)?;
        return Ok((value, rest));
    }
    // "8 5/8 in": a fraction after a whole number.
    let next = rest.trim_start();
    let top_end = next.find(|c: char| !c.is_ascii_digit()).unwrap_or(next.len());
    let (top_digits, after_top) = next.split_at(top_end);
    if let (false, Some(below)) = (top_digits.is_empty(), after_top.strip_prefix('/')) {
        let top: f64 = top_digits.parse().map_err(|_| bad())?;
        let (fraction, rest) = over(top, top_digits, below)?;
        if whole.fract() != 0.0 || fraction >= 1.0 {
            return Err(QuantityFault::BadNumber { number: format!("{digits} {top_digits}/{below}") });
        }
        return Ok((whole + fraction, rest));
    }
    Ok((whole, next.trim_end()))
}

/// `top` divided by the digits at the start of `below`, with the text after them.
fn over<'a>(top: f64, top_digits: &str, below: &'a str) -> Result<(f64, &'a str), QuantityFault> {
    let end = below.find(|c: char| !c.is_ascii_digit()).unwrap_or(below.len());
    let (digits, rest) = below.split_at(end);
    match digits.parse::<f64>() {
        Ok(bottom) if bottom > 0.0 && !top_digits.contains(['.', 'e', 'E']) => Ok((top / bottom, rest.trim())),
        _ => Err(QuantityFault::BadNumber { number: format!("{top_digits}/{digits}") }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn metres(text: &str) -> f64 {
        Quantity::<Length>::parse(text).unwrap().si()
    }

    #[track_caller]
    fn close(found: f64, expected: f64) {
        assert!((found - expected).abs() <= 1e-12 * expected.abs(), "{found} is not {expected}");
    }

    #[test]
    fn lengths_read_as_a_crew_writes_them() {
        close(metres("55 ft"), 55.0 * 0.3048);
        close(metres("12 ft 6 in"), 12.5 * 0.3048);
        close(metres("-3 ft 8 in"), -44.0 * 0.0254);
        close(metres("\u{2212}3 ft 8 in"), -44.0 * 0.0254);
        close(metres("12' 6\""), 12.5 * 0.3048);
        close(metres("12ft6in"), 12.5 * 0.3048);
        close(metres("8 5/8 in"), 8.625 * 0.0254);
        close(metres("3/16 in"), 0.1875 * 0.0254);
        close(metres("6 ft 3 1/2 in"), 75.5 * 0.0254);
        close(metres("1.2 m"), 1.2);
        close(metres("40 mm"), 0.04);
    }

    #[test]
    fn other_quantities_read_with_their_units() {
        close(Quantity::<Voltage>::parse("12.47 kV").unwrap().si(), 12470.0);
        close(Quantity::<Angle>::parse("1.5 deg").unwrap().si(), 1.5_f64.to_radians());
        close(Quantity::<Density>::parse("60 lb/ft3").unwrap().si(), 60.0 * 0.45359237 / 0.3048_f64.powi(3));
        close(Quantity::<LineWeight>::parse("145.2 lb/1000ft").unwrap().si(), 0.1452 * 0.45359237 * 9.80665 / 0.3048);
        close(Quantity::<LineWeight>::parse("0.55 kg/m").unwrap().si(), 0.55 * 9.80665);
        close(Quantity::<Speed>::parse("25 mph").unwrap().si(), 25.0 * 0.44704);
        close(Quantity::<Mass>::parse("2000 lb").unwrap().si(), 2000.0 * 0.45359237);
        close(Quantity::<Force>::parse("2000 lb").unwrap().si(), 2000.0 * 0.45359237 * 9.80665);
        close(Quantity::<Force>::parse("9 kN").unwrap().si(), 9000.0);
        close(Quantity::<Duration>::parse("3 min").unwrap().si(), 180.0);
        close(Quantity::<Duration>::parse("1 min 30 s").unwrap().si(), 90.0);
        close(Quantity::<Ratio>::parse("6 %").unwrap().si(), 0.06);
        close(Quantity::<Ratio>::parse("0.25 in/ft").unwrap().si(), 0.25 / 12.0);
        close(Quantity::<Temperature>::parse("-40 F").unwrap().si(), 233.15);
        close(Quantity::<AngularSpeed>::parse("1 rpm").unwrap().si(), std::f64::consts::TAU / 60.0);
    }

    #[test]
    fn a_quantity_keeps_what_was_typed() {
        assert_eq!(Quantity::<Length>::parse(" 12' 6\"").unwrap().said(), " 12' 6\"");
    }

    fn fault(text: &str) -> QuantityFault {
        Quantity::<Length>::parse(text).unwrap_err()
    }

    #[test]
    fn what_cannot_be_read_says_what_would_be() {
        let units = "ft, in, yd, m, cm or mm".to_owned();
        assert_eq!(fault(""), QuantityFault::Empty { what: "a length", units: units.clone() });
        assert_eq!(fault("55"), QuantityFault::NoUnit { what: "a length", units: units.clone() });
        assert_eq!(fault("ft"), QuantityFault::NoNumber { unit: "ft".to_owned() });
        assert_eq!(
            fault("55 fet"),
            QuantityFault::UnknownUnit { unit: "fet".to_owned(), what: "a length", units: units.clone() }
        );
        assert_eq!(
            fault("12 kV"),
            QuantityFault::WrongDimension { unit: "kV".to_owned(), is: "a voltage", what: "a length", units }
        );
        assert_eq!(fault("NaN ft"), QuantityFault::NotFinite);
        assert_eq!(fault("inf ft"), QuantityFault::NotFinite);
        assert_eq!(fault("1e999 ft"), QuantityFault::NotFinite);
        assert_eq!(fault("1,200 ft").help(), "write \"1200\" without the comma");
        assert_eq!(fault("12 ft 14 in"), QuantityFault::BadCompound);
        assert_eq!(fault("12 ft -6 in"), QuantityFault::BadCompound);
        assert_eq!(fault("12.5 ft 6 in"), QuantityFault::BadCompound);
        assert_eq!(fault("12 ft 6"), QuantityFault::BadCompound);
        assert_eq!(fault("8 9/8 in").help(), "such as 12, 12.5, 12 1/2");
        assert_eq!(fault("1/0 in").help(), "such as 12, 12.5, 12 1/2");
        assert_eq!(fault(&"1".repeat(65)), QuantityFault::TooLong);
    }

    #[test]
    fn a_range_takes_its_unit_from_the_high_end() {
        let tension = Range::<Force>::parse("700 to 900 lbf").unwrap();
        close(tension.low(), 700.0 * 4.4482216152605);
        close(Range::<LineWeight>::parse("150 to 160 lb/1000ft").unwrap().low(), 0.15 * 0.45359237 * 9.80665 / 0.3048);
        close(Range::<Length>::parse("-2 to 2 ft").unwrap().low(), -2.0 * 0.3048);
        let sag = Range::<Length>::parse("-2 ft 3 in to 2 ft 9 in").unwrap();
        close(sag.low(), -27.0 * 0.0254);
        close(sag.high(), 33.0 * 0.0254);
    }

    #[test]
    fn a_range_needs_both_ends_in_order() {
        assert_eq!(Range::<Length>::parse("2 ft").unwrap_err(), QuantityFault::NotARange { what: "a length" });
        // The low end of this could be 1 ft as well as 1 ft 9 in.
        let half_said = Range::<Length>::parse("1 to 2 ft 9 in").unwrap_err();
        assert_eq!(half_said.help(), "a number needs its unit");
        assert_eq!(Range::<Length>::parse("3 ft to 2 ft").unwrap_err().help(), "write \"2 ft to 3 ft\"");
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in ".{0,80}") {
            if let Ok(length) = Quantity::<Length>::parse(&text) {
                prop_assert!(length.si().is_finite());
            }
            if let Ok(range) = Range::<Temperature>::parse(&text) {
                prop_assert!(range.low() <= range.high());
            }
        }

        #[test]
        fn any_number_of_any_unit_comes_back(value in -1e6..1e6_f64, which in 0..6_usize) {
            let (unit, si) = [("ft", 0.3048), ("in", 0.0254), ("m", 1.0), ("cm", 0.01), ("mm", 0.001), ("yd", 0.9144)][which];
            let read = metres(&format!("{value} {unit}"));
            prop_assert!((read - value * si).abs() <= 1e-9 * (value * si).abs());
        }
    }
}
