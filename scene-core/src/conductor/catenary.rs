//! The exact catenary between two supports, level or not. Shape only, no load.
//!
//! ```text
//!   first end ●───── chord ────────● second end     run: horizontal, meters, > 0
//!              \      │ depth     /                 rise: second end above the first, meters
//!               `-.   │       .-'                   curvature: 1/a = w/H, per meter, at the low point
//!                  `- ┴ ──-'
//! ```
//!
//! With σ = run·curvature/2, u(t) = m + σ(2t − 1) and sinh m = (rise/run)·σ/sinh σ, the slope at the fraction t of the
//! run is sinh u(t). This is the textbook curve y = a·cosh((x − x₀)/a), measured from the middle of the span. The
//! formulas avoid differences of nearly equal numbers, so they hold from a bar-tight wire to a hanging chain.
//!
//! Curvature zero is the straight chord, the limit of infinite tension. Depth grows with curvature at every t: of two
//! curves through the same ends, the one that bends more at every slope lies below.

use thiserror::Error;

/// The largest σ. A wire that hangs a thousand times deeper than its span is wide is not a span.
const HALF_MAX: f64 = 9.9;
/// The steepest span, rise over run.
const STEEPEST: f64 = 1e6;

/// Why no curve exists. The `Display` text completes "cannot be hung:".
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum CatenaryError {
    /// The supports are on one vertical line, or a coordinate is NaN or infinite.
    #[error("the supports are {run_m} m apart horizontally and {rise_m} m in height; a span needs some run")]
    NoRun {
        /// Horizontal distance, meters.
        run_m: f64,
        /// Difference in height, meters.
        rise_m: f64,
    },
    /// Tension or load is not a positive number.
    #[error("a horizontal tension of {tension_n} N under {load_n_per_m} N/m; both must be above zero")]
    NoTension {
        /// Horizontal tension, newtons.
        tension_n: f64,
        /// Load per meter of wire, newtons.
        load_n_per_m: f64,
    },
    /// The sag is not a positive number.
    #[error("a sag of {sag_m} m; it must be above zero")]
    NoSag {
        /// Meters.
        sag_m: f64,
    },
    /// The wire is shorter than the chord.
    #[error("{length_m} m of wire do not reach over a chord of {chord_m} m")]
    TooShort {
        /// Length of wire, meters.
        length_m: f64,
        /// Distance of the supports, meters.
        chord_m: f64,
    },
    /// The wire hangs deeper than this module computes.
    #[error("the wire is too slack for its run of {run_m} m")]
    TooSlack {
        /// Horizontal distance, meters.
        run_m: f64,
    },
}

/// One curve between two supports. See the [module](self) for its symbols.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Catenary {
    run_m: f64,
    rise_m: f64,
    curvature: f64,
    /// The slope at the middle of the run, sinh m, and cosh m.
    sinh_mid: f64,
    cosh_mid: f64,
    /// sinh σ/σ − 1.
    half_over: f64,
}

impl Catenary {
    /// The curve with the curvature 1/a, per meter, at its low point. Curvature zero gives the straight chord.
    ///
    /// # Errors [`CatenaryError::NoRun`] and [`CatenaryError::TooSlack`].
    pub fn new(run_m: f64, rise_m: f64, curvature: f64) -> Result<Self, CatenaryError> {
        let known = run_m > 0.0 && run_m.is_finite() && (rise_m / run_m).abs() <= STEEPEST;
        if !known {
            return Err(CatenaryError::NoRun { run_m, rise_m });
        }
        let half = run_m * curvature / 2.0;
        if half.is_nan() || half > HALF_MAX {
            return Err(CatenaryError::TooSlack { run_m });
        }
        Ok(Self::of_shape(run_m, rise_m, curvature.max(0.0)))
    }

    /// [`Self::new`] for numbers that the caller has already checked. Bad numbers give a bad curve, never a panic. A
    /// run of zero gives a vertical line with depth zero.
    pub(super) fn of_shape(run_m: f64, rise_m: f64, curvature: f64) -> Self {
        let half_over = sinhc_less_1(run_m * curvature / 2.0);
        let sinh_mid = if run_m > 0.0 { rise_m / (run_m * (1.0 + half_over)) } else { 0.0 };
        Self { run_m, rise_m, curvature, sinh_mid, cosh_mid: (1.0 + sinh_mid * sinh_mid).sqrt(), half_over }
    }

    /// The curve with a horizontal tension under a load per length of wire: its weight, or the resultant with wind in
    /// the tilted plane.
    ///
    /// # Errors [`CatenaryError::NoTension`], and those of [`Self::new`].
    pub fn from_tension(run_m: f64, rise_m: f64, tension_n: f64, load_n_per_m: f64) -> Result<Self, CatenaryError> {
        let known = tension_n > 0.0 && load_n_per_m > 0.0 && tension_n.is_finite() && load_n_per_m.is_finite();
        if !known {
            return Err(CatenaryError::NoTension { tension_n, load_n_per_m });
        }
        Self::new(run_m, rise_m, load_n_per_m / tension_n)
    }

    /// The curve with a measured sag: the vertical distance from the chord at midspan.
    ///
    /// Solves sag/run = cosh m · sinh²(σ/2)/σ, which grows with σ. Cost: at most 200 evaluations.
    ///
    /// # Errors [`CatenaryError::NoSag`], and those of [`Self::new`].
    pub fn from_midspan_sag(run_m: f64, rise_m: f64, sag_m: f64) -> Result<Self, CatenaryError> {
        Self::new(run_m, rise_m, 0.0)?;
        let known = sag_m > 0.0 && sag_m.is_finite();
        if !known {
            return Err(CatenaryError::NoSag { sag_m });
        }
        let (slope, wanted) = (rise_m / run_m, (sag_m / run_m).ln());
        let excess = |ln_half: f64| {
            let half = ln_half.exp();
            let mid = slope / (1.0 + sinhc_less_1(half));
            let quarter = (half / 2.0).sinh();
            (quarter * quarter / half * mid.hypot(1.0)).ln() - wanted
        };
        // sinh²(σ/2)/σ ≥ σ/4 and cosh m ≥ 1 give the top. No curve with σ ≤ 9.9 bends e⁶⁰ times less than its parabola.
        let top = (4.0 * sag_m / run_m).min(HALF_MAX).ln();
        let bottom = (4.0 * sag_m / run_m / slope.hypot(1.0)).min(HALF_MAX).ln() - 60.0;
        if excess(top) < -1e-12 {
            return Err(CatenaryError::TooSlack { run_m });
        }
        Self::new(run_m, rise_m, 2.0 * rising_root(bottom, top, excess).exp() / run_m)
    }

    /// The curve with a length of wire, meters along the curve.
    ///
    /// # Errors [`CatenaryError::TooShort`] when the wire does not reach, and those of [`Self::new`].
    pub fn from_length(run_m: f64, rise_m: f64, length_m: f64) -> Result<Self, CatenaryError> {
        let chord = Self::new(run_m, rise_m, 0.0)?.chord_m();
        if length_m.is_nan() || length_m < chord {
            return Err(CatenaryError::TooShort { length_m, chord_m: chord });
        }
        Self::new(run_m, rise_m, curvature_from_slack(run_m, (length_m - chord) * (length_m + chord)))
    }

    /// Horizontal distance of the supports, meters.
    pub fn run_m(&self) -> f64 {
        self.run_m
    }

    /// Height of the second end above the first, meters.
    pub fn rise_m(&self) -> f64 {
        self.rise_m
    }

    /// 1/a, per meter.
    pub fn curvature(&self) -> f64 {
        self.curvature
    }

    /// Distance of the supports, meters.
    pub fn chord_m(&self) -> f64 {
        self.run_m.hypot(self.rise_m)
    }

    /// Vertical distance below the chord at the fraction t ∈ [0, 1] of the run, meters. Never negative.
    pub fn depth_m(&self, t: f64) -> f64 {
        let (x, rest, k) = (t * self.run_m, (1.0 - t) * self.run_m, self.curvature);
        let xi = (t - 0.5) * self.run_m;
        let level = k * x * rest / 2.0 * sinhc(k * x / 2.0) * sinhc(k * rest / 2.0) * self.cosh_mid;
        level + xi * self.sinh_mid * (self.half_over - sinhc_less_1(k * xi))
    }

    /// d depth / d t, meters.
    pub fn deepening_m(&self, t: f64) -> f64 {
        self.rise_m - self.run_m * self.slope(t)
    }

    /// −d² depth / d t², meters. Never negative.
    pub fn bend_m(&self, t: f64) -> f64 {
        let slope = self.slope(t);
        self.run_m * self.run_m * self.curvature * (1.0 + slope * slope).sqrt()
    }

    /// The fraction t at which d depth / d t equals `deepening_m`. Outside [0, 1] when no point of the curve has it.
    pub(super) fn fraction_of_deepening(&self, deepening_m: f64) -> f64 {
        let turn = ((self.rise_m - deepening_m) / self.run_m).asinh() - self.sinh_mid.asinh();
        0.5 + turn / (self.curvature * self.run_m)
    }

    /// The sag as a crew measures it: the depth at midspan, meters.
    pub fn midspan_sag_m(&self) -> f64 {
        self.depth_m(0.5)
    }

    /// The greatest depth below the chord, meters. The wire is parallel to the chord there.
    pub fn greatest_sag_m(&self) -> f64 {
        if self.curvature == 0.0 {
            return 0.0;
        }
        self.depth_m(self.fraction_of_deepening(0.0).clamp(0.0, 1.0))
    }

    /// Rise over run of the wire at the fraction t of the run.
    pub fn slope(&self, t: f64) -> f64 {
        let z = self.curvature * (t - 0.5) * self.run_m;
        z.sinh() * self.cosh_mid + z.cosh() * self.sinh_mid
    }

    /// Where the curve is level, meters of run from the first end. Outside the span (negative, or beyond the run) when
    /// the rise is large for the sag. `None` for the straight chord.
    pub fn low_point_m(&self) -> Option<f64> {
        (self.curvature > 0.0).then(|| self.run_m / 2.0 - self.sinh_mid.asinh() / self.curvature)
    }

    /// Depth of the wire's lowest point below the first end, meters. The lowest point is an end when the low point is
    /// outside the span.
    pub fn lowest_below_first_end_m(&self) -> f64 {
        let t = match self.low_point_m() {
            Some(x) => (x / self.run_m).clamp(0.0, 1.0),
            None if self.rise_m < 0.0 => 1.0,
            None => 0.0,
        };
        self.depth_m(t) - t * self.rise_m
    }

    /// Length along the curve, meters.
    pub fn length_m(&self) -> f64 {
        self.slack_m2().sqrt().hypot(self.chord_m())
    }

    /// Length along the curve between two fractions of the run, meters.
    pub fn part_length_m(&self, from: f64, to: f64) -> f64 {
        let middle = self.slope((from + to) / 2.0);
        self.run_m * (to - from) * middle.hypot(1.0) * sinhc(self.curvature * self.run_m / 2.0 * (to - from))
    }

    /// length² − chord², square meters: run²·((sinh σ/σ)² − 1). Exactly zero for the straight chord.
    pub fn slack_m2(&self) -> f64 {
        self.run_m * self.run_m * self.half_over * (2.0 + self.half_over)
    }

    /// Horizontal tension under this load per length, newtons. Infinite for the straight chord.
    pub fn horizontal_tension_n(&self, load_n_per_m: f64) -> f64 {
        load_n_per_m / self.curvature()
    }

    /// Tension along the wire at the fraction t of the run, newtons.
    pub fn tension_n(&self, load_n_per_m: f64, t: f64) -> f64 {
        self.horizontal_tension_n(load_n_per_m) * self.slope(t).hypot(1.0)
    }

    /// The greatest tension, newtons. It acts at the higher support.
    pub fn support_tension_n(&self, load_n_per_m: f64) -> f64 {
        self.tension_n(load_n_per_m, if self.rise_m < 0.0 { 0.0 } else { 1.0 })
    }

    /// Mean tension along the wire, newtons: ∫T ds / length = (H·run/2)·(1 + cosh 2m · sinh 2σ/(2σ)) / length.
    pub fn mean_tension_n(&self, load_n_per_m: f64) -> f64 {
        length_and_mean_tension(self.run_m, self.rise_m, self.curvature(), load_n_per_m).1
    }

    /// m and σ; see the [module](self).
    pub(super) fn mid_and_half(&self) -> (f64, f64) {
        (self.sinh_mid.asinh(), self.run_m * self.curvature / 2.0)
    }
}

/// [`Catenary::length_m`] and [`Catenary::mean_tension_n`] without building the curve.
pub(super) fn length_and_mean_tension(run_m: f64, rise_m: f64, curvature: f64, load_n_per_m: f64) -> (f64, f64) {
    let half = run_m * curvature / 2.0;
    let over = sinhc_less_1(half);
    let length_m = (run_m * run_m * over * (2.0 + over) + run_m * run_m + rise_m * rise_m).sqrt();
    let sinh_mid = rise_m / run_m / (1.0 + over);
    let squared = (1.0 + (1.0 + 2.0 * sinh_mid * sinh_mid) * (1.0 + sinhc_less_1(2.0 * half))) / 2.0;
    (length_m, load_n_per_m / curvature * run_m * squared / length_m)
}

/// length² − chord² of a catenary with this run and curvature, whatever its rise, square meters.
pub(super) fn slack_from_curvature(run_m: f64, curvature: f64) -> f64 {
    let over = sinhc_less_1(run_m * curvature / 2.0);
    run_m * run_m * over * (2.0 + over)
}

/// The curvature whose length² − chord² is `slack_m2`, whatever the rise. Zero without slack. Infinite beyond the
/// computed range, so that the error is on the slack side.
pub(super) fn curvature_from_slack(run_m: f64, slack_m2: f64) -> f64 {
    let ratio = slack_m2 / (run_m * run_m);
    if ratio.is_nan() {
        return f64::INFINITY;
    }
    if ratio <= 0.0 {
        return 0.0;
    }
    // ln(sinh σ/σ) = ½·ln(1 + ratio); the left side is between σ²/6·(1 − …) and σ²/6, and below σ.
    let wanted = (ratio.ln_1p() / 2.0).ln();
    let excess = |ln_half: f64| sinhc_less_1(ln_half.exp()).ln_1p().ln() - wanted;
    let (bottom, top) = ((wanted + 6f64.ln()) / 2.0 - 1e-12, HALF_MAX.ln() + 1e-3);
    if bottom >= top || excess(top) < 0.0 {
        return f64::INFINITY;
    }
    2.0 * rising_root(bottom, top, excess).exp() / run_m
}

/// sinh(z)/z, which is 1 at zero.
fn sinhc(z: f64) -> f64 {
    1.0 + sinhc_less_1(z)
}

/// sinh(z)/z − 1, accurate to rounding for small z.
fn sinhc_less_1(z: f64) -> f64 {
    let q = z * z;
    if q > 0.25 {
        return z.sinh() / z - 1.0;
    }
    // The series up to z¹⁴. It uses products because a division costs ten times as much.
    let tail = 1.0 + q * (1.0 / 110.0) * (1.0 + q * (1.0 / 156.0) * (1.0 + q * (1.0 / 210.0)));
    let tail = 1.0 + q * (1.0 / 42.0) * (1.0 + q * (1.0 / 72.0) * tail);
    q * (1.0 / 6.0) * (1.0 + q * (1.0 / 20.0) * tail)
}

/// The zero of the growing function `f` between `low` and `high`; an end when `f` has none there.
///
/// Regula falsi with Illinois weights, and a bisection every third step. Cost: at most 200 evaluations.
pub(super) fn rising_root(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low >= 0.0 {
        return low;
    }
    if at_high <= 0.0 {
        return high;
    }
    let mut last_was_low = None;
    for round in 0..200 {
        let chord = (low * at_high - high * at_low) / (at_high - at_low);
        // Move a chord's zero off the ends, so that the bracket shrinks from both sides.
        let least = 4.0 * f64::EPSILON * (low.abs() + high.abs());
        if high - low <= least {
            break;
        }
        let middle = low + (high - low) / 2.0;
        let x = if round % 3 < 2 && chord.is_finite() {
            chord.clamp((low + least).min(middle), (high - least).max(middle))
        } else {
            middle
        };
        if x <= low || x >= high {
            break;
        }
        let at_x = f(x);
        if at_x == 0.0 {
            return x;
        }
        if at_x < 0.0 {
            (low, at_low) = (x, at_x);
            if last_was_low == Some(true) {
                at_high /= 2.0;
            }
            last_was_low = Some(true);
        } else {
            (high, at_high) = (x, at_x);
            if last_was_low == Some(false) {
                at_low /= 2.0;
            }
            last_was_low = Some(false);
        }
    }
    if at_high.abs() < at_low.abs() { high } else { low }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_level_span_hangs_as_the_textbook_says() {
        // a = 1600 ft, L = 500 ft: sag = a·(cosh(L/2a) − 1), length = 2a·sinh(L/2a).
        let shape = Catenary::new(500.0, 0.0, 1.0 / 1600.0).unwrap();
        let half = 250.0 / 1600.0f64;
        assert!((shape.midspan_sag_m() - 1600.0 * (half.cosh() - 1.0)).abs() < 1e-10);
        assert!((shape.length_m() - 3200.0 * half.sinh()).abs() < 1e-9);
        assert_eq!(shape.low_point_m(), Some(250.0));
    }

    #[test]
    fn the_low_point_of_a_steep_taut_span_is_outside_it() {
        let shape = Catenary::from_tension(300.0, 60.0, 2000.0, 1.0).unwrap();
        assert!(shape.low_point_m().unwrap() < -200.0);
        assert_eq!(shape.lowest_below_first_end_m(), 0.0);
        let mirrored = Catenary::from_tension(300.0, -60.0, 2000.0, 1.0).unwrap();
        assert!(mirrored.low_point_m().unwrap() > 500.0);
        assert!((mirrored.lowest_below_first_end_m() - 60.0).abs() < 1e-9);
    }

    #[test]
    fn what_no_wire_can_do_is_an_error() {
        assert!(matches!(Catenary::new(0.0, 1.0, 0.1), Err(CatenaryError::NoRun { .. })));
        assert!(matches!(Catenary::new(f64::NAN, 1.0, 0.1), Err(CatenaryError::NoRun { .. })));
        assert!(matches!(Catenary::from_length(30.0, 40.0, 49.9), Err(CatenaryError::TooShort { .. })));
        assert!(matches!(Catenary::from_midspan_sag(30.0, 0.0, 0.0), Err(CatenaryError::NoSag { .. })));
        assert!(matches!(Catenary::from_midspan_sag(1.0, 0.0, 1e9), Err(CatenaryError::TooSlack { .. })));
        assert!(matches!(Catenary::from_tension(30.0, 0.0, -1.0, 1.0), Err(CatenaryError::NoTension { .. })));
        assert!(matches!(Catenary::from_tension(30.0, 0.0, 1.0, f64::NAN), Err(CatenaryError::NoTension { .. })));
    }

    fn spans() -> impl Strategy<Value = (f64, f64, f64)> {
        (1.0f64..300.0, -1.0f64..1.0, -6.0f64..0.6)
            .prop_map(|(run, slope, ln10_half)| (run, slope * run, 10f64.powf(ln10_half) * 2.0 / run))
    }

    proptest! {
        #[test]
        fn depth_is_that_of_the_plain_formula_where_that_can_be_computed(
            (run, rise, curvature) in spans(), t in 0.0f64..1.0,
        ) {
            let shape = Catenary::new(run, rise, curvature).unwrap();
            let a = 1.0 / curvature;
            let x0 = shape.low_point_m().unwrap();
            let y = |x: f64| a * ((x - x0) / a).cosh();
            let plain = y(0.0) + t * rise - y(t * run);
            let rounding = 1e-15 * a * (1.0 + (x0 / a).abs()) * 20.0 + 1e-12 * run;
            prop_assert!((shape.depth_m(t) - plain).abs() <= rounding, "{} {plain}", shape.depth_m(t));
            prop_assert!(shape.depth_m(t) <= shape.greatest_sag_m() * (1.0 + 1e-12) + 1e-15);
        }

        #[test]
        fn a_slacker_wire_lies_lower_everywhere((run, rise, curvature) in spans(), t in 0.0f64..1.0) {
            let slack = Catenary::new(run, rise, curvature * 1.01).unwrap();
            prop_assert!(Catenary::new(run, rise, curvature).unwrap().depth_m(t) <= slack.depth_m(t) * (1.0 + 1e-14));
        }

        #[test]
        fn sag_and_tension_lead_to_the_same_curve((run, rise, curvature) in spans()) {
            let shape = Catenary::new(run, rise, curvature).unwrap();
            let by_sag = Catenary::from_midspan_sag(run, rise, shape.midspan_sag_m()).unwrap();
            prop_assert!((by_sag.curvature() / curvature - 1.0).abs() < 1e-12, "{}", by_sag.curvature());
            let by_tension = Catenary::from_tension(run, rise, shape.horizontal_tension_n(7.0), 7.0).unwrap();
            prop_assert!((by_tension.curvature() / curvature - 1.0).abs() < 1e-14);
            let by_slack = curvature_from_slack(run, shape.slack_m2());
            prop_assert!((by_slack / curvature - 1.0).abs() < 1e-12, "{by_slack}");
        }

        #[test]
        fn parts_make_up_the_whole_length((run, rise, curvature) in spans(), t in 0.0f64..1.0) {
            let shape = Catenary::new(run, rise, curvature).unwrap();
            let parts = shape.part_length_m(0.0, t) + shape.part_length_m(t, 1.0);
            prop_assert!((parts / shape.length_m() - 1.0).abs() < 1e-12);
        }

        #[test]
        fn the_mean_tension_is_the_mean_of_the_tension((run, rise, curvature) in spans()) {
            let shape = Catenary::new(run, rise, curvature).unwrap();
            let pieces = 2000;
            let mut sum = 0.0;
            for piece in 0..pieces {
                let (from, to) = (f64::from(piece) / f64::from(pieces), f64::from(piece + 1) / f64::from(pieces));
                sum += shape.tension_n(1.0, (from + to) / 2.0) * shape.part_length_m(from, to);
            }
            prop_assert!((sum / shape.length_m() / shape.mean_tension_n(1.0) - 1.0).abs() < 1e-4);
        }

        #[test]
        fn no_input_panics(run in any::<f64>(), rise in any::<f64>(), third in any::<f64>(), t in any::<f64>()) {
            for shape in [
                Catenary::new(run, rise, third),
                Catenary::from_midspan_sag(run, rise, third),
                Catenary::from_length(run, rise, third),
                Catenary::from_tension(run, rise, third, 1.0),
            ].into_iter().flatten() {
                let _ = (shape.depth_m(t), shape.greatest_sag_m(), shape.low_point_m(), shape.mean_tension_n(1.0));
            }
        }
    }
}
