//! The state of a pair over an interval, from numbers that others have proven.

use serde::Serialize;

/// Ordered worst first: `min` of several intervals is the pair's state.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PairState {
    /// Nothing is left of the gap once the allowances are taken off, or less than the residual gap that is demanded even
    /// between covers: cover is for brush contact, not for planned contact.
    Touch,
    /// Not proven either way.
    Undecided,
    /// Nearer than the required distance, not double covered.
    Short,
    /// Nearer than the required distance, and proven double covered.
    Covered,
    /// The allowances use up the gap to something that may be met without harm, the ground: the operator keeps off it.
    Tight,
    /// The required distance is proven.
    Apart,
}

impl PairState {
    /// Nothing was proven that lets the work go on.
    pub fn is_stop(self) -> bool {
        matches!(self, Self::Touch | Self::Undecided | Self::Short)
    }
}

/// What has been proven about cover where a pair comes nearer than the required distance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CoverProof {
    /// Something bare may come nearer; cover on one side alone is no cover.
    NotDouble,
    /// Every bare part of the body keeps the required distance from the whole wire, and the whole body keeps it from
    /// every bare stretch of the wire: nearer than that comes only covered to covered.
    Double,
}

impl CoverProof {
    /// From the two margins, meters: (bare part of the body × whole wire) and (whole body × bare stretch of wire).
    /// Nothing bare on a side is `f64::INFINITY`.
    pub fn from_margins(bare_body_m: f64, bare_wire_m: f64) -> Self {
        if bare_body_m >= 0.0 && bare_wire_m >= 0.0 { Self::Double } else { Self::NotDouble }
    }
}

/// Margin, meters: the gap's low bound less allowances less the required distance.
pub fn margin_m(gap_low_m: f64, allowances_m: f64, required_m: f64) -> f64 {
    gap_low_m - allowances_m - required_m
}

/// The state of one pair over one interval. All in meters.
///
/// `gap_low_m` never exceeds the true gap. `decided` says that the search closed its bracket, so that the low bound is
/// the gap itself to within the tolerance; a low bound that suffices needs no closed bracket. What is not a number, and
/// what is negative and must not be, is `Undecided`.
pub fn state(
    gap_low_m: f64,
    allowances_m: f64,
    required_m: f64,
    residual_gap_m: f64,
    decided: bool,
    cover: CoverProof,
) -> PairState {
    let usable = |value: f64| value.is_finite() && value >= 0.0;
    if gap_low_m.is_nan() || !usable(allowances_m) || !usable(required_m) || !usable(residual_gap_m) {
        return PairState::Undecided;
    }
    let left = gap_low_m - allowances_m;
    let touch = left <= 0.0 || left < residual_gap_m;
    let apart = margin_m(gap_low_m, allowances_m, required_m) >= 0.0;
    match (touch, apart, cover) {
        (false, true, _) => PairState::Apart,
        (false, false, CoverProof::Double) => PairState::Covered,
        _ if !decided => PairState::Undecided,
        (true, _, _) => PairState::Touch,
        (false, false, CoverProof::NotDouble) => PairState::Short,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use CoverProof::{Double, NotDouble};
    use PairState::{Apart, Covered, Short, Touch, Undecided};
    use proptest::prelude::*;

    #[test]
    fn the_worst_interval_governs() {
        assert_eq!([Apart, Short, Covered].into_iter().min(), Some(Short));
        assert!(Touch < Undecided && Undecided < Short && Short < Covered && Covered < Apart);
    }

    #[test]
    fn each_state_by_its_numbers() {
        assert_eq!(state(1.0, 0.3, 0.65, 0.1, true, NotDouble), Apart);
        assert_eq!(state(0.9, 0.3, 0.65, 0.1, true, NotDouble), Short);
        assert_eq!(state(0.9, 0.3, 0.65, 0.1, true, Double), Covered);
        assert_eq!(state(0.35, 0.3, 0.65, 0.1, true, Double), Touch);
        assert_eq!(state(0.9, 0.3, 0.65, 0.1, false, NotDouble), Undecided);
    }

    #[test]
    fn a_neutral_at_no_required_distance_may_still_not_be_touched() {
        assert_eq!(state(0.3, 0.3, 0.0, 0.0, true, NotDouble), Touch);
        assert_eq!(state(0.35, 0.3, 0.0, 0.1, true, NotDouble), Touch);
        assert_eq!(state(0.45, 0.3, 0.0, 0.1, true, NotDouble), Apart);
    }

    #[test]
    fn what_is_not_a_number_is_never_apart() {
        for bad in [f64::NAN, -1.0, f64::INFINITY] {
            assert_eq!(state(5.0, bad, 0.65, 0.1, true, Double), Undecided);
            assert_eq!(state(5.0, 0.3, bad, 0.1, true, Double), Undecided);
            assert_eq!(state(5.0, 0.3, 0.65, bad, true, Double), Undecided);
        }
        assert_eq!(state(f64::NAN, 0.3, 0.65, 0.1, true, Double), Undecided);
        assert_eq!(CoverProof::from_margins(f64::NAN, 1.0), NotDouble);
        assert_eq!(CoverProof::from_margins(1.0, f64::NAN), NotDouble);
    }

    #[test]
    fn cover_on_one_side_is_no_cover() {
        assert_eq!(CoverProof::from_margins(0.2, -0.1), NotDouble);
        assert_eq!(CoverProof::from_margins(-0.1, 0.2), NotDouble);
        assert_eq!(CoverProof::from_margins(f64::INFINITY, 0.0), Double);
    }

    proptest! {
        #[test]
        fn a_smaller_gap_never_betters_the_state(
            gap in -1.0..5.0f64, less in 0.0..2.0f64, allowances in 0.0..1.0f64, required in 0.0..4.0f64,
            residual in 0.0..0.5f64, decided: bool, double: bool,
        ) {
            let cover = if double { Double } else { NotDouble };
            let near = state(gap - less, allowances, required, residual, decided, cover);
            let far = state(gap, allowances, required, residual, decided, cover);
            prop_assert!(near <= far);
        }
    }
}
