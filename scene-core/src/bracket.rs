//! A number known to lie between two others.

use std::ops::{Add, Mul, Neg, Sub};

/// What is known of a number: `low ≤ true ≤ high`, in whatever unit the number has.
///
/// No end is ever NaN. An end that is not known is infinite: the low one −∞, the high one +∞. The low end is never +∞, and the
/// high end never −∞. What comes of NaN is [`Self::UNKNOWN`], so that nothing is proven of it.
///
/// `+`, `-`, `*` and [`Self::widened`] round each end to the nearest number. So one operation may move an end past the real bound
/// by half a unit in the last place, 1.1e-16 of its magnitude. Whoever proves a distance subtracts for this: the searches in
/// [`crate::approach`] allow 1e-9 m and 1e-12 of the coordinates. [`Self::hull`], [`Self::within`] and negation are exact. A finite
/// end that overflows becomes the largest number on the inner side and infinity on the outer side, so it never narrows.
///
/// A bracket also serves as a limit or as an extent. There the unknown must permit nothing: ask [`Self::allows`], not
/// [`Self::contains`], or ask [`Self::is_bounded`] first.
///
/// ```
/// use scene_core::bracket::Bracket;
///
/// let tension_n = Bracket::between(900.0, 700.0).unwrap();
/// let more_n = tension_n + Bracket::exactly(50.0);
/// assert_eq!((more_n.low(), more_n.high()), (750.0, 950.0));
/// // What overflows is not known on that side.
/// let most = Bracket::exactly(f64::MAX);
/// assert_eq!(((most + most).low(), (most + most).high()), (f64::MAX, f64::INFINITY));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bracket {
    low: f64,
    high: f64,
}

impl Bracket {
    /// Nothing is known.
    ///
    /// ```
    /// # use scene_core::bracket::Bracket;
    /// assert_eq!(Bracket::exactly(f64::NAN), Bracket::UNKNOWN);
    /// assert!(Bracket::UNKNOWN.contains(5.0) && !Bracket::UNKNOWN.allows(5.0));
    /// ```
    pub const UNKNOWN: Self = Self { low: f64::NEG_INFINITY, high: f64::INFINITY };

    /// The bracket of two values in either order; `None` when one is not finite.
    ///
    /// ```
    /// # use scene_core::bracket::Bracket;
    /// assert_eq!(Bracket::between(2.0, 1.0).map(Bracket::low), Some(1.0));
    /// assert_eq!(Bracket::between(f64::NAN, 1.0), None);
    /// ```
    pub fn between(a: f64, b: f64) -> Option<Self> {
        (a.is_finite() && b.is_finite()).then(|| Self { low: a.min(b), high: a.max(b) })
    }

    /// A value taken as exact. What is not finite is [`Self::UNKNOWN`].
    pub fn exactly(value: f64) -> Self {
        Self::between(value, value).unwrap_or(Self::UNKNOWN)
    }

    /// The low end; −∞ where it is not known.
    pub fn low(self) -> f64 {
        self.low
    }

    /// The high end; +∞ where it is not known.
    pub fn high(self) -> f64 {
        self.high
    }

    /// Whether both ends are finite.
    pub fn is_bounded(self) -> bool {
        self.low.is_finite() && self.high.is_finite()
    }

    /// How far the ends are apart, rounded to nearest; +∞ where one is not known.
    pub fn width(self) -> f64 {
        self.high - self.low
    }

    /// A number within, halfway to rounding; where an end is not known, halfway to the largest number there is.
    pub fn middle(self) -> f64 {
        let [low, high] = self.finite_ends();
        (low / 2.0 + high / 2.0).clamp(low, high)
    }

    /// Whether the true number may be this one. NaN is in no bracket.
    pub fn contains(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// Whether this bracket as a limit permits a value: a limit that is not known permits none.
    pub fn allows(self, value: f64) -> bool {
        self.is_bounded() && self.contains(value)
    }

    /// The smallest bracket that holds both.
    pub fn hull(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// Both ends moved outward by the magnitude of `by`, rounded to nearest. [`Self::UNKNOWN`] when `by` is not finite.
    ///
    /// ```
    /// # use scene_core::bracket::Bracket;
    /// let gap_m = Bracket::exactly(3.0);
    /// assert_eq!(gap_m.widened(0.5), Bracket::between(2.5, 3.5).unwrap());
    /// assert_eq!(gap_m.widened(f64::NAN), Bracket::UNKNOWN);
    /// ```
    pub fn widened(self, by: f64) -> Self {
        let by = by.abs();
        if !by.is_finite() {
            return Self::UNKNOWN;
        }
        Self { low: low_end(self.low - by), high: high_end(self.high + by) }
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

    /// `fraction` 0 is the low end, 1 the high end, to rounding but never outside for a fraction in 0 … 1. An end that is not
    /// known counts as the largest number there is; NaN gives NaN.
    pub fn at(self, fraction: f64) -> f64 {
        let [low, high] = self.finite_ends();
        let width = high - low;
        let at = match width.is_finite() {
            true => low + width * fraction,
            false => low * (1.0 - fraction) + high * fraction,
        };
        if (0.0..=1.0).contains(&fraction) { at.clamp(low, high) } else { at }
    }

    fn finite_ends(self) -> [f64; 2] {
        [self.low.max(f64::MIN), self.high.min(f64::MAX)]
    }
}

impl Add for Bracket {
    type Output = Self;
    /// Rounded to nearest.
    fn add(self, other: Self) -> Self {
        Self { low: low_end(self.low + other.low), high: high_end(self.high + other.high) }
    }
}

impl Sub for Bracket {
    type Output = Self;
    /// Rounded to nearest. The two are taken as independent: `x - x` has twice the width of `x`.
    fn sub(self, other: Self) -> Self {
        self + -other
    }
}

impl Neg for Bracket {
    type Output = Self;
    /// Exact.
    fn neg(self) -> Self {
        Self { low: -self.high, high: -self.low }
    }
}

impl Mul<f64> for Bracket {
    type Output = Self;
    /// Rounded to nearest. [`Self::UNKNOWN`] when `by` is not finite, or when an end that is not known is multiplied by zero.
    fn mul(self, by: f64) -> Self {
        if !by.is_finite() || (by == 0.0 && !self.is_bounded()) {
            return Self::UNKNOWN;
        }
        let (least, most) = if by < 0.0 { (self.high, self.low) } else { (self.low, self.high) };
        Self { low: low_end(least * by), high: high_end(most * by) }
    }
}

/// A low end that overflowed upward stays a number, so that it is still below the true one.
fn low_end(value: f64) -> f64 {
    value.min(f64::MAX)
}

/// A high end that overflowed downward stays a number, so that it is still above the true one.
fn high_end(value: f64) -> f64 {
    value.max(f64::MIN)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn between(a: f64, b: f64) -> Bracket {
        Bracket::between(a, b).unwrap()
    }

    #[test]
    fn ends_come_in_order_whichever_way_they_are_given() {
        let tension = between(900.0, 700.0);
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
        let (a, b) = (between(1.0, 2.0), between(0.5, 3.0));
        assert_eq!(a - b, between(-2.0, 1.5));
        assert_eq!(a * -2.0, between(-4.0, -2.0));
    }

    #[test]
    fn widening_by_what_is_not_known_leaves_nothing_known() {
        for by in [f64::INFINITY, f64::NEG_INFINITY, f64::NAN] {
            assert_eq!(between(1.0, 2.0).widened(by), Bracket::UNKNOWN);
        }
    }

    #[test]
    fn nothing_computed_from_nan_passes() {
        let (gap_m, required_m) = (Bracket::exactly(f64::NAN), 3.0);
        for gap_m in [gap_m, gap_m + between(9.0, 9.0), gap_m * 0.0, between(9.0, 9.0) * f64::NAN, gap_m.hull(gap_m)] {
            assert!(gap_m.low() < required_m && gap_m.high() > required_m && !gap_m.allows(required_m), "{gap_m:?}");
        }
    }

    #[test]
    fn an_end_that_overflows_never_narrows() {
        let (largest, twice) = (Bracket::exactly(f64::MAX), Bracket::exactly(f64::MAX) * 2.0);
        assert_eq!([(largest + largest).low(), twice.low()], [f64::MAX; 2]);
        assert_eq!([(largest + largest).high(), twice.high()], [f64::INFINITY; 2]);
        assert_eq!((-largest - largest).low(), f64::NEG_INFINITY);
        assert_eq!((-largest - largest).high(), f64::MIN);
        assert_eq!(largest.widened(f64::MAX), Bracket { low: 0.0, high: f64::INFINITY });
    }

    /// Any number, and often one of those at which floating point turns.
    fn number() -> impl Strategy<Value = f64> {
        let edges = [
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            0.0,
            -0.0,
            5e-324,
            -5e-324,
            f64::MIN_POSITIVE,
            f64::MAX,
            f64::MIN,
            1.0,
            -1.0,
        ];
        prop_oneof![any::<f64>(), -1e3..1e3, proptest::sample::select(edges.to_vec())]
    }

    /// A bracket of any two, and a number inside it.
    fn bracket() -> impl Strategy<Value = (Bracket, f64)> {
        (number(), number(), 0.0..=1.0).prop_map(|(a, b, fraction)| {
            let bracket = Bracket::exactly(a).hull(Bracket::exactly(b));
            (bracket, bracket.at(fraction))
        })
    }

    fn is_one(bracket: Bracket) -> bool {
        bracket.low() <= bracket.high() && bracket.low() < f64::INFINITY && bracket.high() > f64::NEG_INFINITY
    }

    /// An operation on brackets beside the same on plain numbers.
    type Operation = (fn(Bracket, Bracket, f64) -> Bracket, fn(f64, f64, f64) -> f64);

    const OPERATIONS: [Operation; 7] = [
        (|a, b, _| a + b, |x, y, _| x + y),
        (|a, b, _| a - b, |x, y, _| x - y),
        (|a, _, _| -a, |x, _, _| -x),
        (|a, _, by| a * by, |x, _, by| x * by),
        (|a, _, by| a.widened(by), |x, _, by| x + by.abs()),
        (|a, _, by| a.widened(by), |x, _, by| x - by.abs()),
        (|a, b, _| a.hull(b), |x, _, _| x),
    ];

    proptest! {
        #[test]
        fn every_operation_holds_what_it_gives_on_numbers_within((a, x) in bracket(), (b, y) in bracket(), by in number()) {
            for (i, (on_brackets, on_numbers)) in OPERATIONS.iter().enumerate() {
                let (held, value) = (on_brackets(a, b, by), on_numbers(x, y, by));
                prop_assert!(is_one(held), "{i}: {held:?}");
                prop_assert!(if value.is_nan() { held == Bracket::UNKNOWN } else { held.contains(value) }, "{i}: {held:?}, {value}");
            }
        }

        #[test]
        fn a_part_of_a_bracket_lies_in_it((a, x) in bracket(), (b, y) in bracket(), fraction in 0.0..=1.0) {
            prop_assert!(is_one(a) && a.contains(x) && a.contains(a.middle()) && a.contains(a.at(fraction)));
            prop_assert!(!a.width().is_nan() && a.width() >= 0.0);
            prop_assert_eq!(a.width() == 0.0, a.low() == a.high());
            let [lower, upper] = a.halves();
            prop_assert!(is_one(lower) && is_one(upper) && lower.hull(upper) == a && lower.high() == upper.low());
            match a.within(b) {
                Some(both) => prop_assert!(is_one(both) && both.hull(a) == a && both.hull(b) == b),
                None => prop_assert!(!a.contains(y) && !b.contains(x)),
            }
            prop_assert!(!a.allows(f64::NAN) && !a.contains(f64::NAN));
        }

        /// In whole numbers, which are exact.
        #[test]
        fn the_real_sum_and_product_are_within_one_rounding(x in -(1_i64 << 53)..(1_i64 << 53), y in -(1_i64 << 53)..(1_i64 << 53), shift in 0..40_u32) {
            let (a, b) = (x as f64, (i128::from(y) << shift) as f64);
            for (held, real) in [
                (Bracket::exactly(a) + Bracket::exactly(b), i128::from(x) + (i128::from(y) << shift)),
                (Bracket::exactly(a) - Bracket::exactly(b), i128::from(x) - (i128::from(y) << shift)),
                (Bracket::exactly(a) * y as f64, i128::from(x) * i128::from(y)),
            ] {
                let (low, high) = (held.low().next_down() as i128, held.high().next_up() as i128);
                prop_assert!(low <= real && real <= high, "{held:?}, {real}");
                prop_assert!(held.high() == held.low(), "{held:?}");
            }
        }
    }
}
