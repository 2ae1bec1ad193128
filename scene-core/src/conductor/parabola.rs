//! The textbook parabola, which takes the load as uniform along the run. For comparison with published examples; no
//! proof uses it.

/// Vertical distance from the chord at the distance x from one support, meters. Holds for level and inclined spans.
pub fn depth_m(run_m: f64, x_m: f64, tension_n: f64, load_n_per_m: f64) -> f64 {
    load_n_per_m * x_m * (run_m - x_m) / (2.0 * tension_n)
}

/// Midspan sag, meters: w·L²/(8H).
pub fn sag_m(run_m: f64, tension_n: f64, load_n_per_m: f64) -> f64 {
    depth_m(run_m, run_m / 2.0, tension_n, load_n_per_m)
}

/// Horizontal tension for a midspan sag, newtons.
pub fn tension_n(run_m: f64, sag_m: f64, load_n_per_m: f64) -> f64 {
    load_n_per_m * run_m * run_m / (8.0 * sag_m)
}

/// Distance of the low point from the lower-numbered support, meters of run. Negative when it lies outside the span,
/// beyond that support.
pub fn low_point_m(run_m: f64, rise_m: f64, tension_n: f64, load_n_per_m: f64) -> f64 {
    run_m / 2.0 - tension_n * rise_m / (load_n_per_m * run_m)
}

/// Length of wire, meters: L + 8·sag²/(3L) + h²/(2L).
pub fn length_m(run_m: f64, rise_m: f64, sag_m: f64) -> f64 {
    run_m + 8.0 * sag_m * sag_m / (3.0 * run_m) + rise_m * rise_m / (2.0 * run_m)
}

/// The state of a wire: its load, horizontal tension and temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// Horizontal, newtons.
    pub tension_n: f64,
    /// Load per meter of wire, newtons.
    pub load_n_per_m: f64,
    /// Degrees Celsius.
    pub temperature_c: f64,
}

/// Horizontal tension after a change of load and temperature, newtons, for a linear elastic wire: the positive root of
/// T²·(T − T₁ + EA·(α·(t − t₁) + w₁²L²/(24·T₁²))) = w²L²·EA/24.
///
/// `None` when an input is not a positive number. Cost: at most 200 evaluations of the cubic.
pub fn state_change_n(
    run_m: f64,
    from: State,
    load_n_per_m: f64,
    temperature_c: f64,
    stiffness_n: f64,
    expansion_per_c: f64,
) -> Option<f64> {
    let warmed = expansion_per_c * (temperature_c - from.temperature_c);
    let slack = (from.load_n_per_m * run_m / from.tension_n).powi(2) / 24.0;
    let linear = stiffness_n * (warmed + slack) - from.tension_n;
    let constant = (load_n_per_m * run_m).powi(2) * stiffness_n / 24.0;
    let known =
        linear.is_finite() && constant > 0.0 && constant.is_finite() && from.tension_n > 0.0 && stiffness_n > 0.0;
    // T²(T + linear) − constant is negative at 0 and positive here, and has one positive root.
    let top = linear.abs() + constant.cbrt() + 1.0;
    known.then(|| super::catenary::rising_root(0.0, top, |t| t * t * (t + linear) - constant))
}
