//! A number known to lie between two others.

use std::ops::{Add, Mul, Neg, Sub};

/// `low ≤ true ≤ high`. Both ends are finite: what is unbounded or not a number has no bracket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bracket {
    low: f64,
    high: f64,
}

impl Bracket {
    /// The bracket of two values in either order; `None` when one is not finite.
    pub fn between(a: f64, b: f64) -> Option<Self> {
        (a.is_finite() && b.is_finite()).then(|| Self { low: a.min(b), high: a.max(b) })
    }

    /// A value known exactly. Not finite reads as zero width at the largest magnitude, so that no arithmetic on it panics.
    pub fn exactly(value: f64) -> Self {
        let value = if value.is_nan() { f64::MAX } else { value.clamp(f64::MIN, f64::MAX) };
        Self { low: value, high: value }
    }

    pub fn low(self) -> f64 {
        self.low
    }

    pub fn high(self) -> f64 {
        self.high
    }

    pub fn width(self) -> f64 {
        self.high - self.low
    }

    pub fn middle(self) -> f64 {
        self.low / 2.0 + self.high / 2.0
    }

    pub fn contains(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// The smallest bracket that holds both.
    pub fn hull(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// Both ends pushed outward by `by` (its magnitude).
    pub fn widened(self, by: f64) -> Self {
        let by = if by.is_finite() { by.abs() } else { 0.0 };
        Self { low: self.low - by, high: self.high + by }
    }

    /// Lower and upper half, sharing the middle.
    pub fn halves(self) -> [Self; 2] {
        let middle = self.middle();
        [Self { low: self.low, high: middle }, Self { low: middle, high: self.high }]
    }

    /// The part inside `other`, if any.
    pub fn within(self, other: Self) -> Option<Self> {
        let (low, high) = (self.low.max(other.low), self.high.min(other.high));
        (low <= high).then_some(Self { low, high })
    }

    /// `fraction` 0 is the low end, 1 the high end.
    pub fn at(self, fraction: f64) -> f64 {
        self.low + (self.high - self.low) * fraction
    }
}

impl Add for Bracket {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }
}

impl Sub for Bracket {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { low: self.low - other.high, high: self.high - other.low }
    }
}

impl Neg for Bracket {
    type Output = Self;
    fn neg(self) -> Self {
        Self { low: -self.high, high: -self.low }
    }
}

impl Mul<f64> for Bracket {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        let (a, b) = (self.low * by, self.high * by);
        Self { low: a.min(b), high: a.max(b) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_come_in_order_whichever_way_they_are_given() {
        let tension = Bracket::between(900.0, 700.0).unwrap();
        assert_eq!((tension.low(), tension.high()), (700.0, 900.0));
        assert!(tension.contains(800.0) && !tension.contains(901.0));
    }

    #[test]
    fn what_is_not_a_number_has_no_bracket() {
        assert_eq!(Bracket::between(f64::NAN, 1.0), None);
        assert_eq!(Bracket::between(1.0, f64::INFINITY), None);
    }

    #[test]
    fn a_difference_takes_the_far_ends() {
        let a = Bracket::between(1.0, 2.0).unwrap();
        let b = Bracket::between(0.5, 3.0).unwrap();
        assert_eq!(a - b, Bracket::between(-2.0, 1.5).unwrap());
        assert_eq!(a * -2.0, Bracket::between(-4.0, -2.0).unwrap());
    }
}
