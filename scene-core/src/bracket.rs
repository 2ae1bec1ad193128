//! A number known to lie between two others.

use std::ops::{Add, Mul, Neg, Sub};

/// What is known of a number: `low ≤ true ≤ high`, in whatever unit the number has.
///
/// No end is ever NaN. An end that is not known is infinite: the low one −∞, the high one +∞. The low end is never +∞, and the
/// high end never −∞. What comes of NaN is [`Self::UNKNOWN`], so that nothing is proven of it.
///
/// Arithmetic keeps the contract for real numbers, not only for rounded ones: `+`, `-`, `*` and [`Self::widened`] round the
/// low end down and the high end up, each to the nearest number on that side (a product below 1e-292 perhaps to the next one).
/// An exact result stays as it is. [`Self::hull`], [`Self::within`] and negation are exact. The functions that give a plain
/// number say how they round.
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
/// // No double is 0.1 + 0.2: the sum is held by the two on its sides.
/// let sum = Bracket::exactly(0.1) + Bracket::exactly(0.2);
/// assert!(sum.low() < sum.high() && sum.contains(0.3));
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

    /// How far the ends are apart, rounded up; +∞ where one is not known.
    pub fn width(self) -> f64 {
        sum_up(self.high, -self.low)
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

    /// Both ends moved outward by the magnitude of `by`, rounded outward. [`Self::UNKNOWN`] when `by` is not finite.
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
        Self { low: sum_down(self.low, -by), high: sum_up(self.high, by) }
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
    /// Rounded outward.
    fn add(self, other: Self) -> Self {
        Self { low: sum_down(self.low, other.low), high: sum_up(self.high, other.high) }
    }
}

impl Sub for Bracket {
    type Output = Self;
    /// Rounded outward. The two are taken as independent: `x - x` has twice the width of `x`.
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
    /// Rounded outward. [`Self::UNKNOWN`] when `by` is not finite, or when an end that is not known is multiplied by zero.
    fn mul(self, by: f64) -> Self {
        if !by.is_finite() || (by == 0.0 && !self.is_bounded()) {
            return Self::UNKNOWN;
        }
        let (least, most) = if by < 0.0 { (self.high, self.low) } else { (self.low, self.high) };
        Self { low: -product_up(-least, by), high: product_up(most, by) }
    }
}

/// The least number not below a + b. The two are not opposite infinities.
fn sum_up(a: f64, b: f64) -> f64 {
    let sum = a + b;
    // The exact error of a rounded sum (Knuth 1969, The Art of Computer Programming, vol. 2, 4.2.2); NaN where the sum
    // overflows.
    let of_b = sum - a;
    let error = (a - (sum - of_b)) + (b - of_b);
    match sum {
        f64::NEG_INFINITY if a.is_finite() && b.is_finite() => f64::MIN,
        _ if error > 0.0 => sum.next_up(),
        _ => sum,
    }
}

/// The greatest number not above a + b.
fn sum_down(a: f64, b: f64) -> f64 {
    -sum_up(-a, -b)
}

/// Below this a product's error may be too small for a number.
const EXACT_ERROR: f64 = f64::MIN_POSITIVE / f64::EPSILON;

/// The least number not below a·b, or the next one where the product is too small to tell. Not for zero times infinity.
fn product_up(a: f64, b: f64) -> f64 {
    let product = a * b;
    let exact = a == 0.0 || b == 0.0 || b.abs() == 1.0;
    match product {
        _ if exact => product,
        f64::NEG_INFINITY if a.is_finite() => f64::MIN,
        _ if product.is_infinite() => product,
        _ if product == 0.0 && product.is_sign_negative() => product,
        _ if product.abs() <= EXACT_ERROR || a.mul_add(b, -product) > 0.0 => product.next_up(),
        _ => product,
    }
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
    fn ends_round_outward_and_only_where_they_must() {
        let (large, one) = (Bracket::exactly(1e16), Bracket::exactly(1.0));
        assert_eq!(large + one, between(1e16, 1e16 + 2.0));
        assert_eq!(large - one, between(1e16 - 2.0, 1e16));
        assert_eq!(large.widened(1.0), between(1e16 - 2.0, 1e16 + 2.0));
        let tenth = Bracket::exactly(0.1) * 3.0;
        assert_eq!(tenth.high(), tenth.low().next_up());
        let (largest, twice) = (Bracket::exactly(f64::MAX), Bracket::exactly(f64::MAX) * 2.0);
        assert_eq!([(largest + largest).low(), twice.low()], [f64::MAX; 2]);
        assert_eq!([(largest + largest).high(), twice.high()], [f64::INFINITY; 2]);
        let least = Bracket::exactly(5e-324);
        assert_eq!(least * 0.1, between(0.0, 5e-324));
        assert_eq!(least.middle(), 5e-324);
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
            prop_assert!(a.width() == f64::INFINITY || a.low() + a.width() >= a.high());
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
        fn the_real_sum_and_product_are_held(x in -(1_i64 << 53)..(1_i64 << 53), y in -(1_i64 << 53)..(1_i64 << 53), shift in 0..40_u32) {
            let (a, b) = (x as f64, (i128::from(y) << shift) as f64);
            let whole = |bracket: Bracket| (bracket.low() as i128, bracket.high() as i128);
            for (held, real) in [
                (Bracket::exactly(a) + Bracket::exactly(b), i128::from(x) + (i128::from(y) << shift)),
                (Bracket::exactly(a) - Bracket::exactly(b), i128::from(x) - (i128::from(y) << shift)),
                (Bracket::exactly(a) * y as f64, i128::from(x) * i128::from(y)),
            ] {
                let (low, high) = whole(held);
                prop_assert!(low <= real && real <= high, "{held:?}, {real}");
                prop_assert!(held.high() == held.low() || held.high() == held.low().next_up(), "{held:?}");
            }
        }
    }
}
