//! Numbers with units: reading what people write, and printing SI for people.
//!
//! A quantity is a text such as `"55 ft"`, `"12 ft 6 in"`, `7'-6"`, `"-3 ft 8 in"`, `"8 5/8 in"`, `"12.47 kV"`, `"145.2
//! lb/1000ft"` or `"1.2 m"`. The parser keeps the text, so that saving a scene gives it back unchanged. It refuses a
//! number without a unit: a reader of the scene must never guess.
//!
//! [`show`] does the reverse. It is the only place where SI values become text for people.

pub mod date;
pub mod show;
mod typed;
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
            Err(QuantityFault::NoUnit { what, units }) => match lone_unit(&typed::plain(high_text), &D::INFO) {
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
            Self::BadNumber { number } if number.contains('-') && !number.contains('/') => {
                "write 5 ft 6 in or 5'-6\" for feet and inches, 5 1/2 for a fraction".to_owned()
            }
            Self::BadNumber { .. } => "such as 12, 12.5, 12 1/2".to_owned(),
            Self::BadCompound => "write 12 ft 6 in or 12'-6\": inches are less than 12 and follow whole feet, each with its unit, one sign in front".to_owned(),
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
    let plain = typed::plain(text);
    let trimmed = plain.trim();
    if trimmed.is_empty() {
        return Err(QuantityFault::Empty { what: info.what, units: info.allowed() });
    }
    let (negative, body) = match trimmed.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, trimmed.strip_prefix('+').unwrap_or(trimmed).trim_start()),
    };
    let si = parse_unsigned(body, if negative { -1.0 } else { 1.0 }, info)?;
    if si.is_finite() { Ok(si) } else { Err(QuantityFault::NotFinite) }
}

/// The unit of a text that consists of one number and one unit; `None` for any other text.
fn lone_unit<'t>(text: &'t str, info: &DimensionInfo) -> Option<&'t str> {
    let (_, unit) = take_number(text.trim().trim_start_matches(['-', '+']).trim_start()).ok()?;
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
        let tail = if first == "ft" { typed::after_joint(unit, tail) } else { tail };
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
    // "8 5/8 in" and "8-5/8 in": a fraction after a whole number. "5-6 ft" is neither a number nor a range.
    let joined = rest.strip_prefix('-').filter(|after| after.starts_with(|c: char| c.is_ascii_digit()));
    let next = joined.unwrap_or(rest).trim_start();
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
    if joined.is_some() {
        return Err(QuantityFault::BadNumber { number: format!("{digits}-{top_digits}") });
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
mod tests;
